package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
)

var fastenerMisfit = &Rule{
	Key: "fastener-misfit", Title: "a fastener does not grip its panel", Severity: diag.Finding,
	Why:     "A rivet nut set in a sheet that is too thick never bulges behind it, and turns with its screw.",
	Formula: "thickness of the panel within what the fastener `grips`",
	Source:  "the part",
	Do:      "Choose another fastener for that panel.",
	Fires:   with(floorJob(""), "panel floor thickness 1.5 mm", "fastener own-nut thread M5 drill 7.1 mm as rivet-nut grips 2 mm, 4 mm\nset fastener to own-nut panel floor\npanel floor thickness 1.5 mm"),
	Silent:  with(floorJob(""), "panel floor thickness 1.5 mm", "fastener own-nut thread M5 drill 7.1 mm as rivet-nut grips 0.5 mm, 3 mm\nset fastener to own-nut panel floor\npanel floor thickness 1.5 mm"),
	Check: func(m *Model, out *diag.List) {
		misfits(m, out, func(x *shell.Misfit) bool { return x.Kind == "fastener" })
	},
}
