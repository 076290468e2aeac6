package joint

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// quiet is the places of an edge from which every mark is so far that a joint misses nothing of it: those outside of some stretches, in their order.
type quiet struct {
	never bool
	loud  [][2]unit.Length
}

// hush is more than floating point leaves open.
const hush unit.Length = 1e-3

// quietOn is that for a joint. Where splices are to lie close to something there is no such place.
func (g *ground) quietOn(edge int, b *body) (q quiet) {
	l, long := g.rule(edge), g.geo.Edges[edge].Length
	if l.close {
		return quiet{never: true}
	}
	far := unit.Length(math.Inf(1))
	add := func(from, to unit.Length) { q.loud = append(q.loud, [2]unit.Length{from - hush, to + hush}) }
	add(-far, 0)
	add(long, far)
	sights := g.seen(edge)
	for i := range sights {
		v := &sights[i]
		m := &g.marks[v.mark]
		between := func(least, most unit.Length) { // so far from the mark something is missed
			least, most = least+m.reach, most+m.reach
			add(least-v.from, most-v.from)
			add(long+v.to-most, long+v.to-least)
			if v.here {
				inner := max(least, -most)
				add(m.at.into+inner, m.at.into+most)
				add(m.at.into-most, m.at.into-inner)
			}
		}
		wants, _ := g.wants(l, m, edge, b)
		between(-far, wants)
		if b.planned && (m.kind == NearEnd || m.kind == NearBranch) && l.room <= v.held {
			between(v.held-l.clip, l.room+l.clip)
		}
	}
	slices.SortFunc(q.loud, func(a, b [2]unit.Length) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	return q
}

// holds tells so of one place after the other, each further on than the one before.
func (q *quiet) holds(into unit.Length) bool {
	for len(q.loud) > 0 && q.loud[0][1] <= into {
		q.loud = q.loud[1:]
	}
	if q.never {
		return false
	}
	for _, x := range q.loud {
		if x[0] >= into {
			break
		}
		if into < x[1] {
			return false
		}
	}
	return true
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
