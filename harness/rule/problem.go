package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

// problems makes the check of a rule that words one kind of fact of the net stage.
func problems(kind net.ProblemKind, title func(p *net.Problem) string) func(*Model, *diag.List) {
	return func(m *Model, out *diag.List) {
		for i := range m.Net.Problems {
			p := &m.Net.Problems[i]
			if p.Kind != kind {
				continue
			}
			about := diag.Subject{Kind: "circuit", Name: p.Circuit, From: p.From, To: p.To}
			switch {
			case p.Circuit != "":
			case p.Break != "":
				about = diag.Subject{Kind: "break", Name: p.Break}
			default:
				about = diag.Subject{Kind: "splice", Name: p.Other}
			}
			d := out.Finding(p.Span, "", title(p), p.Detail, about)
			d.Related = append(d.Related, p.Related...)
		}
	}
}

func link(p *net.Problem) string {
	if p.From == "" {
		return p.Circuit
	}
	return p.Circuit + " from " + p.From + " to " + p.To
}
