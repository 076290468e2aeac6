package reviewbook

import (
	"loomsheet/harness/crank"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// acrossMost is how many places stand side by side in a table of volts.
const acrossMost = 6

// cranking is the volts at the starter, its solenoid and each control unit over the battery's air and age.
func (b *book) cranking(fl *page.Flow) {
	if len(b.in.Cranking) == 0 {
		fl.Heading(2, "Cranking")
		fl.Say(prose, "In no case does a battery turn a starter: a draw with `start` that works once or for a minute at most (`on`).")
		return
	}
	for i := range b.in.Cranking {
		s := &b.in.Cranking[i]
		fl.Heading(2, "Cranking: "+s.Motor+" in case "+s.Case)
		cells := fixed(float64(s.Cells), 0)
		fl.Say(prose, "Volts of "+s.Battery+" = "+volts(s.Volts)+" V of the case + "+cells+" cells x "+fixed(float64(s.PerKelvin)*1000, 2)+" mV/K x (air - ("+degrees(s.Air)+" C)). Inside mohm = "+milliohms(s.Inside)+
			" of the case x cold x age. The case's own air is that of "+s.AirFrom+". Wires stay as warm as in the case, relays follow their coils."+besides(s))
		fl.Say(prose, "Source: "+s.Source+"."+unverified(s.Verified))
		b.conditions(fl, s)
		for from := 0; from < len(s.Places); from += acrossMost {
			b.across(fl, s, from, min(from+acrossMost, len(s.Places)))
		}
	}
}

func besides(s *crank.Sweep) string {
	if len(s.Besides) == 0 {
		return ""
	}
	return " As cold and as old get " + list(s.Besides) + ", each from its own figures."
}

func unverified(ok bool) string {
	if ok {
		return ""
	}
	return " Rows other than the case's own are UNVERIFIED: hold them against the battery maker's sheet."
}

func (b *book) conditions(fl *page.Flow, s *crank.Sweep) {
	t := table.New(typed([]table.Column{{Title: "Battery", Type: bold, Weight: 2, Min: 36}, {Title: "Volts at rest V", Align: page.Right}, {Title: "Cold x", Align: page.Right}, {Title: "Age x", Align: page.Right}, {Title: "Inside mohm", Align: page.Right},
		{Title: "Starter turns A", Align: page.Right}, {Title: "Starter starts A", Align: page.Right}, {Title: "Relays", Type: fine, Weight: 2, Min: 30}}, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	for i := range s.Rows {
		r := &s.Rows[i]
		turns, starts, relays := "does not turn", "–", "as in the case"
		if r.Turns {
			turns = amps(r.Amps)
		}
		if r.Start > 0 {
			starts = amps(r.Start)
		}
		if !r.Relays {
			relays = "LET GO: " + list(r.Lets)
		}
		t.Row(table.T(battery(r)), table.T(volts(r.Volts)), table.T(fixed(float64(r.Cold), 3)), table.T(fixed(float64(r.Worn), 2)), table.T(milliohms(r.Inside)), table.T(turns), table.T(starts), table.T(relays))
	}
	fl.Add(t)
}

func battery(r *crank.Row) string { return degrees(r.Air) + " C, " + r.Age }

// across is the volts at some places; under the volts while the starter turns those in the moment it starts.
func (b *book) across(fl *page.Flow, s *crank.Sweep, from, to int) {
	cols := []table.Column{{Title: "Battery", Type: bold, Min: 36}}
	for _, p := range s.Places[from:to] {
		cols = append(cols, table.Column{Title: b.placeName(&p), Align: page.Right, Min: 22})
	}
	t := table.New(typed(cols, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 5, 0, true
	least, dip := []table.Cell{table.T("at least V, turning")}, []table.Cell{small("starting")}
	for _, p := range s.Places[from:to] {
		least, dip = append(least, table.T(floor(p.Least))), append(dip, small(floor(p.LeastDip)))
	}
	t.Row(least...)
	t.More(dip...)
	for i := range s.Rows {
		r := &s.Rows[i]
		row, under := []table.Cell{table.T(battery(r))}, []table.Cell{small("while it starts")}
		for k := from; k < to && k < len(r.At); k++ {
			v := &r.At[k]
			text := volts(v.Steady)
			if !v.Fed {
				text = "not fed"
			}
			c, d := table.T(text), small("–")
			if !v.MetSteady {
				c = table.Cell{Text: text + "\n" + notMetWords, Type: alarm}
			}
			if v.Dip != 0 {
				d = small(volts(v.Dip))
			}
			if !v.MetDip {
				d = table.Cell{Text: d.Text + "\n" + notMetWords, Type: alarm}
			}
			row, under = append(row, c), append(under, d)
		}
		t.Row(row...)
		t.More(under...)
	}
	fl.Add(t)
	for _, p := range s.Places[from:to] {
		if p.Least > 0 && p.From != "" {
			words := b.placeName(&p) + ": at least " + volts(p.Least) + " V by " + p.From
			if p.FromDip != "" && (p.FromDip != p.From || p.LeastDip != p.Least) {
				words += "; " + volts(p.LeastDip) + " V while the starter starts by " + p.FromDip
			}
			fl.Say(fine, words+".")
		}
	}
}

func floor(v unit.Voltage) string {
	if v > 0 {
		return volts(v)
	}
	return "–"
}

// placeName is the device with its role, and its pins where several of its loads are watched.
func (b *book) placeName(p *crank.Place) string {
	name := p.Device
	if d := b.device(p.Device); d != nil && !p.Coil && len(d.Draws) > 1 && p.Index < len(d.Draws) {
		name += " " + d.Draws[p.Index].From.Pin
	}
	if p.Role == p.Device {
		return name
	}
	return name + " (" + p.Role + ")"
}
