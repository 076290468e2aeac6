package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
)

var reelShort = &Rule{
	Key: "reel-short", Title: "a wire is longer than any reel of it", Severity: diag.Finding,
	Why:     "A wire that no reel holds is pieced together on the bench, with a splice that nobody planned.",
	Formula: "cut length <= the longest reel at hand, or reel-length",
	Source:  "the setting reel-length; stock lines",
	Do:      "Find a longer reel and set reel-length or write it as stock, part the way with a break or a splice, or take a shorter way.",
	Fires:   with(smallJob, "colour red", "colour red size 1 mm2", "colour black", "colour black size 1 mm2") + "set reel-length to 1 m\n",
	Silent: with(smallJob, "colour red", "colour red size 1 mm2", "colour black", "colour black size 1 mm2") +
		"set reel-length to 1 m\nstock thin-wall size 1 mm2 colour red length 4 m\nstock thin-wall size 1 mm2 colour black length 4 m\n",
	Check: func(m *Model, out *diag.List) {
		if m.Reels == nil {
			return
		}
		for _, l := range m.Reels.TooLong {
			subject := diag.Subject{Kind: "section", Name: l.Section}
			span := m.Job.Span
			if l.Wire >= 0 && l.Wire < len(m.Net.Wires) {
				w := &m.Net.Wires[l.Wire]
				span = w.Span
				if subject = wireSubject(w); w.Kind != net.Plain {
					subject = diag.Subject{Kind: "cable", Name: w.Cable}
				}
			}
			r := m.Job.Settings.Get("reel-length", design.Scope{})
			out.Finding(span, "", fmt.Sprintf("%s is cut to %s, the longest reel of %s holds %s", l.Name, l.Length, l.Of, l.Longest),
				fmt.Sprintf("A reel that is bought holds %s (%s).", r.Value, r.Source()), subject).
				Measured(lengthQuantity(l.Length), lengthQuantity(l.Longest), false)
		}
	},
}
