package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var panelNotFlat = &Rule{
	Key: "panel-not-flat", Title: "the corners of a panel are not in one plane", Severity: diag.Finding,
	Why:     "Places of holes are worked out on a flat sheet; a corner measured wrongly moves them all.",
	Formula: "distance of each corner from the plane through all, at most panel-flat",
	Source:  "common practice",
	Do:      "Measure the corners again, or give a sheet that is not flat by `points`.",
	Fires:   with(breakJob, "(400, -300, 300 mm)", "(420, -300, 300 mm)"),
	Silent:  breakJob,
	Check: func(m *Model, out *diag.List) {
		for _, x := range m.Shell.Unflat {
			out.Finding(x.Where, "", fmt.Sprintf("a corner of panel %s stands %s off its plane", x.Panel, x.Off), fmt.Sprintf("The limit is %s (%s).", x.Most, x.Source), aboutPanel(x.Panel)).
				Measured(mm(x.Off), mm(x.Most), false)
		}
	},
}
