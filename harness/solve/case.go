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
	res := &CaseResult{Case: v.c.Name, Net: s.b.Network, Point: s.p.point(), Relays: s.relays, again: newAgain(v, s)}
	v.past.look(s)
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
	if !res.Point.Converged {
		res.Problems = append(res.Problems, Problem{Kind: NotConverged, Amps: res.Point.Residual, Span: v.c.Span})
	}
	if s.joints == nil {
		s.joints = newJoints(res.Net)
	}
	res.again.among.joints.Store(s.joints)
	l := newLadder(res.Net, s.p, s.joints)
	res.Loads = v.loads(l)
	res.Problems = append(res.Problems, v.shorts(l)...)
	res.Problems = append(res.Problems, overLimit(res, s)...) // of those that are not shorted
	res.Problems = append(res.Problems, cannotFeed(l)...)
	res.WireAmps, res.WireWatts = wireAmps(res.Net, s.p, v.wireCount())
	res.Starts = v.starts(res, s, l)
	v.past.recall(res)
	v.past = nil
	s.b.done(false)
	return res
}

func (v *values) wireCount() int {
	if v.nt == nil {
		return 0
	}
	return len(v.nt.Wires)
}

func (p *point) point() Point {
	out := Point{Volts: make([]unit.Voltage, len(p.of)), Amps: make([]unit.Current, len(p.ofE)), Converged: true}
	p.each(func(i int32, s *patch) {
		out.Residual, out.Converged = max(out.Residual, unit.Current(s.residual)), out.Converged && s.converged
		for k, n := range p.islands[i].nodes {
			out.Volts[n] = unit.Voltage(s.hi[k] + s.lo[k])
		}
		for k, e := range p.islands[i].elements {
			out.Amps[e] = unit.Current(s.amps[k])
		}
	})
	return out
}

func wireAmps(nw *Network, p *point, wires int) ([]unit.Current, []unit.Power) {
	amps, watts := make([]unit.Current, wires), make([]unit.Power, wires)
	for i := range nw.Elements {
		if e := &nw.Elements[i]; e.Kind == Wire {
			a := p.amps(i)
			amps[e.Wire] = unit.Current(a)
			watts[e.Wire] = unit.Power(a * a / p.branch(i).g)
		}
	}
	return amps, watts
}

func (v *values) supplyResult(s *settled, i int) SupplyResult {
	e, b := &s.b.Elements[i], &s.b.br[i]
	d := v.byName[e.Device]
	out := SupplyResult{Device: e.Device, Index: e.Index, Live: b.law == source, Follows: v.follows(d), Span: e.Span, element: i}
	if s.p.together(e.From, e.To) {
		out.Volts = unit.Voltage(s.p.volts(e.From) - s.p.volts(e.To))
	}
	if !out.Live {
		return out
	}
	amps, drop := s.p.amps(i), s.p.drop(i)
	out.Amps = unit.Current(amps)
	slack := 1e-9 * max(1, abs(b.e))
	out.Idle = amps == 0 && drop > b.e+slack
	out.Limited = b.g*(b.e-drop) > b.most*(1+1e-9)+1e-12
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
	var free []change
	for i := range s.b.br {
		if b := s.b.br[i]; b.law == source && !math.IsInf(b.most, 1) {
			b.most = math.Inf(1)
			free = append(free, change{i, b})
		}
	}
	q := s.g.again(s.p, free)
	n := 0
	shorted := func(e *Element) bool {
		return slices.ContainsFunc(res.Problems, func(p Problem) bool { return p.Kind == Shorted && p.Device == e.Device && p.Index == e.Index })
	}
	for i, e := range res.Net.Elements {
		if e.Kind != Supply {
			continue
		}
		if res.Supplies[n].Limited && !shorted(&e) {
			out = append(out, Problem{Kind: OverLimit, Device: e.Device, Index: e.Index, Amps: unit.Current(max(q.amps(i), s.b.br[i].most)),
				Limit: unit.Current(s.b.br[i].most), Span: e.Span})
		}
		n++
	}
	return out
}

// cannotFeed lists loads of constant power that were left below half their volts: there they no longer hold their power.
func cannotFeed(l *ladder) (out []Problem) {
	for i, e := range l.Elements {
		if b := l.p.branch(i); b.law == steadyPower && l.fed(i) && abs(l.p.drop(i)) < b.e {
			out = append(out, Problem{Kind: CannotFeed, Device: e.Device, Index: e.Index, Coil: e.Kind == Coil, Amps: unit.Current(l.p.amps(i)), Detail: e.Name, Span: e.Span})
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
// ampere is drawn at the load). Relays and switches stay as they are. Told are the wires, ascending, that make any difference.
func Adjoint(res *CaseResult, load int) (wires []int, gained []unit.Current) {
	if res.again == nil || load < 0 || load >= len(res.Loads) || res.again.p.branch(res.Loads[load].element).law == open {
		return nil, nil
	}
	res.again.lock()
	defer res.again.unlock()
	p, at := res.again.p, res.Loads[load].element
	i := p.ofE[at]
	x := p.patch(i)
	s := res.again.grid().solver(i, x.br)
	if !s.live || !s.factorAt(x.drop, restSlope*restSlope) {
		return nil, nil
	}
	clear(s.rest)
	s.add(&x.br[p.atE[at]], -1) // one ampere in at the plus side, out at the minus
	s.f.solve(s.rest)
	for k, n := range p.islands[i].elements {
		if e := &res.Net.Elements[n]; e.Kind == Wire {
			if a := unit.Current(s.step(&x.br[k])*x.br[k].g) * unit.Current(x.amps[k]); a != 0 {
				wires, gained = append(wires, e.Wire), append(gained, a)
			}
		}
	}
	return wires, gained
}
