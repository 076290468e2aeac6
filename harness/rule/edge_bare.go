package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/route"
	"loomsheet/harness/unit"
)

var edgeBare = &Rule{
	Key: "edge-bare", Title: "a bundle passes a sharp edge without protection", Severity: diag.Finding,
	Why:     "The edge of a sheet saws through insulation within a season.",
	Formula: "distance between a bundle without a sleeve and the edge of a panel, or a hazard that is an edge, at least clear-edge",
	Source:  "AC 43.13-1B 11-115: a grommet where the clearance is under 3/8 in",
	Do:      "Put a `sleeve` on the run, lead it further off, or edge the sheet and accept the finding.",
	Fires:   smallJob + "hazard rim from (300, 5, 0 mm) to (700, 5, 0 mm) as edge\n",
	Silent:  with(smallJob, "section body zone cabin\n", "section body zone cabin sleeve braid\n") + "hazard rim from (300, 5, 0 mm) to (700, 5, 0 mm) as edge\n",
	Check: func(m *Model, out *diag.List) {
		var near []route.Edge
		for _, e := range m.Route.Edges {
			if e.Gap < e.Needed {
				near = append(near, e)
			}
		}
		for _, g := range byRun(near, func(e *route.Edge) string { return e.Run }, func(e *route.Edge) unit.Length { return e.Gap - e.Needed }) {
			e := g[0]
			out.Finding(e.Span, "", fmt.Sprintf("run %s passes %s of %s without a sleeve", e.Run, e.Gap, e.Of),
				fmt.Sprintf("At %s, %s along; %s is asked (%s).%s", placeText(e.At), e.After, e.Needed, e.Source, others(g, func(e *route.Edge) string { return fmt.Sprintf("%s of %s", e.Gap, e.Of) })),
				aboutRun(e.Run)).Measured(mm(e.Gap), mm(e.Needed), true).Point(e.Other, "the edge")
		}
	},
}
