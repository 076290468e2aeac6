package layup

import (
	"encoding/binary"
	"math"
	"slices"
)

// stack is pieces in layers, before it is drawn up: the pieces of each layer by index, from the core outwards.
type stack struct {
	layers [][]int
	rings  []*ringAt // of each layer beyond the core
	radius float64   // around all
	fills  int
	opened int
}

type ringAt struct {
	base float64   // radius on which it lies
	in   float64   // radius of what lies within
	r    []float64 // pieces and fillers, clockwise
	fill []bool
	gap  float64 // share of the round
	most float64 // radius of the thickest piece
}

// stacker lays the pieces of one edge in layers.
type stacker struct {
	r     []float64 // radii
	turn  []int     // place of each piece in the order round a layer
	rules *rules
	cores cores
	rings rings
	limit float64 // radius that the whole should not pass
	best  *stack
	tries int
}

// round orders pieces as they lie round a layer.
func (s *stacker) round(pieces []int) []int {
	out := slices.Clone(pieces)
	slices.SortStableFunc(out, func(a, b int) int { return s.turn[a] - s.turn[b] })
	return out
}

func (s *stacker) radii(pieces []int) []float64 {
	out := make([]float64, len(pieces))
	for i, p := range pieces {
		out[i] = s.r[p]
	}
	return out
}

// add lays pieces around what a stack holds so far; false if they find no room.
func (s *stacker) add(on *stack, pieces []int) (*stack, bool) {
	pieces = s.round(pieces)
	ring, ok := s.rings.of(on.radius, s.radii(pieces), s.rules)
	if !ok {
		return nil, false
	}
	next := &stack{layers: append(slices.Clip(on.layers), pieces), rings: append(slices.Clip(on.rings), ring), radius: ring.base + 2*ring.most,
		fills: on.fills + len(ring.r) - len(pieces), opened: on.opened}
	if ring.base > on.radius+slight {
		next.opened++
	}
	return next, true
}

// rings remembers layers: the stacks that are tried, and those of neighbouring edges, have many in common.
type rings map[string]*ringAt

// mostRings bounds how many are remembered.
const mostRings = 4096

// of is the layer of pieces of radii r, clockwise, around what has the radius in; false if they find no room.
func (k rings) of(in float64, r []float64, rules *rules) (*ringAt, bool) {
	var room [8 * (fewRound + 3)]byte
	key := room[:0]
	for _, x := range [3]float64{in, rules.open, rules.gap} {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(x))
	}
	for _, x := range r {
		key = binary.LittleEndian.AppendUint64(key, math.Float64bits(x))
	}
	ring, known := k[string(key)]
	if !known {
		ring = ringOf(in, r, rules)
		if len(k) >= mostRings {
			clear(k)
		}
		k[string(key)] = ring
	}
	return ring, ring != nil
}

// ringOf is that layer; nil if they find no room.
func ringOf(in float64, r []float64, rules *rules) *ringAt {
	most := slices.Max(r)
	base, ok := open(in, rules.open*2*most, r)
	if !ok {
		return nil
	}
	ring := &ringAt{base: base, in: in, r: r, fill: make([]bool, len(r)), most: most}
	need := needed(base, r)
	ring.gap = 1 - need/turn
	if ring.gap > rules.gap {
		f := most
		if all, fill := filled(base, r, f); len(all) > len(r) {
			ring.r, ring.fill = all, fill
		} else if f = fitting(base, r, most); f > 0 {
			ring.r, ring.fill = filled(base, r, f)
		}
		need = needed(base, ring.r)
		ring.gap = 1 - need/turn
	}
	ring.gap = max(0, ring.gap)
	return ring
}

// slight is a gap that needs no building up, mm.
const slight = 0.05

// inCore begins a stack.
func (s *stacker) inCore(pieces []int) *stack {
	return &stack{layers: [][]int{pieces}, radius: s.cores.of(s.radii(pieces)).outside}
}

// better tells whether a comes before b: within the limit, then with fewest fillers, fewest layers built up, and thinnest.
func (s *stacker) better(a, b *stack) bool {
	if b == nil {
		return true
	}
	over := func(x *stack) bool { return x.radius > s.limit*(1+1e-9) }
	switch {
	case over(a) != over(b):
		return over(b)
	case over(a) && a.radius < b.radius*(1-1e-6) || over(a) && b.radius < a.radius*(1-1e-6):
		return a.radius < b.radius
	case a.fills != b.fills:
		return a.fills < b.fills
	case a.opened != b.opened:
		return a.opened < b.opened
	}
	return a.radius < b.radius*(1-1e-9)
}

// What a search may try: pieces in a core, with those in its valleys, and whole stacks.
const (
	mostCore   = 5
	mostValley = 24
	mostTries  = 60
)

// search finds layers for pieces in an order, the core's first: a core of one to five, and then layers that are full, or fuller by what lay-open
// allows, or one or two short, until all are laid. What finds room in the valleys of the core may lie there, in order.
func (s *stacker) search(order []int) *stack {
	s.best, s.tries = nil, 0
	for c := 1; c <= min(mostCore, len(order)); c++ {
		s.tries = 0
		s.onward(s.inCore(order[:c]), order[c:])
		if with, rest := s.inValleys(order[:c], order[c:]); len(with) > c {
			s.tries = 0
			s.onward(s.inCore(with), rest)
		}
	}
	return s.best
}

// inValleys adds to a core what finds room in its valleys, the first of the others first.
func (s *stacker) inValleys(of, others []int) (with, rest []int) {
	with = slices.Clone(of)
	if len(of) < 2 {
		return with, others
	}
	c := s.cores.of(s.radii(of))
	fits, _ := inValleys(c.at, c.outside, s.radii(others))
	for k, i := range others {
		if fits[k] {
			with = append(with, i)
		} else {
			rest = append(rest, i)
		}
	}
	return with, rest
}

func (s *stacker) onward(on *stack, rest []int) {
	if len(rest) == 0 {
		if s.better(on, s.best) {
			s.best = on
		}
		return
	}
	if s.tries++; s.best != nil && (s.tries > mostTries || on.radius > s.limit && s.best.radius <= s.limit) {
		return
	}
	if last, ok := s.add(on, rest); ok {
		s.onward(last, nil)
	}
	snug := s.most(on, rest, 0)
	most := s.most(on, rest, s.rules.open)
	// A full layer first, since what comes first is what a search that is cut short knows.
	for _, k := range [5]int{snug, most, most - 1, snug - 1, snug - 2} {
		if k < 1 || k >= len(rest) {
			continue
		}
		if next, ok := s.add(on, rest[:k]); ok {
			s.onward(next, rest[k:])
		}
	}
}

// most is how many of the pieces that come next find room in a layer that may stand off by a share of its thickest.
func (s *stacker) most(on *stack, rest []int, share float64) int {
	fits := func(k int) bool {
		r := s.radii(s.round(rest[:k]))
		return needed(on.radius+share*2*slices.Max(r), r) <= full
	}
	low, high := 1, len(rest)
	for low < high {
		mid := (low + high + 1) / 2
		if fits(mid) {
			low = mid
		} else {
			high = mid - 1
		}
	}
	return low
}

// keep lays what goes on from a neighbouring stretch in the layers in which it lies there, and what joins in the outermost, or around it; nil
// where that finds no room, or leaves a layer empty within another.
func (s *stacker) keep(layers [][]int, join []int) *stack {
	for len(layers) > 0 && len(layers[len(layers)-1]) == 0 {
		layers = layers[:len(layers)-1]
	}
	if len(layers) == 0 || slices.ContainsFunc(layers, func(l []int) bool { return len(l) == 0 }) || len(layers[0]) > mostValley {
		return nil
	}
	try := func(layers [][]int) *stack {
		on := s.inCore(layers[0])
		for _, l := range layers[1:] {
			next, ok := s.add(on, l)
			if !ok {
				return nil
			}
			on = next
		}
		return on
	}
	if len(join) == 0 {
		return try(layers)
	}
	outer := slices.Clone(layers)
	if n := len(outer); n > 1 {
		outer[n-1] = append(slices.Clone(outer[n-1]), join...)
		if on := try(outer); on != nil {
			return on
		}
	}
	return try(append(slices.Clone(layers), join))
}
