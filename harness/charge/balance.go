package charge

import (
	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// hair is the share by which rounding may pass a limit, trickle the current below which a battery lasts for ever.
const (
	hair    = 1e-9
	trickle = 1e-9
)

// balances weighs each battery that states what it stores in each case in which it lives.
func (w *work) balances(cases []*solve.CaseResult) (out []Balance) {
	for _, r := range cases {
		c := w.find(r.Case)
		if c == nil {
			continue
		}
		var over *spells
		for _, b := range w.batteries {
			s := &b.Device.Supplies[b.Index]
			if !s.Stores.Given || !live(r, b) {
				continue
			}
			if over == nil {
				over = w.over(c, c.For)
			}
			x := Balance{Case: c.Name, Device: b.Device.Name, Index: b.Index, Hours: c.For, Stores: s.Stores.Nominal, Span: s.Span}
			x.Share, x.Ruling = w.share(b, c.Name)
			x.Amps, x.Spells = over.supply(b.Device.Name, b.Index)
			x.Used = x.Amps.Over(x.Hours)
			x.Usable = usable(x.Stores, x.Share)
			x.Lasts = lasts(x.Usable, x.Amps)
			x.Met = x.Used <= x.Usable*(1+hair)
			out = append(out, x)
		}
	}
	return out
}

func live(r *solve.CaseResult, b design.SupplyRef) bool {
	for _, s := range r.Supplies {
		if s.Device == b.Device.Name && s.Index == b.Index {
			return s.Live
		}
	}
	return false
}

func (w *work) share(b design.SupplyRef, c string) (unit.Ratio, design.Ruling) {
	r := w.job.Settings.Get("battery-share", scope(b.Device, c))
	return unit.Ratio(r.Value.Quantity.Value), r
}

func scope(d *design.Device, c string) design.Scope {
	return design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section, Case: c}
}

func usable(stores unit.Charge, share unit.Ratio) unit.Charge {
	return unit.Charge(float64(stores) * min(max(float64(share), 0), 1))
}

// lasts is how long a battery gives a current until what may be used is gone; 0 when it gives none.
func lasts(c unit.Charge, amps unit.Current) unit.Time {
	if !(amps > trickle) {
		return 0
	}
	return unit.Time(float64(c) / float64(amps) * 3600)
}

func (w *work) find(name string) *design.Case {
	for _, c := range w.job.Cases {
		if c.Name == name {
			return c
		}
	}
	return nil
}

func current(r design.Ruling) unit.Current { return unit.Current(r.Value.Quantity.Value) }
