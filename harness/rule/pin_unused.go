package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
)

var pinUnused = &Rule{
	Key: "pin-unused", Title: "a wire ends at a pin that is said to be left empty", Severity: diag.Finding,
	Why:     "Of two decisions about one cavity one is wrong: it stays empty, or it takes a wire.",
	Formula: "no link ends at a pin declared `unused`",
	Source:  "common practice",
	Do:      "Take another pin, or take it out of the `unused` line.",
	Fires:   with(smallJob, "housing sealed-2 {", "housing sealed-2 {\n  unused 2"),
	Silent:  smallJob,
	Check: func(m *Model, out *diag.List) {
		for _, c := range m.Job.Circuits {
			for i := range c.Links {
				for _, e := range [2]design.End{c.Links[i].From, c.Links[i].To} {
					if e.Kind != design.AtPin {
						continue
					}
					for _, p := range m.device(e.Name).Pins {
						if p.Name == e.Pin && p.Unused {
							out.Finding(e.Span, "", fmt.Sprintf("%s is said to be left empty, and yet %s ends there", e, c.Name), "", diag.Subject{Kind: "device", Name: e.Name}).Point(p.Span, "the pin")
						}
					}
				}
			}
		}
	},
}
