package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var parkedDrain = &Rule{
	Key: "parked-drain", Title: "a battery is drained while parked", Severity: diag.Finding,
	Why:     "A load that no switch takes off the battery empties it in the weeks that the vehicle stands.",
	Formula: "mean amps a battery delivers with every switch off, every relay where its coil leaves it, batteries connected and nothing else <= parked-most; a load that rests in some case counts as one that switches itself and is left out",
	Source:  "the setting `parked-most`",
	Do:      "Put the load behind a switch. If it switches itself, a pump on its float, rest it in a case with `off`.",
	Fires:   with(smallJob, "most 200 A", "most 200 A stores 60 Ah"),
	Silent:  with(smallJob, "most 200 A", "most 200 A stores 60 Ah", "case on { supply battery }", "case on { supply battery }\ncase dry {\n  supply battery\n  off lamp\n}"),
	Check: func(m *Model, out *diag.List) {
		if m.Charge == nil {
			return
		}
		for i := range m.Charge.Drains {
			x := &m.Charge.Drains[i]
			if x.Met {
				continue
			}
			var loads []string
			for _, l := range x.Loads {
				name := l.Device
				if l.Coil {
					name += " coil"
				}
				loads = append(loads, fmt.Sprintf("%s %s", name, l.Amps))
			}
			if len(loads) == 0 {
				loads = []string{"no load: it is shorted, or drives another battery"}
			}
			detail := fmt.Sprintf("With every switch off it feeds %s. The limit is %s (%s).", strings.Join(loads, ", "), x.Most, x.Ruling.Source())
			if x.Lasts > 0 {
				detail += fmt.Sprintf(" %s of the %s it stores are gone after %s.", x.Share, x.Stores, hours(x.Lasts))
			}
			if len(x.LeftOut) > 0 {
				detail += " Left out, since they rest in some case and so are taken to switch themselves: " + strings.Join(x.LeftOut, ", ") + "."
			}
			d := out.Finding(own(m, x.Device, x.Span), "", fmt.Sprintf("%s gives %s while parked, at most %s", x.Device, x.Amps, x.Most), detail,
				diag.Subject{Kind: "device", Name: x.Device}).
				Measured(unit.Quantity{Value: float64(x.Amps), Dim: unit.DimCurrent}, unit.Quantity{Value: float64(x.Most), Dim: unit.DimCurrent}, false)
			if x.Ruling.Set {
				d.Point(x.Ruling.Span, "the limit is set here")
			}
		}
	},
}
