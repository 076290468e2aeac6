package rule

import (
	"loomsheet/harness/diag"
)

var noCase = &Rule{
	Key: "no-case", Title: "the job has no case", Severity: diag.Finding,
	Why:     "Volts, heat and sizes are worked out in cases; without one nothing electrical was checked.",
	Formula: "at least one `case` with a live supply",
	Source:  "common practice",
	Do:      "Write a case: which supplies are live and how the switches stand.",
	Fires:   with(smallJob, "case on { supply battery }\n", ""),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		if len(m.Job.Cases) == 0 {
			out.Finding(m.Job.Span, "", "the job has no case: nothing electrical was checked", "Write a case: which supplies are live and how the switches stand.", diag.Subject{Kind: "harness", Name: m.Job.Title})
		}
	},
}
