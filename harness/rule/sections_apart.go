package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var sectionsApart = &Rule{
	Key: "sections-apart", Title: "a link crosses sections and no break joins them", Severity: diag.Finding,
	Why:     "Sections come apart: a wire that passes from one to another without a connector has to be cut to take the engine out.",
	Formula: "a way changes its section only at a break with halves in both, open to the link's class",
	Source:  "common practice",
	Do:      "Put a break where the sections meet, let the run reach it, or give the circuit the class the break is kept for.",
	Fires:   with(breakJob, "housing sealed-4 {", "housing sealed-4 class signal {"),
	Silent:  breakJob,
	Check:   problems(net.SectionsApart, func(p *net.Problem) string { return "no break leads from section to section for " + link(p) }),
}
