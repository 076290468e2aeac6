package bench

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Pair is wires that are twisted, or screened, together on the bench: one length of a cable that is not bought.
type Pair struct {
	Cable     string
	As        string // pair, multicore or bus; empty: not said
	Members   []PairMember
	Lay       unit.Length // length of one turn of the twist; 0: they are not twisted
	Turns     int         // over the twisted length, whole turns; 0 not known or not twisted
	Twisted   unit.Length // length along its axis over which they lie together, from one breakout to the other; 0 not known
	Untwisted unit.Length // most that may stay untwisted at each end
	Screen    *PairScreen
	Steps     []string // what to do, in order
}

// PairMember is one wire of it.
type PairMember struct {
	Wire         int
	Label, Name  string
	Colour, Code string
	Family       string
	Size         unit.Size
	Length       unit.Length // as cut; 0 not known
	Ends         [2]string
}

// PairScreen is the screen over it.
type PairScreen struct {
	Wire   int
	Name   string
	Length unit.Length // as cut; 0 not known
	Ends   [2]string   // "box, cavity 4" where it is earthed, "cut back beside A"
}

// pairs lists what is made up of several wires in a section, by cable and way.
func (m *maker) pairs(s *SectionPlan) []Pair {
	type group struct {
		cable *design.Cable
		wires []int
	}
	var groups []group
	of := map[string][]int{} // groups by cable
	var screens []int
	cuts := map[int]*Cut{}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		w := &m.net.Wires[c.Wire]
		cable := m.cable[w.Cable]
		if cable == nil || len(c.Cores) > 0 || m.isBought(w) {
			continue
		}
		cuts[c.Wire] = c
		if w.Kind == net.Screen {
			screens = append(screens, c.Wire)
		}
	}
	// In the order of the net, so that the cores come in theirs.
	for _, i := range m.in(s.Name).wires {
		w := &m.net.Wires[i]
		if cuts[i] == nil || w.Kind == net.Screen {
			continue
		}
		n := -1
		for _, k := range of[w.Cable] {
			g := groups[k].wires
			if m.beside(g, i) && !slices.ContainsFunc(g, func(o int) bool { return m.net.Wires[o].Core == w.Core }) {
				n = k
				break
			}
		}
		if n < 0 {
			n, groups = len(groups), append(groups, group{cable: m.cable[w.Cable]})
			of[w.Cable] = append(of[w.Cable], n)
		}
		groups[n].wires = append(groups[n].wires, i)
	}
	slices.SortStableFunc(groups, func(a, b group) int { return design.Natural(a.cable.Name, b.cable.Name) })
	var out []Pair
	for _, g := range groups {
		p := Pair{Cable: g.cable.Name, As: g.cable.As}
		slices.SortStableFunc(g.wires, func(a, b int) int { return m.net.Wires[a].Core - m.net.Wires[b].Core })
		for _, i := range g.wires {
			c := cuts[i]
			p.Members = append(p.Members, PairMember{Wire: i, Label: c.Label, Name: c.Name, Colour: c.Colour, Code: c.Code, Family: c.Family, Size: c.Size, Length: c.Length, Ends: [2]string{c.Ends[0].Text, c.Ends[1].Text}})
		}
		for n, i := range screens {
			if i >= 0 && m.net.Wires[i].Cable == p.Cable && m.beside(g.wires, i) {
				c := cuts[i]
				p.Screen = &PairScreen{i, c.Name, c.Length, [2]string{c.Ends[0].Text, c.Ends[1].Text}}
				screens[n] = -1
				break
			}
		}
		if len(p.Members) < 2 && p.Screen == nil {
			continue
		}
		m.twisting(&p, g.cable, g.wires)
		out = append(out, p)
	}
	return out
}

// beside tells whether a wire lies in an edge with any of others, or between the same two places where none has a way.
func (m *maker) beside(others []int, wire int) bool {
	w := &m.net.Wires[wire]
	for _, o := range others {
		x := &m.net.Wires[o]
		for _, s := range w.Path {
			if slices.ContainsFunc(x.Path, func(t net.Step) bool { return t.Edge == s.Edge }) {
				return true
			}
		}
		if len(w.Path) == 0 && len(x.Path) == 0 {
			a, b := [2]int{w.Ends[0].Node, w.Ends[1].Node}, [2]int{x.Ends[0].Node, x.Ends[1].Node}
			if a == b || a == [2]int{b[1], b[0]} {
				return true
			}
		}
	}
	return len(others) == 0
}

// twisting works out over what length the members lie together, and words the work.
func (m *maker) twisting(p *Pair, c *design.Cable, wires []int) {
	at := scope(&m.net.Wires[wires[0]])
	p.Untwisted = m.length("untwisted-most", at)
	together := m.common(wires)
	if together > 0 {
		p.Twisted = max(0, together)
	}
	if len(wires) > 1 && c.Twist > 0 {
		p.Lay = c.Twist
		if p.Twisted > 0 {
			p.Turns = int(min(1e6, math.Ceil(float64(p.Twisted/p.Lay))))
		}
		step := "Twist the " + unit.Number(float64(len(wires)), 0) + " wires together, one turn every " + p.Lay.String()
		if p.Turns > 0 {
			step += ": " + unit.Number(float64(p.Turns), 0) + " turns over " + millimetres(p.Twisted) + " mm"
		}
		p.Steps = append(p.Steps, step+".", "Leave at most "+millimetres(p.Untwisted)+" mm untwisted at each end.")
	} else if len(wires) > 1 {
		p.Steps = append(p.Steps, "Lay the "+unit.Number(float64(len(wires)), 0)+" wires side by side and tie them; they are not twisted.")
	}
	if s := p.Screen; s != nil {
		p.Steps = append(p.Steps, "Slide the screen over them. One end: "+s.Ends[0]+". Other end: "+s.Ends[1]+".")
	}
}

// common is the length of the way, slack and take-up of its lay included, that all wires follow together; 0 if a part has no known length. Wires without a
// way lie together over their loose length.
func (m *maker) common(wires []int) unit.Length {
	first := &m.net.Wires[wires[0]]
	var l unit.Length
	if first.Loose {
		l = positive(first.LooseLength)
		for _, o := range wires[1:] {
			l = min(l, positive(m.net.Wires[o].LooseLength))
		}
		return l
	}
	for _, s := range first.Path {
		all := true
		for _, o := range wires[1:] {
			all = all && slices.ContainsFunc(m.net.Wires[o].Path, func(t net.Step) bool { return t.Edge == s.Edge })
		}
		if !all {
			continue
		}
		e := &m.geo.Edges[s.Edge]
		if !known(e) {
			return 0
		}
		l += unit.Length((1 + float64(m.takeUp(wires[0], s.Edge))) * float64(e.Length+e.Slack))
	}
	return positive(l)
}
