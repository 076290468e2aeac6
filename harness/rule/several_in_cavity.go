package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var severalInCavity = &Rule{
	Key: "several-in-cavity", Title: "several wires in one cavity", Severity: diag.Finding,
	Why:     "Two wires in a contact are no better held than the smaller alone, and a seal closes around one wire only.",
	Formula: "each cavity at most one wire",
	Source:  "common practice",
	Do:      "Join them in a splice and lead one wire to the cavity, or use a stud.",
	Fires: with(breakJob, "device horn at (900, -100, 0 mm) housing sealed-2 { draw 4 A at 12 V from 1 to 2 }", "device horn at (900, -100, 0 mm) housing sealed-2 { draw 4 A at 12 V from 1 to 2 }\ndevice bell at lamp housing sealed-2 { draw 1 A at 12 V from 1 to 2 }",
		"circuit horn-feed from battery.pos to horn.1 colour brown", "circuit horn-feed colour brown {\n  from battery.pos to horn.1\n  from horn.1 to bell.1\n}\ncircuit bell-back from battery.neg to bell.2"),
	Silent: breakJob,
	Check: problems(net.SeveralInCavity, func(p *net.Problem) string {
		return "several wires of " + p.Circuit + " share the cavity of " + p.Other
	}),
}
