package rule

import (
	"fmt"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var stringGap = &Rule{
	Key: "string-gap", Title: "a measured length disagrees with the coordinates", Severity: diag.Finding,
	Why:     "A string cannot be shorter than the straight line, and one much longer or shorter than the way means that a coordinate or the length was mistyped.",
	Formula: "|measured - along the coordinates| / along the coordinates, at most string-gap; measured at least the straight line from each thing the run passes to the next, waypoints left out",
	Source:  "common practice",
	Do:      "Measure again, or correct a waypoint.",
	Fires:   with(smallJob, "section body zone cabin\n", "section body zone cabin length 1300 mm\n"),
	Silent:  with(smallJob, "section body zone cabin\n", "section body zone cabin length 1040 mm\n"),
	Check: func(m *Model, out *diag.List) {
		for _, g := range m.Net.Space.StringGaps {
			if g.Straight <= 0 {
				continue
			}
			run := findRun(m.Job, g.Run)
			r := m.Job.Settings.Get("string-gap", design.Scope{Run: g.Run, Section: run.Section, Zone: run.Zone, Panel: run.Panel})
			gap := unit.Ratio(max(g.Measured-g.Straight, g.Straight-g.Measured) / g.Straight)
			limit := unit.Ratio(r.Value.Quantity.Value)
			value := unit.Quantity{Value: float64(gap), Dim: unit.DimRatio}
			short := unit.Quantity{Value: float64((g.Measured - g.Least) / g.Least), Dim: unit.DimRatio}
			about := diag.Subject{Kind: "run", Name: g.Run}
			switch {
			case g.Measured < g.Least-0.5:
				out.Finding(g.Span, "", fmt.Sprintf("run %s: the measured %s is shorter than the straight line of %s", g.Run, g.Measured, g.Least),
					"A string lies on the way; it cannot be shorter.", about).Measured(short, unit.Quantity{Dim: unit.DimRatio}, true)
			case gap > limit:
				out.Finding(g.Span, "", fmt.Sprintf("run %s: measured %s, %s by the coordinates: %s apart", g.Run, g.Measured, g.Straight, gap),
					fmt.Sprintf("The limit is %s (%s).", limit, r.Source()), about).Measured(value, r.Value.Quantity, false)
			}
		}
	},
}

func findRun(job *design.Job, name string) *design.Run {
	for _, r := range job.Runs {
		if r.Name == name {
			return r
		}
	}
	return &design.Run{Name: name}
}
