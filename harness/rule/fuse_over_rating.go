package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
)

var fuseRating = &Rule{
	Key: "fuse-over-rating", Title: "a fuse carries more than its rating", Severity: diag.Finding,
	Why:     "A fuse that carries its rating for hours opens on the road.",
	Formula: "greatest steady current through the fuse over all cases <= its rating",
	Source:  "ISO 8820: a fuse holds its rating, common practice asks for 1.25 times the load",
	Do:      "Take a larger fuse and see that its wires suit it, or spread the load.",
	Fires:   with(smallJob, "housing sealed-2 {", "housing sealed-2 {\n  inner f\n  fuse blade-2 from 1 to f", "draw 2 A at 12 V as resistance from 1 to 2", "draw 4 A at 12 V as resistance from f to 2"),
	Silent:  with(smallJob, "housing sealed-2 {", "housing sealed-2 {\n  inner f\n  fuse blade-5 from 1 to f", "draw 2 A at 12 V as resistance from 1 to 2", "draw 2 A at 12 V as resistance from f to 2"),
	Check: func(m *Model, out *diag.List) {
		for _, dev := range m.Job.Devices {
			for k, f := range dev.Fuses {
				part := findFuse(m.Job, f.Part)
				if part == nil || dev.Pattern {
					continue
				}
				most, in := elementAmps(m, dev.Name, solve.Fuse, k)
				if most > part.Rating {
					d := out.Finding(own(m.Job, dev.Name, f.Span), "", fmt.Sprintf("%s: fuse %s from %s to %s carries %s, it is rated %s", dev.Name, f.Part, f.From, f.To, most, part.Rating),
						"In case "+in+".", diag.Subject{Kind: "device", Name: dev.Name}).Measured(amps(most), amps(part.Rating), false)
					d.Case = in
				}
			}
		}
	},
}
