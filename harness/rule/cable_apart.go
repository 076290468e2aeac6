package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var cableApart = &Rule{
	Key: "cable-apart", Title: "the circuits of a cable do not run together", Severity: diag.Finding,
	Why:     "A pair picks up nothing only while its two wires lie side by side; cores of one bought cable cannot part.",
	Formula: "all circuits of a cable follow the same way between the same places",
	Source:  "common practice",
	Do:      "Lead them the same way with `via`, give `from` and `to` of the cable, or take the circuit out of it.",
	Fires:   breakJob + "cable twin holds feed, horn-feed as pair\n",
	Silent:  breakJob + "cable twin holds feed, back as pair\n",
	Check:   problems(net.CableApart, func(p *net.Problem) string { return "the circuits of cable " + p.Other + " do not run together" }),
}
