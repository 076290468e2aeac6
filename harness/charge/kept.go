package charge

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// group is one set of states of a device.
type group struct{ device, name string }

// kept looks, in each case in which a battery lives beside another supply, for an isolator: a switch that, opened with the batteries alone
// connected, leaves no more fed than all switches off leave. Then it is opened with everything connected. What runs on then, and would
// have stopped without the other supply, that supply keeps alive.
//
// A relay that a case states falls off here when its coil is left below drop-out. An alternator is taken to go on by itself once its
// battery is gone, which most do.
func (w *work) kept(cases []*solve.CaseResult, p *standing) (out []KeptAlive) {
	for _, r := range cases {
		c := w.find(r.Case)
		if c == nil {
			continue
		}
		others := w.others(r)
		battery := false
		for _, b := range w.batteries {
			battery = battery || live(r, b)
		}
		if !battery || len(others) == 0 {
			continue
		}
		alone := w.alone(c)
		closed := w.solve(w.job, alone)
		if within(fedKeys(closed), p.fed) {
			continue // nothing that a switch could cut off
		}
		for _, g := range w.carrying(c, closed) {
			if opened := w.opened(alone, g); !within(fedKeys(opened), p.fed) {
				continue
			}
			if k, ok := w.runOn(r, c, g, p, others); ok {
				out = append(out, k)
			}
		}
	}
	return out
}

func within(a, b map[loadKey]bool) bool {
	for k := range a { // only whether, not which
		if !b[k] {
			return false
		}
	}
	return true
}

// others is the devices that supply in a case and are no battery: alternators and chargers, but not a control unit's own 5 volts.
func (w *work) others(r *solve.CaseResult) []string {
	var out []string
	for _, s := range r.Supplies {
		if s.Live && !s.Follows && !w.battery[supplyKey{s.Device, s.Index}] {
			out = append(out, s.Device)
		}
	}
	return sorted(out)
}

// alone is a case with its batteries connected and nothing else.
func (w *work) alone(c *design.Case) *design.Case {
	out := *c
	out.Supplies = nil
	for _, s := range c.Supplies {
		if w.device[s.Device] {
			out.Supplies = append(out.Supplies, s)
		}
	}
	return &out
}

// carrying is the sets of states that a case sets and that carry current in a point: to open another one changes nothing. A set that a
// coil moves is no switch: what feeds its coil is.
func (w *work) carrying(c *design.Case, r *solve.CaseResult) []group {
	moved := map[group]bool{}
	for i := range r.Relays {
		x := &r.Relays[i]
		moved[group{x.Device, groupOf(x.State)}] = true
	}
	live := map[group]bool{}
	for i, e := range r.Net.Elements {
		if a := r.Point.Amps[i]; e.Kind == solve.Switch && max(a, -a) > trickle {
			if d := w.named(e.Device); d != nil && e.Index < len(d.States) {
				live[group{e.Device, d.States[e.Index].Group}] = true
			}
		}
	}
	var out []group
	for _, s := range c.States {
		g := group{s.Device, s.Group}
		if s.State != "off" && live[g] && !moved[g] && !slices.Contains(out, g) {
			out = append(out, g)
		}
	}
	slices.SortFunc(out, func(a, b group) int {
		return cmp.Or(design.Natural(a.device, b.device), design.Natural(a.name, b.name))
	})
	return out
}

// groupOf is the set of a state as written: group.state or state.
func groupOf(state string) string {
	for i := range state {
		if state[i] == '.' {
			return state[:i]
		}
	}
	return ""
}

func (w *work) named(name string) *design.Device { return w.byName[name] }

// opened solves a case with one set of states off. A relay that the case states, and whose coil disagrees once the switch is open,
// follows its coil.
func (w *work) opened(c *design.Case, g group) *solve.CaseResult {
	k := *c
	k.States = nil
	for _, s := range c.States {
		if s.Device != g.device || s.Group != g.name {
			k.States = append(k.States, s)
		}
	}
	for {
		r := w.solve(w.job, &k)
		before := len(k.States)
		k.States = slices.DeleteFunc(slices.Clone(k.States), func(s design.CaseState) bool {
			return slices.ContainsFunc(r.Relays, func(x solve.RelayResult) bool {
				return x.Against && x.On && x.Device == s.Device && groupOf(x.State) == s.Group
			})
		})
		if len(k.States) == before {
			return r
		}
	}
}

// stopped lists the supplies that die with the switch: those whose own device draws (an alternator's field) and is no longer fed by half the
// volts its draw was measured at.
func (w *work) stopped(r *solve.CaseResult, others []string) []string {
	var out []string
	for _, name := range others {
		draws, fed := false, false
		for i := range r.Loads {
			if l := &r.Loads[i]; l.Device == name && !l.Coil {
				draws = true
				fed = fed || l.Fed && l.Volts >= l.At/2
			}
		}
		if draws && !fed {
			out = append(out, name)
		}
	}
	return out
}

// runOn is what other supplies keep alive with a switch opened. An alternator that draws its field current stops once that is not fed.
func (w *work) runOn(was *solve.CaseResult, c *design.Case, g group, p *standing, others []string) (KeptAlive, bool) {
	r := w.opened(c, g)
	for dead := w.stopped(r, others); len(dead) > 0; dead = w.stopped(r, others) {
		k := *c
		k.Off = append(slices.Clone(c.Off), dead...)
		c = &k
		others = slices.DeleteFunc(slices.Clone(others), func(n string) bool { return slices.Contains(dead, n) })
		r = w.opened(c, g)
	}
	fed := fedKeys(was)
	out := KeptAlive{Case: c.Name, Device: g.device, Group: g.name, Span: w.place(g)}
	for i := range r.Loads {
		l := &r.Loads[i]
		a := max(l.Amps, -l.Amps)
		if l.Fed && a > unit.Current(trickle) && fed[keyOf(l)] && !p.fed[keyOf(l)] && slices.Contains(others, l.Supply) {
			name := l.Device
			if l.Coil {
				name += " coil"
			}
			out.Loads = append(out.Loads, name)
			out.By = append(out.By, l.Supply)
		}
	}
	out.Loads, out.By = sorted(out.Loads), sorted(out.By)
	return out, len(out.Loads) > 0
}

// place is the line of the first state of a set that joins something.
func (w *work) place(g group) diag.Span {
	d := w.named(g.device)
	if d == nil {
		return diag.Span{}
	}
	for i := range d.States {
		if s := &d.States[i]; s.Group == g.name && s.State != "off" {
			return s.Span
		}
	}
	return d.Span
}
