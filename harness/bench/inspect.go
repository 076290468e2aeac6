package bench

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// Inspection is what is measured on the finished section before it leaves the bench, with nothing plugged in.
type Inspection struct {
	Rings     []Ring      // by their first ends
	Isolation []Isolation // in the order of the connectors
}

// Ring is one conductor with all its ends: those that must ring through to the first of them.
type Ring struct {
	From RingEnd
	To   []RingEnd
}

// RingEnd is one end that a probe is put to. Most is the resistance between it and the ring's first end at 20 C, the meter's leads and
// the contact between probe and end left out; it is the greatest that the wires' standards admit of wires as long as they were cut. Known is false where a conductor's
// resistance, or its length, is not known: then only that it rings is asked.
type RingEnd struct {
	Text  string // "A, cavity 4"
	Label string // of the wire there
	Wire  int    // of the net
	Most  unit.Resistance
	Known bool
}

// Isolation is one connector, or the lugs of a device: no two of its ends may ring, but for those listed as joined.
type Isolation struct {
	Title  string
	Ends   []string   // cavities with a wire, or studs
	Joined [][]string // ends that one conductor joins through a splice
}

// inspect lists the measurements of a section.
func (m *maker) inspect(section string, connectors []Connector, cuts []Cut) Inspection {
	var out Inspection
	cut := cutLengths(cuts)
	groups := m.conductors(section)
	group := map[int]int{}
	for g, wires := range groups {
		for _, w := range wires {
			group[w] = g
		}
		if r, ok := m.ring(wires, cut); ok {
			out.Rings = append(out.Rings, r)
		}
	}
	slices.SortStableFunc(out.Rings, func(a, b Ring) int {
		return cmp.Or(design.Natural(a.From.Text, b.From.Text), design.Natural(a.From.Label, b.From.Label), cmp.Compare(a.From.Wire, b.From.Wire))
	})
	for i := range connectors {
		c := &connectors[i]
		iso := Isolation{Title: c.Title}
		var order []int
		joined := map[int][]string{}
		for _, r := range c.Rows {
			for _, w := range r.Wires {
				g, here := group[w]
				if !here {
					continue
				}
				if joined[g] == nil {
					order = append(order, g)
				}
				if !slices.Contains(iso.Ends, r.Cavity) {
					iso.Ends = append(iso.Ends, r.Cavity)
				}
				if !slices.Contains(joined[g], r.Cavity) {
					joined[g] = append(joined[g], r.Cavity)
				}
			}
		}
		for _, g := range order {
			if len(joined[g]) > 1 {
				iso.Joined = append(iso.Joined, joined[g])
			}
		}
		if len(iso.Ends) > 1 {
			out.Isolation = append(out.Isolation, iso)
		}
	}
	return out
}

// conductors gathers the wires of a section that splices join, by their least index.
func (m *maker) conductors(section string) [][]int {
	var groups [][]int
	at := map[int]int{}
	by := map[string]int{} // splice to group
	for _, i := range m.in(section).wires {
		w := &m.net.Wires[i]
		g := len(groups)
		groups = append(groups, []int{i})
		at[i] = g
		for e := range w.Ends {
			if w.Ends[e].Kind != net.InSplice {
				continue
			}
			o, ok := by[w.Ends[e].Splice]
			if !ok {
				by[w.Ends[e].Splice] = at[i]
				continue
			}
			for o != at[i] { // join the later into the earlier
				from, to := max(o, at[i]), min(o, at[i])
				for _, k := range groups[from] {
					at[k] = to
				}
				groups[to], groups[from] = append(groups[to], groups[from]...), nil
				for s, x := range by {
					if x == from {
						by[s] = to
					}
				}
				o = to
			}
		}
	}
	var out [][]int
	for _, g := range groups {
		if len(g) > 0 {
			slices.Sort(g)
			out = append(out, g)
		}
	}
	return out
}

// cutLengths is the length each wire is cut to, by its index in the net; cores and screens of a bought cable have that of their cable.
func cutLengths(cuts []Cut) map[int]unit.Length {
	out := map[int]unit.Length{}
	for i := range cuts {
		c := &cuts[i]
		out[c.Wire] = c.Length
		for k := range c.Cores {
			out[c.Cores[k].Wire] = c.Length
		}
	}
	return out
}

// ring is a conductor's ends with the resistances between them; not ok when fewer than two of its ends can be probed.
func (m *maker) ring(wires []int, cut map[int]unit.Length) (Ring, bool) {
	var ends []RingEnd
	var nodes []int // of the ends
	splices := map[string]int{}
	n := 0
	var links []link
	known := true
	for _, i := range wires {
		w := &m.net.Wires[i]
		c := m.conductor(i)
		// Copper leaves out the tolerance, and a crimp that is not spoiled leaves its waste on: a sound wire may be as long as it was cut.
		l := link{ohms: float64(c.Resistance) * float64(max(w.Copper, cut[i])) / 1000}
		known = known && c.Known && !w.Unmeasured && w.Copper > 0 && c.Resistance > 0
		for e := range w.Ends {
			t := &w.Ends[e]
			k := n
			switch t.Kind {
			case net.InSplice:
				at := scope(w)
				l.ohms += float64(positive(unit.Resistance(m.job.Settings.Get("splice-resistance", at).Value.Quantity.Value)))
				if s, ok := splices[t.Splice]; ok {
					k = s
				} else {
					splices[t.Splice] = n
					n++
				}
			default:
				n++
				if t.Kind != net.CutBack {
					ends = append(ends, RingEnd{Text: m.endText(t), Label: w.Label, Wire: i})
					nodes = append(nodes, k)
				}
			}
			l.at[e] = k
		}
		links = append(links, l)
	}
	if len(ends) < 2 {
		return Ring{}, false
	}
	first := 0
	for k := range ends {
		if design.Natural(ends[k].Text, ends[first].Text) < 0 {
			first = k
		}
	}
	r := Ring{From: ends[first]}
	var ohms []float64
	if known {
		ohms = resistances(n, links, nodes[first])
	}
	for k := range ends {
		if k == first {
			continue
		}
		e := ends[k]
		if ohms != nil {
			e.Most, e.Known = unit.Resistance(ohms[nodes[k]]), unit.Finite(ohms[nodes[k]])
		}
		r.To = append(r.To, e)
	}
	slices.SortStableFunc(r.To, func(a, b RingEnd) int { return cmp.Or(design.Natural(a.Text, b.Text), cmp.Compare(a.Wire, b.Wire)) })
	return r, true
}

// link is a wire between two nodes.
type link struct {
	at   [2]int
	ohms float64
}

// resistances is that from one node to every other, by the node equations: a unit current from each to the first. Most conductors are trees,
// where one elimination of leaves suffices; rings of splices make it a real solution.
func resistances(n int, links []link, from int) []float64 {
	// The inverse of the conductance matrix without the row and column of `from` holds the resistances on its diagonal.
	size := n - 1
	index := func(k int) int {
		if k > from {
			return k - 1
		}
		return k
	}
	a := make([][]float64, size)
	for i := range a {
		a[i] = make([]float64, 2*size)
		a[i][size+i] = 1
	}
	for _, l := range links {
		if l.at[0] == l.at[1] || l.ohms <= 0 {
			continue
		}
		g := 1 / l.ohms
		for e, k := range l.at {
			if k == from {
				continue
			}
			a[index(k)][index(k)] += g
			if o := l.at[1-e]; o != from {
				a[index(k)][index(o)] -= g
			}
		}
	}
	for c := range size {
		p := a[c][c]
		if p <= 0 {
			return nil
		}
		for k := range a[c] {
			a[c][k] /= p
		}
		for r := range size {
			if f := a[r][c]; r != c && f != 0 {
				for k := range a[r] {
					a[r][k] -= f * a[c][k]
				}
			}
		}
	}
	out := make([]float64, n)
	for k := range n {
		if k != from {
			out[k] = a[index(k)][size+index(k)]
		}
	}
	return out
}
