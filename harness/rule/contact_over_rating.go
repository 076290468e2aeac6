package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/contact"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var contactRating = &Rule{
	Key: "contact-over-rating", Title: "a contact carries more than it may in its place", Severity: diag.Finding,
	Why:     "The contact is the hottest place of a wire; past its rating it softens the housing. Neighbours that are loaded, a thin wire and warm air leave less of the rating.",
	Formula: "greatest steady current of the wire over all cases, what its link `carries`, or what the contact of least resistance takes among parallel ones, <= rating x factor for wire and loading x sqrt((heat of the housing - air) / contact-rise), at most 1",
	Source:  "contact ratings of the parts library; TE 108-40005 figure 4, a pattern of another maker's connector; contact-derating, contact-rise, contact-spread",
	Do:      "Take a larger contact, a housing of more cavities or a thicker wire, spread heavy currents over housings; or set contact-derating to none where the source of the part says that its rating holds for a full connector.",
	Fires:   with(smallJob, "draw 2 A at 12 V", "draw 12 A at 12 V", "to lamp.1 colour red", "to lamp.1 size 1.5 mm2 colour red", "to lamp.2 colour black", "to lamp.2 size 1.5 mm2 colour black"),
	Silent:  with(smallJob, "draw 2 A at 12 V", "draw 7 A at 12 V", "to lamp.1 colour red", "to lamp.1 size 1.5 mm2 colour red", "to lamp.2 colour black", "to lamp.2 size 1.5 mm2 colour black"),
	Check: func(m *Model, out *diag.List) {
		if m.Contact == nil {
			return
		}
		worst := map[string]*contact.EndResult{} // the two halves of a mated pair are one place
		var order []string
		for i := range m.Contact.Ends {
			r := &m.Contact.Ends[i]
			if r.Met || r.Wire >= len(m.Net.Wires) {
				continue
			}
			t := &m.Net.Wires[r.Wire].Ends[r.End]
			key := fmt.Sprint(t.Kind, " ", t.Device, " ", t.Pin, " ", t.Break, " ", t.Cavity)
			if t.Kind != net.InHalf {
				key += " " + m.Net.Wires[r.Wire].Name
			}
			if worst[key] == nil {
				order = append(order, key)
			}
			if old := worst[key]; old == nil || unit.Worse(float64(r.Shared)*float64(old.Allowed), float64(old.Shared)*float64(r.Allowed)) {
				worst[key] = r
			}
		}
		for _, key := range order {
			r := worst[key]
			w := &m.Net.Wires[r.Wire]
			d := out.Finding(w.Span, "", fmt.Sprintf("%s: contact %s in %s carries %s, it may carry %s there", w.Name, r.Contact, termText(m.Job, &w.Ends[r.End]), r.Shared, r.Allowed),
				contactDetail(r), wireSubject(w)).Measured(amps(r.Shared), amps(r.Allowed), false)
			if !r.Carried {
				d.Case = r.Case
			}
		}
	},
}

// contactDetail says how what a contact may carry came about.
func contactDetail(r *contact.EndResult) string {
	in := r.Case
	if r.Carried {
		in = carried
	}
	var b strings.Builder
	b.WriteString(where(in))
	if r.Parallel > 1 {
		fmt.Fprintf(&b, " %d ways share; by the case this one takes %s, with the contacts of least resistance in it %s.", r.Parallel, r.Amps, r.Shared)
	}
	fmt.Fprintf(&b, " It is rated %s;", r.Rating)
	if r.Ruling.Value.Name == "none" {
		fmt.Fprintf(&b, " its wire leaves %s (%s).", r.Loading, r.LoadingBy)
	} else {
		fmt.Fprintf(&b, " wire and loading leave %s", r.Loading)
		if r.Equal > 1 {
			fmt.Fprintf(&b, " (the heat of %s contacts like it in %d cavities, %s loaded", unit.Number(float64(r.Equal), 1), r.Cavities, r.Loaded)
		} else {
			b.WriteString(" (nothing else in the housing heats it")
		}
		if r.Wired > 0 && r.Wired < 1 {
			fmt.Fprintf(&b, ", a wire of %s of the one it is rated on", r.Wired)
		}
		fmt.Fprintf(&b, "; %s).", r.LoadingBy)
	}
	if r.Warm < 1 {
		fmt.Fprintf(&b, " Air of %s against the %s of housing %s leaves %s.", r.Ambient, r.Heat, r.Housing, r.Warm)
	}
	if !r.Verified {
		b.WriteString(" The figure rests on values that are not verified for this part.")
	}
	return b.String()
}
