package free

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// losses is what loads lose with a step in the districts it touches: each by the worst that happens to it in any case. Where a case is left without
// any supply nothing is told of it: all is off there. Steps that lose the same share the list.
func (p *part) losses(touched []int, before, after *snap) []Loss {
	key := before.key(after, touched)
	all, ok := before.g.told[key]
	if !ok {
		all = before.losses(touched, after)
		before.g.told[key] = all
	}
	return all
}

func (before *snap) losses(touched []int, after *snap) (out []Loss) {
	g := before.g
	f := g.f
	change := unit.Ratio(f.job.Settings.Get("undone-volts", design.Scope{}).Value.Quantity.Value)
	type loaded struct {
		device string
		coil   bool
		index  int
	}
	at := map[loaded]int{}
	for c := range g.cases {
		if !before.alive[c] || !after.alive[c] {
			continue
		}
		for _, d := range touched {
			base, was, now := g.solved[position{d, c, ""}], before.view(d, c), after.view(d, c)
			if base == nil || was == nil || now == nil || len(now.Loads) != len(base.Loads) {
				continue
			}
			for i := range now.Loads {
				kind, by := now.judge(f, base, i, change)
				old, _ := was.judge(f, base, i, change)
				if kind == none || kind == old || kind == Off && old != none {
					continue
				}
				l := f.loss(kind, by, now, was, base, i, g.cases[c].Name)
				key := loaded{l.Device, l.Coil, l.Index}
				k, seen := at[key]
				if !seen {
					at[key] = len(out)
					out = append(out, l)
					continue
				}
				if o := &out[k]; l.Kind < o.Kind || l.Kind == o.Kind && l.Kind <= Wakes && magnitude(l.Amps) > magnitude(o.Amps)*(1+1e-9) {
					out[k] = l
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b Loss) int {
		return cmp.Or(cmp.Compare(a.Kind, b.Kind), design.Natural(a.Device, b.Device), cmp.Compare(a.Index, b.Index))
	})
	return out
}

func (f *finder) loss(kind LossKind, by string, now, was, base *view, i int, name string) Loss {
	x, o := &now.Loads[i], &was.Loads[i]
	l := Loss{Kind: kind, Device: x.Device, Index: x.Index, Coil: x.Coil, Load: f.loadText(x), InCase: name, By: by,
		Volts: x.Volts, Was: o.Volts, Amps: x.Amps, WasAmps: o.Amps, Span: x.Span}
	if kind == Off && x.Coil && let(was, now, x) {
		l.Kind = Relay
	}
	switch l.Kind {
	case Backward:
		way := ""
		if by != "" {
			way = " through " + by
		}
		l.Text = fmt.Sprintf("%s gets %s the wrong way round%s, %s across it.", l.Load, magnitude(l.Amps), way, magnitude(l.Volts))
	case Through:
		l.Text = fmt.Sprintf("%s gets %s through %s, %s across it (before: %s).", l.Load, magnitude(l.Amps), by, magnitude(l.Volts), magnitude(l.Was))
	case Risen:
		l.Text = fmt.Sprintf("%s gets %s (before: %s).", l.Load, magnitude(l.Volts), magnitude(l.Was))
	case Earth:
		l.Text = fmt.Sprintf("%s keeps its feed from %s at %s, but its return from %s is gone.", l.Load, by, x.From, x.To)
		if o.Amps < 0 {
			l.Text = fmt.Sprintf("%s keeps its feed from %s at %s, but its return from %s is gone.", l.Load, by, x.To, x.From)
		}
	case Wakes:
		l.Text = fmt.Sprintf("%s comes on: %s, %s across it.", l.Load, magnitude(l.Amps), magnitude(l.Volts))
	case Weak:
		l.Text = fmt.Sprintf("%s gets %s only (before: %s).", l.Load, magnitude(l.Volts), magnitude(l.Was))
	case Relay:
		l.Text = fmt.Sprintf("%s lets go.", l.Load)
	default:
		l.Text = fmt.Sprintf("%s is off.", l.Load)
		if switched(base, base.Loads[i].Return) && now.hangs(i) >= 0 {
			l.Switched = true
			l.Text = fmt.Sprintf("%s is off: its switched return is gone.", l.Load)
		}
	}
	return l
}

// let tells whether the relay of a coil was on and is off now.
func let(was, now *view, l *solve.LoadResult) bool {
	on := func(v *view) bool {
		return slices.ContainsFunc(v.Relays, func(r solve.RelayResult) bool { return r.Device == l.Device && r.Coil == l.Index && r.On })
	}
	return on(was) && !on(now)
}

// loadText names a load: its device, and where that has several its ends.
func (f *finder) loadText(l *solve.LoadResult) string {
	d := f.devices[l.Device]
	switch {
	case d == nil:
		return l.Device
	case l.Coil && len(d.Coils) == 1 && len(d.Draws) == 0:
		return "relay " + l.Device
	case l.Coil:
		s := "the coil"
		if l.Index < len(d.Coils) && d.Coils[l.Index].Moves.State != "" {
			s += " of " + d.Coils[l.Index].Moves.String()
		}
		return s + " in " + l.Device
	case len(d.Draws) == 1:
		return l.Device
	}
	return fmt.Sprintf("%s, %s to %s,", l.Device, l.From, l.To)
}
