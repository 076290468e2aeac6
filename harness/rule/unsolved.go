package rule

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// unsolved makes the check of a rule that words one kind of fact of the solve.
func unsolved(kind solve.ProblemKind, title func(c *solve.CaseResult, p *solve.Problem) string, detail string) func(*Model, *diag.List) {
	return func(m *Model, out *diag.List) {
		for _, c := range m.Cases {
			for i := range c.Problems {
				p := &c.Problems[i]
				if p.Kind != kind {
					continue
				}
				span, about := p.Span, diag.Subject{Kind: "device", Name: p.Device}
				if p.Device == "" {
					about = diag.Subject{Kind: "case", Name: c.Case}
				}
				if span.IsZero() {
					for _, k := range m.Job.Cases {
						if k.Name == c.Case {
							span = k.Span
						}
					}
				}
				d := out.Finding(span, "", title(c, p), join(p.Detail, detail), about)
				d.Case = c.Case
				if p.Limit > 0 {
					d.Measured(amps(p.Amps), amps(p.Limit), false)
				}
			}
		}
	}
}

func amps(i unit.Current) unit.Quantity {
	return unit.Quantity{Value: float64(i), Dim: unit.DimCurrent}
}
func volts(v unit.Voltage) unit.Quantity {
	return unit.Quantity{Value: float64(v), Dim: unit.DimVoltage}
}

func join(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "\n" + b
}
