package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var coresShort = &Rule{
	Key: "cores-short", Title: "a bought cable has fewer cores than circuits", Severity: diag.Finding,
	Why:     "What is bought cannot grow a core; the last circuits of the list would have no wire.",
	Formula: "circuits of the cable <= cores of its wire",
	Source:  "the parts library",
	Do:      "Take a cable with more cores, or take a circuit out of it.",
	Fires:   breakJob + "cable lead holds feed, back, horn-feed as multicore wire twin-2\n",
	Silent:  breakJob + "cable lead holds feed, back as multicore wire twin-2\n",
	Check:   problems(net.CoresShort, func(p *net.Problem) string { return "cable " + p.Other + " has fewer cores than circuits" }),
}
