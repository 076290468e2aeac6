package bench

import (
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func at3(x, y, z unit.Length) design.Point3 { return design.Point3{X: x, Y: y, Z: z} }

func spotAt(node string, p design.Point3) design.Spot {
	return design.Spot{Node: node, At: p, Known: true}
}

func lengthFact(l unit.Length) design.Fact[unit.Length] {
	return design.Fact[unit.Length]{Spread: unit.Exactly(l), Given: true}
}

func set(name, value string, scope ...string) design.Setting {
	q, err := unit.Parse(value)
	s := design.Setting{Name: name, Value: design.SettingValue{Quantity: q}, Scope: map[string]string{}}
	if err != nil {
		s.Value = design.SettingValue{Name: value}
	}
	for i := 0; i < len(scope); i += 2 {
		s.Scope[scope[i]] = scope[i+1]
	}
	return s
}

func housing(name string, takes string, cavities ...string) *design.Housing {
	h := &design.Housing{Part: design.Part{Name: name}}
	for _, c := range cavities {
		h.Cavities = append(h.Cavities, design.HousingCavity{Name: c, Takes: []string{takes}})
	}
	return h
}

// smallJob is a box in the tub, a break A on the firewall and two loads on the engine beyond a splice; a screened bought lead, a pair
// twisted on the bench, and a loose earth lead.
//
//	box --tunnel (string 1490, slack 20)-- bend -- A | A --rail-- s-feed -- lamp1 -- lamp2
func smallJob() (*design.Job, *net.Net, size.Sizes) {
	firewall := spotAt("A", at3(1000, 0, 500))
	job := &design.Job{
		Sections: []*design.Section{{Name: "engine", Common: design.Common{Note: "lifts out"}}, {Name: "tub"}},
		Zones:    []*design.Zone{{Name: "bay", With: []string{"wet", "oil"}}, {Name: "cabin"}},
		Panels:   []*design.Panel{{Name: "firewall", Zones: []string{"cabin", "bay"}}},
		Points:   []*design.Point{{Name: "hole", Spot: spotAt("hole", at3(1000, 300, 400)), Panel: "firewall", Bush: 20}},
		Runs: []*design.Run{
			{Name: "rail", Section: "engine", Zone: "bay", Stretches: []design.Stretch{
				{Nodes: []design.Spot{firewall, spotAt("lamp1", at3(600, 0, 500)), spotAt("lamp2", at3(300, 0, 500))}}}},
			{Name: "tunnel", Section: "tub", Zone: "cabin", Panel: "firewall", Sleeve: "braid", Stretches: []design.Stretch{
				{Nodes: []design.Spot{spotAt("box", at3(2400, 0, 300)), {At: at3(1000, 0, 300), Known: true}, firewall}, Length: lengthFact(1490), Slack: 20}}},
		},
		Devices: []*design.Device{
			{Name: "block", Spot: spotAt("lamp2", at3(300, 0, 500)), Pins: []design.Pin{{Name: "main", Housing: -1, Stud: "M10"}}},
			{Name: "box", Spot: spotAt("box", at3(2400, 0, 300)), Housings: []design.DeviceHousing{{Part: "plain-6"}}, Pins: []design.Pin{
				{Name: "6", Cavity: "6", Unused: true}, {Name: "f1", Cavity: "1"}, {Name: "h", Cavity: "2"}, {Name: "l", Cavity: "3"}, {Name: "s", Cavity: "4"}, {Name: "x", Cavity: "5"}},
				Fuses: []design.DeviceFuse{{Part: "blade-10"}}},
			{Name: "lamp1", Spot: spotAt("lamp1", at3(600, 0, 500)), Housings: []design.DeviceHousing{{Part: "sealed-2"}}, Pins: []design.Pin{{Name: "1", Cavity: "1"}, {Name: "2", Cavity: "2"}}},
			{Name: "lamp2", Spot: spotAt("lamp2", at3(300, 0, 500)), Housings: []design.DeviceHousing{{Part: "sealed-3"}}, Pins: []design.Pin{
				{Name: "1", Cavity: "1"}, {Name: "2", Cavity: "2"}, {Name: "3", Cavity: "3"}}},
		},
		Breaks: []*design.Break{{Name: "A", Spot: firewall, Panel: "firewall", Key: "N", Halves: [2]design.Half{
			{Section: "tub", Contacts: "sockets", Mount: "fixed", Housing: "round-6"}, {Section: "engine", Contacts: "pins", Mount: "free", Housing: "round-6"}}}},
		Splices: []*design.Splice{{Name: "s-feed", Section: "engine", Along: "rail", After: 60, Sleeve: "shrink"}},
		Cables: []*design.Cable{{Name: "lead", Holds: []string{"h", "l"}, As: "pair", Wire: "screened-2"},
			{Name: "twins", Holds: []string{"p", "q"}, As: "pair", Twist: 25}},
		Holes:    []*design.Hole{{Name: "fh-1", Spot: spotAt("fh-1", at3(1000, 0, 500)), Panel: "firewall", Drill: 32, Common: design.Common{Frozen: "B"}}},
		Fixings:  []*design.Fixing{{Name: "tunnel-3", Run: "tunnel", After: 640, Clip: "p-clip", Fastener: "stud"}},
		Settings: design.Settings{Lines: []design.Setting{set("clip-span", "200 mm", "zone", "bay"), set("take-up", "3 %", "section", "engine")}},
	}
	p := &job.Parts
	p.Housings = []*design.Housing{housing("plain-6", "size-20", "1", "2", "3", "4", "5", "6"), housing("round-6", "size-20", "1", "2", "3", "4", "5", "6"),
		housing("sealed-2", "size-20", "1", "2"), housing("sealed-3", "size-20", "1", "2", "3")}
	p.Housings[1].CutOut = 28
	p.Contacts = []*design.Contact{{Part: design.Part{Name: "size-20", Own: true}, Strip: 5, Tool: "four-indent"}}
	p.Wires = []*design.Wire{{Part: design.Part{Name: "screened-2"}, Outside: 4.4, Cores: []design.WireCore{{Colour: "white"}, {Colour: "blue"}}}, {Part: design.Part{Name: "thin"}}}
	p.Seals = []*design.Seal{{Part: design.Part{Name: "seal-1"}, InsulLeast: 0.9, InsulMost: 1.4}, {Part: design.Part{Name: "seal-2"}, InsulLeast: 1.2, InsulMost: 1.8},
		{Part: design.Part{Name: "seal-3"}, InsulLeast: 1.6, InsulMost: 2.4}}
	p.Clips = []*design.Clip{{Part: design.Part{Name: "p-clip"}, Holds: []unit.Length{5, 6, 8, 10, 12}}}
	p.Fasteners = []*design.Fastener{{Part: design.Part{Name: "rivet-nut-m5"}, Drill: 7.1}, {Part: design.Part{Name: "stud"}}}

	geo := space.Lay(job)
	nt := &net.Net{Space: geo}
	var sizes size.Sizes
	node := func(k string) int { return geo.Find(k) }
	cav := func(dev, pin, cavity string) net.Termination {
		return net.Termination{Kind: net.InCavity, Device: dev, Pin: pin, Cavity: cavity, Node: node(dev)}
	}
	half := func(h int, cavity string) net.Termination {
		return net.Termination{Kind: net.InHalf, Break: "A", Half: h, Cavity: cavity, Node: node("A")}
	}
	splice := net.Termination{Kind: net.InSplice, Splice: "s-feed", Node: node("s-feed")}
	tunnel := []net.Step{{Edge: edge(geo, "tunnel", 0)}, {Edge: edge(geo, "tunnel", 1)}}
	rail := func(n ...int) (out []net.Step) {
		for _, i := range n {
			out = append(out, net.Step{Edge: edge(geo, "rail", i)})
		}
		return out
	}
	add := func(w net.Wire, a, b net.Termination, s unit.Size, od unit.Length) {
		w.Ends = [2]net.Termination{a, b}
		if w.Family == "" {
			w.Family = "thin"
		}
		if w.Cable == "" {
			w.Core = -1
		}
		w.Label = "w" + string(rune('a'+len(nt.Wires)))
		c := size.Conductor{Size: s, Outside: od, Known: true}
		for e, t := range w.Ends {
			if (t.Kind == net.InCavity || t.Kind == net.InHalf) && w.Kind != net.Screen {
				c.Contacts[e] = "size-20"
			}
		}
		nt.Wires, sizes = append(nt.Wires, w), append(sizes, c)
	}
	small, big := unit.Metric(0.5), unit.Metric(1.5)
	add(net.Wire{Name: "feed A - s-feed", Circuit: "feed", Section: "engine", Colour: "red/white", Path: rail(0)}, half(1, "1"), splice, big, 2.4)
	add(net.Wire{Name: "feed box.f1 - A", Circuit: "feed", Section: "tub", Colour: "red/white", Path: tunnel}, cav("box", "f1", "1"), half(0, "1"), big, 2.4)
	add(net.Wire{Name: "feed s-feed - lamp1.1", Circuit: "feed", Section: "engine", Path: rail(1)}, splice, cav("lamp1", "1", "1"), small, 1.6)
	add(net.Wire{Name: "feed s-feed - lamp2.1", Circuit: "feed", Section: "engine", Path: rail(1, 2)}, splice, cav("lamp2", "1", "1"), small, 1.6)
	back := func(n ...int) (out []net.Step) {
		for _, s := range rail(n...) {
			out = append([]net.Step{{Edge: s.Edge, Reverse: true}}, out...)
		}
		return out
	}
	add(net.Wire{Name: "h box.h - A", Circuit: "h", Section: "tub", Cable: "lead", Core: 0, Family: "screened-2", Colour: "green", Path: tunnel}, cav("box", "h", "2"), half(0, "2"), small, 1.6)
	add(net.Wire{Name: "l box.l - A", Circuit: "l", Section: "tub", Cable: "lead", Core: 1, Family: "screened-2", Path: tunnel}, cav("box", "l", "3"), half(0, "3"), small, 1.6)
	add(net.Wire{Name: "lead screen", Circuit: "lead", Kind: net.Screen, Section: "tub", Cable: "lead", Core: -1, Family: "screened-2", Path: tunnel},
		cav("box", "s", "4"), net.Termination{Kind: net.CutBack, Near: "A", Node: node("A")}, unit.Size{}, 0)
	add(net.Wire{Name: "p lamp1.2 - A", Circuit: "p", Section: "engine", Cable: "twins", Core: 0, Path: back(0, 1)}, cav("lamp1", "2", "2"), half(1, "2"), small, 1.6)
	add(net.Wire{Name: "q lamp2.2 - A", Circuit: "q", Section: "engine", Cable: "twins", Core: 1, Path: back(0, 1, 2)}, cav("lamp2", "2", "2"), half(1, "3"), small, 1.6)
	add(net.Wire{Name: "strap box.x - block.main", Circuit: "strap", Section: "tub", Colour: "black", Loose: true, LooseLength: 350, Zone: "bay"},
		cav("box", "x", "5"), net.Termination{Kind: net.OnStud, Device: "block", Pin: "main", Node: -1}, unit.Metric(25), 9)
	nt.Joints = []net.Joint{{Splice: "s-feed", Section: "engine", Node: node("s-feed"), Status: design.Stated, Wires: []int{0, 2, 3}, Run: "rail", After: 60}}
	return job, nt, sizes
}

func edge(g *space.Geometry, run string, n int) int { return g.Stretch(run, 0)[n] }

func section(p *Plan, name string) *SectionPlan {
	for i := range p.Sections {
		if p.Sections[i].Name == name {
			return &p.Sections[i]
		}
	}
	return nil
}

func cutOf(p *Plan, name string) *Cut {
	for i := range p.Sections {
		for j := range p.Sections[i].Cuts {
			if p.Sections[i].Cuts[j].Name == name {
				return &p.Sections[i].Cuts[j]
			}
		}
	}
	return nil
}

// made is the plan of the small job's kind of input, with its clips and holes.
func made(job *design.Job, nt *net.Net, sizes size.Sizes) *Plan {
	bundles := bundle.Find(job, nt, sizes)
	held := fix.Find(job, nt, bundles)
	return Make(job, nt, sizes, bundles, layup.Find(job, nt, sizes, bundles), held, shell.Find(job, nt, held))
}
