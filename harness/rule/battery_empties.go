package rule

import (
	"fmt"

	"loomsheet/harness/charge"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var batteryEmpties = &Rule{
	Key: "battery-empties", Title: "a battery empties in a case", Severity: diag.Finding,
	Why:     "A boat on its anchor light and a car on its parking lights do not start again; a lead-acid battery emptied past half does not last.",
	Formula: "mean amps the battery delivers x hours of the case <= battery-share x what it stores; loads that work on and off by their share of time, none left out that the case does not rest",
	Source:  "the setting `battery-share`; the battery's own `stores`",
	Do:      "Rest a load in the case, shorten the case, or fit a larger battery or alternator.",
	Fires:   with(storing, "case on {", "case on for 8 h {"),
	Silent:  with(storing, "case on {", "case on for 5 h {"),
	Check: func(m *Model, out *diag.List) {
		if m.Charge == nil {
			return
		}
		for i := range m.Charge.Balances {
			b := &m.Charge.Balances[i]
			if b.Hours <= 0 || b.Met {
				continue
			}
			d := out.Finding(own(m, b.Device, b.Span), "", fmt.Sprintf("%s gives %s in case %s, at most %s", b.Device, b.Used, b.Case, b.Usable),
				balanceWords(b), diag.Subject{Kind: "device", Name: b.Device}).
				Measured(unit.Quantity{Value: float64(b.Used), Dim: unit.DimCharge}, unit.Quantity{Value: float64(b.Usable), Dim: unit.DimCharge}, false)
			d.Case = b.Case
			if b.Ruling.Set {
				d.Point(b.Ruling.Span, "the limit is set here")
			}
		}
	},
}

// A small job whose battery says what it stores; a switch keeps it from being drained while parked.
var storing = with(smallJob, "most 200 A", "most 200 A stores 25 Ah", "as resistance from 1 to 2", "from 1 to 2",
	"circuit feed from battery.pos to lamp.1 colour red", "device switch at hub housing sealed-2 { state on joins 1, 2 }\ncircuit feed from battery.pos to switch.1 colour red\ncircuit lit from switch.2 to lamp.1 colour red",
	"case on { supply battery }", "case on {\n  supply battery\n  set switch to on\n}")

// hours is a time as one speaks of a battery's.
func hours(t unit.Time) string { return unit.Number(float64(t)/3600, 2) + " h" }

func balanceWords(b *charge.Balance) string {
	s := fmt.Sprintf("%s on average over %s; %s of the %s it stores may be used (%s), and that lasts %s.", b.Amps, hours(b.Hours), b.Share, b.Stores, b.Ruling.Source(), hours(b.Lasts))
	if len(b.Spells) > 1 {
		s += fmt.Sprintf(" From %s with everything on to %s with all that works on and off at rest.", b.Spells[0].Amps, b.Spells[len(b.Spells)-1].Amps)
	}
	return s
}
