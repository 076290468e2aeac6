package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var oneEnd = &Rule{
	Key: "one-end", Title: "a circuit has only one end", Severity: diag.Finding,
	Why:     "A circuit that reaches fewer than two terminals carries nothing.",
	Formula: "a circuit has at least two ends",
	Source:  "common practice",
	Do:      "Write the missing link, or take the circuit out.",
	Fires:   with(smallJob, "case on", "circuit spur from battery.pos to battery.pos\ncase on"),
	Silent:  smallJob,
	Check:   problems(net.OneEnd, func(p *net.Problem) string { return "circuit " + p.Circuit + " has only one end" }),
}
