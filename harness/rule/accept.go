package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

// AcceptUnused is the code of the note that an acceptance matches no finding.
const AcceptUnused = "accept-unused"

// accept marks the findings a named person takes responsibility for. An acceptance matches by the finding's key and its subject; it holds the
// accepted value, which a finding that measured one must have: anything worse reopens it. It lapses once the job reaches its revision. What matches nothing is noted.
func accept(job *design.Job, out *diag.List) {
	for _, a := range job.Accepts {
		matched := false
		for i := range *out {
			d := &(*out)[i]
			if d.Code != a.Key || d.Severity != diag.Finding || !covers(a.Subject, d.Subject) {
				continue
			}
			matched = true
			switch {
			case a.Until != "" && job.Revision != "" && !Earlier(job.Revision, a.Until):
				d.Point(a.Span, fmt.Sprintf("accepted by %s until revision %s; this is revision %s, so it is open again", by(a), a.Until, job.Revision))
			case d.HasValue && !a.HasValue:
				d.Point(a.Span, fmt.Sprintf("accepted by %s without a value; write `value %s`, so that anything worse opens it again", by(a), d.Value))
			case a.HasValue && d.HasValue && worse(d, a):
				d.Point(a.Span, fmt.Sprintf("accepted by %s at %s; now %s, which is worse, so it is open again", by(a), a.Value, d.Value))
			default:
				d.Accepted = &diag.Acceptance{By: a.By, Reason: a.Reason, Until: a.Until, Span: a.Span}
			}
		}
		if !matched {
			note := fmt.Sprintf("no %s concerns %s", a.Key, subjectText(a.Subject))
			detail := "Take the line out, or see whether its subject was renamed."
			if r := Find(a.Key); r != nil && r.NotRun != "" {
				note, detail = fmt.Sprintf("%s is accepted, but that check is not run yet", a.Key), r.NotRun
			}
			*out = append(*out, diag.Diagnostic{Code: AcceptUnused, Severity: diag.Note, Title: note, Detail: detail, Span: a.Span, Subject: a.Subject})
		}
	}
}

func by(a *design.Accept) string {
	if a.By == "" {
		return "nobody named"
	}
	return a.By
}

func covers(a, d diag.Subject) bool {
	return a.Kind == d.Kind && a.Name == d.Name && (a.From == "" || a.From == d.From) && (a.To == "" || a.To == d.To)
}

func worse(d *diag.Diagnostic, a *design.Accept) bool {
	if a.Value.Dim != d.Value.Dim {
		return true
	}
	slack := 1e-9 * abs(a.Value.Value)
	if d.LowIsWorse {
		return d.Value.Value < a.Value.Value-slack
	}
	return d.Value.Value > a.Value.Value+slack
}

func abs(x float64) float64 {
	if x < 0 {
		return -x
	}
	return x
}

func subjectText(s diag.Subject) string {
	if s.Kind == "" {
		return "anything"
	}
	t := s.Kind + " " + s.Name
	if s.From != "" {
		t += " from " + s.From + " to " + s.To
	}
	return t
}

// Earlier tells whether revision a comes before revision b: shorter before longer, then by letter or digit (B before C, Z before AA, 9 before 10).
func Earlier(a, b string) bool { return design.Earlier(a, b) }
