package shellbook

import (
	"fmt"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/route"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
)

func head() common.Head {
	return common.Head{Job: "Heron hill tractor", Revision: "C", Date: "2026-02-11", Datum: "front axle centre at ground; x aft, y right, z up", Digest: "3f9ac201d4e7",
		NotForBuild: "2 findings are open", Invented: true}
}

const longName = "injector-driver-bank-two-cylinder-four-return_with_a_name.that/never-ends-because-somebody-liked-it-so"

func at(x, y, z unit.Length) design.Point3 { return design.Point3{X: x, Y: y, Z: z} }

// firewall and floor are the two panels of the fixture.
func firewall() shell.Panel {
	return shell.Panel{Name: "firewall-high", Walk: 1, Flat: true, Thickness: 1.5, Plane: solid.Plane{Origin: at(1180, -600, 450), Across: solid.Vector{Y: 1}, Up: solid.Vector{Z: 1}},
		Outline:  solid.Outline{{U: 0, V: 0}, {U: 1200, V: 0}, {U: 1200, V: 350}, {U: 0, V: 350}},
		KeepOuts: []solid.Outline{{{U: 900, V: 50}, {U: 1100, V: 50}, {U: 1100, V: 300}}},
		Sides:    [2]shell.Side{{Zone: "cabin", Seen: true, Known: true}, {Zone: "bay", Known: true}}}
}

func floor() shell.Panel {
	return shell.Panel{Name: "floor", Walk: 2, Curved: 4.5, Thickness: 1.2, Plane: solid.Plane{Origin: at(1100, -200, 250), Across: solid.Vector{X: 1}, Up: solid.Vector{Y: 1}},
		Outline: solid.Outline{{U: 0, V: 0}, {U: 1600, V: 0}, {U: 1600, V: 500}, {U: 0, V: 500}}, Sides: [2]shell.Side{{Zone: "cabin", Known: true}, {}}}
}

// onPlane gives a hole its flat place.
func onPlane(p shell.Panel, h shell.Hole) shell.Hole {
	h.Panel = p.Name
	if h.Known {
		h.Flat, h.Off = p.Plane.Flat(h.At)
	}
	return h
}

// invented is a job with one of everything: panels with holes of every kind, a run with many clips, a short one, one of no known length, a
// name that never ends, holes without a place and without a fixing, masks, plugs, what comes too late, templates.
func invented() (*design.Job, *body) {
	job := &design.Job{
		Panels: []*design.Panel{{Name: "firewall-high"}, {Name: "floor", Skin: "bonded", Common: design.Common{Note: "double skin behind the seat"}}, {Name: "scuttle"}},
		Breaks: []*design.Break{
			{Name: "A", Panel: "firewall-high", Key: "N", Spot: design.Spot{At: at(1180, 120, 600), Known: true}, Halves: [2]design.Half{
				{Section: "tub", Contacts: "sockets", Mount: "fixed", Housing: "round-24"}, {Section: "engine", Contacts: "pins", Mount: "free", Housing: "round-24"}}},
			{Name: "start-post", Panel: "firewall-high", Halves: [2]design.Half{{Section: "tub", Mount: "fixed", Housing: "post-M10"}, {Section: "engine", Mount: "free", Housing: "post-M10"}}},
			{Name: "inline", Halves: [2]design.Half{{Section: "tub"}, {Section: "nose"}}},
		},
		Devices: []*design.Device{{Name: "ecu", Spot: design.Spot{At: at(2600, 60, 250), Known: true}}, {Name: "probe", Spot: design.Spot{At: at(800, 120, 600), Known: true}}, {Name: "lost"}},
		Hazards: []*design.Hazard{{Name: "exhaust", Shapes: []design.Shape{{Points: []design.Point3{at(700, 300, 400), at(1100, 300, 350)}}}},
			{Name: "steering", Kind: "moving", Shapes: []design.Shape{{Position: "full lock left", Box: true, Points: []design.Point3{at(300, -400, 200), at(400, -200, 300)}}}}},
	}
	job.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "round-24"}, Grips: [2]unit.Length{0.8, 4.5}, Behind: 31}}
	plan := &body{}
	tunnel := fix.RunPlan{Run: "tunnel", Section: "tub", Zone: "cabin", Panel: "floor", Length: 3490, LengthStatus: design.Measured, SpanLimit: 150, SpanSource: "set clip-span, zone cabin",
		Wires: 34, Outside: 21.4, Nodes: []fix.Station{{After: 0, At: at(2600, 60, 250), Known: true, What: "T", Ends: true}, {After: 1200, At: at(1900, 60, 250), Known: true, What: "tunnel-aft", Breakout: true},
			{After: 2400, What: "tunnel-fwd beside the handbrake"}, {After: 3490, At: at(1180, 0, 400), Known: true, What: "A", Ends: true}},
		Bends:     []fix.BendAt{{After: 1198, Turn: 90, Radius: 42}, {After: 3000, Turn: 31.4, Radius: 60}},
		Diameters: []fix.Diameter{{From: 0, To: 1200, Least: bundle.LeastOf(17.3), Most: 21.4, Wires: 34}, {From: 1200, To: 3490, Least: bundle.LeastOf(11.9), Most: 14.2, Wires: 19}},
		Sleeves:   []fix.SleeveCut{{Part: "braid-20", Run: "tunnel", From: "T", To: "A", Over: 21.4, Length: 3600}}}
	for i := range 26 {
		after := unit.Length(60 + 135*i)
		c := fix.Clip{Mark: fmt.Sprintf("tunnel-%d", i+1), After: after, At: at(2600-after/3, 60, 250), Known: i != 18, Part: "p-clip", ClipWhy: "default", Bundle: 21.4, Least: bundle.LeastOf(17.3), ClipSize: 22, Play: 1, Fastener: "rivnut-M5", Kind: "rivet-nut",
			KindWhy: "the back of panel floor is seen", Drill: 7.2, Screw: 14, ScrewSum: "clip 1.2 + washer 1 + panel 1.2 + nut 5 + 2 past it, next longer 14", Panel: "floor", Why: []string{"end", "span", "bend", "breakout"}[i%4], NewHole: true}
		switch i {
		case 5:
			c.Why, c.Status, c.Hole, c.NewHole = "fixed", design.Frozen, "floor-3", false
		case 9:
			c.ClipSize, c.Fastener, c.Kind, c.KindWhy, c.Drill, c.Screw, c.ScrewSum, c.Panel = 0, "", "", "", 0, 0, "", ""
		case 8:
			c.After = 1200
		case 11:
			c.With = "rail-2"
		case 12:
			c.Panel, c.Tube, c.Kind, c.Fastener, c.Drill, c.KindWhy = "", "hoop", "tie", "tie-mount", 0, "tube hoop"
		}
		tunnel.Clips = append(tunnel.Clips, c)
	}
	rail := fix.RunPlan{Run: "rail", Section: "engine", Zone: "bay", Length: 402.6, LengthStatus: design.Computed, SpanLimit: 200, SpanSource: "default", Wires: 3, Outside: 5.2,
		Note:      "one end moves 19 mm in use: see that no clip ties it",
		Diameters: []fix.Diameter{{To: 402.6, Least: bundle.LeastOf(4.9), Most: 5.2, Wires: 3}},
		Nodes:     []fix.Station{{What: "A", At: at(1180, 120, 600), Known: true}, {After: 402.6, What: longName, At: at(800, 120, 600), Known: true}},
		Clips:     []fix.Clip{{Mark: longName + "-1", After: 100, At: at(1080, 120, 600), Known: true, Part: "tie-mount", Bundle: 5.2, ClipSize: 8, Fastener: "weld-stud-M5", Why: "end", Status: design.Computed}}}
	lost := fix.RunPlan{Run: "rail", Stretch: 1, Section: "engine", Zone: "bay", Panel: "firewall-high", SpanLimit: 200, Wires: 2, Note: "length not known: no clips",
		Nodes: []fix.Station{{What: "valley"}, {What: "coil1"}}}
	plan.Runs = []fix.RunPlan{rail, lost, tunnel}
	plan.Route.Nears = []route.Near{{Run: "rail", After: 212, At: at(980, 120, 600), Hazard: "exhaust", Kind: "exhaust", Gap: 131.4, Needed: 120, By: "hazard exhaust", Source: "stated"},
		{Run: "tunnel", Stretch: 1, After: 40, Hazard: "steering", Kind: "moving", Position: "full lock left", Gap: 44, Needed: 40, By: "set clear-moving", Sleeve: "braid-20"}}
	plan.Route.Moves = []route.Move{{Run: "rail", From: "clip rail-1", To: "A", Free: 191.2, Straight: 181, Moves: 19, Spare: 10, Needed: 210, Tied: []string{"rail-7"}}}
	fillShell(plan, &tunnel)
	return job, plan
}

// fillShell is the work on the bare body of the fixture.
func fillShell(plan *body, tunnel *fix.RunPlan) {
	s := &plan.Shell
	wall, ground := firewall(), floor()
	s.Panels = []shell.Panel{wall, ground, {Name: "scuttle", Walk: 3}}
	add := func(h shell.Hole) { s.Holes = append(s.Holes, h) }
	add(onPlane(wall, shell.Hole{Mark: "A", What: "break A", Kind: "connector", At: at(1180, 120, 600), Known: true, Drill: 28.2, DrillSum: "28 and 0.2 for paint", From: "cabin", Status: design.Stated, New: true,
		Refs: []shell.Ref{{To: "corner 1", At: at(1180, -600, 450), Distance: 735.459}, {To: "corner 4", At: at(1180, -600, 800), Distance: 747.263}}, Which: "the one with the greater y"}))
	add(onPlane(wall, shell.Hole{Mark: "A-screw-1", What: "screw 1 of break A", Kind: "connector screw", Of: "A", At: at(1180, 137, 600), Known: true, Drill: 4.3, From: "cabin", New: true,
		Refs: []shell.Ref{{To: "hole A", At: at(1180, 120, 600), Distance: 17}, {To: "corner 1", At: at(1180, -600, 450), Distance: 752.2}}}))
	add(onPlane(wall, shell.Hole{Mark: "ecu-plug", What: "break ecu-plug", Kind: "connector", At: at(1180, -100, 640.5), Known: true, Drill: 84.2, High: 36.2, DrillSum: "84 x 36 and 0.2 for paint each way", Status: design.Frozen, Revision: "B"}))
	add(onPlane(wall, shell.Hole{Mark: "start-post", What: "stud post start-post", Kind: "stud post", Status: design.Stated, Note: "cut-out of the housing not known"}))
	add(onPlane(wall, shell.Hole{Mark: "return-hole", What: "bush return-hole", Kind: "bush", At: at(1180, -300, 412.5), Known: true, Note: "bore 20 mm; the hole to suit the bush"}))
	add(onPlane(wall, shell.Hole{Mark: longName + "-1", What: "clip " + longName + "-1", Kind: "clip", At: at(1172, 120, 600), Known: true, Fastener: "weld-stud-M5", FastenerKind: "stud", Middle: true}))
	for _, c := range tunnel.Clips {
		h := shell.Hole{Mark: c.Mark, What: "clip " + c.Mark, Kind: "clip", At: c.At, Known: c.Known, Drill: c.Drill, Fastener: c.Fastener, FastenerKind: c.Kind, Status: c.Status}
		if c.Hole != "" {
			h.Mark = c.Hole
			h.Note = "the part asks for 7 mm"
			h.Drill = 6.5
		}
		if c.Panel != "" {
			add(onPlane(ground, h))
		}
	}
	for _, c := range tunnel.Clips {
		if c.Panel == "" && c.Tube == "" {
			add(shell.Hole{Mark: c.Mark, What: "clip " + c.Mark, Kind: "clip", At: c.At, Known: true})
		}
	}
	s.Mounts = []shell.Mount{
		{Name: "A", Kind: "connector", Panel: wall.Name, Housing: "round-24", Hole: "A", At: at(1180, 120, 600), Flat: solid.Flat{U: 720, V: 150}, Known: true, CutOut: [2]unit.Length{28.2}, Flange: [2]unit.Length{36.5}, Nut: 32, Room: 60,
			Turn: 30, Key: "N", Face: 1, Mate: -1, Side: "cabin", Mating: "bay", SideWhy: "half tub is fixed", Bond: true, Screws: []shell.Screw{{Mark: "A-screw-1", At: at(1180, 137, 600), Flat: solid.Flat{U: 737, V: 150}, Drill: 4.3}}},
		{Name: "ecu-plug", Kind: "connector", Panel: wall.Name, Housing: "rect-80", Hole: "ecu-plug", At: at(1180, -100, 640.5), Known: true, CutOut: [2]unit.Length{84.2, 36.2}, Flange: [2]unit.Length{110, 60}},
		{Name: "start-post", Kind: "stud post", Panel: wall.Name, Housing: "post-M10"},
		{Name: "return-hole", Kind: "bush", Panel: wall.Name, Hole: "return-hole", At: at(1180, -300, 412.5), Known: true, Bore: 20.5},
	}
	s.Masks = []shell.Mask{
		{Mark: "A", What: "bare ring under the flange of A", Panel: wall.Name, At: at(1180, 120, 600), Known: true, Size: 36.5, Side: "cabin", Note: "a screen is earthed through it"},
		{Mark: "earth-left", What: "bare earth pad, and the thread of the stud M8", Panel: wall.Name, Size: 25.5, Torque: 9.5, Side: "bay"},
		{Mark: "floor-3", What: "thread M5 of rivet nut", Panel: ground.Name, At: at(2355, 60, 250), Known: true},
		{Mark: "plugs-1", What: "thread M6 of stud"}, {Mark: "plugs-2", What: "thread M6 of stud"}, {Mark: "plugs-3", What: "thread M6 of stud"}, {Mark: "shell-nose", What: "bare earth pad", Size: 24, At: at(60, -380, 420), Known: true},
	}
	s.Plugs = []shell.Plug{{Mark: "old-7", Panel: wall.Name, At: at(1180, 33, 512.5), Known: true, Drill: 12.7}, {Mark: "old-8", Panel: ground.Name}}
	s.Late = []shell.Late{{Mark: "tunnel-2", What: "clip tunnel-2", Panel: ground.Name, At: at(2535, 60, 250), Nearest: "floor-3", Away: 181.2, Span: 312, Limit: 151}, {Mark: "B", What: "break B", Panel: wall.Name, At: at(1180, 250, 600)}}
	s.Open = []shell.Open{{Why: "no coordinates", Marks: []string{"start-post", "tunnel-19"}}, {Why: "no panel, no drill and no fixing", Marks: []string{"tunnel-10"}}}
	s.Templates = []shell.Template{{Name: "A", Panel: wall.Name, Seen: "cabin", Look: "towards greater x", Holes: []shell.TemplateHole{{Mark: "A", Flat: solid.Flat{U: 720, V: 150}, Drill: 28.2}, {Mark: "A-screw-1", Flat: solid.Flat{U: 737, V: 150}, Drill: 4.3}},
		Mounts: []int{0}, Seats: []shell.Seat{{Flat: solid.Flat{U: 720, V: 150}, Turn: 30}}, Low: solid.Flat{U: 700, V: 130}, High: solid.Flat{U: 745, V: 170}}}
}
