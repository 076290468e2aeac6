package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
)

var offTube = &Rule{
	Key: "off-tube", Title: "a run is not at the tube it is said to be tied to", Severity: diag.Finding,
	Why:     "A tie that does not reach round its tube holds nothing.",
	Formula: "distance between the surfaces of bundle and tube at each clip, at most clip-reach",
	Source:  "common practice",
	Do:      "Lead the run along the tube, or correct the tube.",
	Fires:   with(smallJob, "section body zone cabin\n", "section body zone cabin tube rail\n") + "tube rail from (0, 200, 0 mm) to (1000, 200, 0 mm) outside 30 mm\n",
	Silent:  with(smallJob, "section body zone cabin\n", "section body zone cabin tube rail\n") + "tube rail from (0, 30, 0 mm) to (1000, 30, 0 mm) outside 30 mm\n",
	Check: func(m *Model, out *diag.List) {
		misses(m, out, []string{"tube"}, func(x *fix.Miss) string {
			return fmt.Sprintf("run %s: clip %s is %s off tube %s", x.Run, x.Clip, x.Gap, x.Place)
		})
	},
}
