package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/route"
	"loomsheet/harness/unit"
)

var hazardNear = &Rule{
	Key: "hazard-near", Title: "a run passes too close to a hazard", Severity: diag.Finding,
	Why:     "Exhausts, belts, fuel lines and steering shafts destroy a harness or are set alight by it.",
	Formula: "least distance in space between the surface of the bundle and that of the hazard, in each of its positions, at least its clearance",
	Source:  "AC 43.13-1B 11-96w for fuel lines; common practice for the rest; the job's own `clearance`",
	Do:      "Move the run, shield it with a heat sleeve where the hazard says `sleeved`, or move the hazard.",
	Fires:   smallJob + "hazard pipe from (400, 20, 0 mm) to (600, 20, 0 mm) as exhaust clearance 50 mm\n",
	Silent:  smallJob + "hazard pipe from (400, 80, 0 mm) to (600, 80, 0 mm) as exhaust clearance 50 mm\n",
	Check: func(m *Model, out *diag.List) {
		var near []route.Near
		for _, n := range m.Route.Nears {
			if n.Gap < n.Needed {
				near = append(near, n)
			}
		}
		for _, g := range byRun(near, func(n *route.Near) string { return n.Run + "\x00" + n.Hazard }, func(n *route.Near) unit.Length { return n.Gap - n.Needed }) {
			n := g[0]
			what := "hazard " + n.Hazard
			if n.Position != "" {
				what += " in position " + n.Position
			}
			title := fmt.Sprintf("run %s comes to %s of %s", n.Run, n.Gap, what)
			if n.Gap <= 0 {
				title = fmt.Sprintf("run %s meets %s", n.Run, what)
			}
			detail := fmt.Sprintf("Nearest at %s, %s along; %s is asked (%s).", placeText(n.At), n.After, n.Needed, n.By)
			detail += others(g, func(n *route.Near) string {
				if n.Position != "" {
					return fmt.Sprintf("%s in position %s", n.Gap, n.Position)
				}
				return fmt.Sprintf("%s at %s along stretch %d", n.Gap, n.After, n.Stretch+1)
			})
			out.Finding(n.Span, "", title, detail, aboutRun(n.Run)).Measured(mm(n.Gap), mm(n.Needed), true).Point(n.Other, "the hazard")
		}
	},
}
