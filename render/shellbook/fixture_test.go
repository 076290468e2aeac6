package shellbook

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
)

func head() common.Head {
	return common.Head{Job: "Heron hill tractor", Revision: "C", Date: "2026-02-11", Datum: "front axle centre at ground; x aft, y right, z up", Digest: "3f9ac201d4e7",
		NotForBuild: "2 findings are open", Invented: true}
}

const longName = "injector-driver-bank-two-cylinder-four-return_with_a_name.that/never-ends-because-somebody-liked-it-so"

func at(x, y, z unit.Length) design.Point3 { return design.Point3{X: x, Y: y, Z: z} }

// invented is an job with one of everything: a run with many clips, a short one, one of no known length, a name that
// never ends, holes without a place and without a fixing.
func invented() (*design.Job, *body) {
	job := &design.Job{
		Panels: []*design.Panel{{Name: "firewall-high"}, {Name: "bulkhead"}},
		Breaks: []*design.Break{
			{Name: "A", Panel: "firewall-high", Key: "N", Spot: design.Spot{At: at(1180, 120, 600), Known: true}, Halves: [2]design.Half{
				{Section: "tub", Contacts: "sockets", Mount: "fixed", Housing: "round-24"}, {Section: "engine", Contacts: "pins", Mount: "free", Housing: "round-24"}}},
			{Name: "start-post", Panel: "firewall-high", Halves: [2]design.Half{{Section: "tub", Mount: "fixed", Housing: "post-M10"}, {Section: "engine", Mount: "free", Housing: "post-M10"}}},
			{Name: "inline", Halves: [2]design.Half{{Section: "tub"}, {Section: "nose"}}},
		},
	}
	plan := &body{}
	tunnel := fix.RunPlan{Run: "tunnel", Section: "tub", Zone: "cabin", Panel: "floor", Length: 3490, LengthStatus: design.Measured, SpanLimit: 150, SpanSource: "set clip-span, zone cabin",
		Wires: 34, Outside: 21.4, Nodes: []fix.Station{{After: 0, At: at(2600, 60, 250), Known: true, What: "T"}, {After: 1200, At: at(1900, 60, 250), Known: true, What: "tunnel-aft"},
			{After: 2400, What: "tunnel-fwd beside the handbrake"}, {After: 3490, At: at(1180, 0, 400), Known: true, What: "A"}}}
	for i := range 26 {
		after := unit.Length(60 + 135*i)
		c := fix.Clip{Mark: fmt.Sprintf("tunnel-%d", i+1), After: after, At: at(2600-after/3, 60, 250), Known: i != 18, Part: "p-clip", Bundle: 21.4, ClipSize: 22, Fastener: "rivnut-M5", Drill: 7,
			Panel: "floor", Why: []string{"end", "span", "bend", "breakout"}[i%4]}
		switch i {
		case 5:
			c.Why, c.Status, c.Hole = "fixed", design.Frozen, "floor-3"
		case 9:
			c.ClipSize, c.Fastener, c.Drill, c.Panel = 0, "", 0, ""
		case 8:
			c.After = 1200
		}
		tunnel.Clips = append(tunnel.Clips, c)
	}
	rail := fix.RunPlan{Run: "rail", Section: "engine", Zone: "bay", Length: 402.6, LengthStatus: design.Computed, SpanLimit: 200, SpanSource: "default", Wires: 3, Outside: 5.2,
		Note:  "one end moves 19 mm in use: see that no clip ties it",
		Nodes: []fix.Station{{What: "A", At: at(1180, 120, 600), Known: true}, {After: 402.6, What: longName, At: at(800, 120, 600), Known: true}},
		Clips: []fix.Clip{{Mark: longName + "-1", After: 100, At: at(1080, 120, 600), Known: true, Part: "tie-mount", Bundle: 5.2, ClipSize: 8, Fastener: "weld-stud-M5", Why: "end", Status: design.Computed}}}
	lost := fix.RunPlan{Run: "rail", Stretch: 1, Section: "engine", Zone: "bay", Panel: "firewall-high", SpanLimit: 200, Wires: 2, Note: "length not known: no clips",
		Nodes: []fix.Station{{What: "valley"}, {What: "coil1"}}}
	plan.Runs = []fix.RunPlan{rail, lost, tunnel}
	add := func(h shell.Hole) { plan.Holes = append(plan.Holes, h) }
	add(shell.Hole{Mark: "A", What: "break A", Panel: "firewall-high", At: at(1180, 120, 600), Known: true, Drill: 28, Status: design.Stated})
	add(shell.Hole{Mark: "start-post", What: "stud post start-post", Panel: "firewall-high", Status: design.Stated, Note: "cut-out of the housing not known"})
	add(shell.Hole{Mark: "return-hole", What: "bush return-hole", Panel: "firewall-high", At: at(1180, -300, 412.5), Known: true, Drill: 0, Note: "bore 20 mm; the hole to suit the bush"})
	add(shell.Hole{Mark: longName + "-1", What: "clip " + longName + "-1", Panel: "firewall-high", At: at(1080, 120, 600), Known: true, Fastener: "weld-stud-M5"})
	for _, c := range tunnel.Clips {
		h := shell.Hole{Mark: c.Mark, What: "clip " + c.Mark, Panel: c.Panel, At: c.At, Known: c.Known, Drill: c.Drill, Fastener: c.Fastener, Status: c.Status}
		if c.Hole != "" {
			h.Mark = c.Hole
			h.Note = "the part asks for 7 mm"
			h.Drill = 6.5
		}
		if c.Panel != "" {
			add(h)
		}
	}
	for _, c := range tunnel.Clips {
		if c.Panel == "" {
			add(shell.Hole{Mark: c.Mark, What: "clip " + c.Mark, At: c.At, Known: true})
		}
	}
	return job, plan
}
