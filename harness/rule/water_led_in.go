package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/route"
)

var waterLedIn = &Rule{
	Key: "water-led-in", Title: "a connector in a wet zone faces up", Severity: diag.Finding,
	Why:     "Wires that come down into a connector lead the water into its seals.",
	Formula: "where the wires rise from a connector in a wet or splashed zone they first dip at least drip-loop below it",
	Source:  "AC 43.13-1B 11-118 asks for a drip loop; the figure is common practice",
	Do:      "Turn the connector, say where it really looks with `faces`, or lead the run through a lower point first.",
	Fires:   with(smallJob, "zone cabin air 40 C", "zone cabin air 40 C with splash", "at (500, 0, 0 mm)", "at (1000, 0, 300 mm)"),
	Silent:  with(smallJob, "zone cabin air 40 C", "zone cabin air 40 C with splash", "at (500, 0, 0 mm)", "at (1000, 0, -300 mm)"),
	Check: func(m *Model, out *diag.List) {
		waters(m, "up", func(w *route.Water) *diag.Diagnostic {
			return out.Finding(w.Span, "", fmt.Sprintf("the wires of %s come in from above in zone %s", w.Thing, w.Zone),
				fmt.Sprintf("Run %s dips %s below it; %s is asked (%s).", w.Run, w.Drop, w.Needed, w.Source), diag.Subject{Kind: w.Kind, Name: w.Name}).
				Measured(mm(w.Drop), mm(w.Needed), true)
		})
	},
}
