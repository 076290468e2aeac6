package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var supplySpread = &Rule{
	Key: "supply-spread", Title: "no case takes a supply at the ends of its spread", Severity: diag.Finding,
	Why:     "Volts of a supply are solved as they stand in each case, not over their spread: low ones starve a load, high ones heat a lamp's wire.",
	Formula: "some case has the supply at or below its low volts, and some case at or above its high ones",
	Source:  "worst case of a stated spread",
	Do:      "Write two cases, `supply battery at` its low and its high volts, or take the spread out.",
	Fires:   with(smallJob, "supply 12.6 V inside 10 mohm most 200 A from cell to neg", "supply 12.6 V inside 10 mohm most 200 A from cell to neg low 11.8 V high 13 V"),
	Silent: with(smallJob, "supply 12.6 V inside 10 mohm most 200 A from cell to neg", "supply 12.6 V inside 10 mohm most 200 A from cell to neg low 11.8 V high 13 V",
		"case on { supply battery }", "case low { supply battery at 11.8 V }\ncase high { supply battery at 13 V }"),
	Check: func(m *Model, out *diag.List) {
		for _, dev := range m.Job.Devices {
			for i := range dev.Supplies {
				f := dev.Supplies[i].Volts
				if dev.Pattern || !f.Given || !(f.Low < f.High) {
					continue
				}
				low, high := false, false
				for _, c := range m.Job.Cases {
					if v, ok := setPoint(c, dev.Name, f); ok {
						low, high = low || v <= f.Low, high || v >= f.High
					}
				}
				if low && high {
					continue
				}
				out.Finding(own(m.Job, dev.Name, dev.Supplies[i].Span), "", fmt.Sprintf("%s may stand at %s to %s, and no cases take it at both", dev.Name, f.Low, f.High), fmt.Sprintf("Write a case with `supply %s at %s` and one with `supply %s at %s`, or take the spread out.", dev.Name, f.Low, dev.Name, f.High),
					diag.Subject{Kind: "device", Name: dev.Name})
			}
		}
	},
}

// setPoint is the volts of a supply in a case that lists it.
func setPoint(c *design.Case, device string, f design.Fact[unit.Voltage]) (unit.Voltage, bool) {
	for _, s := range c.Supplies {
		if s.Device == device {
			return s.At.Or(f.Nominal), true
		}
	}
	return 0, false
}
