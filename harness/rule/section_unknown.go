package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var sectionUnknown = &Rule{
	Key: "section-unknown", Title: "nothing says to which section a wire belongs", Severity: diag.Finding,
	Why:     "A wire is built with one section; one that belongs to none stands on no cut list.",
	Formula: "a loose lead states its section, or it shares a run with one",
	Source:  "common practice",
	Do:      "Write `section` on the link.",
	Fires:   with(breakJob, "from battery.neg to lamp.2 colour black", "from battery.neg to lamp.2 colour black length 1200 mm zone cabin"),
	Silent:  with(breakJob, "from battery.neg to lamp.2 colour black", "from battery.neg to lamp.2 colour black length 1200 mm zone cabin section nose"),
	Check:   problems(net.SectionUnknown, func(p *net.Problem) string { return "nothing says to which section " + link(p) + " belongs" }),
}
