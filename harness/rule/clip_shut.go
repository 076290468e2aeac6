package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var clipShut = &Rule{
	Key: "clip-shut", Title: "a fixing stated by hand sits where no clip may be", Severity: diag.Finding,
	Why:     "A clip on a splice, on a bend, at a connector's back or in a keep-out does harm there.",
	Formula: "a stated fixing is at least clip-clear from connectors and breakouts and clip-splice from splices, on no bend, in no keep-out",
	Source:  "common practice",
	Do:      "Move the fixing.",
	Fires:   floorJob("keep-out (450, -60, 0 mm), (550, -60, 0 mm), (550, 60, 0 mm), (450, 60, 0 mm)") + "fixing tie-1 run main after 500 mm\n",
	Silent:  floorJob("keep-out (450, -60, 0 mm), (550, -60, 0 mm), (550, 60, 0 mm), (450, 60, 0 mm)") + "fixing tie-1 run main after 400 mm\n",
	Check: func(m *Model, out *diag.List) {
		for _, x := range m.Fixed.Misses {
			if x.What == "shut" {
				out.Finding(x.Span, "", fmt.Sprintf("fixing %s of run %s, %s along: %s", x.Clip, x.Run, x.From, x.Why), "", diag.Subject{Kind: "fixing", Name: x.Clip})
			}
		}
	},
}
