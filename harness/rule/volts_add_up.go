package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

var voltsAddUp = &Rule{
	Key: "volts-add-up", Title: "supplies add up to more volts than this program judges", Severity: diag.Finding,
	Why:     "Each of two batteries in series is harmless; both together put volts on a wire at which a touch can kill and an arc in a switch does not go out.",
	Formula: "in every case, at both ends of the supplies' spreads: volts between any two places that hang together <= 60 V, as solved and with nothing drawn, where the set-points of supplies in series add up",
	Source:  "the limit of direct current for which the program is made: the same for every figure that is stated",
	Do:      "See whether the supplies are meant to lie in series; if they are, the harness is beyond what is judged here, contacts, fuses and insulation with it.",
	Fires:   with(stringJob, "supply 24 V", "supply 36 V"),
	Silent:  stringJob,
	Check: func(m *Model, out *diag.List) {
		type worst struct {
			solve.Stack
			c *solve.CaseResult
		}
		found := map[string]*worst{} // by the device of the highest place
		var order []string
		for _, c := range m.points() {
			for _, s := range c.Stacks(design.MostVolts) {
				top := c.Net.Elements[s.Supplies[len(s.Supplies)-1]].Device
				if found[top] == nil {
					order = append(order, top)
				}
				if found[top] == nil || unit.WorseBy(s.Volts, found[top].Volts, leastOver) {
					found[top] = &worst{s, c}
				}
			}
		}
		for _, top := range order {
			w := found[top]
			var names []string
			for _, e := range w.Supplies {
				if n := w.c.Net.Elements[e].Device; len(names) == 0 || names[len(names)-1] != n {
					names = append(names, n)
				}
			}
			how := "with nothing drawn the set-points of " + strings.Join(names, ", ") + " add up"
			if !w.Adds {
				how = "as solved, with the loads of the case"
			}
			e := &w.c.Net.Elements[w.Supplies[len(w.Supplies)-1]]
			d := out.Finding(own(m, top, e.Span), "", fmt.Sprintf("%s between %s and %s, more than this program judges", w.Volts, w.c.Net.Nodes[w.High], w.c.Net.Nodes[w.Low]),
				fmt.Sprintf("In case %s: %s. It is made for direct current up to %s. Above that a touch can kill, and insulation, contacts and fuses follow other rules.", w.c.Case, how, design.MostVolts),
				diag.Subject{Kind: "device", Name: top}).Measured(volts(w.Volts), volts(design.MostVolts), false)
			d.Case = w.c.Case
		}
	},
}
