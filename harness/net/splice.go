package net

import (
	"slices"

	"loomsheet/harness/design"
)

// seats lists the states a splice may sit in: of its own place and section where they are stated, else anywhere runs reach.
func (b *builder) seats(s *splice) []int {
	var out []int
	for i := range b.g.states {
		if !b.g.reached[i] || s.Section != "" && b.g.sectionOf(i) != s.Section || s.placed && b.g.nodeOf(i) != s.node {
			continue
		}
		out = append(out, i)
	}
	return out
}

// settleSplices gives each splice one state. With a stated place and section there is no choice. Else, splices in order of their names,
// it is the state from which the links to ends already settled are shortest together; of equals the first in natural order. A splice
// is put off as long as none of its links has such an end.
func (b *builder) settleSplices() {
	var open []*splice
	for _, s := range b.spliceList {
		seats := b.seats(s)
		switch {
		case s.placed && len(seats) == 1:
			s.state = seats[0]
		case len(seats) > 0:
			open = append(open, s)
		}
	}
	for len(open) > 0 {
		rest := open[:0:0]
		for _, s := range open {
			if !b.settle(s) {
				rest = append(rest, s)
			}
		}
		if len(rest) == len(open) {
			break
		}
		open = rest
	}
	// A splice with a place but no link to anything settled still has one section.
	for _, s := range open {
		if s.placed {
			s.state = b.seats(s)[0]
		}
	}
}

// settle finds the best state of a splice, false if no end of its links is settled.
func (b *builder) settle(s *splice) bool {
	type sum struct {
		met  int
		cost int64
	}
	sums := make([]sum, len(b.g.states))
	any := false
	for _, w := range b.ways {
		far, mine := w.link.To, w.link.From
		if !isSplice(mine, s) {
			far, mine = mine, far
		}
		if !isSplice(mine, s) || isSplice(far, s) || w.link.Loose {
			continue
		}
		if far.Kind == design.AtSplice && b.splices[far.Name].state < 0 {
			continue
		}
		q := b.ask(w)
		q.starts, q.ends = b.statesOf(far), nil
		if isSplice(w.link.From, s) {
			q.vias = slices.Clone(q.vias)
			slices.Reverse(q.vias)
		}
		any = any || len(q.starts) > 0
		marks, _ := b.g.search(q)
		marks = marks[len(q.vias)*len(sums):]
		for i := range sums {
			if marks[i].done {
				sums[i].met++
				sums[i].cost += marks[i].cost * int64(max(1, min(w.link.Parallel, mostParallel)))
			}
		}
	}
	if !any {
		return false
	}
	best := -1
	for _, i := range b.seats(s) {
		if best < 0 || sums[i].met > sums[best].met || sums[i].met == sums[best].met && sums[i].cost < sums[best].cost {
			best = i
		}
	}
	if best >= 0 && sums[best].met == 0 && !s.placed {
		return false
	}
	s.state = best
	if best >= 0 && !s.placed {
		s.node, s.chosen = b.g.nodeOf(best), true
	}
	return best >= 0
}

func isSplice(e design.End, s *splice) bool { return e.Kind == design.AtSplice && e.Name == s.Name }
