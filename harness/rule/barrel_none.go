package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

const ownBarrel = "barrel own takes 0.5 mm2, 1.5 mm2 length 8 mm outside 3.4 mm strip 9 mm\nsection body"

var barrelNone = &Rule{
	Key: "barrel-none", Title: "no barrel takes the wires of a splice", Severity: diag.Finding,
	Why:     "In a barrel too large the strands are not pressed together and pull out; in one too small they do not all go in.",
	Formula: "sum of all conductors of the splice in the range of its barrel; of the library's where none is stated",
	Source:  "makers' ranges of barrels, in the parts library",
	Do:      "Name a `barrel` whose range holds the sum, declare one, or part the splice in two.",
	Fires:   with(oneSplice("along main after 200 mm barrel own"), "section body", with(ownBarrel, "0.5 mm2, 1.5 mm2", "4 mm2, 6 mm2")),
	Silent:  with(oneSplice("along main after 200 mm barrel own"), "section body", ownBarrel),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Joints.Made {
			j := &m.Joints.Made[i]
			if why := j.BarrelWhy(); why != "" {
				out.Finding(j.Span, "", fmt.Sprintf("splice %s: %s", j.Splice, why), "", diag.Subject{Kind: "splice", Name: j.Splice})
			}
		}
	},
}
