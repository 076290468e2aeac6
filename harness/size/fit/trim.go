package fit

import (
	"math"
	"slices"

	"loomsheet/harness/heat"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// What a smaller wire must leave of its limits, since currents and temperatures move a little when it is taken: a degree, and a
// hundredth of the volts.
const (
	trimRoom  = 1.0
	trimShare = 0.01
)

// trim takes back what growing together made needless in parts that are quiet: each grown wire, the one with most copper to save first, is tried smaller
// at the currents of the outcome, but never below where growing began. What then proves short grows again in the rounds that
// follow; tried keeps what each wire was last cut to, so that one that grew again is left alone.
func (g *grower) trim(o *Outcome, sizes size.Sizes) (size.Sizes, bool) {
	here, any := make([]bool, len(g.parts.all)), false
	for k := range g.parts.all {
		x := &g.parts.all[k]
		if !x.quiet || x.trimmed {
			continue
		}
		x.trimmed, x.asleep = true, x.rested
		if x.trims < mostTrims && x.rounds < mostRounds/2 {
			x.trims++
			here[k] = true
		}
	}
	var order []int
	for i := range sizes {
		if here[g.parts.of[i]] && g.ladders[i] != nil && g.strands[i][0] == i && g.floor[i].Size.Less(sizes[i].Size) && (g.tried[i].IsZero() || !g.tried[i].Less(sizes[i].Size)) {
			order = append(order, i)
			any = true
		}
	}
	if !any {
		return sizes, false
	}
	out := slices.Clone(sizes)
	v := &volts{grower: g, solved: o.Sizes, temps: o.Heat.Temps, cases: o.Cases}
	asks := v.asks(1, true)
	asks = slices.DeleteFunc(asks, func(a ask) bool { return a.over > hair })
	on := make([][]int, len(out)) // asks by the wires they turn on
	for k := range asks {
		for n, i := range asks[k].wires {
			if asks[k].slope[n] != 0 {
				on[i] = append(on[i], k)
			}
		}
	}
	saved := func(i int) float64 {
		k := g.below(i, out[i], g.floor[i])
		return float64(out[i].Size.Area()-k.Size.Area()) * float64(g.nt.Wires[i].Length) * float64(len(g.strands[i]))
	}
	slices.SortStableFunc(order, func(a, b int) int { return unit.Compare(saved(b), saved(a)) })
	cut := false
	var before size.Sizes
	for _, i := range order {
		for g.floor[i].Size.Less(out[i].Size) {
			before = before[:0]
			for _, j := range g.strands[i] {
				before = append(before, out[j])
			}
			less := g.below(i, out[i], g.floor[i])
			for _, j := range g.strands[i] {
				out[j] = less
				out[j].Contacts, out[j].Fits = g.fitter.Contacts(j, &less)
			}
			if !v.allowed(o, before, out, asks, on[i], i) {
				for k, j := range g.strands[i] {
					out[j] = before[k]
				}
				break
			}
			g.tried[i], cut = out[i].Size, true
		}
	}
	return out, cut
}

// below is the conductor one step under c, of the floor where that is it.
func (g *grower) below(i int, c, floor size.Conductor) size.Conductor {
	best := floor
	for _, x := range g.ladders[i] {
		if x.Size.Less(c.Size) && floor.Size.Less(x.Size) {
			best = x
			best.Why = c.Why
		}
	}
	return best
}

// allowed tells whether everything that is met stays so when wire i and its parallel wires take the sizes in try, in place of those before.
func (v *volts) allowed(o *Outcome, before, try size.Sizes, asks []ask, on []int, i int) bool {
	for k, j := range v.strands[i] {
		if !try[j].Fits[0] && before[k].Fits[0] || !try[j].Fits[1] && before[k].Fits[1] {
			return false
		}
	}
	for _, k := range on {
		room := trimShare * math.Abs(float64(asks[k].value))
		if asks[k].floor {
			room = trimShare // of a volt: what is lost, not what is left, is what moves
		}
		if v.left(&asks[k], try) > hair-room {
			return false
		}
	}
	h := v.kept.JudgeAround(try, v.strands[i])
	for k := range h {
		x, was := &h[k], &o.Heat.Wires[h[k].Wire]
		if x.Known && was.Met && (!x.Met || x.Ruled == heat.Balance && x.Hottest > x.Limit-trimRoom && x.Hottest > was.Hottest) {
			return false
		}
	}
	return true
}
