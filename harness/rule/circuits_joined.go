package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var circuitsJoined = &Rule{
	Key: "circuits-joined", Title: "two circuits are joined", Severity: diag.Finding,
	Why:     "Two circuits that meet in a terminal or a splice are one circuit with two names; more often one of the ends is a slip.",
	Formula: "circuits may meet only on a stud pin",
	Source:  "common practice",
	Do:      "Make it one circuit, correct the end, or let them meet on a stud.",
	Fires:   with(smallJob, "from battery.neg to lamp.2", "from battery.neg to lamp.1"),
	Silent:  smallJob,
	Check:   problems(net.CircuitsJoined, func(p *net.Problem) string { return "circuits " + p.Circuit + " and " + p.Other + " are joined" }),
}
