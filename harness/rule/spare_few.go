package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var spareFew = &Rule{
	Key: "spare-few", Title: "a break has few spare cavities", Severity: diag.Finding,
	Why:     "The circuit somebody adds next year needs a cavity, and the panel is painted.",
	Formula: "free cavities / all cavities >= spare-share, for a housing of more than eight",
	Source:  "common practice: 10 %",
	Do:      "Take a larger housing, or accept it.",
	Fires:   with(breakJob, "housing sealed-4 {", "housing sealed-10 {") + "set spare-share to 70 %\n",
	Silent:  with(breakJob, "housing sealed-4 {", "housing sealed-10 {"),
	Check: func(m *Model, out *diag.List) {
		for _, b := range m.Job.Breaks {
			h := findHousing(m.Job, b.Halves[0].Housing)
			if h == nil || len(h.Cavities) <= 8 {
				continue
			}
			taken := 0
			for _, x := range m.Net.Crossings {
				if x.Break == b.Name && x.Cavity != "" {
					taken++
				}
			}
			r := m.Job.Settings.Get("spare-share", design.Scope{Break: b.Name, Class: b.Class, Panel: b.Panel})
			share := unit.Ratio(float64(len(h.Cavities)-taken) / float64(len(h.Cavities)))
			if float64(share) < r.Value.Quantity.Value-1e-12 {
				out.Finding(b.Span, "", fmt.Sprintf("break %s: %d of %d cavities are free, %s", b.Name, len(h.Cavities)-taken, len(h.Cavities), share),
					fmt.Sprintf("The least share is %s (%s).", r.Value, r.Source()), diag.Subject{Kind: "break", Name: b.Name}).
					Measured(unit.Quantity{Value: float64(share), Dim: unit.DimRatio}, r.Value.Quantity, true)
			}
		}
	},
}
