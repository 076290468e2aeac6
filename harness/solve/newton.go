package solve

import (
	"math"
	"slices"
)

const (
	mostSteps = 300
	// aim and enough are the current that may be left over at a node, as a share of the largest in the net. Less than speck is
	// none.
	aim    = 1e-13
	enough = 1e-9
	speck  = 1e-18 // A
)

// solver is an island made ready for Newton's method: its parts, a reference in each, the order of elimination. A part that nothing joins to
// the others has a reference of its own, so no net is singular for being in pieces.
type solver struct {
	*island
	br        []branch
	part      []int32 // by node; patches keep it, so it is never changed
	reference []bool  // by node
	uneven    []int32 // branches that bend
	ready     bool    // what follows is that of the island
	f         factor
	slopes    []float64
	taken     []float64 // slopes that f was taken apart at
	whole     bool      // and how that went
	rest      []float64 // right side and step, by node
	change    []float64 // of the volts across each branch in a step
	across    []float64 // volts by node when the bridge draws an ampere
	spans     *branch   // the bridge that they hold for, as the matrix is taken apart; nil: none
	scale     float64   // highest set-point, volts
	live      bool      // a supply lives
	room      *room
	// bridge is one resistance more between two nodes of one part, which the order of elimination does not know.
	bridge *branch

	up       []int32 // scratch of use
	ref, has []bool
}

// use takes other laws for the same branches. The reference of each part is the minus of the first supply in it, else its first node.
func (s *solver) use(br []branch) {
	if s.part != nil && len(br) > 0 && len(s.br) > 0 && &s.br[0] == &br[0] {
		return
	}
	nodes := len(s.nodes)
	s.br, s.scale, s.live, s.uneven = br, 1, false, s.uneven[:0]
	s.up = cleared(s.up, nodes)
	up := s.up
	for i := range up {
		up[i] = int32(i)
	}
	for i := range br {
		b := &br[i]
		if b.law == open {
			continue
		}
		join(up, b.from, b.to)
		if b.bent() {
			s.uneven = append(s.uneven, int32(i))
		}
		if b.law == source {
			s.scale, s.live = max(s.scale, b.e), true
		}
	}
	for i := range up {
		up[i] = up[up[i]] // roots come first
	}
	if s.part == nil || !slices.Equal(s.part, up) {
		s.part = slices.Clone(up)
	}
	if !s.live {
		return
	}
	if !s.ready {
		s.prepare()
	}
	s.ref, s.has = cleared(s.ref, nodes), cleared(s.has, nodes)
	reference, has := s.ref, s.has // the latter by part
	name := func(node int32) {
		if r := up[node]; !has[r] {
			has[r], reference[node] = true, true
		}
	}
	for i := range br {
		if br[i].law == source {
			name(br[i].to)
		}
	}
	for i := range up {
		name(int32(i))
	}
	if !slices.Equal(reference, s.reference) {
		s.reference, s.ref, s.taken = reference, s.reference, s.taken[:0]
	}
}

func (s *solver) prepare() {
	n, m := len(s.nodes), len(s.ends)
	s.f.use(s.island.pattern())
	s.slopes, s.taken, s.change = fit(s.slopes, m), fit(s.taken, m)[:0], fit(s.change, m)
	s.rest, s.across, s.spans = fit(s.rest, n), s.across[:0], nil
	s.ready = true
}

// leave forgets the island and keeps the room.
func (s *solver) leave() {
	s.island, s.br, s.part, s.room, s.bridge, s.spans, s.ready = nil, nil, nil, nil, nil, nil, false
	s.reference, s.taken, s.f.pattern = s.reference[:0], s.taken[:0], nil
}

// set takes the matrix apart at the slopes, unless it is already.
func (s *solver) set() bool {
	if !slices.Equal(s.slopes, s.taken) {
		s.whole = s.f.set(s.slopes, s.reference)
		s.taken, s.spans = append(s.taken[:0], s.slopes...), nil
	}
	return s.whole
}

// add puts the current i of a branch, with the given sign, on the right side.
func (s *solver) add(b *branch, i float64) {
	s.rest[b.from] -= i
	s.rest[b.to] += i
}

// step is the change of a branch's volts in the step that rest holds.
func (s *solver) step(b *branch) float64 { return s.rest[b.from] - s.rest[b.to] }

// begin is the operating point of the island with every law straightened.
func (s *solver) begin(hi []float64) {
	clear(s.rest)
	for i := range s.br {
		b := &s.br[i]
		if b.law == ohmic {
			s.slopes[i] = b.g
			continue
		}
		g, at := b.plain()
		s.slopes[i] = g
		if g < restSlope && b.bent() {
			s.slopes[i] = restSlope
		}
		s.add(b, at)
	}
	if s.set() {
		s.f.solve(s.rest)
		copy(hi, s.rest)
	}
}

// factorAt takes the matrix apart at the slopes of the point. Where loads of constant power make it indefinite they count as
// flat: the step is then that of plain substitution, which comes down on the upper of two answers from above. What is flat gets
// the slope rest.
func (s *solver) factorAt(drop []float64, rest float64) bool {
	for i := range s.br {
		b := &s.br[i]
		if b.law == ohmic {
			s.slopes[i] = b.g
			continue
		}
		_, g := b.at(drop[i])
		if b.bent() && abs(g) < rest {
			g = rest
		}
		s.slopes[i] = g
	}
	if s.set() {
		return true
	}
	for i := range s.slopes {
		if s.slopes[i] < 0 {
			s.slopes[i] = rest
		}
	}
	return s.set()
}

// newton solves from the given point (nil: from the straightened net). Apart from loads of constant power every law rises or
// is flat, so the net is at rest where a convex function, its content, is least. Each step goes downhill in it: the search
// ends for any switch position, and cannot cycle between states of supplies and diodes.
func (s *solver) newton(from *patch) *patch {
	p := s.room.patch(s.br, s.part)
	if !s.live { // nothing flows
		p.converged = true
		return p
	}
	if from == nil {
		s.begin(p.hi)
	} else {
		copy(p.hi, from.hi)
		copy(p.lo, from.lo)
	}
	last := math.Inf(1)
	for n := 0; ; n++ {
		largest := s.currents(p)
		if p.residual <= aim*largest+speck || p.residual <= enough*largest && p.residual > last/4 || n == mostSteps {
			p.converged = p.residual <= enough*largest+speck
			return p
		}
		last = p.residual
		if !s.factorAt(p.drop, restSlope) {
			return p
		}
		s.f.solve(s.rest)
		s.bridged()
		t := s.search(p)
		for i, x := range s.rest {
			if x != 0 {
				p.hi[i], p.lo[i] = twoSum(p.hi[i], p.lo[i]+t*x)
			}
		}
	}
}

// currents works out drops and currents at the point's volts, leaves what does not add up on the right side, and returns the
// largest current.
func (s *solver) currents(p *patch) (largest float64) {
	clear(s.rest)
	hi, lo, rest := p.hi, p.lo, s.rest
	for i := range s.br {
		b := &s.br[i]
		if b.law == open {
			continue
		}
		v := (hi[b.from] - hi[b.to]) + (lo[b.from] - lo[b.to]) // as flow has it, without the call
		a := b.g * v
		if b.law != ohmic {
			a, _ = b.at(v)
		}
		p.drop[i], p.amps[i] = v, a
		largest = max(largest, abs(a))
		rest[b.from] -= a
		rest[b.to] += a
	}
	if b := s.bridge; b != nil {
		p.bridge, _ = b.at((hi[b.from] - hi[b.to]) + (lo[b.from] - lo[b.to]))
		largest = max(largest, abs(p.bridge))
		s.add(b, p.bridge)
	}
	p.residual = 0
	for i, r := range rest {
		if !s.reference[i] {
			p.residual = max(p.residual, abs(r))
		}
	}
	return largest
}

// bridged makes the step of the net that of the net with the bridge: what the bridge takes more is drawn from its ends (the formula
// of Sherman and Morrison).
func (s *solver) bridged() {
	b := s.bridge
	if b == nil {
		return
	}
	if len(s.across) != len(s.rest) {
		s.across = fit(s.across, len(s.rest))
	}
	if s.spans != b {
		clear(s.across)
		s.across[b.from], s.across[b.to] = 1, -1
		s.f.solve(s.across)
		s.spans = b
	}
	x := b.g * s.step(b) / (1 + b.g*max(0, s.across[b.from]-s.across[b.to]))
	for i, v := range s.across {
		s.rest[i] -= x * v
	}
}

// search finds how much of the step in rest to take: all, unless that overshoots the least content along it by more than half
// the slope it began with. No bent element moves more than half the highest set-point at once. What the straight branches make of it is
// a line.
func (s *solver) search(p *patch) float64 {
	most, change := 0.0, s.change
	at, by := 0.0, 0.0
	for i := range s.br {
		b := &s.br[i]
		c := s.step(b)
		change[i] = c
		if b.law == ohmic {
			at += p.amps[i] * c
			by += b.g * c * c
		}
	}
	for _, i := range s.uneven {
		most = max(most, abs(change[i]))
	}
	if b := s.bridge; b != nil {
		c := s.step(b)
		at += p.bridge * c
		by += b.g * c * c
	}
	full := 1.0
	if most > s.scale/2 {
		full = s.scale / 2 / most
	}
	slope := func(t float64) float64 {
		sum := at + t*by
		for _, i := range s.uneven {
			if c := change[i]; c != 0 {
				a, _ := s.br[i].at(p.drop[i] + t*c)
				sum += a * c
			}
		}
		return sum
	}
	first := slope(0)
	if slope(full) <= -first/2 {
		return full
	}
	lo, hi := 0.0, full
	for range 50 {
		mid := (lo + hi) / 2
		x := slope(mid)
		if abs(x) <= -first/8 {
			return mid
		}
		if x < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

func twoSum(a, b float64) (sum, rest float64) {
	sum = a + b
	c := sum - a
	return sum, (a - (sum - c)) + (b - c)
}

// solve finds the operating point. When a load of constant power ends up below its knee the powers are raised from nothing
// in small steps as well, to be sure that no better answer was missed; of two answers the one with fewer such loads counts.
func (s *solver) solve(from *patch) *patch {
	p := s.newton(from)
	if !p.converged && from != nil {
		p = s.newton(nil)
	}
	if low := starved(p); low > 0 || !p.converged {
		if q := s.raise(); q != nil && (!p.converged || starved(q) < low) {
			p = q
		}
	}
	return p.delivers()
}

// delivers turns the sign of a supply's current: the solver counts every current from from to to. A current below what may be left over at a
// node is rounding, and none.
func (p *patch) delivers() *patch {
	largest := 0.0
	for _, a := range p.amps {
		largest = max(largest, abs(a))
	}
	for i := range p.br {
		if abs(p.amps[i]) < aim*largest {
			p.amps[i] = 0
		}
		if p.br[i].law == source {
			p.amps[i] = 0 - p.amps[i]
		}
	}
	return p
}

// starved counts loads of constant power that carry current below their knee. What is left over of rounding is none.
func starved(p *patch) int {
	n, largest := 0, -1.0
	for i := range p.br {
		b := &p.br[i]
		if b.law != steadyPower || p.amps[i] == 0 || abs(p.drop[i]) >= b.e {
			continue
		}
		if largest < 0 {
			for _, a := range p.amps {
				largest = max(largest, abs(a))
			}
		}
		if abs(p.amps[i]) > enough*largest {
			n++
		}
	}
	return n
}

// raise follows the upper answer from no power to all of it; nil when it ends before.
func (s *solver) raise() *patch {
	br := s.br
	part := append([]branch(nil), br...)
	s.br = part
	defer func() { s.br = br }()
	at := func(share float64) {
		for i := range part {
			if part[i].law == steadyPower {
				part[i].most = share * br[i].most
			}
		}
	}
	at(0)
	p := s.newton(nil)
	for share, step := 0.0, 1.0/8; share < 1; {
		if !p.converged {
			return nil
		}
		at(min(1, share+step))
		q := s.newton(p)
		fell := !q.converged
		for i := range part {
			fell = fell || part[i].law == steadyPower && abs(p.drop[i]) >= part[i].e && abs(q.drop[i]) < part[i].e
		}
		if !fell {
			p, share, step = q, share+step, min(2*step, 1.0/8)
		} else if step /= 2; step < 1.0/256 {
			return nil
		}
	}
	if !p.converged {
		return nil
	}
	p.br = br
	return p
}
