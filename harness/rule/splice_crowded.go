package rule

import (
	"fmt"
	"strings"

	"loomsheet/harness/diag"
)

var spliceCrowded = &Rule{
	Key: "splice-crowded", Title: "splices lie beside one another in a bundle", Severity: diag.Finding,
	Why:     "Barrels and sleeves at one station make a hard knot that chafes, will not bend, and cannot be shrunk or mended one without the other.",
	Formula: "along the bundle, middle to middle, of any two splices of a section >= half of both barrels and splice-apart",
	Source:  "common practice: splices are staggered",
	Do:      "Give them places apart from one another (`along` a run `after` a length), or leave their places out and the program chooses them.",
	Fires:   twoSplices("230 mm"),
	Silent:  twoSplices("240 mm"),
	Check: func(m *Model, out *diag.List) {
		for _, c := range m.Joints.Crowds {
			apart := fmt.Sprintf("lie within %s of one another, %s", c.Is, c.Where)
			if c.Is < 0.5 {
				apart = "lie in one place, " + c.Where
			}
			out.Finding(c.Span, "", fmt.Sprintf("splices %s %s", listed(c.Splices), apart),
				fmt.Sprintf("From the middle of one to that of the next %s are asked, barrels counted in (%s).", c.Wants, c.Source), diag.Subject{Kind: "splice", Name: c.Splices[0]}).
				Measured(mm(c.Is), mm(c.Wants), true)
		}
	},
}

// listed joins names: a, b and c.
func listed(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " and " + names[len(names)-1]
}

// twoSplices is the small job with a splice in each of its circuits, the second one so far along.
func twoSplices(after string) string {
	return with(smallJob, "circuit feed from battery.pos to lamp.1", "splice s along main after 200 mm section body\nsplice u along main after "+after+" section body\ncircuit feed from battery.pos to s to lamp.1",
		"circuit back from battery.neg to lamp.2", "circuit back from battery.neg to u to lamp.2")
}

// oneSplice is the small job with a splice, of which more is stated.
func oneSplice(more string) string {
	return with(smallJob, "circuit feed from battery.pos to lamp.1", "splice s section body "+more+"\ncircuit feed from battery.pos to s to lamp.1")
}
