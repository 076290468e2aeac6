package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var studCrowded = &Rule{
	Key: "stud-crowded", Title: "too many lugs on one stud", Severity: diag.Finding,
	Why:     "A stack of lugs loosens: the nut no longer finds thread, and the upper lugs carry through the lower ones.",
	Formula: "lugs on the stud <= studs-most",
	Source:  "AC 43.13-1B 11-149, from memory: four",
	Do:      "Use a bar, a second stud or a splice.",
	Fires:   with(smallJob, "case on", "set studs-most to 1\ncircuit x from battery.pos to clock.1\ncircuit y from battery.neg to clock.2\ndevice clock at hub housing sealed-2 { draw 1 A at 12 V from 1 to 2 }\ncase on"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		for _, u := range m.Net.Uses {
			dev := m.device(u.Device)
			stud := false
			var span diag.Span
			for _, p := range dev.Pins {
				if p.Name == u.Pin {
					stud, span = p.Stud != "", p.Span
				}
			}
			if !stud {
				continue
			}
			r := m.Job.Settings.Get("studs-most", design.Scope{Device: u.Device, Class: dev.Class})
			if float64(len(u.Wires)) <= r.Value.Quantity.Value {
				continue
			}
			detail := "On it:"
			for _, w := range u.Wires {
				detail += " " + m.Net.Wires[w].Name + ";"
			}
			out.Finding(own(m, u.Device, span), "", fmt.Sprintf("%d lugs on stud %s.%s, at most %s", len(u.Wires), u.Device, u.Pin, r.Value), detail[:len(detail)-1]+". The limit is "+r.Source()+".",
				diag.Subject{Kind: "device", Name: u.Device}).Measured(unit.Quantity{Value: float64(len(u.Wires))}, r.Value.Quantity, false)
		}
	},
}
