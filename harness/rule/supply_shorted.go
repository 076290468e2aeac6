package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var shorted = &Rule{
	Key: "supply-shorted", Title: "a supply is shorted", Severity: diag.Finding,
	Why:     "Plus and minus joined by copper alone: a fire, or a slip in a circuit's ends.",
	Formula: "resistance between the terminals through what is no load, next to nothing beside the supply's own",
	Source:  "common practice",
	Do:      "Look for the wire or switch that joins plus to minus.",
	Fires:   with(smallJob, "from battery.neg to lamp.2 colour black", "from battery.neg to lamp.2 colour black\ncircuit wrong from battery.pos to battery.neg size 16 mm2"),
	Silent:  smallJob,
	Check: unsolved(solve.Shorted, func(c *solve.CaseResult, p *solve.Problem) string {
		return fmt.Sprintf("the supply of %s is shorted: %s", p.Device, p.Amps)
	}, ""),
}
