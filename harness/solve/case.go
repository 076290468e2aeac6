package solve

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Case finds the operating point of a case: volts, currents, how supplies and relays stand, and again while each device with a
// starting value starts. temps is the mean temperature of each wire's conductor, nil for 20 C. Loads draw whenever they are fed
// unless the case rests them; duty is not looked at.
//
// A stated spread counts on the side that loses most, supplies stand at their nominal volts; what each result is at its own worst corner is
// asked of the result (Corner), what flows at both ends of the supplies too (Variants). Nothing is changed in what is passed in, and any input has an answer: what makes no sense electrically
// is listed as a problem.
func Case(job *design.Job, nt *net.Net, sizes size.Sizes, temps []unit.Temperature, c *design.Case) *CaseResult {
	if c == nil {
		c = &design.Case{}
	}
	if job == nil {
		job = &design.Job{}
	}
	v := newValues(job, nt, sizes, temps, c)
	return v.result(v.settle())
}

// result words a settled network.
func (v *values) result(s *settled) *CaseResult {
	br := s.b.br
	res := &CaseResult{Case: v.c.Name, Net: s.b.Network, Point: s.p.point(), Relays: s.relays, branches: br, from: s.p.hi,
		again: &again{v: v, s: s, br: br, knobs: s.b.knobs, p: s.p}}
	live := false
	for i, e := range res.Net.Elements {
		if e.Kind == Supply {
			x := v.supplyResult(s, i)
			live = live || x.Live
			res.Supplies = append(res.Supplies, x)
		}
	}
	if !live {
		res.Problems = append(res.Problems, Problem{Kind: NoSupply, Span: v.c.Span})
	}
	if !s.p.converged {
		res.Problems = append(res.Problems, Problem{Kind: NotConverged, Amps: unit.Current(s.p.residual), Span: v.c.Span})
	}
	l := newLadder(res.Net, br, s.p)
	res.Loads = v.loads(l, "", true)
	res.Problems = append(res.Problems, shorts(l)...)
	res.Problems = append(res.Problems, overLimit(res, s)...) // of those that are not shorted
	res.Problems = append(res.Problems, cannotFeed(l)...)
	res.WireAmps, res.WireWatts = wireAmps(res.Net, br, s.p, v.wireCount())
	res.Starts = v.starts(res, s)
	return res
}

func (v *values) wireCount() int {
	if v.nt == nil {
		return 0
	}
	return len(v.nt.Wires)
}

func (p *point) point() Point {
	out := Point{Volts: make([]unit.Voltage, len(p.hi)), Amps: make([]unit.Current, len(p.amps)),
		Residual: unit.Current(p.residual), Converged: p.converged}
	for i := range p.hi {
		out.Volts[i] = unit.Voltage(p.volts(i))
	}
	for i, a := range p.amps {
		out.Amps[i] = unit.Current(a)
	}
	return out
}

// delivers turns the sign of a supply's current: the solver counts every current from from to to.
func (p *point) delivers(net *Network) *point {
	for i, e := range net.Elements {
		if e.Kind == Supply {
			p.amps[i] = 0 - p.amps[i]
		}
	}
	return p
}

func wireAmps(nw *Network, br []branch, p *point, wires int) ([]unit.Current, []unit.Power) {
	amps, watts := make([]unit.Current, wires), make([]unit.Power, wires)
	for i, e := range nw.Elements {
		if e.Kind == Wire {
			amps[e.Wire] = unit.Current(p.amps[i])
			watts[e.Wire] = unit.Power(p.amps[i] * p.amps[i] / br[i].g)
		}
	}
	return amps, watts
}

func (v *values) supplyResult(s *settled, i int) SupplyResult {
	e, b := &s.b.Elements[i], &s.b.br[i]
	d := v.byName[e.Device]
	out := SupplyResult{Device: e.Device, Index: e.Index, Live: b.law == source, Follows: v.follows(d), Span: e.Span}
	if s.p.part[e.From] == s.p.part[e.To] {
		out.Volts = unit.Voltage(s.p.volts(e.From) - s.p.volts(e.To))
	}
	if !out.Live {
		return out
	}
	out.Amps = unit.Current(s.p.amps[i])
	slack := 1e-9 * max(1, abs(b.e))
	out.Idle = s.p.amps[i] == 0 && s.p.drop[i] > b.e+slack
	out.Limited = b.g*(b.e-s.p.drop[i]) > b.most*(1+1e-9)+1e-12
	return out
}

// overLimit works out what a supply at its limit would have to deliver if it had none.
func overLimit(res *CaseResult, s *settled) (out []Problem) {
	limited := false
	for _, s := range res.Supplies {
		limited = limited || s.Limited
	}
	if !limited {
		return nil
	}
	free := append([]branch(nil), res.branches...)
	for i := range free {
		if free[i].law == source {
			free[i].most = math.Inf(1)
		}
	}
	s.g.use(free)
	q := s.g.solve(s.p.hi).delivers(res.Net)
	n := 0
	shorted := func(e *Element) bool {
		return slices.ContainsFunc(res.Problems, func(p Problem) bool { return p.Kind == Shorted && p.Device == e.Device && p.Index == e.Index })
	}
	for i, e := range res.Net.Elements {
		if e.Kind != Supply {
			continue
		}
		if res.Supplies[n].Limited && !shorted(&e) {
			out = append(out, Problem{Kind: OverLimit, Device: e.Device, Index: e.Index, Amps: unit.Current(max(q.amps[i], res.branches[i].most)),
				Limit: unit.Current(res.branches[i].most), Span: e.Span})
		}
		n++
	}
	return out
}

// cannotFeed lists loads of constant power that were left below half their volts: there they no longer hold their power.
func cannotFeed(l *ladder) (out []Problem) {
	for i, e := range l.Elements {
		if b := &l.br[i]; b.law == steadyPower && l.fed(i) && abs(l.p.drop[i]) < b.e {
			out = append(out, Problem{Kind: CannotFeed, Device: e.Device, Index: e.Index, Coil: e.Kind == Coil, Amps: unit.Current(l.p.amps[i]), Detail: e.Name, Span: e.Span})
		}
	}
	return out
}

// Without is the current of each wire when the draws and coils of some devices rest, everything else as it stands in the
// result: relays, switches and temperatures. Supplies that follow what a resting device draws rest with it.
func Without(res *CaseResult, rest []string) []unit.Current {
	var loads []int
	for i := range res.Loads {
		if slices.Contains(rest, res.Loads[i].Device) {
			loads = append(loads, i)
		}
	}
	return WithoutLoads(res, loads)
}

// Adjoint is how the volts of a load (by its index in the result) answer to the resistance of each wire: volts gained per ohm
// added, which is a current; less than none where more resistance costs the load volts. It follows from one more solution of
// the net, linear about the operating point (Tellegen's theorem: a wire's part is its current times the volts it sees when one
// ampere is drawn at the load). Relays and switches stay as they are.
func Adjoint(res *CaseResult, load int) []unit.Current {
	out := make([]unit.Current, len(res.WireAmps))
	if res.again == nil || load < 0 || load >= len(res.Loads) || res.branches[res.Loads[load].element].law == open {
		return out
	}
	res.again.lock()
	defer res.again.unlock()
	g := res.again.s.g
	g.use(res.branches)
	if !g.factorAt(res.again.p.drop, restSlope*restSlope) {
		return out
	}
	clear(g.rest)
	g.add(&res.branches[res.Loads[load].element], -1) // one ampere in at the plus side, out at the minus
	g.f.solve(g.rest)
	for i, e := range res.Net.Elements {
		if e.Kind == Wire {
			out[e.Wire] = unit.Current(g.step(&res.branches[i])*res.branches[i].g) * res.Point.Amps[i]
		}
	}
	return out
}
