package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
)

var holeDiffers = &Rule{
	Key: "hole-differs", Title: "a stated hole is not what sits in it asks for", Severity: diag.Finding,
	Why:     "A hole cannot be made smaller, nor larger once it is painted.",
	Formula: "drill of a stated hole against the figure of the part that sits in it",
	Source:  "the part",
	Do:      "Correct the drill of the hole, or, where it is there, choose a part for it.",
	Fires:   with(floorJob(""), "revision B\n", "revision C\n") + "hole h-1 at (100, 0, 0 mm) panel floor drill 9 mm fastener rivet-nut-m5 frozen B\nfixing h-1 run main after 100 mm hole h-1\n",
	Silent:  with(floorJob(""), "revision B\n", "revision C\n") + "hole h-1 at (100, 0, 0 mm) panel floor drill 7.1 mm fastener rivet-nut-m5 frozen B\nfixing h-1 run main after 100 mm hole h-1\n",
	Check: func(m *Model, out *diag.List) {
		misfits(m, out, func(x *shell.Misfit) bool { return x.What == "drill" })
	},
}
