package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var housingRating = &Rule{
	Key: "housing-over-rating", Title: "a housing carries more than all its contacts may together", Severity: diag.Finding,
	Why:     "Every contact may be within its own rating and the housing still softens from the heat of all.",
	Formula: "greatest sum over all cases of the steady currents of the contacts in a housing <= `rating` of the housing",
	Source:  "ratings of the parts library or of the job's own parts",
	Do:      "Lead some of the current through another housing, or take one of a higher rating.",
	Fires:   with(ratedJob, "draw 2 A at 12 V", "draw 4 A at 12 V"),
	Silent:  ratedJob,
	Check: func(m *Model, out *diag.List) {
		if m.Contact == nil {
			return
		}
		told := map[string]bool{}
		for i := range m.Contact.Housings {
			h := &m.Contact.Housings[i]
			if h.Met || told[h.Break] && h.Break != "" { // both halves of a break carry the same
				continue
			}
			told[h.Break] = true
			about, span := diag.Subject{Kind: "device", Name: h.Device}, m.device(h.Device).Span
			if h.Break != "" {
				about = diag.Subject{Kind: "break", Name: h.Break}
				for _, b := range m.Job.Breaks {
					if b.Name == h.Break {
						span = b.Span
					}
				}
			}
			detail := where(h.Case)
			if h.Case == "" {
				detail = where(carried)
			}
			if !h.Verified {
				detail += " The rating is not verified."
			}
			d := out.Finding(span, "", fmt.Sprintf("%s: the contacts of housing %s carry %s together, it is rated %s", h.Where, h.Housing, h.Amps, h.Rating), detail, about).
				Measured(amps(h.Amps), amps(h.Rating), false)
			d.Case = h.Case
		}
	},
}

var ratedJob = with(smallJob, "device battery", "housing own-2 rating 5 A { cavity [1, 2] takes size-16 }\ndevice battery", "housing sealed-2", "housing own-2")
