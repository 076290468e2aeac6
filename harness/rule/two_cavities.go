package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var twoCavities = &Rule{
	Key: "two-cavities", Title: "one wire is given two cavities of a break", Severity: diag.Finding,
	Why:     "A wire crosses a break once; of two decisions one is wrong.",
	Formula: "each passage of a wire at most one decided cavity",
	Source:  "common practice",
	Do:      "Take one of the lines out.",
	Fires:   breakJob + "cavity P.1 circuit feed from battery.pos to P\ncavity P.2 circuit feed from battery.pos to P\n",
	Silent:  breakJob + "cavity P.1 circuit feed from battery.pos to P\n",
	Check:   problems(net.TwoCavities, func(p *net.Problem) string { return link(p) + " is given two cavities of " + p.Break }),
}
