package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var fedBackward = &Rule{
	Key: "fed-backward", Title: "a load is fed the wrong way round", Severity: diag.Finding,
	Why:     "A pump runs backward, a control unit dies; only a lamp or a heater does not mind.",
	Formula: "in some case current enters a draw `as current` or `as power` at its `from`; draws as resistance and coils are not asked",
	Source:  "common practice: `from` is plus, `to` is minus",
	Do:      "Change its two wires over, or the ends of its draw if those are written the wrong way round.",
	Fires:   with(smallJob, "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as power from 2 to 1"),
	Silent:  with(smallJob, "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as power from 1 to 2"),
	Check: func(m *Model, out *diag.List) {
		type key struct {
			device string
			index  int
		}
		forward := map[key]bool{}
		backward := map[key]string{} // the first case
		var order []*solve.LoadResult
		for _, c := range m.Cases {
			for i := range c.Loads {
				l := &c.Loads[i]
				if l.Coil || !l.Fed {
					continue
				}
				k := key{l.Device, l.Index}
				forward[k] = forward[k] || l.Amps > 0
				if _, seen := backward[k]; !seen && l.Amps < 0 {
					backward[k] = c.Case
					order = append(order, l)
				}
			}
		}
		for _, l := range order {
			k := key{l.Device, l.Index}
			dev := m.device(l.Device)
			if forward[k] || l.Index >= len(dev.Draws) || dev.Draws[l.Index].As == design.ConstantResistance || dev.Draws[l.Index].Ohms.Given {
				continue
			}
			d := out.Finding(own(m, l.Device, l.Span), "", fmt.Sprintf("%s: plus of the supply comes in at %s, which is the minus of its load", l.Device, l.To),
				fmt.Sprintf("In case %s, %s from %s to %s.", backward[k], l.Volts, l.From, l.To), diag.Subject{Kind: "device", Name: l.Device})
			d.Case = backward[k]
		}
	},
}
