package fit

import (
	"math"
	"slices"

	"loomsheet/harness/contact"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// jump leaves part of an estimated growth to the next step, so that no size gets larger than it must.
const jump = 0.85

// short is by how many times its area a wire falls short, by an estimate: the current it stands for ever grows with its area to the power 0.7, what
// it heats up in a given time with its square turned over.
func short(w *protect.WireResult) float64 {
	times := 1.0
	if o := w.Overload; o != nil && !o.Met {
		if o.Stands > 0 {
			times = math.Pow(float64(o.Amps/o.Stands), 1/0.7)
		} else if rise := o.Limit - room; o.Reaches > o.Limit {
			times = math.Sqrt(float64((o.Reaches - room) / max(rise, 1)))
		}
	}
	if s := w.Short; s != nil && !s.Met && s.Latest == protect.Never && s.Sustained > 0 {
		times = max(times, math.Pow(float64(s.Amps/s.Sustained), 1/0.7))
	} else if s != nil && !s.Met && s.Limit > s.Start {
		times = max(times, math.Sqrt(float64((s.Reaches-s.Start)/(s.Limit-s.Start))))
	}
	return min(times, 10)
}

// room is where an overload begins to heat, for the estimate.
const room unit.Temperature = 60

// guard steps up the wires that their protection finds too thin, an overload or a short heating them past their limit or a loop too weak to
// clear, and those too thin for the contacts they sit in. What it lifts is never trimmed: the floor goes up with it. It is asked only
// where volts and heat are met.
func (g *grower) guard(o *Outcome) (size.Sizes, bool) {
	out := slices.Clone(o.Sizes)
	changed := false
	lift := func(i int, times float64, why size.Reason) {
		if i < 0 || i >= len(out) || g.ladders[i] == nil || out[i].Size != o.Sizes[i].Size {
			return
		}
		step := g.room(i, out[i].Size)
		if step < 0 {
			return
		}
		for want := float64(out[i].Size.Area()) * times * jump; step < g.capped[i] && float64(g.ladders[i][step].Size.Area()) < want; {
			step++
		}
		g.raise(out, i, step, why)
		changed = true
	}
	var p look
	var whole bool
	var ends []contact.EndResult
	solve.Each(2, func(k int) {
		if k == 1 {
			ends = contact.Find(g.job, g.nt, o.Sizes, o.Cases).Ends
			return
		}
		o.Heat = g.kept.Tell(o.Sizes)
		p, whole = g.protection(o)
	})
	var thin []int
	for _, n := range p.Needs() {
		if !n.Loop {
			lift(p.wires[n.Wire], short(&p.Wires[n.Wire]), size.ByProtection)
			thin = append(thin, n.Wire)
		}
	}
	changed = g.back(o, p, out, thin) || changed
	g.onward(o, p, out, thin)
	for i := range p.Shorts {
		if s := &p.Shorts[i]; s.TooWeak() {
			loop := make([]int, len(s.Weak()))
			for k, w := range s.Weak() {
				loop[k] = p.wires[w]
			}
			lift(g.cheapest(out, loop), 1, size.ByProtection)
		}
	}
	for i := range ends {
		if e := &ends[i]; !e.Met && e.Wired > 0 && e.Wired < 1 {
			lift(e.Wire, float64(max(e.Amps, e.Shared)/max(e.Allowed, 1e-3)), size.ByRating)
		}
	}
	if !changed {
		if whole {
			o.Protect = p.All()
		}
		return o.Sizes, false
	}
	return g.fitter.Settle(out), true
}

// onward steps up the wires that would not bear what they were lifted for at the sizes they were lifted to, until each would: a look at the whole costs far
// more than one at these wires. By the next look at the whole currents are others, and it judges for certain; what went too far comes back then.
func (g *grower) onward(o *Outcome, p look, out size.Sizes, thin []int) {
	for n := 0; n < mostSteps && len(thin) > 0; n++ {
		var still []int
		up := map[int]bool{}
		for k, bears := range g.bears(o, p, out, thin) {
			i := p.wires[thin[k]]
			if bears || g.ladders[i] == nil || g.returned[g.strands[i][0]] {
				continue
			}
			step := g.room(i, out[i].Size)
			if step < 0 {
				continue
			}
			if first := g.strands[i][0]; g.leapt[first].IsZero() {
				g.leapt[first] = out[i].Size
			}
			if still = append(still, thin[k]); !up[g.strands[i][0]] {
				up[g.strands[i][0]] = true
				g.raise(out, i, step, size.ByProtection)
			}
		}
		thin = still
	}
}

// back steps down again, as far as they were lifted at once, the wires that were lifted onward before and would bear what is found now at a smaller size: they
// were judged at the currents of loops too thin, which a fuse is long in clearing. It is done once for each, and tells whether any came back.
func (g *grower) back(o *Outcome, p look, out size.Sizes, thin []int) (any bool) {
	least := map[int]unit.Size{}
	var some []int
	for k, i := range p.wires {
		if s := g.leapt[i]; !s.IsZero() {
			if g.leapt[i] = (unit.Size{}); !slices.Contains(thin, k) {
				some, least[k] = append(some, k), s
			}
		}
	}
	for len(some) > 0 {
		some = slices.DeleteFunc(some, func(k int) bool { return !least[k].Less(out[p.wires[k]].Size) })
		less, step := slices.Clone(out), make([]int, len(some))
		for n, k := range some {
			i := p.wires[k]
			for step[n] = len(g.ladders[i]) - 1; step[n] > 0 && !g.ladders[i][step[n]].Size.Less(out[i].Size); {
				step[n]--
			}
			g.lift(less, i, step[n], size.ByProtection)
		}
		var still []int
		for n, bears := range g.bears(o, p, less, some) {
			if i := p.wires[some[n]]; bears {
				any, g.returned[i] = true, true
				g.raise(out, i, step[n], size.ByProtection)
				still = append(still, some[n])
			}
		}
		some = still
	}
	return any
}

// raise lifts a wire, and its floor.
func (g *grower) raise(out size.Sizes, i, step int, why size.Reason) {
	g.lift(out, i, step, why)
	for _, j := range g.strands[i] {
		g.floor[j] = out[j]
	}
}

// look is the protection of some wires of the net.
type look struct {
	*protect.Look
	wires []int // by wire of the look: which of the net it is
}

// bears asks some wires of a look whether they would do with sizes.
func (g *grower) bears(o *Outcome, p look, sizes size.Sizes, some []int) []bool {
	own := make(size.Sizes, len(p.wires))
	for k, i := range p.wires {
		own[k] = sizes[i]
	}
	return p.Bears(own, beside{heat.NewThermal(g.job, g.nt, sizes, o.Cases, o.Duty), p.wires}, some)
}

// protection weighs the parts that were awake since they were weighed last; where that is most of the net, the whole of it.
func (g *grower) protection(o *Outcome) (p look, whole bool) {
	var wires []int
	for i, k := range g.parts.of {
		if !g.parts.all[k].weighed {
			wires = append(wires, i)
		}
	}
	for k := range g.parts.all {
		g.parts.all[k].weighed = true
	}
	if 2*len(wires) <= len(g.nt.Wires) {
		return g.weigh(o, wires), false
	}
	wires = wires[:0]
	for i := range g.nt.Wires {
		wires = append(wires, i)
	}
	return look{protect.FindFirst(g.job, g.nt, o.Sizes, o.Cases, o.Heat, o.Duty, g.laid), wires}, true
}

// weigh weighs some parts, all wires of which are given, cut out of the net. What lies beside their wires counts as in the whole.
func (g *grower) weigh(o *Outcome, wires []int) look {
	job, nt, _, all := g.parts.districts.Around(wires, nil)
	at := make(map[int]int, len(all))
	sizes, h := make(size.Sizes, len(all)), &heat.Result{Wires: make([]heat.WireResult, len(all))}
	for k, i := range all {
		at[i], sizes[k], h.Wires[k] = k, o.Sizes[i], o.Heat.Wires[i]
	}
	for _, u := range g.nt.Uses {
		var own []int
		for _, i := range u.Wires {
			if k, ok := at[i]; ok {
				own = append(own, k)
			}
		}
		if own != nil {
			nt.Uses = append(nt.Uses, net.Use{Device: u.Device, Pin: u.Pin, Wires: own})
		}
	}
	cases := make([]*solve.CaseResult, len(g.job.Cases))
	solve.Each(len(cases), func(n int) {
		temps := make([]unit.Temperature, len(all))
		for k, i := range all {
			temps[k] = g.temps[n][i]
		}
		cases[n] = solve.Case(job, nt, sizes, temps, g.job.Cases[n])
	})
	warm := beside{heat.NewThermal(g.job, g.nt, o.Sizes, o.Cases, o.Duty), all}
	return look{protect.FindPart(job, nt, sizes, cases, h, warm), all}
}

// beside is how the wires of a part warm amid all others.
type beside struct {
	*heat.Thermal
	wires []int
}

func (b beside) Steady(wire int) unit.Temperature { return b.Thermal.Steady(b.wires[wire]) }

func (b beside) Sustained(wire int, limit unit.Temperature) unit.Current {
	return b.Thermal.Sustained(b.wires[wire], limit)
}

func (b beside) After(wire int, amps unit.Current, d unit.Time) unit.Temperature {
	return b.Thermal.After(b.wires[wire], amps, d)
}

func (b beside) Lasts(wire int, amps unit.Current, limit unit.Temperature) (d unit.Time, ok bool) {
	return b.Thermal.Lasts(b.wires[wire], amps, limit)
}

// cheapest is the wire of a loop that takes most resistance out of it per volume of copper; -1 where none can grow.
func (g *grower) cheapest(sizes size.Sizes, loop []int) int {
	best, most := -1, 0.0
	for _, i := range loop {
		if g.ladders[i] == nil || g.strands[i][0] != i {
			continue
		}
		step := g.room(i, sizes[i].Size)
		if step < 0 {
			continue
		}
		up := &g.ladders[i][step]
		length := max(g.nt.Wires[i].Copper, g.nt.Wires[i].Length)
		gain := float64(sizes[i].Resistance.Over(length) - up.Resistance.Over(length))
		copper := float64(up.Size.Area()-sizes[i].Size.Area()) * float64(length) * float64(len(g.strands[i]))
		if copper > 0 && unit.Worse(gain/copper, most) {
			best, most = i, gain/copper
		}
	}
	return best
}
