package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/route"
)

var waterCollects = &Rule{
	Key: "water-collects", Title: "a connector or a splice sits where water collects", Severity: diag.Finding,
	Why:     "Water runs down along the wires; at the lowest place it stays and creeps into contacts.",
	Formula: "in a wet or splashed zone no connector and no splice where all ways that meet there rise from it",
	Source:  "common practice",
	Do:      "Move it up, or lead a run on to a lower place first (a drip loop).",
	Fires: with(smallJob, "zone cabin air 40 C", "zone cabin air 40 C with splash", "at (500, 0, 0 mm)", "at (500, 0, -60 mm)", "circuit feed from battery.pos to lamp.1",
		"splice join at hub section body\ncircuit feed from battery.pos to join to lamp.1"),
	Silent: with(smallJob, "zone cabin air 40 C", "zone cabin air 40 C with splash", "at (500, 0, 0 mm)", "at (500, 0, -60 mm)", "circuit feed from battery.pos to lamp.1",
		"splice join along main after 300 mm section body\ncircuit feed from battery.pos to join to lamp.1"),
	Check: func(m *Model, out *diag.List) {
		waters(m, "low", func(w *route.Water) *diag.Diagnostic {
			return out.Finding(w.Span, "", fmt.Sprintf("%s sits at a low point in zone %s", w.Thing, w.Zone),
				fmt.Sprintf("Every way rises from it, at %s.", placeText(w.At)), diag.Subject{Kind: w.Kind, Name: w.Name})
		})
	},
}
