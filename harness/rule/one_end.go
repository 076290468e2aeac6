package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var oneEnd = &Rule{
	Key: "one-end", Title: "a circuit has only one end", Severity: diag.Finding,
	Why:     "A circuit that reaches fewer than two terminals carries nothing.",
	Formula: "a circuit has at least two ends that are a pin or a stud, or a splice that leads on",
	Source:  "common practice",
	Do:      "Write the missing link, or take the circuit out.",
	Fires:   with(smallJob, "case on", "splice s at hub section body\ncircuit spur from battery.pos to s\ncase on"),
	Silent:  smallJob,
	Check:   problems(net.OneEnd, func(p *net.Problem) string { return "circuit " + p.Circuit + " has only one end" }),
}
