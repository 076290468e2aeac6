package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var notAPost = &Rule{
	Key: "not-a-post", Title: "a link ends at a connector that has no stud", Severity: diag.Finding,
	Why:     "A wire passes through a connector, it does not end there: only a stud holds a lug for others to meet.",
	Formula: "an end that names a break names one whose cavity is a stud",
	Source:  "common practice",
	Do:      "Name the pin or splice behind the connector; the way through it is found by itself, or forced with `via`.",
	Fires:   with(breakJob, "from battery.pos to lamp.1 colour red", "from battery.pos to P to lamp.1 colour red"),
	Silent:  breakJob,
	Check:   problems(net.NotAPost, func(p *net.Problem) string { return link(p) + " ends at a connector" }),
}
