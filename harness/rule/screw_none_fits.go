package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var screwNone = &Rule{
	Key: "screw-none-fits", Title: "no screw is long enough for a clip", Severity: diag.Finding,
	Why:     "A screw that does not reach through its nut lets go.",
	Formula: "clip + washer + panel + nut or thread + clip-past against the lengths that the fastener can be had with, or the one stated",
	Source:  "the part",
	Do:      "Choose another fastener, or give it longer `screws` if they can be had.",
	Fires:   with(floorJob(""), "panel floor thickness 1.5 mm", "fastener own-nut thread M5 drill 7.1 mm as rivet-nut screws 8 mm, 10 mm\nset fastener to own-nut panel floor\npanel floor thickness 1.5 mm"),
	Silent:  with(floorJob(""), "panel floor thickness 1.5 mm", "fastener own-nut thread M5 drill 7.1 mm as rivet-nut screws 8 mm, 16 mm\nset fastener to own-nut panel floor\npanel floor thickness 1.5 mm"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Fixed.Runs {
			r := &m.Fixed.Runs[i]
			for _, c := range r.Clips {
				if c.NoScrew {
					out.Finding(findRun(m.Job, r.Run).Span, "", fmt.Sprintf("run %s: no screw is long enough for clip %s", r.Run, c.Mark), "It would be "+c.ScrewSum+".", aboutRun(r.Run))
					break
				}
			}
		}
	},
}
