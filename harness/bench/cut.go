package bench

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// cuts is the cut list of a section, in cutting order.
func (m *maker) cuts(section string) []Cut {
	out := make([]Cut, 0, len(m.in(section).wires))
	var bought []piece
	var screens []int
	for _, i := range m.in(section).wires {
		w := &m.net.Wires[i]
		switch {
		case !m.isBought(w):
			out = append(out, m.cutWire(i))
		case w.Kind == net.Screen:
			screens = append(screens, i)
		default:
			bought = addCore(bought, m.net, i)
		}
	}
	for _, i := range screens {
		bought = addCore(bought, m.net, i)
	}
	for _, p := range bought {
		out = append(out, m.cutCable(p))
	}
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, k int) int {
		a, b := &out[i], &out[k]
		return cmp.Or(design.Natural(a.Family, b.Family), bySize(b.Size, a.Size), design.Natural(a.Colour, b.Colour), cmp.Compare(b.Length, a.Length), design.Natural(a.Name, b.Name))
	})
	if len(out) == 0 {
		return nil
	}
	sorted := make([]Cut, len(out))
	for n, i := range order {
		sorted[n] = out[i]
	}
	return sorted
}

func bySize(a, b unit.Size) int {
	switch {
	case a == b:
		return 0
	case a.Less(b):
		return -1
	}
	return 1
}

// isBought tells whether a wire is a core, or the screen, of a bought cable.
func (m *maker) isBought(w *net.Wire) bool {
	c := m.cable[w.Cable]
	return c != nil && m.wire[c.Wire] != nil && len(m.wire[c.Wire].Cores) > 0
}

// piece is one length of a bought cable: its cores run between the same two places.
type piece struct {
	cable string
	nodes [2]int
	wires []int
}

// addCore puts a wire to the piece of its cable that runs between the same two places; a screen, which may reach on to the pin that earths
// it, to one with which it shares a place.
func addCore(list []piece, nt *net.Net, wire int) []piece {
	w := &nt.Wires[wire]
	a, b := w.Ends[0].Node, w.Ends[1].Node
	p := piece{w.Cable, [2]int{min(a, b), max(a, b)}, []int{wire}}
	for _, loosely := range []bool{false, true} {
		for i := range list {
			q := &list[i]
			touches := q.nodes == p.nodes || loosely && w.Kind == net.Screen && (a >= 0 && slices.Contains(q.nodes[:], a) || b >= 0 && slices.Contains(q.nodes[:], b))
			if q.cable != p.cable || !touches {
				continue
			}
			twice := slices.ContainsFunc(q.wires, func(o int) bool { return nt.Wires[o].Kind == w.Kind && nt.Wires[o].Core == w.Core })
			if !twice {
				q.wires = append(q.wires, wire)
				return list
			}
		}
	}
	return append(list, p)
}

// screenFamily stands for the wire family of a screen that is put over its cores on the bench.
const screenFamily = "screen"

func (m *maker) cutWire(i int) Cut {
	w := &m.net.Wires[i]
	c := Cut{Wire: i, Name: w.Name, Label: w.Label, Family: or(m.conductor(i).Family, w.Family), Size: m.conductor(i).Size, Cable: w.Cable}
	if w.Kind == net.Screen {
		c.Family, c.Screen = screenFamily, true
	}
	c.Colour, c.Code, c.ColourStatus = Colour(m.job, w)
	c.Length, c.Terms = m.cutLength(i)
	c.Planned = planned(c.Terms)
	for e := range w.Ends {
		c.Ends[e] = m.cutEnd(i, e)
	}
	var notes []string
	if cable := m.cable[w.Cable]; cable != nil {
		notes = append(notes, m.madeUp(cable, i))
	}
	if w.Kind == net.Spare {
		notes = append(notes, "spare")
	}
	switch {
	case c.Length == 0:
		notes = append(notes, "length not known")
	case len(w.Path) == 0 && w.LooseLength == 0:
		notes = append(notes, "both ends at one place: check the length on the job")
	}
	if w.Sleeve != "" {
		notes = append(notes, "in sleeve "+w.Sleeve)
	}
	for e := range w.Ends {
		if t := &w.Ends[e]; len(t.SlidOn) > 0 {
			notes = append(notes, "slide on before the end at "+shortText(t)+": "+strings.Join(t.SlidOn, ", "))
		}
	}
	c.Note = strings.Join(notes, "; ")
	return c
}

// madeUp says with what a wire is twisted, cabled or screened on the bench.
func (m *maker) madeUp(cable *design.Cable, wire int) string {
	w := &m.net.Wires[wire]
	if w.Kind == net.Screen {
		return "screen of " + cable.Name
	}
	var with []string
	for _, c := range cable.Holds {
		if c != w.Circuit {
			with = append(with, c)
		}
	}
	s := "in " + cable.Name
	if cable.Twist > 0 && len(with) > 0 {
		s = "twist with " + strings.Join(with, ", ") + ", lay " + cable.Twist.String() + ": " + cable.Name
	}
	return s
}

func (m *maker) cutCable(p piece) Cut {
	slices.SortStableFunc(p.wires, func(a, b int) int {
		x, y := &m.net.Wires[a], &m.net.Wires[b]
		return cmp.Or(cmp.Compare(x.Kind, y.Kind), cmp.Compare(x.Core, y.Core), cmp.Compare(a, b))
	})
	first := &m.net.Wires[p.wires[0]]
	c := Cut{Cable: p.cable, Family: m.cable[p.cable].Wire, Wire: p.wires[0], Name: p.cable + " " + thing(&first.Ends[0]) + " - " + thing(&first.Ends[1])}
	whole, lead := true, ""
	for n, i := range p.wires {
		w := &m.net.Wires[i]
		core := Core{Wire: i, Name: w.Name, Label: w.Label, Size: m.conductor(i).Size, Screen: w.Kind == net.Screen}
		core.Colour, core.Code, core.ColourStatus = Colour(m.job, w)
		for e := range w.Ends {
			core.Ends[e] = m.cutEnd(i, e)
		}
		c.Cores = append(c.Cores, core)
		length, terms := m.cutLength(i)
		whole = whole && length > 0
		switch {
		case n == 0 || length > c.Length && !core.Screen:
			c.Wire, c.Length, c.Terms = i, length, terms
		case core.Screen && length > c.Length:
			lead = "the screen needs a lead of " + millimetres(length-c.Length) + " mm more"
		}
		if !core.Screen && c.Size.Less(core.Size) {
			c.Size = core.Size
		}
	}
	for e := range c.Ends {
		c.Ends[e] = CutEnd{Text: m.placeText(&first.Ends[e])}
	}
	if !whole {
		c.Length, c.Terms = 0, Terms{}
		lead = "length not known"
	}
	c.Planned = planned(c.Terms)
	c.Note = lead
	return c
}

// planned is the terms of what a wire takes at its planned way.
func planned(terms Terms) unit.Length {
	return terms.Sum(func(k TermKind) bool { return k <= LoopTerm })
}
