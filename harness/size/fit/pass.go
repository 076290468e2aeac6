package fit

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// SmallestThatPasses is the smallest size of a wire's family, from its present one up, with which the wire would be met on heat at
// the currents of the outcome, and with which the limits on volts that this wire alone can mend would be met by the linear estimate.
// Parallel wires change with it. size-most does not bound it. Duty may be left out of the
// outcome, and nothing else but Idle, Beyond and Rounds. ok is false when no size of the family will do, or none is known.
func SmallestThatPasses(job *design.Job, o *Outcome, wire int) (s unit.Size, ok bool) {
	if wire < 0 || wire >= len(o.Sizes) || !o.Sizes[wire].Known || o.Sizes[wire].Why == size.ByCable {
		return s, false
	}
	ladder := size.WholeLadder(job, o.Net, &o.Net.Wires[wire])
	now := &o.Sizes[wire]
	var wires []int
	w := &o.Net.Wires[wire]
	for i := range o.Net.Wires {
		x := &o.Net.Wires[i]
		if i == wire || w.Link >= 0 && x.Circuit == w.Circuit && x.Link == w.Link && x.Piece == w.Piece && x.Kind == w.Kind && o.Sizes[i].Size == now.Size {
			wires = append(wires, i)
		}
	}
	with := func(c size.Conductor) size.Sizes {
		out := slices.Clone(o.Sizes)
		for _, i := range wires {
			out[i] = c
		}
		return out
	}
	if len(ladder) == 0 {
		return s, false
	}
	duty := o.Duty
	if duty == nil {
		duty = dutyAll(job, o.Cases)
	}
	v := &volts{grower: &grower{job: job, nt: o.Net}, solved: o.Sizes, temps: o.Heat.Temps, cases: o.Cases}
	largest := with(ladder[len(ladder)-1])
	var asks []ask
	for _, a := range v.asks(1, false) {
		if a.slope[wire] > 0 && v.left(&a, largest) <= hair {
			asks = append(asks, a)
		}
	}
	for _, c := range ladder {
		if c.Size.Less(now.Size) {
			continue
		}
		sizes, passes := with(c), true
		for i := range asks {
			passes = passes && v.left(&asks[i], sizes) <= hair
		}
		if !passes {
			continue
		}
		h := heat.Solve(job, o.Net, sizes, o.Cases, duty)
		for _, i := range wires {
			passes = passes && h.Wires[i].Met
		}
		if passes {
			return c.Size, true
		}
	}
	return s, false
}
