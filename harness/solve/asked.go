package solve

import "sync"

// asked is a net of which those islands are solved that are asked for: in a position that the followers leave again nothing else matters.
type asked struct {
	*grid
	b    *builder
	p    *point
	memo *memo // nil: none
}

// memo is what was found last at the seats of a frame.
type memo struct {
	mu         sync.Mutex
	laws       map[int32][]branch // by island, those that it was found for
	drop, amps []float64          // by seat
}

// newAsked begins with the islands that stand as they did.
func newAsked(g *grid, b *builder, was *past, f *frame) *asked {
	x := &asked{grid: g, b: b, p: &point{layout: g.layout, all: make([]*patch, len(g.islands))}}
	for i := range x.p.all {
		x.p.all[i] = was.patch(g.layout, int32(i), b.br)
	}
	if f != nil {
		x.memo = &f.memo
	}
	return x
}

func (x *asked) open(at seats, seat int) bool { return x.b.br[at.of[seat].element].law == open }

// at is the volts across a seat, and what it carries.
func (x *asked) at(at seats, seat int) (drop, amps float64) {
	e := int(at.of[seat].element)
	i := x.ofE[e]
	if x.p.all[i] == nil {
		if x.memo != nil {
			if drop, amps, ok := x.memo.at(x.layout, i, x.b.br, seat); ok {
				return drop, amps
			}
		}
		x.p.all[i] = x.fresh(i, x.laws(i, x.b.br))
	}
	return x.p.drop(e), x.p.amps(e)
}

// whole solves the rest.
func (x *asked) whole() *point {
	for i := range x.p.all {
		if x.p.all[i] == nil {
			x.p.all[i] = x.fresh(int32(i), x.laws(int32(i), x.b.br))
		}
	}
	return x.p
}

// leave gives back what is left of a position that does not last, and notes what was found at its seats.
func (x *asked) leave(at seats) {
	if x.memo != nil {
		x.memo.note(x.p, at)
	}
	x.release()
	x.b.done(true)
}

func (m *memo) at(l *layout, island int32, br []branch, seat int) (drop, amps float64, ok bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	was := m.laws[island]
	if was == nil {
		return 0, 0, false
	}
	for k, e := range l.islands[island].elements {
		if !was[k].alike(&br[e]) {
			return 0, 0, false
		}
	}
	return m.drop[seat], m.amps[seat], true
}

func (m *memo) note(p *point, at seats) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.laws == nil {
		m.laws, m.drop, m.amps = map[int32][]branch{}, make([]float64, len(at.of)), make([]float64, len(at.of))
	}
	for k, s := range at.of {
		i := p.ofE[s.element]
		if s := p.all[i]; s != nil {
			m.laws[i], m.drop[k], m.amps[k] = s.br, s.drop[p.atE[at.of[k].element]], s.amps[p.atE[at.of[k].element]]
		}
	}
}
