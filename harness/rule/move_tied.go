package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
)

var moveTied = &Rule{
	Key: "move-tied", Title: "a clip ties what must move", Severity: diag.Finding,
	Why:     "A clip within a moving stretch leaves all the movement to the short piece beyond it.",
	Formula: "no clip between the two that hold the ends of a stretch that `moves`",
	Source:  "common practice",
	Do:      "Take the fixing out, or part the run there and say `moves` only of the piece that does.",
	Fires:   with(smallJob, "section body zone cabin\n", "section body zone cabin moves 40 mm slack 120 mm\n") + "fixing tie-1 run main after 500 mm\n",
	Silent:  with(smallJob, "section body zone cabin\n", "section body zone cabin moves 40 mm slack 120 mm\n"),
	Check: func(m *Model, out *diag.List) {
		for _, v := range m.Route.Moves {
			if len(v.Tied) > 0 {
				out.Finding(v.Span, "", fmt.Sprintf("run %s: %s tied between %s and %s, which move %s against one another", v.Run, strings.Join(v.Tied, ", "), v.From, v.To, v.Moves), "", aboutRun(v.Run))
			}
		}
	},
}
