package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var notSolved = &Rule{
	Key: "not-solved", Title: "a case has no steady state", Severity: diag.Finding,
	Why:     "Without an operating point no limit can be judged.",
	Formula: "currents add up to zero at each joint",
	Source:  "circuit theory",
	Do:      "Look at the loads of constant power, the supplies with limits and the relays of the case.",
	NotRun:  "",
	Check: unsolved(solve.NotConverged, func(c *solve.CaseResult, p *solve.Problem) string {
		return "case " + c.Case + " has no steady state"
	}, ""),
}
