package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var oneEnd = &Rule{
	Key: "one-end", Title: "a circuit ends in a splice that leads nowhere", Severity: diag.Finding,
	Why:     "A circuit that reaches fewer than two terminals carries nothing.",
	Formula: "a circuit has at least two ends that are pins or studs",
	Source:  "common practice",
	Do:      "Write the missing link, or take the circuit out.",
	Fires:   with(smallJob, "circuit back from battery.neg to lamp.2 colour black", "circuit back from battery.neg to lamp.2 colour black\nsplice s at hub section body\ncircuit spur from battery.pos to s"),
	Silent:  smallJob,
	Check:   problems(net.OneEnd, func(p *net.Problem) string { return "circuit " + p.Circuit + " has only one end" }),
}
