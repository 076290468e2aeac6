package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
	"loomsheet/harness/shell"
)

var offPanel = &Rule{
	Key: "off-panel", Title: "a thing is not on the panel it is said to be on", Severity: diag.Finding,
	Why:     "A hole is drilled where the panel is: what lies elsewhere misses it, and a bundle far off its panel is out of reach of its clips.",
	Formula: "distance from the plane of the panel: of a hole, a connector or a bush at most panel-flat; of the surface of a bundle at most clip-reach; of a stated hole from the middle of the bundle whose clip uses it, at most its thickness + clip-reach + the clip's ear",
	Source:  "common practice",
	Do:      "Correct a coordinate, lead the run along the panel, or name the panel it really is on.",
	Fires:   with(floorJob(""), "at (500, 0, 0 mm)", "at (500, 0, 90 mm)"),
	Silent:  floorJob(""),
	Check: func(m *Model, out *diag.List) {
		misses(m, out, []string{"panel"}, func(x *fix.Miss) string {
			return fmt.Sprintf("run %s: its bundle at clip %s is %s off panel %s", x.Run, x.Clip, x.Gap, x.Place)
		})
		misfits(m, out, func(x *shell.Misfit) bool { return x.What == "off" || x.What == "far" })
	},
}
