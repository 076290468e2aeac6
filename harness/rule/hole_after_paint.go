package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var holeAfterPaint = &Rule{
	Key: "hole-after-paint", Title: "the body is painted and a new hole would be needed", Severity: diag.Finding,
	Why:     "A hole drilled through paint rusts from its edge, and nobody may drill.",
	Formula: "in a job that says `painted` every hole, stud and cut-out is a frozen one",
	Source:  "the job",
	Do:      "Lead the run past a hole that is there, state a fixing that needs none, or take the job's `painted` back.",
	Fires:   with(floorJob(""), "revision B\n", "revision B painted B\n"),
	Silent:  floorJob(""),
	Check: func(m *Model, out *diag.List) {
		for _, x := range m.Shell.Late {
			detail := "No frozen hole could be used instead."
			if x.Nearest != "" {
				detail = fmt.Sprintf("The nearest usable hole is %s, %s away.", x.Nearest, x.Away)
				if x.Why != "" {
					detail = fmt.Sprintf("The nearest hole of its size is %s, %s away, but it is %s.", x.Nearest, x.Away, x.Why)
				}
				if x.Span > 0 {
					detail += fmt.Sprintf(" With it the longest span would be %s; the limit is %s.", x.Span, x.Limit)
				}
			}
			out.Finding(x.Where, "", fmt.Sprintf("%s (%s) needs a new hole in %s", x.Mark, x.What, panelText(x.Panel)), detail, diag.Subject{Kind: x.Kind, Name: x.Name})
		}
	},
}
