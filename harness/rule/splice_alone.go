package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var spliceAlone = &Rule{
	Key: "splice-alone", Title: "a splice joins nothing", Severity: diag.Finding,
	Why:     "A splice with fewer than two wires is left over, or a link was forgotten.",
	Formula: "at least two wires meet in a splice",
	Source:  "common practice",
	Do:      "Take the splice out, or write the link.",
	Fires:   smallJob + "splice s at hub section body\n",
	Silent:  smallJob,
	Check:   problems(net.SpliceAlone, func(p *net.Problem) string { return "splice " + p.Other + " joins fewer than two wires" }),
}
