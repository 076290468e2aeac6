package reviewbook

import (
	"math"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// supplies is how each supply and each relay stands in each case.
func (b *book) supplies(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Supplies and relays")
	if len(b.in.Cases) == 0 {
		fl.Say(prose, "The job has no case, so nothing was solved.")
		return
	}
	fl.Heading(2, "Supplies in each case")
	t := table.New(typed([]table.Column{{Title: "Supply", Type: bold, Weight: 2, Min: 30}, {Title: "Volts at its terminals", Align: page.Right, Min: 26}, {Title: "Amps it delivers", Align: page.Right, Min: 24},
		{Title: "How it stands", Weight: 3, Min: 40}}, plain)...)
	t.RowHeight, t.Close = 5, true
	for _, c := range b.in.Cases {
		t.Sub("Case " + c.Case)
		for i := range c.Supplies {
			s := &c.Supplies[i]
			t.Row(table.T(b.supplyName(s)), table.T(volts(s.Volts)), table.T(amps(s.Amps)), table.T(supplyWords(s)))
		}
		if len(c.Supplies) == 0 {
			t.Row(table.T("no supply"))
		}
		t.Note(balance(c))
	}
	fl.Add(t)
	b.relays(fl)
}

func (b *book) supplyName(s *solve.SupplyResult) string {
	d := b.device(s.Device)
	if d == nil || len(d.Supplies) < 2 || s.Index < 0 || s.Index >= len(d.Supplies) {
		return s.Device
	}
	x := &d.Supplies[s.Index]
	return s.Device + " " + x.From.Pin + " - " + x.To.Pin
}

func supplyWords(s *solve.SupplyResult) string {
	out := "live"
	switch {
	case !s.Live && s.Follows:
		out = "not live: it follows what its own device draws, and that is not fed"
	case !s.Live:
		out = "not connected in this case"
	case s.Limited:
		out = "AT ITS CURRENT LIMIT: more is asked than it gives"
	case s.Idle:
		out = "idle: another supply holds the volts above its own"
	case s.Follows:
		out = "live: it follows what its own device draws"
	case s.Amps < 0:
		out = "live; current runs into it"
	}
	return out
}

// balance says how well the currents of a case add up.
func balance(c *solve.CaseResult) string {
	if !c.Point.Converged {
		return "This case has NO SOLUTION that holds: its figures are where the search ended."
	}
	r := math.Abs(float64(c.Point.Residual))
	if r < 1e-6 {
		return "Currents add up at every joint to within 0.000001 A."
	}
	return "Currents add up at every joint to within " + fixed(r, 6) + " A."
}

func (b *book) relays(fl *page.Flow) {
	fl.Heading(2, "Relays and contactors in each case")
	t := table.New(typed([]table.Column{{Title: "Coil moves", Type: bold, Weight: 2, Min: 30}, {Title: "Volts at the coil", Align: page.Right}, {Title: "Pulls in at V", Align: page.Right},
		{Title: "Drops out at V", Align: page.Right}, {Title: "Stands", Type: bold}, {Title: "Remarks", Weight: 3, Min: 40}}, plain)...)
	t.RowHeight, t.Close = 5, true
	for _, c := range b.in.Cases {
		if len(c.Relays) == 0 {
			continue
		}
		t.Sub("Case " + c.Case)
		for i := range c.Relays {
			r := &c.Relays[i]
			stands := "off"
			if r.On {
				stands = "on"
			}
			name := r.Device
			if r.State != "" {
				name += " " + r.State
			}
			t.Row(table.T(name), table.T(volts(r.Volts)), table.T(pull(r.PullIn)), table.T(pull(r.DropOut)), table.T(stands), table.T(relayWords(r)+worstCoil(c, r)))
		}
	}
	if t.Len() == 0 {
		fl.Say(prose, "The job has no coil that moves a contact.")
		return
	}
	fl.Add(t)
}

// worstCoil is the volts at a coil where they are least, at the ends of what has a spread.
func worstCoil(c *solve.CaseResult, r *solve.RelayResult) string {
	for i := range c.Loads {
		if l := &c.Loads[i]; l.Coil && l.Device == r.Device && l.Index == r.Coil && l.Fed {
			if k := c.Corner(i, solve.LeastVolts); k != nil && len(k.Moved) > 0 {
				return "; at worst " + volts(k.Got) + " V"
			}
		}
	}
	return ""
}

func pull(v unit.Voltage) string {
	if !(v > 0) {
		return "–"
	}
	return volts(v)
}

func relayWords(r *solve.RelayResult) string {
	var out []string
	if r.Stated {
		out = append(out, "stated by the case")
	}
	if r.Against {
		out = append(out, "THE COIL DISAGREES")
	}
	if r.Hunts {
		out = append(out, "HUNTS: neither on nor off is steady")
	}
	if r.Assumed {
		out = append(out, "pull-in or drop-out is not stated: a share of its volts, from memory")
	}
	if len(out) == 0 {
		return "follows its coil"
	}
	return list(out)
}
