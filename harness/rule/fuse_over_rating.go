package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var fuseRating = &Rule{
	Key: "fuse-over-rating", Title: "a fuse is rated too low for its load", Severity: diag.Finding,
	Why:     "A fuse that carries its rating for hours opens on the road, and the sooner the hotter it sits.",
	Formula: "rating >= greatest steady current over all cases x fuse-load / what the ambient leaves of the rating; a load that works for less than 10 min at a time counts by its mean square, and the gate must hold its on-time besides (start-blows-fuse); one that works longer counts as if for good; the lead of a charging supply at that supply's limit",
	Source:  "common practice for the factor; the datasheet of a 40 A fuse of ISO 8820-3 type E for the ambient, the pattern for other kinds",
	Do:      "Take a larger fuse and see that its wires suit it, spread the load, or move it to a cooler place.",
	Fires:   with(smallJob, "fuse blade-10 from cell", "fuse blade-2 from cell"),
	Silent:  with(smallJob, "fuse blade-10 from cell", "fuse blade-3 from cell"),
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Fuses {
			f := &m.Protect.Fuses[i]
			if f.LoadMet || findFuse(m.Job, f.Part) == nil {
				continue
			}
			about := diag.Subject{Kind: "device", Name: f.Device}
			if f.Factor <= 0 {
				out.Finding(own(m, f.Device, f.Span), "", fmt.Sprintf("%s: the air around it reaches %s, where no datasheet says what a fuse carries", fuseName(m, f.FuseRef), f.Ambient),
					"Move it to a cooler place.", about)
				continue
			}
			in := "In case " + f.Case
			if f.Lead {
				in = "By the limit of the supply that charges through it"
			}
			detail := fmt.Sprintf("%s: %s x %.4g / %.4g = %s. At %s a fuse carries %.4g of its rating; the factor is %s.", in, f.Steady, float64(f.Margin), float64(f.Factor), f.Need, f.Ambient, float64(f.Factor), f.Ruling.Source())
			if !f.Verified {
				detail += " The factor of the ambient is not verified for this very fuse."
			}
			d := out.Finding(own(m, f.Device, f.Span), "", fmt.Sprintf("%s carries %s and should be rated %s, it is rated %s", fuseName(m, f.FuseRef), f.Steady, f.Need, f.Rating), detail, about).
				Measured(amps(f.Need), amps(f.Rating), false)
			d.Case = f.Case
		}
	},
}
