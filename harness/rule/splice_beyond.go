package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var spliceBeyond = &Rule{
	Key: "splice-beyond", Title: "a splice sits further along a run than the run is long", Severity: diag.Finding,
	Why:     "A joint beyond the end of its run is nowhere; wires cut to reach it come out too long.",
	Formula: "after <= length of the run's first way",
	Source:  "common practice",
	Do:      "Correct `after`, or name another run.",
	Fires:   with(smallJob, "circuit feed from battery.pos to lamp.1 colour red", "splice s along main after 1400 mm section body\ncircuit feed from battery.pos to s to lamp.1 colour red"),
	Silent:  with(smallJob, "circuit feed from battery.pos to lamp.1 colour red", "splice s along main after 700 mm section body\ncircuit feed from battery.pos to s to lamp.1 colour red"),
	Check: func(m *Model, out *diag.List) {
		for _, b := range m.Net.Space.Beyond {
			out.Finding(b.Span, "", fmt.Sprintf("splice %s is said to sit %s along run %s, which is %s long", b.Splice, b.After, b.Run, b.Length), "It is taken at the run's end.", diag.Subject{Kind: "splice", Name: b.Splice})
		}
	},
}
