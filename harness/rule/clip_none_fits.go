package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var clipSmall = &Rule{
	Key: "clip-none-fits", Title: "no size of the clip holds the bundle", Severity: diag.Finding,
	Why:     "A clip too small crushes the bundle, one too large lets it chafe.",
	Formula: "smallest diameter of the clip part that is not below the bundle's outside diameter",
	Source:  "the parts library; MS21919 sizes",
	Do:      "Choose another clip for the run, or split the bundle.",
	Fires:   with(smallJob, "section body zone cabin\n", "section body zone cabin clip tiny\nclip tiny holds 2 mm fastener screw-m5\n"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		for i := range m.Fixed.Runs {
			r := &m.Fixed.Runs[i]
			var worst unit.Length
			part := ""
			for _, c := range r.Clips {
				if c.ClipSize == 0 && c.Part != "" && c.Bundle > worst {
					worst, part = c.Bundle, c.Part
				}
			}
			if worst > 0 {
				run := findRun(m.Job, r.Run)
				out.Finding(run.Span, "", fmt.Sprintf("run %s: no size of clip %s holds its bundle of %s", r.Run, part, worst), "", diag.Subject{Kind: "run", Name: r.Run})
			}
		}
	},
}
