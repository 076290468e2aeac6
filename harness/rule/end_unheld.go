package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
)

var endUnheld = &Rule{
	Key: "end-unheld", Title: "a run is not held near its connector", Severity: diag.Finding,
	Why:     "Without a clip near it the contacts carry the weight and the shaking of the bundle.",
	Formula: "distance from a connector or a stud to the first clip, at most clip-end and at least clip-clear",
	Source:  "common practice: 50 to 120 mm",
	Do:      "Leave room for a clip behind the connector, or move the fixing stated by hand.",
	Fires:   floorJob("keep-out (850, -60, 0 mm), (1050, -60, 0 mm), (1050, 60, 0 mm), (850, 60, 0 mm)"),
	Silent:  floorJob("keep-out (950, -60, 0 mm), (1050, -60, 0 mm), (1050, 60, 0 mm), (950, 60, 0 mm)"),
	Check: func(m *Model, out *diag.List) {
		misses(m, out, []string{"end"}, func(x *fix.Miss) string {
			if x.Gap <= 0 {
				return fmt.Sprintf("run %s: no clip holds it at %s", x.Run, x.Place)
			}
			return fmt.Sprintf("run %s: the first clip is %s from %s", x.Run, x.Gap, x.Place)
		})
	},
}
