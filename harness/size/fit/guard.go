package fit

import (
	"math"
	"slices"

	"loomsheet/harness/contact"
	"loomsheet/harness/heat"
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
	var p *protect.Look
	var ends []contact.EndResult
	solve.Each(2, func(k int) {
		if k == 1 {
			ends = contact.Find(g.job, g.nt, o.Sizes, o.Cases).Ends
			return
		}
		o.Heat = g.kept.Tell(o.Sizes)
		p = g.protection(o)
	})
	var thin []int
	for _, n := range p.Needs() {
		if !n.Loop {
			lift(n.Wire, short(&p.Wires[n.Wire]), size.ByProtection)
			thin = append(thin, n.Wire)
		}
	}
	changed = g.back(o, p, out, thin) || changed
	g.onward(o, p, out, thin)
	for i := range p.Shorts {
		if s := &p.Shorts[i]; s.TooWeak() {
			lift(g.cheapest(out, s.Weak()), 1, size.ByProtection)
		}
	}
	for i := range ends {
		if e := &ends[i]; !e.Met && e.Wired > 0 && e.Wired < 1 {
			lift(e.Wire, float64(max(e.Amps, e.Shared)/max(e.Allowed, 1e-3)), size.ByRating)
		}
	}
	if !changed {
		o.Protect = p.Result
		return o.Sizes, false
	}
	p.Keep(g.sameSinceLook())
	g.fitter.Adjust(out)
	return out, true
}

// onward steps up the wires that would not bear what they were lifted for at the sizes they were lifted to, until each would: a look at the whole costs far
// more than one at these wires. By the next look at the whole currents are others, and it judges for certain; what went too far comes back then.
func (g *grower) onward(o *Outcome, p *protect.Look, out size.Sizes, thin []int) {
	for n := 0; n < mostSteps && len(thin) > 0; n++ {
		var still []int
		up := map[int]bool{}
		for k, bears := range p.Bears(out, g.thermal(o, out), thin) {
			i := thin[k]
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
func (g *grower) back(o *Outcome, p *protect.Look, out size.Sizes, thin []int) (any bool) {
	least := map[int]unit.Size{}
	var some []int
	for i := range g.leapt {
		if s := g.leapt[i]; !s.IsZero() {
			if g.leapt[i] = (unit.Size{}); !slices.Contains(thin, i) {
				some, least[i] = append(some, i), s
			}
		}
	}
	for len(some) > 0 {
		some = slices.DeleteFunc(some, func(i int) bool { return !least[i].Less(out[i].Size) })
		less, step := slices.Clone(out), make([]int, len(some))
		for n, i := range some {
			for step[n] = len(g.ladders[i]) - 1; step[n] > 0 && !g.ladders[i][step[n]].Size.Less(out[i].Size); {
				step[n]--
			}
			g.lift(less, i, step[n], size.ByProtection)
		}
		var still []int
		for n, bears := range p.Bears(less, g.thermal(o, less), some) {
			if i := some[n]; bears {
				any, g.returned[i] = true, true
				g.raise(out, i, step[n], size.ByProtection)
				still = append(still, i)
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

// thermal is how wires of such sizes warm past what the cases have them carry.
func (g *grower) thermal(o *Outcome, sizes size.Sizes) *heat.Thermal {
	return heat.NewThermal(g.job, g.nt, sizes, o.Cases, o.Duty)
}

// protection looks at the protection of the net. Where nothing changed since it was looked at last, that is taken over.
func (g *grower) protection(o *Outcome) *protect.Look {
	from := protect.Again{Laid: g.laid, Last: g.looked, Same: g.sameSinceLook()}
	g.looked = protect.FindAgain(g.job, g.nt, o.Sizes, o.Cases, o.Heat, o.Duty, from)
	g.lookedAt = g.kept.Asked()
	return g.looked
}

// sameSinceLook tells of a wire whether it, and all that heats it, is as it was when its protection was looked at last.
func (g *grower) sameSinceLook() func(wire int) bool {
	at := g.lookedAt
	return func(wire int) bool { return g.kept.Since(wire, at) }
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
