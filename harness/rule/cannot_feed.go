package rule

import (
	"fmt"

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
		told := map[string]bool{}
		for _, c := range m.Cases {
			for i := range c.Problems {
				if p := &c.Problems[i]; p.Kind == solve.CannotFeed && !told[p.Detail] {
					told[p.Detail] = true
					starved(m, c, p, out)
				}
			}
		}
		unsolved(solve.NotConverged, func(c *solve.CaseResult, p *solve.Problem) string {
			return "case " + c.Case + " has no steady state"
		}, "Look at its loads of constant power, its supplies with limits and its relays.")(m, out)
		if m.Fit != nil && !m.Fit.Settled {
			out.Finding(m.Job.Span, "", "sizes and temperatures do not come to rest", "State the sizes of the wires that carry most, and look at loads that no supply can feed.", diag.Subject{Kind: "harness", Name: m.Job.Title})
		}
	},
}

// starved words a load of constant power that gets less than half its volts.
func starved(m *Model, c *solve.CaseResult, p *solve.Problem, out *diag.List) {
	for i := range c.Loads {
		l := &c.Loads[i]
		if l.Device != p.Device || l.Index != p.Index || l.Coil != p.Coil {
			continue
		}
		f := c.Feedable(i)
		d := out.Finding(own(m, p.Device, p.Span), "", fmt.Sprintf("the load of %s from %s to %s cannot be fed", p.Device, l.From, l.To),
			fmt.Sprintf("In case %s it is left %s, less than half of the %s it was measured at, and no longer holds its power. Its way of %s from %s lets at most %s through.", c.Case, l.Volts, l.At, f.Resistance, f.Volts, f.Most),
			diag.Subject{Kind: "device", Name: p.Device})
		d.Case = c.Case
		return
	}
}

// cannotBeFed tells whether a load is told as one that no volts can feed: its volts mean nothing then.
func cannotBeFed(c *solve.CaseResult, l *solve.LoadResult) bool {
	for i := range c.Problems {
		if p := &c.Problems[i]; p.Kind == solve.CannotFeed && p.Coil == l.Coil && p.Device == l.Device && p.Index == l.Index {
			return true
		}
	}
	return false
}
