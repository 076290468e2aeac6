package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var switchRating = &Rule{
	Key: "switch-over-rating", Title: "a switch or relay contact carries more than its rating", Severity: diag.Finding,
	Why:     "A contact past its rating welds, and the load can no longer be switched off.",
	Formula: "greatest steady current through the closed contact over all cases <= `rating` of its state",
	Source:  "the device's own figure",
	Do:      "Take a larger switch, or let it move a relay.",
	Fires:   with(relayJob, "  state on joins 30, 87 resistance 3 mohm\n", "  state on joins 30, 87 resistance 3 mohm rating 1 A\n"),
	Silent:  with(relayJob, "  state on joins 30, 87 resistance 3 mohm\n", "  state on joins 30, 87 resistance 3 mohm rating 10 A\n"),
	Check: func(m *Model, out *diag.List) {
		for _, dev := range m.Job.Devices {
			for k := range dev.States {
				st := &dev.States[k]
				if dev.Pattern || !st.Rating.Given {
					continue
				}
				most, in := elementAmps(m, dev.Name, solve.Switch, k)
				if most > st.Rating.Nominal {
					d := out.Finding(own(m, dev.Name, st.Span), "", fmt.Sprintf("%s: its contact in state %s carries %s, it is rated %s", dev.Name, st.StateRef, most, st.Rating.Nominal),
						"In case "+in+".", diag.Subject{Kind: "device", Name: dev.Name}).Measured(amps(most), amps(st.Rating.Nominal), false)
					d.Case = in
				}
			}
		}
	},
}
