package joint

import (
	"math"
	"slices"
	"sort"

	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// weigh tells the copper and the cost of an item at a spot, and whether it is blind there: whether all wires would come to it from one side. It
// then lies in a stub, into which they turn only to turn back.
func (s *search) weigh(it *item, l *leg, k int) (copper, cost int64, blind bool) {
	at := s.on(l.lane, k)
	part := l.part(at.into)
	for i := range l.pulls {
		if a := &l.pulls[i]; a.Reached() {
			copper = plus(copper, min(int64(a.At(part)), mostWay)*it.pulls[i].weight)
		}
	}
	left, right := l.sides(part)
	if blind = left+right > 1 && (left == 0 || right == 0) && s.inner(l, at.into); blind {
		return copper, plus(copper, l.fine[1]), true
	}
	return copper, plus(copper, l.fine[0]), false
}

// inner tells whether a place lies between the ends of an edge.
func (s *search) inner(l *leg, into unit.Length) bool {
	return into > tiny && into < s.g.geo.Edges[l.edge].Length-tiny
}

// part is how fields count a place on the edge.
func (l *leg) part(into unit.Length) net.Micro {
	switch {
	case len(l.pulls) > 0:
		return l.pulls[0].Part(into)
	case len(l.toward) > 0:
		return l.toward[0].Part(into)
	}
	return 0
}

// sides tells how many wires come from the edge's From, and how many from its To. The further along, the fewer come from its From.
func (l *leg) sides(part net.Micro) (left, right int) {
	for _, list := range [2][]net.Along{l.pulls, l.toward} {
		for i := range list {
			if list[i].From(part) {
				left++
			} else {
				right++
			}
		}
	}
	return left, right
}

// prepare finds where an item may lie.
func (s *search) prepare(it *item) {
	least := math.Inf(1)
	for i := range it.legs {
		least = min(least, it.legs[i].shares.least)
	}
	it.ok, it.ends, it.known, it.least, it.cheap = make([]bool, it.count), nil, nil, mostCost, mostCost
	for i := range it.legs {
		l := &it.legs[i]
		if l.shares.least > least+1e-9 {
			continue
		}
		list := l.shares.list
		turns := s.turns(l)
		for from := 0; from < len(list); from++ {
			if !(list[from] <= least+1e-9) {
				continue
			}
			to := from // the last that follows and is as good, and as blind
			for to+1 < len(list) && list[to+1] <= least+1e-9 && !slices.Contains(turns, to+1) {
				to++
			}
			for k := from; k <= to; k++ {
				it.ok[l.base+k] = true
			}
			// Of a sum of lesser ones of two straight lines none in between is less than at both ends.
			s.end(it, l, from)
			if to > from {
				s.end(it, l, to)
			}
			from = to
		}
	}
}

// end weighs an end of a stretch in which an item may lie.
func (s *search) end(it *item, l *leg, k int) {
	copper, cost, _ := s.weigh(it, l, k)
	it.least, it.cheap = min(it.least, cost), min(it.cheap, copper)
	it.ends = append(it.ends, l.base+k)
	it.known = append(it.known, choice{l.base + k, cost})
}

// turns lists the spots of a leg that are blind where the one before is not, or the other way.
func (s *search) turns(l *leg) (out []int) {
	if len(l.pulls)+len(l.toward) < 2 {
		return nil
	}
	sides := func(k int) (left, right int) { return l.sides(l.part(s.on(l.lane, k).into)) }
	met := sort.Search(l.count, func(k int) bool { _, right := sides(k); return right > 0 })
	gone := sort.Search(l.count, func(k int) bool { left, _ := sides(k); return left == 0 })
	blind := func(k int) bool { return (k < met || k >= gone) && s.inner(l, s.on(l.lane, k).into) }
	for _, k := range [4]int{1, met, gone, l.count - 1} {
		if k > 0 && k < l.count && blind(k-1) != blind(k) {
			out = append(out, k)
		}
	}
	return out
}
