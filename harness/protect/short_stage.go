package protect

import (
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// site is where a net is shorted: a load or coil by its element, else two nodes through a resistance.
type site struct {
	load     int // -1
	from, to int
	through  unit.Resistance
}

// strike shorts a net there, and tells where the current leaves it for the short and comes back.
func (s site) strike(f *solve.Faults) (fault solve.Strike, leaves, returns int) {
	if s.load < 0 {
		return f.Strike(s.from, s.to, s.through), s.from, s.to
	}
	if fault = f.StrikeLoad(s.load); !fault.Forward && fault.Amps > 0 {
		return fault, s.to, s.from
	}
	return fault, s.from, s.to
}

// goOn follows a short that goes on after the first fuses on its way have opened: of two sources, each behind a fuse of its own, the second may
// give too little at first and enough alone; an alternator's limit goes on flowing after the battery's fuse has opened. The next stage begins when the
// fuses that open first have opened for certain; nothing is credited to what the others have warmed up by then. A short that is cleared at the currents
// of its first stage is followed for what its wires bear, which is less.
func (g *weigher) goOn(t *trial, f *solve.Faults, at site, fl *flow) {
	gone, first := fl.soonest()
	if len(gone) == 0 || t.Clears != Never && t.Clears <= first {
		return
	}
	s := t.Short
	s.Fuses, s.Wires, s.Worst, s.On = nil, nil, ShortHeat{}, nil
	next, _ := g.try(g.without(f, gone), at, s)
	flows := next.Amps > leastShort
	if t.Clears != Never {
		if flows && next.Clears == Never {
			return
		}
		x := *t
		x.heats = g.join(t.heats, next.heats, first)
		x.sum()
		if unit.Worse(t.used, x.used) {
			*t = x
		}
		return
	}
	t.Limited = false
	switch {
	case !flows:
		t.Clears = first
	case next.Clears != Never:
		t.Clears = first + next.Clears
	default:
		t.Limited = next.Limited
		g.settle(&next)
		t.On = next.onward(first)
	}
	t.Fuses = later(t.Fuses, next.Fuses, first)
	for _, w := range next.Wires {
		if k, ok := slices.BinarySearch(t.Wires, w); !ok {
			t.Wires = slices.Insert(t.Wires, k, w)
		}
	}
	t.heats = g.join(t.heats, next.heats, first)
	t.sum()
}

// soonest is the fuses that open before all others, and when.
func (f *flow) soonest() (gone []int, first unit.Time) {
	least := math.Inf(1)
	for _, o := range f.opens {
		least = min(least, o)
	}
	if math.IsInf(least, 1) {
		return nil, Never
	}
	for k, i := range f.live {
		if f.opens[k] <= least*(1+1e-9) {
			gone = append(gone, i)
		}
	}
	return gone, unit.Time(least)
}

// onward is what flows for good in a short that nothing clears, seen from a stage before it.
func (t *trial) onward(first unit.Time) *Onward {
	if t.On != nil {
		o := *t.On
		o.After += first
		return &o
	}
	return &Onward{After: first, Amps: t.Amps, Source: t.Source, Fuses: t.Fuses, Wires: t.Wires, Met: t.Met, Hot: t.Hot, Worst: t.Worst}
}

// later puts together what is known of the fuses from a stage and from the next one, which begins after first: of two times the sooner holds, since a
// fuse's current does not fall when another source is cut.
func later(fuses, next []Clearing, first unit.Time) []Clearing {
	out := slices.Clone(fuses)
	for _, c := range next {
		if c.Latest != Never {
			c.Latest += first
		}
		k := slices.IndexFunc(out, func(x Clearing) bool { return x.Fuse == c.Fuse })
		switch {
		case k < 0:
			out = append(out, c)
		case out[k].Latest == Never || sooner(c.Latest, out[k].Latest) < 0:
			out[k] = c
		}
	}
	slices.SortStableFunc(out, func(a, b Clearing) int { return sooner(a.Latest, b.Latest) })
	return out
}

// without is a net with some fuses open; shorts at many places blow the same ones.
func (g *weigher) without(f *solve.Faults, gone []int) *solve.Faults {
	k := blown{f, fmt.Sprint(gone)}
	x, ok := g.blown[k]
	if !ok {
		x = f.Without(gone)
		g.blown[k] = x
	}
	return x
}

// blown is a net and the elements that are open in it.
type blown struct {
	f    *solve.Faults
	gone string
}

// join puts what a later stage does to each wire behind what the first one does, which lasts no longer than first.
func (g *weigher) join(heats, next []wireHeat, first unit.Time) []wireHeat {
	var out []wireHeat
	for _, h := range heats {
		steps := slices.Clone(h.steps)
		if sooner(first, steps[0].For) < 0 {
			steps[0].For = first
		}
		for _, n := range next {
			if n.wire == h.wire {
				steps = append(steps, n.steps...)
			}
		}
		out = append(out, g.bear(h.wire, steps, false))
	}
	for _, n := range next {
		if !slices.ContainsFunc(heats, func(h wireHeat) bool { return h.wire == n.wire }) {
			out = append(out, n)
		}
	}
	return out
}

// bear holds a wire against the currents it bears one after the other. What flows for good in the end it must stand for good, and be no hotter than it
// may before; told is the one that takes more of its room. fine is as in reaches.
func (g *weigher) bear(wire int, steps []Step, fine bool) wireHeat {
	last := steps[len(steps)-1]
	if len(steps) == 1 {
		h, used := g.heat(wire, last.Amps, last.For, fine)
		return wireHeat{h, wire, used, fine, steps}
	}
	if last.For != Never {
		h, used := g.surge(wire, steps, fine)
		return wireHeat{h, wire, used, fine, steps}
	}
	before := g.bear(wire, steps[:len(steps)-1], fine)
	h, used := g.heat(wire, last.Amps, Never, fine)
	met := h.Met && before.Met
	if unit.Worse(before.used, used) {
		h, used = before.ShortHeat, before.used
	}
	h.Met, h.Steps = met, steps
	return wireHeat{h, wire, used, fine, steps}
}

// surge heats a wire by currents one after the other, of which none flows for good. It takes the lowest of three figures, none of which it exceeds: all
// heat kept in the copper; the greatest current all the time; step by step from where the one before left it, as hot as without losses, or as where the
// current would bring it at rest, whichever is lower. A wire already hotter than that only cools. fine is as in reaches.
func (g *weigher) surge(wire int, steps []Step, fine bool) (h ShortHeat, used float64) {
	x := &g.wires[wire]
	h = ShortHeat{Stands: x.stands, Start: x.start, K: x.k, Area: x.area, Limit: x.short, Steps: steps}
	for _, s := range steps {
		h.Amps = max(h.Amps, s.Amps)
		h.Latest += s.For
		h.Energy += energyAt(1, s.Amps, s.For)
	}
	kept := x.adiabaticEnd(h.Energy)
	h.Reaches = kept
	if fine || h.Energy > x.stands {
		t, d := x.start, steps[0].For
		for _, s := range steps {
			from := *x
			from.start = t
			t = min(from.adiabaticEnd(energyAt(1, s.Amps, s.For)), max(t, g.warm.After(wire, s.Amps, d)))
			d = atRest
		}
		h.Reaches = min(kept, t, g.warm.After(wire, h.Amps, h.Latest))
	}
	h.Adiabatic = h.Reaches == kept
	used = float64(h.Reaches-x.start) / math.Max(float64(x.short-x.start), 1e-6)
	h.Met, h.Used = used <= 1+1e-9, unit.Ratio(used)
	return h, used
}
