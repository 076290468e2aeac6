package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var noSupply = &Rule{
	Key: "no-live-supply", Title: "a case with no live supply", Severity: diag.Finding,
	Why:     "A supply that is not listed in a case is disconnected; nothing runs and nothing is checked.",
	Formula: "at least one supply is live in each case",
	Source:  "common practice",
	Do:      "List the supplies of the case with `supply`.",
	Fires:   with(smallJob, "case on { supply battery }", "case on { air 20 C }"),
	Silent:  smallJob,
	Check:   unsolved(solve.NoSupply, func(c *solve.CaseResult, p *solve.Problem) string { return "case " + c.Case + " has no live supply" }, ""),
}
