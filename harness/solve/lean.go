package solve

import (
	"slices"
	"sync"
	"sync/atomic"
	"weak"
)

// lean is a point that differs from another by some laws, kept as little more than its volts: of a thousand starts few are asked again. What follows from
// the volts is worked out when it is asked for, to the bit as the solver left it, and forgotten when memory is wanted.
type lean struct {
	base    *point
	changes []change
	nw      *Network
	stood   *stood
	among   *among

	mu   sync.Mutex
	kept weak.Pointer[ladder]
}

// among is what the starts of a case share.
type among struct {
	last   atomic.Pointer[ladder] // of the start asked last, since what is asked once is asked often
	joints atomic.Pointer[joints] // of its net; nil: let go of

	mu   sync.Mutex
	grid weak.Pointer[grid] // to work out what was let go of
}

func (a *among) jointsOf(nw *Network) *joints {
	j := a.joints.Load()
	if j == nil {
		j = newJoints(nw)
		a.joints.Store(j)
	}
	return j
}

// stood is how the islands that a start moves stand. Once that is let go of it is worked out again when asked for, and kept until memory is wanted.
type stood struct {
	islands []int32

	mu   sync.Mutex
	own  []slim // by island; nil: let go of
	kept weak.Pointer[[]slim]
}

// slim is what cannot be worked out of a patch.
type slim struct {
	island    int32
	part      []int32
	hi, lo    []float64
	residual  float64
	converged bool
	live      bool    // a supply lives there
	least     float64 // what is less counts as no current
}

// newLean solves the case of a ladder again with some laws changed.
func newLean(l *ladder, g *grid, changes []change, a *among) *lean {
	out := &lean{base: l.p, among: a, changes: changes, nw: l.Network, stood: &stood{}}
	out.stood.own = out.solve(g)
	for i := range out.stood.own {
		out.stood.islands = append(out.stood.islands, out.stood.own[i].island)
	}
	return out
}

// solve is how the islands stand in which laws change.
func (x *lean) solve(g *grid) (own []slim) {
	base := x.base
	g.tried(base, x.changes, func(o owned) {
		w := slim{island: o.island, part: o.part, residual: o.residual, converged: o.converged}
		if was := base.patch(o.island).part; slices.Equal(was, w.part) {
			w.part = was
		}
		for i := range o.br {
			w.live = w.live || o.br[i].law == source
		}
		for _, a := range o.amps {
			w.least = max(w.least, abs(a))
		}
		w.least *= aim
		n := len(o.hi)
		all := make([]float64, 2*n)
		w.hi, w.lo = all[:n:n], all[n:]
		copy(w.hi, o.hi)
		copy(w.lo, o.lo)
		own = append(own, w)
	})
	return own
}

// own is how they stand, worked out again where that was let go of.
func (x *lean) own() []slim {
	s := x.stood
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.own != nil {
		return s.own
	}
	if own := s.kept.Value(); own != nil {
		return *own
	}
	x.among.mu.Lock()
	defer x.among.mu.Unlock()
	g := x.among.grid.Value()
	if g == nil || g.layout != x.base.layout {
		g = newGrid(x.base.layout)
		x.among.grid = weak.Make(g)
	}
	warm(g)
	own := x.solve(g)
	s.kept = weak.Make(&own)
	return own
}

// letGo keeps no more than what it takes to work it out again.
func (s *stood) letGo() {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.own != nil {
		own := s.own
		s.own, s.kept = nil, weak.Make(&own)
	}
}

// ladder is the whole again. Who has it keeps it.
func (x *lean) ladder() *ladder {
	if l := x.among.last.Load(); l != nil && l.lean == x {
		return l
	}
	x.mu.Lock()
	defer x.mu.Unlock()
	if l := x.kept.Value(); l != nil {
		x.among.last.Store(l)
		return l
	}
	q, own := withLaws(x.base, x.changes), x.own()
	for k := range q.own {
		s := &own[k]
		br := q.own[k].br
		p := newPatch(br, s.part)
		copy(p.hi, s.hi)
		copy(p.lo, s.lo)
		for i := range br {
			b := &br[i]
			if s.live && b.law != open {
				p.drop[i], p.amps[i] = b.flow(p.hi, p.lo)
			}
		}
		p.residual, p.converged = s.residual, s.converged
		q.own[k].patch = p.delivers()
	}
	l := &ladder{Network: x.nw, joints: x.among.jointsOf(x.nw), p: x.base.but(q.own...), down: map[int][]bool{}, lean: x}
	x.kept = weak.Make(l)
	x.among.last.Store(l)
	return l
}

// amps is the current of an element. Where the start changes nothing it is that of the case. That of a wire needs nothing but the volts at its ends.
func (x *lean) amps(element int) float64 {
	s := x.slim(x.base.ofE[element])
	if s == nil {
		return x.base.amps(element)
	}
	b := x.base.branch(element)
	if b.law != ohmic || slices.ContainsFunc(x.changes, func(c change) bool { return c.element == element }) {
		return x.point().amps(element)
	}
	if !s.live {
		return 0
	}
	_, a := b.flow(s.hi, s.lo)
	if abs(a) < s.least {
		return 0
	}
	return a
}

func (x *lean) volts(node int) float64 {
	s := x.slim(x.base.of[node])
	if s == nil {
		return x.base.volts(node)
	}
	return s.hi[x.base.at[node]] + s.lo[x.base.at[node]]
}

func (x *lean) point() *point { return x.ladder().p }

// mine tells whether an island is another than at the base.
func (x *lean) mine(island int32) bool { return slices.Contains(x.stood.islands, island) }

func (x *lean) slim(island int32) *slim {
	i := slices.Index(x.stood.islands, island)
	if i < 0 {
		return nil
	}
	return &x.own()[i]
}

// flow is the volts across a branch and the current through it.
func (b *branch) flow(hi, lo []float64) (v, a float64) {
	v = (hi[b.from] - hi[b.to]) + (lo[b.from] - lo[b.to])
	if b.law == ohmic {
		return v, b.g * v
	}
	a, _ = b.at(v)
	return v, a
}

// withLaws is the islands of a point in which laws change, with the new laws and nothing solved.
func withLaws(p *point, changes []change) *point {
	q := &point{layout: p.layout}
	for _, c := range changes {
		i := p.ofE[c.element]
		k, ok := q.mine(i)
		if !ok {
			br := append([]branch(nil), p.patch(i).br...)
			q.own = append(q.own, owned{})
			copy(q.own[k+1:], q.own[k:])
			q.own[k] = owned{i, &patch{br: br}}
		}
		b := &q.own[k].br[p.atE[c.element]]
		c.law.from, c.law.to = b.from, b.to
		*b = c.law
	}
	return q
}
