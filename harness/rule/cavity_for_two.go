package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var cavityTwice = &Rule{
	Key: "cavity-for-two", Title: "one cavity is given to two wires", Severity: diag.Finding,
	Why:     "A cavity holds one contact with one wire; of two decisions for it one is wrong, and one of them may be copper already.",
	Formula: "each cavity of a half at most one wire",
	Source:  "common practice",
	Do:      "Give one of the wires another cavity.",
	Fires:   breakJob + "cavity P.1 circuit feed\ncavity P.1 circuit back\n",
	Silent:  breakJob + "cavity P.1 circuit feed\ncavity P.2 circuit back\n",
	Check: problems(net.CavityTwice, func(p *net.Problem) string {
		return "cavity " + p.Break + "." + p.Cavity + " is given twice: to " + p.Other + " and to " + p.Circuit
	}),
}
