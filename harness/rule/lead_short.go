package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

var leadShort = &Rule{
	Key: "lead-short", Title: "a loose lead is shorter than the straight line between its ends", Severity: diag.Finding,
	Why:     "A lead that cannot reach was measured or typed wrong, and is cut wrong.",
	Formula: "stated length >= distance in space between its two ends",
	Source:  "geometry",
	Do:      "Measure again, or correct a place.",
	Fires:   with(smallJob, "from battery.neg to lamp.2 colour black", "from battery.neg to lamp.2 colour black length 900 mm zone cabin section body"),
	Silent:  with(smallJob, "from battery.neg to lamp.2 colour black", "from battery.neg to lamp.2 colour black length 1200 mm zone cabin section body"),
	Check: func(m *Model, out *diag.List) {
		for _, c := range m.Job.Circuits {
			for i := range c.Links {
				l := &c.Links[i]
				a, okA := spot(m, l.From)
				b, okB := spot(m, l.To)
				if !l.Loose || !l.LooseLength.Given || !okA || !okB {
					continue
				}
				if d := space.Between(a, b); l.LooseLength.Nominal < d-0.5 {
					out.Finding(l.Span, "", fmt.Sprintf("%s from %s to %s is %s long, its ends are %s apart", c.Name, l.From, l.To, l.LooseLength.Nominal, d), "A lead cannot be shorter than the straight line.",
						diag.Subject{Kind: "circuit", Name: c.Name, From: l.From.String(), To: l.To.String()}).
						Measured(lengthQuantity(l.LooseLength.Nominal), lengthQuantity(d), true)
				}
			}
		}
	},
}

func lengthQuantity(l unit.Length) unit.Quantity {
	return unit.Quantity{Value: float64(l), Dim: unit.DimLength}
}

// spot is where an end sits; ok is false when that is not known.
func spot(m *Model, e design.End) (at design.Point3, ok bool) {
	switch e.Kind {
	case design.AtPin:
		d := m.device(e.Name)
		for _, p := range d.Pins {
			if p.Name == e.Pin && p.Known {
				return p.At, true
			}
		}
		return d.At, d.Known
	case design.AtSplice:
		if s := m.indexed().splices[e.Name]; s != nil {
			return s.At, s.Known
		}
	case design.AtBreak:
		for _, b := range m.Job.Breaks {
			if b.Name == e.Name {
				return b.At, b.Known
			}
		}
	}
	return at, false
}
