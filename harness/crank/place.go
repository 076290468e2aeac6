package crank

import (
	"slices"

	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// places is what is watched: the starter, every coil on whose contact its way depends, what each control unit draws, and every other load
// that is fed and has a limit on its volts. Control units and loads by device.
func (w *work) places(r *solve.CaseResult, motor *solve.LoadResult) []Place {
	var out []Place
	seen := map[loadKey]bool{}
	put := func(l *solve.LoadResult, role string) {
		if l == nil || seen[keyOf(l)] {
			return
		}
		seen[keyOf(l)] = true
		out = append(out, w.place(r, l, role))
	}
	put(motor, Starter)
	moving := w.coils(r, motor)
	for i, l := range moving {
		role := RelayCoil
		if l.Device == motor.Device || i == 0 && !slices.ContainsFunc(moving, func(o *solve.LoadResult) bool { return o.Device == motor.Device }) {
			role = Solenoid
		}
		put(l, role)
	}
	units := map[string]bool{}
	for i := range r.Supplies {
		if s := &r.Supplies[i]; s.Follows && s.Live {
			units[s.Device] = true
		}
	}
	for i := range r.Loads {
		l := &r.Loads[i]
		if !l.Fed || l.Rests || !units[l.Device] || l.Coil || units[l.Supply] {
			continue
		}
		if w.limited(r, l) || !w.limitedOther(r, l) && first(r, l) {
			put(l, ControlUnit)
		}
	}
	for i := range r.Loads {
		if l := &r.Loads[i]; l.Fed && !l.Rests && w.limited(r, l) {
			put(l, OtherLoad)
		}
	}
	return out
}

func (w *work) place(r *solve.CaseResult, l *solve.LoadResult, role string) Place {
	p := Place{Device: l.Device, Index: l.Index, Coil: l.Coil, Role: role}
	p.Least, p.From = limits(fit.Limits(w.job, w.nt, r, l))
	p.LeastDip, p.FromDip = limits(fit.StartLimits(w.job, w.nt, r, l, l))
	if !l.Coil {
		return p
	}
	for i := range r.Relays {
		x := &r.Relays[i]
		if x.Device != l.Device || x.Coil != l.Index || !x.On {
			continue
		}
		from := "drop-out, under which it lets go"
		if x.Assumed {
			from = "drop-out, a share of its volts from memory, under which it lets go"
		}
		if unit.Worse(x.DropOut, p.Least) {
			p.Least, p.From = x.DropOut, from
		}
		if unit.Worse(x.DropOut, p.LeastDip) {
			p.LeastDip, p.FromDip = x.DropOut, from
		}
	}
	return p
}

// limited tells whether anything says how many volts a load must have.
func (w *work) limited(r *solve.CaseResult, l *solve.LoadResult) bool {
	a, _ := limits(fit.Limits(w.job, w.nt, r, l))
	b, _ := limits(fit.StartLimits(w.job, w.nt, r, l, l))
	return a > 0 || b > 0
}

// limitedOther tells whether another draw of the same device has a limit.
func (w *work) limitedOther(r *solve.CaseResult, l *solve.LoadResult) bool {
	for i := range r.Loads {
		if o := &r.Loads[i]; o.Device == l.Device && o != l && !o.Coil && o.Fed && w.limited(r, o) {
			return true
		}
	}
	return false
}

// first tells whether a load is the first draw of its device that is fed.
func first(r *solve.CaseResult, l *solve.LoadResult) bool {
	for i := range r.Loads {
		if o := &r.Loads[i]; o.Device == l.Device && !o.Coil && o.Fed {
			return o == l
		}
	}
	return false
}

// coils is every coil that moves a contact on the way of a load, and then those on whose contacts these coils' own ways depend; nearest first.
func (w *work) coils(r *solve.CaseResult, l *solve.LoadResult) []*solve.LoadResult {
	var out []*solve.LoadResult
	seen := map[loadKey]bool{}
	todo := []*solve.LoadResult{l}
	for len(todo) > 0 {
		from := todo[0]
		todo = todo[1:]
		feed := slices.Clone(from.Feed)
		slices.Reverse(feed)
		for _, way := range [2][]solve.Step{feed, from.Return} {
			for _, s := range way {
				e := &r.Net.Elements[s.Element]
				if e.Kind != solve.Switch {
					continue
				}
				for i := range r.Relays {
					x := &r.Relays[i]
					if x.Device != e.Device || !x.On || !w.moves(x, e) {
						continue
					}
					k := loadKey{x.Device, x.Coil, true}
					if c := load(r.Loads, k); c != nil && !seen[k] {
						seen[k] = true
						out = append(out, c)
						todo = append(todo, c)
					}
				}
			}
		}
	}
	return out
}

// moves tells whether a closed contact is of the state that a coil moves.
func (w *work) moves(x *solve.RelayResult, e *solve.Element) bool {
	d := w.device(e.Device)
	return d != nil && e.Index >= 0 && e.Index < len(d.States) && d.States[e.Index].StateRef.String() == x.State
}
