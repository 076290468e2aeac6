package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var labelTwice = &Rule{
	Key: "label-twice", Title: "two wires carry one label", Severity: diag.Finding,
	Why:     "A label is what a person holds in the hand: two wires with one label get swapped.",
	Formula: "each label once in a job",
	Source:  "AC 43.13-1B 11-208: each wire identified",
	Do:      "Give one of them another label.",
	Fires:   breakJob + "label \"L1\" circuit feed from battery.pos to P\nlabel \"L1\" circuit back from battery.neg to P\n",
	Silent:  breakJob + "label \"L1\" circuit feed from battery.pos to P\nlabel \"L2\" circuit back from battery.neg to P\n",
	Check: func(m *Model, out *diag.List) {
		problems(net.LabelTwice, func(p *net.Problem) string { return "label " + p.Other + " is given to two wires" })(m, out)
		problems(net.NameTwice, func(p *net.Problem) string { return "two wires would be called " + link(p) })(m, out)
	},
}
