package fix

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// sameHole is how near a stated hole must be to a break or a bush to be its hole.
const sameHole unit.Length = 1

// seat is a stated hole beside a chain that a clip can use.
type seat struct {
	at   int
	hole *design.Hole
}

// given is a clip decided by hand on a chain.
type given struct {
	at     int
	fixing *design.Fixing
	after  unit.Length // along the chain
}

// hole finds a stated hole by name.
func (m *maker) hole(name string) *design.Hole {
	if name == "" {
		return nil
	}
	return m.holes[name]
}

// freeHoles are the stated holes that no break, bush or fixed clip uses. Once the body is painted only frozen ones count.
func (m *maker) freeHoles() (out []*design.Hole) {
	used := map[string]bool{}
	for _, f := range m.job.Fixings {
		used[f.Hole] = true
	}
	for _, h := range m.job.Holes {
		if used[h.Name] || m.holes[h.Name] != h || !h.Known || !finite(h.At) || h.High > 0 || m.job.Painted != "" && !m.there(h.Frozen) {
			continue
		}
		taken := func(panel string, s design.Spot) bool {
			return panel != "" && s.Known && (h.Panel == panel || h.Panel == "") && space.Between(s.At, h.At) <= sameHole
		}
		if slices.ContainsFunc(m.job.Breaks, func(b *design.Break) bool { return taken(b.Panel, b.Spot) }) ||
			slices.ContainsFunc(m.job.Points, func(p *design.Point) bool { return p.Bush > 0 && taken(or(p.Panel, h.Panel), p.Spot) }) ||
			slices.ContainsFunc(m.job.Devices, func(d *design.Device) bool { return !d.Pattern && stands(d, h) }) {
			continue
		}
		out = append(out, h)
	}
	return out
}

// there tells whether what is frozen since a revision was there when the body was painted.
func (m *maker) there(frozen string) bool {
	return frozen != "" && !design.Earlier(m.job.Painted, frozen)
}

// stands tells whether a stud of a device is in a hole: an earth stud is not for clips.
func stands(d *design.Device, h *design.Hole) bool {
	return slices.ContainsFunc(d.Pins, func(p design.Pin) bool {
		at := p.Spot
		if !at.Known {
			at = d.Spot
		}
		return p.Stud != "" && at.Known && space.Between(at.At, h.At) <= sameHole
	})
}

// takes tells whether a hole can hold what is chosen for an edge.
func (m *maker) takes(h *design.Hole, e *space.Edge) bool {
	r := m.run[e.Run]
	if r == nil || h.Panel != "" && r.Panel != "" && h.Panel != r.Panel && h.Panel != m.under(e, h.At) || r.Tube != "" {
		return false
	}
	if h.Fastener != "" {
		return true
	}
	f := m.fastener[m.choose(e, nil, h, 0, h.At).fastener]
	if f == nil {
		return false
	}
	least := f.Least
	if least <= 0 {
		least = f.Drill
	}
	return f.Drill == 0 && h.Drill == 0 || f.Drill > 0 && (h.Drill == 0 || least-tiny <= h.Drill && h.Drill <= f.Drill+tiny)
}

// nearer is how much further off a hole may be than from the chain nearest to it, and still be taken for that one's too: it lies between both.
const nearer unit.Length = 1

// findSeats finds the holes within clip-reach of every chain.
func (m *maker) findSeats() {
	for _, h := range m.freeHoles() {
		var list []passing
		for _, c := range m.chains {
			if !c.box.near(h.At, m.reachMost+m.earMost) {
				continue
			}
			for _, x := range c.closest(h.At, m.reachMost) {
				e := &m.geo.Edges[c.parts[c.partAt(c.real(x.p))].edge]
				if x.d <= m.length("clip-reach", m.edgeScope(e))+tiny && m.takes(h, e) {
					x.c = c
					list = append(list, x)
				}
			}
		}
		least, mine := m.owners(h, list)
		if two := m.shared(h, list, least); two != nil {
			for _, x := range two {
				x.c.seats = append(x.c.seats, seat{x.p, h})
			}
			continue
		}
		least = unit.Length(math.Inf(1))
		for _, x := range list {
			least = min(least, x.d)
		}
		for _, x := range list {
			if x.d <= least+nearer && mine(x) {
				x.c.seats = append(x.c.seats, seat{x.p, h})
			} else {
				x.c.further = append(x.c.further, seat{x.p, h})
			}
		}
	}
	for _, c := range m.chains {
		c.nearestFirst()
	}
}

// nearestFirst puts the holes of one place in the order of how far they are from where a clip there has its own.
func (c *chain) nearestFirst() {
	off := func(s seat) unit.Length {
		hole, _ := c.holes(s.at)
		return space.Between(hole, s.hole.At)
	}
	slices.SortStableFunc(c.seats, func(a, b seat) int {
		if a.at != b.at {
			return cmp.Compare(a.at, b.at)
		}
		return cmp.Compare(off(a), off(b))
	})
}

// passing is the place at which a chain comes nearest to a point, and its distance there.
type passing struct {
	c *chain
	p int
	d unit.Length
}

// from is how far a hole is from where a clip at a place would have it, its ear to either side or under the bundle. What is further than most is not looked at
// closely: it is told to be nearer than it is, and further than that.
func (c *chain) from(p int, q design.Point3, most unit.Length) unit.Length {
	d := space.Between(c.spots()[p].at, q)
	if d-c.far-tiny > most {
		return d - c.far - tiny
	}
	hole, other := c.holes(p)
	return min(d, space.Between(hole, q), space.Between(other, q))
}

// closest is the places at which a chain comes nearer to a point than at the places beside them, within reach: one for each time it comes by, and
// at a corner one for each arm.
func (c *chain) closest(q design.Point3, reach unit.Length) (out []passing) {
	spots := c.spots()
	far := unit.Length(math.Inf(1))
	d := func(i int) unit.Length {
		if i < 0 || i >= len(spots) || !spots[i].known {
			return far
		}
		return c.from(i, q, reach+1)
	}
	before, here := far, d(0)
	for i := range spots {
		after := d(i + 1)
		if here <= reach+1 && here < before && here <= after {
			out = append(out, passing{c, i, here})
		}
		before, here = here, after
	}
	for k := range out {
		for _, i := range []int{out[k].p - 1, out[k].p} {
			if i >= 0 && i+1 < len(spots) && spots[i].known && spots[i+1].known {
				hole, other := c.holes(i)
				nextHole, nextOther := c.holes(i + 1)
				for _, l := range [][2]design.Point3{{spots[i].at, spots[i+1].at}, {hole, nextHole}, {other, nextOther}} {
					out[k].d = min(out[k].d, solid.Way{{From: l[0], To: l[1], Length: 1}}.ToSegment(q, q).Distance)
				}
			}
		}
	}
	return out
}

// box is the smallest box round a chain, for a first look.
type box struct {
	lo, hi [3]float64
	some   bool
}

func (b *box) add(p design.Point3) {
	for i, x := range [3]float64{float64(p.X), float64(p.Y), float64(p.Z)} {
		if !b.some {
			b.lo[i], b.hi[i] = x, x
		}
		b.lo[i], b.hi[i] = min(b.lo[i], x), max(b.hi[i], x)
	}
	b.some = true
}

func (b *box) near(p design.Point3, reach unit.Length) bool {
	for i, x := range [3]float64{float64(p.X), float64(p.Y), float64(p.Z)} {
		if x < b.lo[i]-float64(reach) || x > b.hi[i]+float64(reach) {
			return false
		}
	}
	return b.some
}

func (b *box) meets(o *box, reach unit.Length) bool {
	for i := range b.lo {
		if o.hi[i] < b.lo[i]-float64(reach) || o.lo[i] > b.hi[i]+float64(reach) {
			return false
		}
	}
	return b.some && o.some
}

// placeGivens finds the chain of every clip decided by hand. One that lies on none is not tied to a place.
func (m *maker) placeGivens() {
	m.onChain = map[*design.Fixing]bool{}
	for _, f := range m.job.Fixings {
		stretch, after, ok := m.geo.Along(f.Run, f.After)
		if !ok {
			continue
		}
		best := -1
		for _, e := range m.geo.Stretch(f.Run, stretch) {
			ed := &m.geo.Edges[e]
			if m.chainAt[e].chain >= 0 && ed.Station-tiny <= after && after <= ed.Station+ed.Length+tiny {
				best = e
				break
			}
		}
		if best < 0 {
			continue
		}
		c := m.chains[m.chainAt[best].chain]
		if c.grid < 0 {
			continue
		}
		x := m.along(best, after)
		c.given = append(c.given, given{c.nearest(x), f, x})
		m.onChain[f] = true
	}
}
