package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var connectorMisfit = &Rule{
	Key: "connector-misfit", Title: "a connector does not suit its panel", Severity: diag.Finding,
	Why:     "A nut runs out of thread on a thick sheet and never clamps on a thin one; a flange on the wrong side cannot be mated; a screen without a bond screens nothing.",
	Formula: "thickness of the panel within what the housing `grips`; the flange on one of the panel's sides",
	Source:  "the part",
	Do:      "Choose another housing or fastener, or a doubler plate for the panel.",
	Fires:   with(twoPlugs("(400, 80, 0 mm)"), "flange 30 mm", "flange 30 mm grips 2 mm, 4 mm"),
	Silent:  with(twoPlugs("(400, 80, 0 mm)"), "flange 30 mm", "flange 30 mm grips 1 mm, 3 mm"),
	Check: func(m *Model, out *diag.List) {
		for _, x := range m.Shell.Misfits {
			out.Finding(x.Where, "", fmt.Sprintf("%s on panel %s: %s", x.Name, x.Panel, x.Text), "", aboutPanel(x.Panel)).Point(x.Other, "the panel")
		}
	},
}
