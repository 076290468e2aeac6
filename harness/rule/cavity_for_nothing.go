package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var cavityUnknown = &Rule{
	Key: "cavity-for-nothing", Title: "a cavity is decided for a wire that does not pass there", Severity: diag.Finding,
	Why:     "A decision that concerns no wire is a slip of the pen, or what is left of a circuit that went another way.",
	Formula: "each decided cavity names a circuit that crosses the break",
	Source:  "common practice",
	Do:      "Take the line out, or send the circuit through the break with `via`.",
	Fires:   breakJob + "device clock at hub2 housing sealed-2\npoint hub2 at (0, 100, 0 mm)\nrun r2 from battery to hub2 section body zone cabin\ncircuit clock from battery.pos to clock.1\ncircuit clock-back from battery.neg to clock.2\ncavity P.4 circuit clock\n",
	Silent:  breakJob + "cavity P.4 circuit feed\n",
	Check: problems(net.CavityUnknown, func(p *net.Problem) string {
		return "circuit " + p.Circuit + " does not pass " + p.Break + ", whose cavity " + p.Cavity + " it was given"
	}),
}
