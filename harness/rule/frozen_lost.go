package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var frozenLost = &Rule{
	Key: "frozen-lost", Title: "a frozen decision concerns a wire that is no longer there", Severity: diag.Finding,
	Why:     "What is frozen is copper or holes: a wire that disappears from the text is still in the vehicle.",
	Formula: "each frozen cavity and label finds its wire",
	Source:  "common practice",
	Do:      "Bring the wire back, or take it out of the vehicle and the frozen line out of its file.",
	Fires:   breakJob + "label \"L1\" circuit feed from battery.pos to horn.1 frozen A\n",
	Silent:  breakJob + "label \"L1\" circuit feed from battery.pos to P frozen A\n",
	Check:   problems(net.FrozenLost, func(p *net.Problem) string { return "no wire is left for what is decided of " + link(p) }),
}
