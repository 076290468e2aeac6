package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var cannotFeed = &Rule{
	Key: "cannot-feed", Title: "a load of constant power cannot be fed", Severity: diag.Finding,
	Why:     "As its volts fall such a load draws more, until no volts satisfy it.",
	Formula: "E^2 / 4R >= P of the load, R the resistance of its way",
	Source:  "circuit theory",
	Do:      "Shorten or thicken its way, or see whether its figures are right.",
	Fires:   with(smallJob, "draw 2 A at 12 V as resistance from 1 to 2", "draw 480 W at 12 V from 1 to 2", "to lamp.1 colour red", "to lamp.1 size 0.5 mm2", "to lamp.2 colour black", "to lamp.2 size 0.5 mm2", "(1000, 0, 0 mm) housing", "(4000, 0, 0 mm) housing"),
	Silent:  with(smallJob, "draw 2 A at 12 V as resistance from 1 to 2", "draw 24 W at 12 V from 1 to 2"),
	Check: func(m *Model, out *diag.List) {
		unsolved(solve.CannotFeed, func(c *solve.CaseResult, p *solve.Problem) string {
			return "the load of " + p.Device + " cannot be fed"
		}, "")(m, out)
		unsolved(solve.NotConverged, func(c *solve.CaseResult, p *solve.Problem) string {
			return "case " + c.Case + " has no steady state"
		}, "Look at its loads of constant power, its supplies with limits and its relays.")(m, out)
		if m.Fit != nil && !m.Fit.Settled {
			out.Finding(m.Job.Span, "", "sizes and temperatures do not come to rest", "State the sizes of the wires that carry most, and look at loads that no supply can feed.", diag.Subject{Kind: "harness", Name: m.Job.Title})
		}
	},
}
