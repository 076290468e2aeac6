package free

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
)

// knotKind is what a wire can be tied to.
type knotKind uint8

const (
	aWire knotKind = iota
	aDevice
	aSplice
	aPostHalf
	aPlug
)

// knot is a node of the graph of what holds what.
type knot struct {
	kind    knotKind
	wire    int    // aWire
	name    string // device, splice, break
	section string // it goes with; empty: not known (of a device: it stays)
}

// link is a place where two things hold one another.
type link struct {
	a, b   int         // knots; a is a wire
	end    int         // which end of that wire
	undo   design.Undo // what undoes it; no kind: nothing does
	at     string      // "break N, cavity 5", "stud shell.nose"
	group  string      // "break N", "device map", "splice s"
	cavity string      // "cavity 5", "lug on its tub half"
}

// graph is every wire and what it meets.
type graph struct {
	knots []knot
	links []link // by wire and end, a crossing with its wire on half 0
	lays  []lay
	of    map[string]int
}

// lay is a wire that lies in a run of another section.
type lay struct {
	wire int
	run  string
	to   string // section of the run
}

func (g *graph) knot(key string, k knot) int {
	i, ok := g.of[key]
	if !ok {
		i = len(g.knots)
		g.of[key] = i
		g.knots = append(g.knots, k)
	}
	return i
}

func (f *finder) findGraph() {
	g := &graph{of: map[string]int{}}
	nt := f.nt
	for i := range nt.Wires {
		g.knots = append(g.knots, knot{kind: aWire, wire: i, section: nt.Wires[i].Section})
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for k := range w.Ends {
			f.endLinks(g, i, k, &w.Ends[k])
		}
		if nt.Space == nil || w.Section == "" {
			continue
		}
		for _, s := range w.Path {
			e := &nt.Space.Edges[s.Edge]
			if n := len(g.lays) - 1; e.Section != "" && e.Section != w.Section && (n < 0 || g.lays[n] != lay{i, e.Run, e.Section}) {
				g.lays = append(g.lays, lay{i, e.Run, e.Section})
			}
		}
	}
	for i := range nt.Crossings {
		c := &nt.Crossings[i]
		if c.Wires[0] < 0 || c.Wires[1] < 0 || c.Wires[0] >= len(nt.Wires) || c.Wires[1] >= len(nt.Wires) {
			continue
		}
		l := link{a: c.Wires[0], b: c.Wires[1], end: endAt(&nt.Wires[c.Wires[0]], c.Break, 0), undo: design.Undo{Kind: "break", Name: c.Break},
			at: "break " + c.Break, group: "break " + c.Break, cavity: "no cavity"}
		if c.Cavity != "" {
			l.cavity = "cavity " + c.Cavity
			l.at += ", " + l.cavity
		}
		g.links = append(g.links, l)
	}
	f.g = g
}

// endAt is the end of a wire that sits in a half of a break.
func endAt(w *net.Wire, name string, half int) int {
	for k := range w.Ends {
		if t := &w.Ends[k]; t.Break == name && t.Half&1 == half {
			return k
		}
	}
	for k := range w.Ends {
		if w.Ends[k].Break == name {
			return k
		}
	}
	return 0
}

// endLinks is what one end of a wire holds on to; crossings are looked at by break.
func (f *finder) endLinks(g *graph, wire, end int, t *net.Termination) {
	switch t.Kind {
	case net.InCavity, net.OnStud:
		l := link{a: wire, end: end, undo: design.Undo{Kind: "device", Name: t.Device}, group: "device " + t.Device, at: "plug of " + t.Device}
		if t.Cavity != "" {
			l.cavity = "cavity " + t.Cavity
			l.at += ", " + l.cavity
		}
		if t.Kind == net.OnStud {
			l.undo = design.Undo{Kind: "stud", Name: t.Device, Pin: t.Pin}
			l.cavity, l.at = "lug on "+t.Device+"."+t.Pin, "stud "+t.Device+"."+t.Pin
			l.group = l.at
		}
		l.b = g.knot("device "+t.Device, knot{kind: aDevice, name: t.Device, section: f.bodies.home[t.Device]})
		g.links = append(g.links, l)
		if t.Kind == net.InCavity && t.Housing >= 0 { // whoever is in one plug hangs together when it is pulled
			l.undo, l.group = design.Undo{}, "plug of "+t.Device
			l.b = g.knot(fmt.Sprintf("plug %d %s", t.Housing, t.Device), knot{kind: aPlug, name: t.Device})
			g.links = append(g.links, l)
		}
	case net.OnPost:
		// A lug shares its half with others, and the post holds it to the other half.
		for h := range 2 {
			half := f.halfSection(t.Break, h)
			l := link{a: wire, end: end, group: "break " + t.Break, at: "stud post " + t.Break, cavity: "lug on its " + half + " half"}
			l.b = g.knot("half "+t.Break+string(rune('0'+h)), knot{kind: aPostHalf, name: t.Break, section: half})
			if h != t.Half&1 {
				l.undo = design.Undo{Kind: "break", Name: t.Break}
				l.cavity = "lug on its " + f.halfSection(t.Break, t.Half&1) + " half"
			}
			g.links = append(g.links, l)
		}
	case net.InSplice:
		s := f.splice[t.Splice]
		l := link{a: wire, end: end, group: "splice " + t.Splice, at: "splice " + t.Splice, cavity: "splice " + t.Splice}
		l.b = g.knot("splice "+t.Splice, knot{kind: aSplice, name: t.Splice, section: s})
		g.links = append(g.links, l)
	}
}

func (f *finder) halfSection(name string, half int) string {
	if b := f.breaks[name]; b != nil {
		return b.Halves[half&1].Section
	}
	return ""
}

// by tells whether one thing undone undoes a link.
func (l *link) by(u design.Undo) bool {
	if l.undo.Kind == "" || u.Name != l.undo.Name {
		return false
	}
	return u.Kind == l.undo.Kind && u.Pin == l.undo.Pin || u.Kind == "device" && l.undo.Kind == "stud"
}

// knotSide is the side of a knot in a part.
func (p *part) knotSide(i int) side {
	k := &p.f.g.knots[i]
	if k.kind == aDevice {
		return p.deviceSide(k.name)
	}
	return p.sideOf(k.section)
}

// holding lists the links that tie, nothing of a list of things undone counted: those between what goes and what stays, and those of things of no known
// section that hold on to both. It looks only at what goes and what hangs on it.
func (p *part) holding(undo []design.Undo) (out []int) {
	g, met := p.f.g, p.f.index.met
	gone := p.f.marked(undo)
	seen := map[int]bool{} // knots of no known section
	for _, k := range p.within(func(s *within) []int { return s.knots }) {
		for _, i := range met[k] {
			if gone[i] {
				continue
			}
			other := g.links[i].other(k)
			switch p.knotSide(other) {
			case stays:
				out = append(out, i)
			case unsure:
				if !seen[other] {
					out = append(out, p.hanging(other, gone, seen)...)
				}
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// hanging is the links of a thing of no known section and of all such that hang together with it, if some of them hold on to what goes and some to what
// stays.
func (p *part) hanging(from int, gone, seen map[int]bool) (links []int) {
	g := p.f.g
	var touch [3]bool
	seen[from] = true
	for todo := []int{from}; len(todo) > 0; todo = todo[1:] {
		k := todo[0]
		for _, i := range p.f.index.met[k] {
			if gone[i] {
				continue
			}
			links = append(links, i)
			other := g.links[i].other(k)
			side := p.knotSide(other)
			if touch[side] = true; side == unsure && !seen[other] {
				seen[other] = true
				todo = append(todo, other)
			}
		}
	}
	if !touch[goes] || !touch[stays] {
		return nil
	}
	return links
}

// other is the thing that a link holds to a knot.
func (l *link) other(k int) int {
	if l.a == k {
		return l.b
	}
	return l.a
}

// findEarths is the pins that metal joins to the minus of a supply: wires, joints and posts, no switch, no fuse, no load.
func (f *finder) findEarths() {
	nw := solve.All(f.job, f.nt, f.sizes)
	group := apart(len(nw.Nodes))
	root := group.root
	for _, e := range nw.Elements {
		switch e.Kind {
		case solve.Wire, solve.Contact, solve.Lug, solve.SpliceJoint, solve.Post, solve.Join:
			group[root(e.From)] = root(e.To)
		}
	}
	minus := map[int]bool{}
	for _, e := range nw.Elements {
		if e.Kind == solve.Supply {
			minus[root(e.To)] = true
		}
	}
	f.earths = map[string]bool{}
	for i, n := range nw.Nodes {
		if minus[root(i)] {
			f.earths[n] = true
		}
	}
}

// sets are things of which some are joined; each names another of its set, or itself.
type sets []int

// apart is so many things that nothing joins yet.
func apart(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

// root is the one that stands for the set of a thing.
func (s sets) root(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}
