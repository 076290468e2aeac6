package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/free"
	"loomsheet/harness/unit"
)

var pulledLive = &Rule{
	Key: "pulled-live", Title: "a connector is pulled while current runs through it", Severity: diag.Finding,
	Why:     "A contact that breaks current burns; a coil that is cut off strikes an arc.",
	Formula: "solved in every case with all earlier steps of the removal done: the current of each contact and lug that the step undoes against `pull-current`; lugs whose undoing leaves no supply that can feed anything are not asked",
	Source:  "IEC 61984, from memory: a connector without breaking capacity is not pulled under load",
	Do:      "List the minus of each battery first in `undo`, and the plug of a charger. What an engine drives stands still: `bolted` says so, or `set undone-supply to still`.",
	Fires:   breakJob + "removal nose-off section nose undo P\n",
	Silent:  breakJob + "removal nose-off section nose undo battery.neg, P\n",
	Check: func(m *Model, out *diag.List) {
		eachStep(m, func(p *free.Part, s *free.Step) {
			if !s.Over {
				return
			}
			n := 0
			for _, x := range s.Lines {
				if x.Amps > s.Limit {
					n++
				}
			}
			detail := fmt.Sprintf("Worst is %s of %s, in case %s; the limit is %s (%s).", s.PulledAt, s.PulledWire, s.PulledCase, s.Limit, s.Ruling.Source())
			if n > 1 {
				detail += fmt.Sprintf(" %d of its %d wires carry more.", n, len(s.Lines))
			}
			d := out.Finding(s.Span, "", fmt.Sprintf("%s: %s is undone with %s through it", partName(p), stepName(s), s.Pulled), detail, aboutStep(s))
			d.Measured(unit.Quantity{Value: float64(s.Pulled), Dim: unit.DimCurrent}, unit.Quantity{Value: float64(s.Limit), Dim: unit.DimCurrent}, false)
			d.Case = s.PulledCase
		})
	},
}
