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
func (s site) strike(f *solve.Faults) (fault solve.Fault, leaves, returns int) {
	if s.load < 0 {
		return f.Between(s.from, s.to, s.through), s.from, s.to
	}
	fault = f.AtLoad(s.load)
	if s.load < len(fault.Point.Amps) && fault.Point.Amps[s.load] < 0 {
		return fault, s.to, s.from
	}
	return fault, s.from, s.to
}

// goOn follows a short that goes on after some fuses on its way have opened: of two sources, each behind a fuse of its own, the second may give
// too little at first and enough alone. Each stage begins when all fuses of the one before have opened for certain; nothing is credited to what a fuse
// has warmed up by then.
func (g *weigher) goOn(t *trial, f *solve.Faults, at site, fl *flow) {
	var gone []int
	first := 0.0
	for _, i := range fl.live {
		if o, ok := fl.opens[i]; ok && !math.IsInf(o, 1) {
			gone = append(gone, i)
			first = max(first, o)
		}
	}
	if len(gone) == 0 {
		return
	}
	next, _ := g.try(g.without(f, gone), at, t.Short)
	if next.Amps > leastShort && next.Clears == Never && !next.Met {
		return
	}
	t.Clears = next.Clears
	if next.Clears != Never || !(next.Amps > leastShort) {
		t.Clears += unit.Time(first)
	}
	for i := range t.Fuses {
		for _, c := range next.Fuses {
			if c.Fuse == t.Fuses[i].Fuse && c.Latest != Never {
				c.Latest += unit.Time(first)
				t.Fuses[i] = c
			}
		}
	}
	slices.SortStableFunc(t.Fuses, func(a, b Clearing) int { return sooner(a.Latest, b.Latest) })
	g.join(t, &next, unit.Time(first))
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

// join adds what a later stage does to each wire to what the first one does, which lasts no longer than first.
func (g *weigher) join(t, next *trial, first unit.Time) {
	heats := t.heats
	t.heats, t.used, t.Hot, t.Met = nil, 0, -1, true
	for _, h := range heats {
		amps, d := h.Amps, h.Latest
		if d == Never || d > first {
			d = first
		}
		for _, n := range next.heats {
			if n.wire != h.wire {
				continue
			}
			amps = max(amps, n.Amps)
			if n.Latest == Never {
				d = Never
			} else {
				d += n.Latest
			}
		}
		x, used := g.heat(h.wire, amps, d)
		t.Met = t.Met && x.Met
		if used > t.used {
			t.used, t.Hot, t.Worst = used, h.wire, x
		}
		t.heats = append(t.heats, wireHeat{x, h.wire, used})
	}
}
