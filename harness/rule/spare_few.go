package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var spareFew = &Rule{
	Key: "spare-few", Title: "a break has few spare cavities", Severity: diag.Finding,
	Why:     "The circuit somebody adds next year needs a cavity, and the panel is painted.",
	Formula: "free cavities / all cavities >= spare-share, for a housing of more than eight; and of each kind of contact in it spare-share of its cavities, to the nearest whole",
	Source:  "common practice: 10 %",
	Do:      "Take a larger housing, or accept it.",
	Fires:   with(breakJob, "housing sealed-4 {", "housing sealed-10 {") + "set spare-share to 70 %\n",
	Silent:  with(breakJob, "housing sealed-4 {", "housing sealed-10 {"),
	Check: func(m *Model, out *diag.List) {
		for _, b := range m.Job.Breaks {
			h := findHousing(m.Job, b.Halves[0].Housing)
			if h == nil || len(h.Cavities) <= net.SpareFrom {
				continue
			}
			taken := 0
			kinds, kindOf := net.Kinds(m.Job, b)
			used := make([]int, len(kinds))
			for _, x := range m.Net.Crossings {
				if x.Break == b.Name && x.Cavity != "" {
					taken++
					if k, ok := kindOf[x.Cavity]; ok {
						used[k]++
					}
				}
			}
			r := m.Job.Settings.Get("spare-share", design.Scope{Break: b.Name, Class: b.Class, Panel: b.Panel})
			share := unit.Ratio(float64(len(h.Cavities)-taken) / float64(len(h.Cavities)))
			if float64(share) < r.Value.Quantity.Value-1e-12 {
				out.Finding(b.Span, "", fmt.Sprintf("break %s: %d of %d cavities are free, %s", b.Name, len(h.Cavities)-taken, len(h.Cavities), share),
					fmt.Sprintf("The least share is %s (%s).", r.Value, r.Source()), diag.Subject{Kind: "break", Name: b.Name}).
					Measured(unit.Quantity{Value: float64(share), Dim: unit.DimRatio}, r.Value.Quantity, true)
				continue
			}
			for i, k := range kinds {
				if len(kinds) > 1 && k.Cavities-used[i] < k.Owes(unit.Ratio(r.Value.Quantity.Value)) {
					out.Finding(b.Span, "", fmt.Sprintf("break %s: %d of %d cavities for %s are free", b.Name, k.Cavities-used[i], k.Cavities, k.Takes),
						fmt.Sprintf("Of this kind %d should be (%s of them, %s). What is free besides takes no such wire.", k.Owes(unit.Ratio(r.Value.Quantity.Value)), r.Value, r.Source()), diag.Subject{Kind: "break", Name: b.Name}).
						Measured(unit.Quantity{Value: float64(k.Cavities-used[i]) / float64(k.Cavities), Dim: unit.DimRatio}, r.Value.Quantity, true)
				}
			}
		}
	},
}
