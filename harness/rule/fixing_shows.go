package rule

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
)

var fixingShows = &Rule{
	Key: "fixing-shows", Title: "a fixing shows on a face that is seen", Severity: diag.Finding,
	Why:     "A rivet nut or a nut behind the sheet stands out on the side that everybody looks at, for good once it is painted.",
	Formula: "no fixing with a hole through a panel whose far side is `seen`",
	Source:  "common practice: a welded stud where the back is seen",
	Do:      "Leave the fastener to the program, or set a welded stud for that panel.",
	Fires:   with(floorJob("seen below"), "zone cabin panel floor\n", "zone cabin panel floor fastener rivet-nut-m5\n"),
	Silent:  floorJob("seen below"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Fixed.Runs {
			r := &m.Fixed.Runs[i]
			var marks []string
			far, fastener, panel := "", "", ""
			for _, c := range r.Clips {
				p := findPanel(m.Job, c.Panel)
				if p == nil || c.Drill <= 0 || len(p.Zones) != 2 {
					continue
				}
				back := p.Zones[1]
				if back == r.Zone {
					back = p.Zones[0]
				}
				if back != r.Zone && slices.Contains(p.Seen, back) {
					marks, far, fastener, panel = append(marks, c.Mark), back, c.Fastener, p.Name
				}
			}
			if len(marks) > 0 {
				out.Finding(findRun(m.Job, r.Run).Span, "", fmt.Sprintf("run %s: %s of %s show through panel %s in zone %s", r.Run, fastener, strings.Join(marks, ", "), panel, far), "", aboutRun(r.Run)).
					Point(findPanel(m.Job, panel).Span, "the panel")
			}
		}
	},
}
