package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/fix"
)

var clipSpanOver = &Rule{
	Key: "clip-span-over", Title: "a run hangs free for too long", Severity: diag.Finding,
	Why:     "A bundle that hangs swings, chafes and works its wires hard at the clips.",
	Formula: "distance between two clips along the run, at most clip-span, of a thin bundle clip-span-thin",
	Source:  "common practice; AC 43.13-1B 11-96a allows 610 mm",
	Do:      "Give it something to be fixed to: a `panel`, a `tube`, a `hole`; or move a fixing stated by hand.",
	Fires:   floorJob("keep-out (300, -60, 0 mm), (700, -60, 0 mm), (700, 60, 0 mm), (300, 60, 0 mm)"),
	Silent:  floorJob("keep-out (430, -60, 0 mm), (570, -60, 0 mm), (570, 60, 0 mm), (430, 60, 0 mm)"),
	Check: func(m *Model, out *diag.List) {
		misses(m, out, []string{"span"}, func(x *fix.Miss) string {
			return fmt.Sprintf("run %s hangs free for %s, from %s to %s along", x.Run, x.Gap, x.From, x.To)
		})
	},
}
