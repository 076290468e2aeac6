package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var contactRating = &Rule{
	Key: "contact-over-rating", Title: "a contact carries more than its rating", Severity: diag.Finding,
	Why:     "The contact is the hottest place of a wire; past its rating it softens the housing.",
	Formula: "greatest steady current of the wire over all cases, or what its link `carries`, <= rating of its contact",
	Source:  "contact ratings of the parts library; loading and ambient are not yet counted",
	Do:      "Take a larger cavity or share the current over more.",
	Fires:   with(smallJob, "draw 2 A at 12 V", "draw 20 A at 12 V"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		for i := range m.Net.Wires {
			w := &m.Net.Wires[i]
			amp, in := worstAmps(m, i)
			for e, name := range m.Sizes[i].Contacts {
				k := findContact(m.Job, name)
				if k == nil || !k.Rating.Given || amp <= k.Rating.Nominal {
					continue
				}
				d := out.Finding(w.Span, "", fmt.Sprintf("%s: contact %s in %s carries %s, it is rated %s", w.Name, name, termText(m.Job, &w.Ends[e]), amp, k.Rating.Nominal),
					where(in), wireSubject(w)).Measured(amps(amp), amps(k.Rating.Nominal), false)
				if in != carried {
					d.Case = in
				}
			}
		}
	},
}
