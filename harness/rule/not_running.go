package rule

import (
	"loomsheet/harness/diag"
)

var notRunning = &Rule{
	Key: "not-running", Title: "a load that must work in a case gets no current", Severity: diag.Finding,
	Why:     "The case says that it works; an open switch, a missing relay state or a missing return says otherwise.",
	Formula: "the load draws current in the case",
	Source:  "the case's own `works`",
	Do:      "Follow its way from the supply: a switch left off, a relay that does not pull in, a missing wire.",
	Fires: with(relayJob, "circuit coil-back from battery.neg to relay.85 colour black\n", "", "  unused 87a\n", "  unused 85, 87a\n",
		"case on { supply battery }", "case on {\n  supply battery\n  works lamp\n}"),
	Silent: with(relayJob, "case on { supply battery }", "case on {\n  supply battery\n  works lamp\n}"),
	Check: func(m *Model, out *diag.List) {
		for i, c := range m.Cases {
			if i >= len(m.Job.Cases) {
				break
			}
			for _, name := range m.Job.Cases[i].Works {
				runs, any := false, false
				for _, l := range c.Loads {
					if l.Device == name && !l.Coil {
						any = true
						runs = runs || l.Fed && !l.Rests && l.Amps > 1e-6
					}
				}
				if any && !runs {
					d := out.Finding(m.Job.Cases[i].Span, "", name+" does not run in case "+c.Case, "The case says that it works.", diag.Subject{Kind: "device", Name: name})
					d.Case = c.Case
				}
			}
		}
	},
}
