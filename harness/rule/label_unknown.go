package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var labelUnknown = &Rule{
	Key: "label-for-nothing", Title: "a label is given to a wire that is not there", Severity: diag.Finding,
	Why:     "A label that concerns no wire is a slip of the pen, or what is left of a circuit that went another way.",
	Formula: "each label names a wire of the job",
	Source:  "common practice",
	Do:      "Name the wire by its circuit and its two ends, a break counting as an end, or take the line out.",
	Fires:   breakJob + "label \"L1\" circuit feed from battery.pos to lamp.1\n",
	Silent:  breakJob + "label \"L1\" circuit feed from battery.pos to P\n",
	Check:   problems(net.LabelUnknown, func(p *net.Problem) string { return "no wire " + link(p) + " to carry the label" }),
}
