package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var overLimit = &Rule{
	Key: "supply-over-limit", Title: "a supply is asked for more than it gives", Severity: diag.Finding,
	Why:     "An alternator at its limit lets the volts fall and the battery empties.",
	Formula: "demand on the supply <= most",
	Source:  "the supply's own figure",
	Do:      "Rest a load in the case, or fit a larger supply.",
	Fires:   with(smallJob, "most 200 A", "most 1 A"),
	Silent:  smallJob,
	Check: unsolved(solve.OverLimit, func(c *solve.CaseResult, p *solve.Problem) string {
		return fmt.Sprintf("%s is asked for %s and gives at most %s", p.Device, p.Amps, p.Limit)
	}, ""),
}
