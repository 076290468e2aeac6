package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/mate"
)

var matesTurned = &Rule{
	Key: "mates-turned", Title: "a connector goes into its own half upside down", Severity: diag.Finding,
	Why:     "A face that looks alike when turned, and no key, is plugged in upside down sooner or later.",
	Formula: "half a turn brings each cavity onto another of the same contacts; the housing states neither `keyway` nor `keys`, and no key is given; two nets that meet then are not harmless",
	Source:  "geometry of the face",
	Do:      "State the `keyway` or the `keys` that the housing has, take one that has, or seat the wires so that nothing comes of it.",
	Fires: with(breakJob, "break P at", "housing flat-4 cut-out 24 mm flange 36 mm { cavity [1..4] takes size-16 at (0, 0 mm) step (6, 0 mm) }\nbreak P at", "panel wall housing sealed-4", "panel wall housing flat-4",
		"case on", "cavity P.1 circuit feed\ncavity P.4 circuit back\ncase on"),
	Silent: with(breakJob, "break P at", "housing flat-4 keyway (9, 6 mm) cut-out 24 mm flange 36 mm { cavity [1..4] takes size-16 at (0, 0 mm) step (6, 0 mm) }\nbreak P at", "panel wall housing sealed-4", "panel wall housing flat-4",
		"case on", "cavity P.1 circuit feed\ncavity P.4 circuit back\ncase on"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Mate.Turned {
			t := &m.Mate.Turned[i]
			h := &m.Mate.Halves[t.Half]
			if h.Break == "" && t.Worst > mate.WrongFeed {
				continue
			}
			out.Finding(h.Span, "", fmt.Sprintf("%s goes in upside down: %s", h.Title, t.Worst),
				fmt.Sprintf("Nothing states a key of %s, and its face looks alike when turned. Cavity %s", h.Part, listMeetings(t.Meetings)), halfSubject(h))
		}
	},
}
