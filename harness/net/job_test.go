package net

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Small constructors: a job is put together from one-line statements.

type piece func(*design.Job)

func job(pieces ...piece) *design.Job {
	j := &design.Job{Revision: "A"}
	j.Parts.Contacts = []*design.Contact{contact("small", 0.35, 1), contact("mid", 0.75, 2), contact("big", 6, 10)}
	j.Parts.Housings = []*design.Housing{
		{Part: design.Part{Name: "post"}, Cavities: []design.HousingCavity{{Name: "1", Stud: "M10"}}},
		housing("two", "mid", "mid"), housing("four", "mid", "mid", "mid", "mid"), housing("mixed", "mid", "small", "small", "mid", "big"),
		housing("one", "mid"),
	}
	for _, p := range pieces {
		p(j)
	}
	return j
}

func contact(name string, least, most unit.Area) *design.Contact {
	return &design.Contact{Part: design.Part{Name: name}, WireLeast: unit.Metric(least), WireMost: unit.Metric(most)}
}

func housing(name string, takes ...string) *design.Housing {
	h := &design.Housing{Part: design.Part{Name: name}}
	for i, t := range takes {
		h.Cavities = append(h.Cavities, design.HousingCavity{Name: string(rune('1' + i)), Takes: []string{t}})
	}
	return h
}

var clock int

// line is a new place in the text.
func line() diag.Span { clock += 10; return diag.SpanOf("j.loom", clock, clock+5) }

func xyz(x, y, z float64) design.Point3 {
	return design.Point3{X: unit.Length(x), Y: unit.Length(y), Z: unit.Length(z)}
}

func at(node string, x, y float64) design.Spot {
	return design.Spot{Node: node, At: xyz(x, y, 0), Known: true}
}

// dev is a device with cavities; a pin written with a star is a stud.
func dev(name string, x, y float64, pins ...string) piece {
	return func(j *design.Job) {
		d := &design.Device{Name: name, Spot: at(name, x, y), Housings: []design.DeviceHousing{{Part: "any"}}, Common: design.Common{Span: line()}}
		for _, p := range pins {
			if n, stud := strings.CutSuffix(p, "*"); stud {
				d.Pins = append(d.Pins, design.Pin{Name: n, Housing: -1, Stud: "M6"})
			} else {
				d.Pins = append(d.Pins, design.Pin{Name: p, Cavity: p, Span: line()})
			}
		}
		j.Devices = append(j.Devices, d)
	}
}

func point(name string, x, y float64) piece {
	return func(j *design.Job) { j.Points = append(j.Points, &design.Point{Name: name, Spot: at(name, x, y)}) }
}

// run goes through the named places in order; what they are is looked up when the job is built.
func run(name, section string, through ...string) piece {
	return func(j *design.Job) {
		r := &design.Run{Name: name, Section: section, Zone: "cabin", Common: design.Common{Span: line()}}
		s := design.Stretch{Span: r.Span}
		for _, n := range through {
			s.Nodes = append(s.Nodes, design.Spot{Node: n})
		}
		r.Stretches = append(r.Stretches, s)
		j.Runs = append(j.Runs, r)
	}
}

func brk(name string, x, y float64, part, a, b string, more ...func(*design.Break)) piece {
	return func(j *design.Job) {
		k := &design.Break{Name: name, Spot: at(name, x, y), Common: design.Common{Span: line()},
			Halves: [2]design.Half{{Section: a, Housing: part, Contacts: "sockets"}, {Section: b, Housing: part, Contacts: "pins"}}}
		for _, m := range more {
			m(k)
		}
		j.Breaks = append(j.Breaks, k)
	}
}

func kept(class string) func(*design.Break) { return func(b *design.Break) { b.Class = class } }

func spliceAt(name, node, section string) piece {
	return func(j *design.Job) {
		s := &design.Splice{Name: name, Section: section, Common: design.Common{Span: line()}}
		if node != "" {
			s.Spot = design.Spot{Node: node, Known: true}
		}
		j.Splices = append(j.Splices, s)
	}
}

// circ is a circuit of links written "from to", with options after them.
func circ(name string, links ...design.Link) piece {
	return func(j *design.Job) {
		j.Circuits = append(j.Circuits, &design.Circuit{Name: name, Links: links, Common: design.Common{Span: line()}})
	}
}

func end(text string) design.End {
	switch n, pin, ok := strings.Cut(text, "."); {
	case ok:
		return design.End{Kind: design.AtPin, Name: n, Pin: pin}
	case strings.HasPrefix(text, "s-"):
		return design.End{Kind: design.AtSplice, Name: text}
	}
	return design.End{Kind: design.AtBreak, Name: text}
}

type option func(*design.Link)

func link(from, to string, options ...option) design.Link {
	l := design.Link{From: end(from), To: end(to), Parallel: 1, Common: design.Common{Span: line()}}
	for _, o := range options {
		o(&l)
	}
	return l
}

func size(a unit.Area) option { return func(l *design.Link) { l.Size = unit.Metric(a) } }
func class(c string) option   { return func(l *design.Link) { l.Class = c } }
func parallel(n int) option   { return func(l *design.Link) { l.Parallel = n } }
func via(kind, name string) option {
	return func(l *design.Link) { l.Via = append(l.Via, design.Via{Kind: kind, Name: name, Node: name}) }
}
func loose(length unit.Length, section string) option {
	return func(l *design.Link) {
		l.Loose, l.LooseSection = true, section
		l.LooseLength = design.Fact[unit.Length]{Spread: unit.Exactly(length), Given: true}
	}
}

// cav decides a cavity: break, cavity, circuit and, if given, the wire's two ends; frozen since a revision if that is not empty.
func cav(b, cavity, circuit, frozen string, ends ...string) piece {
	return func(j *design.Job) {
		d := &design.CavityDecision{Break: b, Cavity: cavity, Circuit: circuit, Common: design.Common{Span: line(), Frozen: frozen}}
		if len(ends) == 2 {
			d.From, d.To = ends[0], ends[1]
		}
		j.Cavities = append(j.Cavities, d)
	}
}

func lab(text, circuit, from, to, frozen string) piece {
	return func(j *design.Job) {
		j.Labels = append(j.Labels, &design.LabelDecision{Text: text, Circuit: circuit, From: from, To: to, Common: design.Common{Span: line(), Frozen: frozen}})
	}
}

func cable(name, wire string, screen string, holds ...string) piece {
	return func(j *design.Job) {
		c := &design.Cable{Name: name, Holds: holds, As: "pair", Wire: wire, Common: design.Common{Span: line()}}
		if screen != "" {
			for _, p := range strings.Split(screen, " ") {
				d, pin, _ := strings.Cut(p, ".")
				c.Screen = append(c.Screen, design.PinRef{Device: d, Pin: pin})
			}
		}
		j.Cables = append(j.Cables, c)
	}
}

func bought(name string, screen bool, colours ...string) piece {
	return func(j *design.Job) {
		w := &design.Wire{Part: design.Part{Name: name}}
		for _, c := range colours {
			w.Cores = append(w.Cores, design.WireCore{Colour: c, WireSize: design.WireSize{Size: unit.Metric(0.75)}})
		}
		if screen {
			w.Screen = &design.WireScreen{Kind: "braid"}
		}
		j.Parts.Wires = append(j.Parts.Wires, w)
	}
}

func built(j *design.Job) *Net { return Build(j, space.Lay(j), nil) }

func names(n *Net) []string {
	var out []string
	for _, w := range n.Wires {
		out = append(out, w.Name)
	}
	return out
}

func wire(t testing.TB, n *Net, name string) *Wire {
	t.Helper()
	for i := range n.Wires {
		if n.Wires[i].Name == name {
			return &n.Wires[i]
		}
	}
	t.Fatalf("no wire %q in %q; problems: %+v", name, names(n), n.Problems)
	return nil
}

func wantNames(t testing.TB, n *Net, want ...string) {
	t.Helper()
	if got := names(n); !slices.Equal(got, want) {
		t.Errorf("wires\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(want, "\n  "))
	}
}

// wantProblems demands these kinds of problem and no others, and returns the first.
func wantProblems(t testing.TB, n *Net, kinds ...ProblemKind) Problem {
	t.Helper()
	var got []ProblemKind
	for _, p := range n.Problems {
		got = append(got, p.Kind)
	}
	slices.Sort(kinds)
	if !slices.Equal(got, kinds) {
		t.Fatalf("problems %v, want kinds %v: %+v", got, kinds, n.Problems)
	}
	if len(got) == 0 {
		return Problem{}
	}
	return n.Problems[0]
}

func cavityOf(t testing.TB, n *Net, b, name string) string {
	t.Helper()
	w := wire(t, n, name)
	for _, e := range w.Ends {
		if e.Break == b {
			return e.Cavity
		}
	}
	t.Fatalf("%s does not end at %s", name, b)
	return ""
}

func has(t testing.TB, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("%q does not say %q", text, p)
		}
	}
}
