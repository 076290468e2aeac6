package joint

import (
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// quiet is the places of an edge from which every mark is so far that a joint misses nothing of it: those between from and to, but for some.
type quiet struct {
	from, to unit.Length
	but      [][2]unit.Length
}

// hush is more than floating point leaves open.
const hush unit.Length = 1e-3

// quietOn is that for a joint. Where splices are to lie close to something there is no such place.
func (g *ground) quietOn(edge int, b *body) quiet {
	l, e := g.rule(edge), &g.geo.Edges[edge]
	if l.close {
		return quiet{from: 1}
	}
	q := quiet{from: hush, to: e.Length - hush}
	sights := g.seen(edge)
	for i := range sights {
		v := &sights[i]
		m := &g.marks[v.mark]
		enough, _ := g.wants(l, m, edge, b)
		if b.planned && (m.kind == NearEnd || m.kind == NearBranch) && l.room <= v.held {
			enough = max(enough, l.room+l.clip)
		}
		enough += m.reach + hush
		q.from, q.to = max(q.from, enough-v.from), min(q.to, e.Length+v.to-enough)
		if v.here {
			q.but = append(q.but, [2]unit.Length{m.at.into - enough, m.at.into + enough})
		}
	}
	return q
}

func (q *quiet) holds(into unit.Length) bool {
	return into >= q.from && into <= q.to && !slices.ContainsFunc(q.but, func(x [2]unit.Length) bool { return x[0] < into && into < x[1] })
}

// sharesOn is by how much the spots of a lane miss their limits. Of quiet ones only that counts which is the same along the edge, and whether water
// runs there.
func (s *search) sharesOn(l *lane, b *body) *shareList {
	x := &shareList{make([]float64, l.count), math.Inf(1)}
	q := s.g.quietOn(l.edge, b)
	var known [2]bool
	var same [2]float64
	for n := range x.list {
		at := s.on(l, n)
		k, still := 0, q.holds(at.into)
		if still && b.planned && s.g.low(at) {
			k = 1
		}
		if still && known[k] {
			x.list[n] = same[k]
		} else {
			s.room = s.g.missesAllIn(s.room, at, b)
			x.list[n] = shares(s.room)
			if still {
				known[k], same[k] = true, x.list[n]
			}
		}
		x.least = min(x.least, x.list[n])
	}
	return x
}
