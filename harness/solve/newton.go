package solve

import "math"

const (
	mostSteps = 300
	// aim and enough are the current that may be left over at a node, as a share of the largest in the net. Less than speck is
	// none.
	aim    = 1e-13
	enough = 1e-9
	speck  = 1e-18 // A
)

// point is an operating point inside the solver. The volts are kept as a sum of two numbers: what matters is the difference
// across a wire of milli-ohms, some ten digits below the volts of its ends.
type point struct {
	hi, lo    []float64 // by node
	drop      []float64 // by branch
	amps      []float64 // by branch, from from to to
	part      []int     // by node: which connected part of the net
	bridge    float64   // amps through the grid's bridge
	residual  float64
	converged bool
}

func (p *point) volts(node int) float64 { return p.hi[node] + p.lo[node] }

// grid is a net made ready for Newton's method: its parts, a reference in each, the order of elimination. A part that nothing
// joins to the others has a reference of its own, so no net is singular for being in pieces.
type grid struct {
	br        []branch
	part      []int
	reference []bool // by node
	f         *factor
	slopes    []float64
	rest      []float64 // right side and step, by node
	change    []float64 // of the volts across each branch in a step
	across    []float64 // volts by node when the bridge draws an ampere
	scale     float64   // highest set-point, volts
	bent      bool
	// bridge is one resistance more between two nodes of one part, which the order of elimination does not know.
	bridge *branch
}

func newGrid(nodes int, br []branch) *grid {
	p := patternOf(nodes, br)
	g := &grid{reference: make([]bool, nodes), f: newFactor(p), slopes: make([]float64, len(br)), rest: make([]float64, nodes), change: make([]float64, len(br))}
	g.use(br)
	return g
}

// use takes other laws for the same branches. The reference of each part is the minus of the first supply in it, else its first node.
func (g *grid) use(br []branch) {
	g.br, g.scale, g.bent = br, 1, false
	up := make([]int, len(g.reference))
	for i := range up {
		up[i] = i
	}
	root := func(i int) int {
		for up[i] != i {
			up[i] = up[up[i]]
			i = up[i]
		}
		return i
	}
	for i := range br {
		if br[i].law == open {
			continue
		}
		a, b := root(br[i].from), root(br[i].to)
		up[max(a, b)] = min(a, b)
		if br[i].bent() {
			g.bent = true
		}
		if br[i].law == source {
			g.scale = max(g.scale, br[i].e)
		}
	}
	clear(g.reference)
	g.part = make([]int, len(up)) // points made before keep theirs
	for i := range up {
		g.part[i] = root(i)
	}
	has := make([]bool, len(up)) // by part
	name := func(node int) {
		if r := g.part[node]; !has[r] {
			has[r], g.reference[node] = true, true
		}
	}
	for i := range br {
		if br[i].law == source {
			name(br[i].to)
		}
	}
	for i := range up {
		name(i)
	}
}

// add puts the current i of a branch, with the given sign, on the right side.
func (g *grid) add(b *branch, i float64) {
	g.rest[b.from] -= i
	g.rest[b.to] += i
}

// step is the change of a branch's volts in the step that rest holds.
func (g *grid) step(b *branch) float64 { return g.rest[b.from] - g.rest[b.to] }

// begin is the operating point of the net with every law straightened.
func (g *grid) begin() (hi []float64) {
	hi = make([]float64, len(g.reference))
	clear(g.rest)
	for i := range g.br {
		s, at := g.br[i].plain()
		g.slopes[i] = s
		if s < restSlope && g.br[i].bent() {
			g.slopes[i] = restSlope
		}
		g.add(&g.br[i], at)
	}
	if g.f.set(g.slopes, g.reference) {
		g.f.solve(g.rest)
		copy(hi, g.rest)
	}
	return hi
}

// factorAt takes the matrix apart at the slopes of the point. Where loads of constant power make it indefinite they count as
// flat: the step is then that of plain substitution, which comes down on the upper of two answers from above. What is flat gets
// the slope rest.
func (g *grid) factorAt(drop []float64, rest float64) bool {
	for i := range g.br {
		_, s := g.br[i].at(drop[i])
		if g.br[i].bent() && abs(s) < rest {
			s = rest
		}
		g.slopes[i] = s
	}
	if g.f.set(g.slopes, g.reference) {
		return true
	}
	for i := range g.slopes {
		if g.slopes[i] < 0 {
			g.slopes[i] = rest
		}
	}
	return g.f.set(g.slopes, g.reference)
}

// newton solves from the given volts (nil: from the straightened net). Apart from loads of constant power every law rises or
// is flat, so the net is at rest where a convex function, its content, is least. Each step goes downhill in it: the search
// ends for any switch position, and cannot cycle between states of supplies and diodes.
func (g *grid) newton(hi []float64) *point {
	if hi == nil {
		hi = g.begin()
	}
	p := &point{hi: append([]float64(nil), hi...), lo: make([]float64, len(hi)), part: g.part,
		drop: make([]float64, len(g.br)), amps: make([]float64, len(g.br))}
	last := math.Inf(1)
	for n := 0; ; n++ {
		largest := g.currents(p)
		if p.residual <= aim*largest+speck || p.residual <= enough*largest && p.residual > last/4 || n == mostSteps {
			p.converged = p.residual <= enough*largest+speck
			return p
		}
		last = p.residual
		if !g.factorAt(p.drop, restSlope) {
			return p
		}
		g.f.solve(g.rest)
		g.bridged()
		t := g.search(p)
		for i, x := range g.rest {
			if x != 0 {
				p.hi[i], p.lo[i] = twoSum(p.hi[i], p.lo[i]+t*x)
			}
		}
	}
}

// currents works out drops and currents at the point's volts, leaves what does not add up on the right side, and returns the
// largest current.
func (g *grid) currents(p *point) (largest float64) {
	clear(g.rest)
	for i := range g.br {
		b := &g.br[i]
		if b.law == open {
			continue
		}
		v := (p.hi[b.from] - p.hi[b.to]) + (p.lo[b.from] - p.lo[b.to])
		a, _ := b.at(v)
		p.drop[i], p.amps[i] = v, a
		largest = max(largest, abs(a))
		g.add(b, a)
	}
	if b := g.bridge; b != nil {
		p.bridge, _ = b.at((p.hi[b.from] - p.hi[b.to]) + (p.lo[b.from] - p.lo[b.to]))
		largest = max(largest, abs(p.bridge))
		g.add(b, p.bridge)
	}
	p.residual = 0
	for i, r := range g.rest {
		if !g.reference[i] {
			p.residual = max(p.residual, abs(r))
		}
	}
	return largest
}

// bridged makes the step of the net that of the net with the bridge: what the bridge takes more is drawn from its ends (the formula
// of Sherman and Morrison).
func (g *grid) bridged() {
	b := g.bridge
	if b == nil {
		return
	}
	if g.across == nil {
		g.across = make([]float64, len(g.rest))
	}
	clear(g.across)
	g.across[b.from], g.across[b.to] = 1, -1
	g.f.solve(g.across)
	x := b.g * g.step(b) / (1 + b.g*max(0, g.across[b.from]-g.across[b.to]))
	for i, v := range g.across {
		g.rest[i] -= x * v
	}
}

// search finds how much of the step in rest to take: all, unless that overshoots the least content along it by more than half
// the slope it began with. No bent element moves more than half the highest set-point at once.
func (g *grid) search(p *point) float64 {
	if !g.bent {
		return 1
	}
	most, change := 0.0, g.change
	for i := range g.br {
		change[i] = g.step(&g.br[i])
		if g.br[i].bent() {
			most = max(most, abs(change[i]))
		}
	}
	full := 1.0
	if most > g.scale/2 {
		full = g.scale / 2 / most
	}
	slope := func(t float64) (s float64) {
		for i := range g.br {
			if c := change[i]; c != 0 {
				a, _ := g.br[i].at(p.drop[i] + t*c)
				s += a * c
			}
		}
		if b := g.bridge; b != nil {
			c := g.step(b)
			s += b.g * (p.hi[b.from] - p.hi[b.to] + p.lo[b.from] - p.lo[b.to] + t*c) * c
		}
		return s
	}
	first := slope(0)
	if slope(full) <= -first/2 {
		return full
	}
	lo, hi := 0.0, full
	for range 50 {
		mid := (lo + hi) / 2
		s := slope(mid)
		if abs(s) <= -first/8 {
			return mid
		}
		if s < 0 {
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
func (g *grid) solve(from []float64) *point {
	p := g.newton(from)
	if !p.converged && from != nil {
		p = g.newton(nil)
	}
	if low := starved(g.br, p); low > 0 || !p.converged {
		if q := g.raise(); q != nil && (!p.converged || starved(g.br, q) < low) {
			return q
		}
	}
	return p
}

// starved counts loads of constant power that carry current below their knee.
func starved(br []branch, p *point) int {
	n := 0
	for i := range br {
		if br[i].law == steadyPower && p.amps[i] != 0 && abs(p.drop[i]) < br[i].e {
			n++
		}
	}
	return n
}

// raise follows the upper answer from no power to all of it; nil when it ends before.
func (g *grid) raise() *point {
	br := g.br
	part := append([]branch(nil), br...)
	g.br = part
	defer func() { g.br = br }()
	at := func(share float64) {
		for i := range part {
			if part[i].law == steadyPower {
				part[i].most = share * br[i].most
			}
		}
	}
	at(0)
	p := g.newton(nil)
	for share, step := 0.0, 1.0/8; share < 1; {
		if !p.converged {
			return nil
		}
		at(min(1, share+step))
		q := g.newton(p.hi)
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
	return p
}
