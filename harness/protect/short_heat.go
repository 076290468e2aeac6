package protect

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// heat holds a wire against the current it bears for so long; used is the share of its room that takes, above 1 too much. fine is as in reaches.
func (g *weigher) heat(wire int, amps unit.Current, d unit.Time, fine bool) (h ShortHeat, used float64) {
	x := &g.wires[wire]
	h = ShortHeat{Amps: amps, Latest: d, Stands: x.stands, Start: x.start, K: x.k, Area: x.area}
	if d == Never {
		h.Limit, h.Sustained = x.over, g.sustained(wire)
		h.Met = float64(amps) <= float64(h.Sustained)*(1+1e-9)
		used = square(amps, h.Sustained)
		h.Used = unit.Ratio(used)
		return h, used
	}
	h.Limit = x.short
	h.Energy = energyAt(1, amps, d)
	kept := x.adiabaticEnd(h.Energy)
	h.Reaches, used = g.reaches(wire, amps, d, fine)
	h.Adiabatic = h.Reaches == kept
	h.Met, h.Used = used <= 1+1e-9, unit.Ratio(used)
	return h, used
}

// worse compares two shorts of one place and side: one that is not met, then the weakest by what clears last, the strongest by what heats a wire
// most. What differs by no more than rounding is no worse: of cases that are alike the first is told.
func (g *weigher) worse(t, than *trial) bool {
	if t.Met != than.Met {
		return !t.Met
	}
	if t.Strong {
		return g.hotter(t, than)
	}
	if a, b := float64(t.Clears), float64(than.Clears); differ(a, b) {
		return sooner(t.Clears, than.Clears) > 0
	}
	if a, b := float64(t.Amps), float64(than.Amps); differ(a, b) {
		return a < b
	}
	return g.hotter(t, than)
}

// hotter tells whether a short takes more of a wire's room than another. Neither takes more than it is known to take, so that what does not by that does not.
func (g *weigher) hotter(t, than *trial) bool {
	more := func() bool { return differ(t.used, than.used) && t.used > than.used }
	if g.settle(than); !more() {
		return false
	}
	g.settle(t)
	return more()
}

// differ tells two figures of one short apart from two roundings of one figure.
func differ(a, b float64) bool { return math.Abs(a-b) > sameTimes*max(math.Abs(a), math.Abs(b)) }

// grows tells whether a larger wire would help: not against a source with neither fuse nor limit.
func (s *Short) grows(h *ShortHeat) bool {
	if s.On != nil && h.Latest == Never {
		return len(s.On.Fuses) > 0 || s.Limited
	}
	return len(s.Fuses) > 0
}

// limitPast tells whether a wire does not carry the limit of a source that flows on in a short once its fuses have opened: a limit with no fuse
// protects a wire only where it carries that at its rating, not merely at what is borne in a fault.
func (r *Result) limitPast(w *WireResult) bool {
	s := &r.Shorts[w.Short.Short]
	if s.On == nil || !s.Limited || len(s.On.Fuses) > 0 || len(w.Open) == 0 {
		return false
	}
	return !slices.ContainsFunc(w.Open, func(x Source) bool { return !(x.Most > 0) })
}

// Need is a wire that a larger size would help.
type Need struct {
	Wire int
	Why  string
	Loop bool // it lies in a loop too weak to clear: any wire of the loop would do
}

// Unborne tells whether something flows for good, although fuses stand on the way, that some wire does not bear.
func (s *Short) Unborne() bool {
	return !s.Met && s.Clears == Never && len(s.Fuses) > 0 && (s.On == nil || !s.On.Met)
}

// TooWeak tells whether nothing clears the short although fuses stand on its way, for the loop is too weak. A source at its own limit gives no more
// through larger wires: those that do not bear it are to grow, not the loop.
func (s *Short) TooWeak() bool {
	return s.Unborne() && !s.Limited && (s.On == nil || len(s.On.Fuses) > 0)
}

// Weak is the wires of a loop that is too weak: of a short that goes on after fuses have opened, those on the way of what is left.
func (s *Short) Weak() []int {
	if s.On != nil {
		return s.On.Wires
	}
	return s.Wires
}

// Needs lists the wires to grow for what is not met, by wire: for heat the one that gets too hot; for a short that nothing clears all on its way, since
// the loop as a whole is what weakens it.
func (r *Result) Needs() []Need {
	var out []Need
	for i := range r.Wires {
		w := &r.Wires[i]
		switch {
		case w.Overload != nil && !w.Overload.Met:
			out = append(out, Need{w.Wire, "overload", false})
		case w.Short != nil && !w.Short.Met && r.Shorts[w.Short.Short].grows(w.Short):
			out = append(out, Need{w.Wire, "short", false})
		case len(w.By) > 0 && w.Short != nil && r.limitPast(w):
			out = append(out, Need{w.Wire, "source's limit", false})
		}
	}
	for i := range r.Shorts {
		s := &r.Shorts[i]
		if !s.TooWeak() {
			continue
		}
		for _, w := range s.Weak() {
			out = append(out, Need{w, "short too weak", true})
		}
	}
	slices.SortStableFunc(out, func(a, b Need) int { return cmp.Compare(a.Wire, b.Wire) })
	return slices.CompactFunc(out, func(a, b Need) bool { return a.Wire == b.Wire })
}
