package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
)

var bendUnheld = &Rule{
	Key: "bend-unheld", Title: "a run is not held near a breakout or a bend", Severity: diag.Finding,
	Why:     "A branch that nobody holds pulls at the trunk, and a bend that nobody holds straightens itself.",
	Formula: "distance from a breakout to a clip, at most clip-end; from the arc of a bend, at most half of that; on the arc none",
	Source:  "common practice",
	Do:      "Leave room for a clip there, or move the fixing stated by hand.",
	Fires:   with(floorJob("keep-out (380, 150, 0 mm), (620, 150, 0 mm), (620, 390, 0 mm), (380, 390, 0 mm)"), "at (500, 0, 0 mm)", "at (500, 300, 0 mm)"),
	Silent:  with(floorJob("keep-out (380, -60, 0 mm), (620, -60, 0 mm), (620, 60, 0 mm), (380, 60, 0 mm)"), "at (500, 0, 0 mm)", "at (500, 300, 0 mm)"),
	Check: func(m *Model, out *diag.List) {
		misses(m, out, []string{"breakout", "bend"}, func(x *fix.Miss) string {
			if x.Gap <= 0 {
				return fmt.Sprintf("run %s: no clip holds it at the %s at %s", x.Run, x.What, x.Place)
			}
			return fmt.Sprintf("run %s: the nearest clip is %s from the %s at %s", x.Run, x.Gap, x.What, x.Place)
		})
	},
}
