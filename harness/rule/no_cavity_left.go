package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var noCavityLeft = &Rule{
	Key: "no-cavity-left", Title: "a break has no cavity left for a wire", Severity: diag.Finding,
	Why:     "Each wire that crosses a break takes one cavity on both halves; a full housing sends it nowhere.",
	Formula: "wires crossing the break against the cavities of its housing that take their size",
	Source:  "common practice",
	Do:      "Take a larger housing, a second break, or fewer wires.",
	Fires:   with(breakJob, "housing sealed-4 {", "housing sealed-3 {"),
	Silent:  breakJob,
	Check:   problems(net.NoCavityLeft, func(p *net.Problem) string { return p.Break + " has no cavity left for " + link(p) }),
}
