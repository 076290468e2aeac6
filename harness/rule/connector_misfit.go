package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
)

var connectorMisfit = &Rule{
	Key: "connector-misfit", Title: "a connector does not suit its panel", Severity: diag.Finding,
	Why:     "A nut runs out of thread on a thick sheet and never clamps on a thin one; a flange on the wrong side cannot be mated; one over the edge seals nothing.",
	Formula: "one half is fixed on the panel; thickness of the panel within what the housing `grips`; the flange on one of the panel's sides and within its edges",
	Source:  "the part",
	Do:      "Choose another housing, move it, or give the panel a doubler plate.",
	Fires:   with(twoPlugs("(400, 80, 0 mm)"), "flange 30 mm", "flange 30 mm grips 2 mm, 4 mm"),
	Silent:  with(twoPlugs("(400, 80, 0 mm)"), "flange 30 mm", "flange 30 mm grips 1 mm, 3 mm"),
	Check: func(m *Model, out *diag.List) {
		misfits(m, out, func(x *shell.Misfit) bool {
			return x.Kind != "fastener" && (x.What == "thickness" || x.What == "mount" || x.What == "flange" || x.What == "edge")
		})
	},
}
