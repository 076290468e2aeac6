package rule

import (
	"loomsheet/harness/diag"
)

var runNowhere = &Rule{
	Key: "run-nowhere", Title: "a run leads nowhere", Severity: diag.Finding,
	Why:     "A run whose end meets no device, connector, splice or other run is a slip in a name, or a wire is missing there.",
	Formula: "each end of a run is a place where something is",
	Source:  "common practice",
	Do:      "Name the thing it should reach, or shorten the run.",
	Fires:   with(smallJob, "to hub to lamp section body zone cabin", "to hub to lamp section body zone cabin\nrun spur from hub to (500, 200, 0 mm) section body zone cabin"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		for _, n := range m.Net.Space.Nowhere {
			out.Finding(n.Span, "", "run "+n.Run+" leads nowhere at "+n.Node, "No device, break, splice or other run is there.", diag.Subject{Kind: "run", Name: n.Run})
		}
	},
}
