package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var circuitApart = &Rule{
	Key: "circuit-apart", Title: "the links of a circuit do not hang together", Severity: diag.Finding,
	Why:     "A circuit is one net of copper; links that touch nowhere are two circuits under one name, or one link is missing.",
	Formula: "the links of a circuit form one connected piece",
	Source:  "common practice",
	Do:      "Add the link between them, or give one part a name of its own.",
	Fires: with(breakJob, "circuit horn-feed from battery.pos to horn.1 colour brown\ncircuit horn-back from battery.neg to horn.2 colour black\n",
		"circuit horn-feed {\n  from battery.pos to horn.1\n  from battery.neg to horn.2\n}\n"),
	Silent: breakJob,
	Check:  problems(net.CircuitApart, func(p *net.Problem) string { return "the links of circuit " + p.Circuit + " do not hang together" }),
}
