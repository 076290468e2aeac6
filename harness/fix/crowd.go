package fix

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// mostTries bounds how often chains give way to one another.
const mostTries = 200

// newHole is a hole that a clip asks for.
type newHole struct {
	chain int
	place int
	given bool
	with  int
	at    design.Point3
	panel string
	drill unit.Length
}

// newHoles is the new holes of the chains as they are settled.
type newHoles struct {
	m  *maker
	of [][]newHole // by chain, in the order of its clips
}

func (m *maker) newHoles(ans [][]seated) *newHoles {
	n := &newHoles{m: m, of: make([][]newHole, len(ans))}
	for i := range ans {
		n.look(ans, i)
	}
	return n
}

// look takes the holes of a chain as they are now. Those of a chain that shares holes with it may be others as well: both are of one group.
func (n *newHoles) look(ans [][]seated, i int) {
	m := n.m
	c := m.chains[i]
	n.of[i] = nil
	for _, s := range ans[i] {
		e := &m.geo.Edges[c.parts[c.partAt(s.at)].edge]
		if s.seat != nil || s.bare || !c.spots()[s.place].known {
			continue
		}
		h := newHole{chain: i, place: s.place, with: s.with}
		h.at, _ = c.holes(s.place)
		if s.with >= 0 {
			other := m.chains[s.with]
			best := -1
			for _, o := range ans[s.with] {
				if o.with == i && other.spots()[o.place].known && (best < 0 || space.Between(other.spots()[o.place].at, c.spots()[s.place].at) < space.Between(other.spots()[best].at, c.spots()[s.place].at)) {
					best = o.place
				}
			}
			if best >= 0 {
				h.at = halfWay(c.spots()[s.place].at, other.spots()[best].at)
			}
		}
		var f *design.Fixing
		if s.given != nil {
			f, h.given = s.given.fixing, true
			if m.hole(f.Hole) != nil || f.Frozen != "" {
				continue
			}
		}
		x := m.choose(e, f, nil, 0, h.at)
		h.panel, h.drill = x.panel, wide(m.fastener[x.fastener])
		if x.kind != "tie" && x.kind != "adhesive" {
			n.of[i] = append(n.of[i], h)
		}
	}
}

// sorted is all of them, by x.
func (n *newHoles) sorted() []newHole {
	out := slices.Concat(n.of...)
	slices.SortStableFunc(out, func(a, b newHole) int { return cmp.Compare(a.at.X, b.at.X) })
	return out
}

// crowded is the first two new holes of different chains on one panel that come too near one another, the earlier chain first; nil: none.
// Those that were tried are left out.
func (n *newHoles) crowded(tried map[[4]int]bool) *[2]newHole {
	m, holes := n.m, n.sorted()
	most := unit.Length(0)
	for i := range holes {
		most = max(most, m.times("hole-apart", holes[i].panel, holes[i].drill))
	}
	for i := range holes {
		for j := i + 1; j < len(holes) && holes[j].at.X-holes[i].at.X < most; j++ {
			a, b := holes[i], holes[j]
			if a.chain > b.chain {
				a, b = b, a
			}
			if a.chain == b.chain || a.panel != b.panel || a.given && b.given || a.with == b.chain && b.with == a.chain || tried[pairKey(a, b)] {
				continue
			}
			if space.Between(a.at, b.at) < m.times("hole-apart", a.panel, max(a.drill, b.drill))-tiny {
				return &[2]newHole{a, b}
			}
		}
	}
	return nil
}

func pairKey(a, b newHole) [4]int { return [4]int{a.chain, a.place, b.chain, b.place} }

// around is the places of a chain too near a hole.
func (m *maker) around(c *chain, h newHole) (out []stretchOf) {
	spots := c.spots()
	why := "too near a clip"
	if first := m.chains[h.chain]; len(first.parts) > 0 {
		why += " of run " + m.geo.Edges[first.parts[0].edge].Run
	}
	for p := range spots {
		if !spots[p].known {
			continue
		}
		hole, _ := c.holes(p)
		d := space.Between(hole, h.at)
		if d > m.times("hole-apart", h.panel, max(m.widest, h.drill)) {
			continue
		}
		x := m.fastener[m.choose(&m.geo.Edges[c.parts[c.partAt(c.real(p))].edge], nil, nil, 0, spots[p].at).fastener]
		if d < m.times("hole-apart", h.panel, max(wide(x), h.drill))-tiny {
			out = grow(out, p, why)
		}
	}
	return out
}
