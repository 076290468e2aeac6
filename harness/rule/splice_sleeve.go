package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var spliceSleeve = &Rule{
	Key: "splice-sleeve", Title: "the sleeve of a splice does not close on it", Severity: diag.Finding,
	Why:     "A sleeve that does not pass over the barrel cannot be put on once it is crimped, one that does not close on the thinnest side lets water in; where it is wet only one with glue keeps it out.",
	Formula: "a size with expanded diameter >= barrel and the wires of either side, recovered diameter <= the thinner side; in a wet or splashed zone lined with glue",
	Source:  "diameters of the parts library; common practice",
	Do:      "Take a sleeve that recovers further (one that grows 3 or 4 times), one with glue in the wet, or sort the wires to two sides that differ less.",
	Fires:   oneSplice("along main after 200 mm sleeve shrink"),
	Silent:  oneSplice("along main after 200 mm sleeve shrink-glued-4"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Joints.Made {
			if j := &m.Joints.Made[i]; j.SleeveWhy != "" {
				out.Finding(j.Span, "", fmt.Sprintf("splice %s: %s", j.Splice, j.SleeveWhy), "", diag.Subject{Kind: "splice", Name: j.Splice})
			}
		}
	},
}
