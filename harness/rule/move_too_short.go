package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var moveTooShort = &Rule{
	Key: "move-too-short", Title: "a run is too short for the movement of its end", Severity: diag.Finding,
	Why:     "An engine rocks on its mounts and a wheel turns; a bundle without length to spare tears at its connector.",
	Formula: "length between what holds its two ends, slack included, at least their straight distance + `moves` + moves-spare",
	Source:  "AC 43.13-1B 11-118: slack for movement beyond that for two re-terminations; common practice",
	Do:      "Add `slack` to the stretch, or move the clips that hold its ends apart.",
	Fires:   with(smallJob, "section body zone cabin\n", "section body zone cabin moves 40 mm\n"),
	Silent:  with(smallJob, "section body zone cabin\n", "section body zone cabin moves 40 mm slack 120 mm\n"),
	Check: func(m *Model, out *diag.List) {
		for _, v := range m.Route.Moves {
			if v.Free < v.Needed {
				out.Finding(v.Span, "", fmt.Sprintf("run %s has %s between %s and %s, which move %s against one another", v.Run, v.Free, v.From, v.To, v.Moves),
					fmt.Sprintf("Needed is %s: %s straight, %s of movement and %s to spare (%s).", v.Needed, v.Straight, v.Moves, v.Spare, v.Source), aboutRun(v.Run)).
					Measured(mm(v.Free), mm(v.Needed), true)
			}
		}
	},
}
