package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var noWay = &Rule{
	Key: "no-way", Title: "no way for a link along the runs", Severity: diag.Finding,
	Why:     "A wire lies in a run or is a loose lead of stated length; anything else has no length, no clips and no bundle.",
	Formula: "a connected way over runs, from a run that reaches the one end to a run that reaches the other",
	Source:  "common practice",
	Do:      "Let a run reach the end (see how far off the nearest one is), or state the wire's length, section and zone as a loose lead.",
	Fires:   with(smallJob, "to hub to lamp section", "to hub section"),
	Silent:  smallJob,
	Check:   problems(net.NoWay, func(p *net.Problem) string { return "no way for " + link(p) }),
}
