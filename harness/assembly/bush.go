package assembly

import (
	"cmp"
	"slices"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// bush is a hole through which a bundle is led in the vehicle, with its two sides.
type bush struct {
	name    string
	section string
	bore    unit.Length
	node    int
	sides   [2][]int // edges on either side
	span    diag.Span
}

// findBushes finds the bushes that wires of a section pass. One at which the ways do not fall into two sides is left out.
func (m *maker) findBushes() []bush {
	var out []bush
	for _, p := range m.job.Points {
		if !(p.Bush > 0) {
			continue
		}
		n := m.geo.Find(cmp.Or(p.Node, p.Name))
		if n < 0 {
			continue
		}
		colour := map[int]int{} // by edge: 1 or 2
		ok := true
		turns := m.bundles.Turns()
		for news := true; news && ok; {
			news = false
			for i := range turns {
				if turns[i].Node != n {
					continue
				}
				a, b := turns[i].Edges[0], turns[i].Edges[1]
				if colour[a] == 0 && colour[b] == 0 && len(colour) == 0 {
					colour[a] = 1
				}
				switch {
				case colour[a] != 0 && colour[b] == 0:
					colour[b], news = 3-colour[a], true
				case colour[b] != 0 && colour[a] == 0:
					colour[a], news = 3-colour[b], true
				case colour[a] != 0 && colour[a] == colour[b]:
					ok = false
				}
			}
		}
		if !ok || len(colour) < 2 {
			continue
		}
		by := map[string]int{}
		for _, e := range m.atNode[n] {
			if colour[e] == 0 {
				continue
			}
			section := m.geo.Edges[e].Section
			k, known := by[section]
			if !known {
				k = len(out)
				by[section] = k
				out = append(out, bush{name: p.Name, section: section, bore: p.Bush, node: n, span: p.Span})
			}
			out[k].sides[colour[e]-1] = append(out[k].sides[colour[e]-1], e)
		}
	}
	return slices.DeleteFunc(out, func(b bush) bool { return len(b.sides[0]) == 0 || len(b.sides[1]) == 0 })
}

// leads leads the section through its bushes, in the vehicle: what does not pass the bore on one of its sides is fitted after that.
func (s *sheet) leads() {
	for _, b := range s.m.bushes {
		if b.section != s.name || s.laid < 0 {
			continue
		}
		place := s.place("bush "+b.name, "bush", "bush "+b.name, b.span)
		n := s.add(lead, place, "", -1)
		var sides []side
		for _, edges := range b.sides {
			v := view{but: -1, fitted: true}
			for _, e := range edges {
				x := &s.m.geo.Edges[e]
				back := x.To == b.node // going away from the bush
				o := s.outward(-1, e, back, "")
				v.wires, v.ends = append(v.wires, o.wires...), append(v.ends, o.ends...)
				for _, n := range o.lays {
					if !slices.Contains(v.lays, n) {
						v.lays = append(v.lays, n)
					}
				}
				for _, q := range o.pieces {
					if !slices.Contains(v.pieces, q) {
						v.pieces = append(v.pieces, q)
					}
				}
			}
			other := s.m.geo.Edges[edges[0]].Other(b.node)
			v.name = "from " + s.m.geo.Text(other)
			sides = append(sides, s.side(v))
		}
		for _, l := range s.lays {
			s.before(l, n)
		}
		s.choose(-1, n, []fit{{size: -1, expanded: b.bore}}, sides)
	}
}
