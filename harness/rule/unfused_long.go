package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var unfusedLong = &Rule{
	Key: "unfused-long", Title: "the wire before the first fuse is too long", Severity: diag.Finding,
	Why:     "Whatever touches metal before the first fuse is cleared by nothing. So that stretch is short, or in a sleeve.",
	Formula: "from each source, also a charger, along the longest way of wire to the first fuse <= unfused-most, or unfused-sheathed where all of that way lies in a sleeve; a wire that carries the source's own limit, `most`, is left out",
	Source:  "33 CFR 183.455(b): 7 in, 40 in in a sheath; 72 in from a battery is quoted from memory and can be set",
	Do:      "Move the fuse to the source, put the wire in a sleeve, or have a competent person accept it.",
	Fires:   with(smallJob, "  inner cell\n  fuse blade-10 from cell to pos\n", "", "from cell to neg", "from pos to neg", "housing sealed-2 {", "housing sealed-2 {\n  inner f\n  fuse blade-10 from 1 to f", "from 1 to 2\n}", "from f to 2\n}"),
	Silent: with(smallJob, "  inner cell\n  fuse blade-10 from cell to pos\n", "", "from cell to neg", "from pos to neg", "housing sealed-2 {", "housing sealed-2 {\n  inner f\n  fuse blade-10 from 1 to f", "from 1 to 2\n}", "from f to 2\n}") +
		"set unfused-most to 1.3 m circuit feed\n",
	Check: func(m *Model, out *diag.List) {
		if m.Protect == nil {
			return
		}
		for i := range m.Protect.Unfused {
			u := &m.Protect.Unfused[i]
			if u.Met || len(u.Fuses) == 0 || len(u.Wires) == 0 || u.Length <= u.Most && !u.Unknown {
				continue
			}
			first := &m.Net.Wires[u.Wires[0]]
			var fuses []string
			for _, f := range u.Fuses {
				fuses = append(fuses, fuseName(m, f))
			}
			title := fmt.Sprintf("%s: %s of wire from %s to the first fuse, at most %s", first.Name, u.Length, u.Source.Device, u.Most)
			if u.Unknown && u.Length <= u.Most {
				title = fmt.Sprintf("%s: nobody knows how long it is from %s to the first fuse", first.Name, u.Source.Device)
			}
			sleeve := "not in a sleeve all the way"
			if u.Sheathed {
				sleeve = "in a sleeve"
			}
			detail := fmt.Sprintf("It lies %s; the limit is %s. A dead short before %s draws up to %s. Wires: %s.", sleeve, u.Ruling.Source(), list(fuses, 3), u.Amps, wireNames(m, u))
			out.Finding(first.Span, "", title, detail, diag.Subject{Kind: "circuit", Name: first.Circuit}).
				Measured(lengthQuantity(u.Length), lengthQuantity(u.Most), false)
		}
	},
}
