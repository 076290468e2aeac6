package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/free"
)

var undoForNothing = &Rule{
	Key: "undo-for-nothing", Title: "what a removal undoes frees nothing", Severity: diag.Finding,
	Why:     "A break with a half in the wrong section, or another one of a like name: what was meant stays tied.",
	Formula: "each entry of `undo` joins what comes away to what stays, is a pole of a supply, or takes the last supply away",
	Source:  "common practice",
	Do:      "Take it out of `undo`, or mend the section of its half, of its device or of its runs.",
	Fires:   breakJob + "removal nose-off section nose undo battery.neg, P, horn\n",
	Silent:  breakJob + "removal nose-off section nose undo battery.neg, P\n",
	Check: func(m *Model, out *diag.List) {
		eachStep(m, func(p *free.Part, s *free.Step) {
			if !s.Needed {
				out.Finding(s.Span, "", fmt.Sprintf("%s: undoing %s frees nothing", partName(p), stepName(s)), s.Why, aboutStep(s))
			}
		})
	},
}
