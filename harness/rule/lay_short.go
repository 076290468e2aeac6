package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var layShort = &Rule{
	Key: "lay-short", Title: "a run laid in layers is shorter than one turn of them", Severity: diag.Finding,
	Why:     "A layer that does not go round once holds nothing: its wires spring off at both ends.",
	Formula: "one turn of the outermost layer, lay-ratio x its outside diameter, <= length of what is laid in layers",
	Source:  "common practice",
	Do:      "Leave `lay` of the run to auto, or set it to hand or flat.",
	Fires:   smallJob + "set lay to layers\nset lay-ratio to 400\n",
	Silent:  smallJob + "set lay to layers\n",
	Check: func(m *Model, out *diag.List) {
		for _, t := range laidInLayers(m) {
			turn, edge, known := unit.Length(0), t.Edges[0], true
			for _, e := range t.Edges {
				known = known && !m.Net.Space.Edges[e].Unknown
				for _, y := range m.Layup.Of(e).Layers {
					if y.Lay > turn {
						turn, edge = y.Lay, e
					}
				}
			}
			if known && turn > t.Length {
				out.Finding(m.Net.Space.Edges[edge].Span, "", fmt.Sprintf("run %s, %s to %s: %s laid in layers, one turn of the outermost takes %s", t.Run, t.From, t.To, t.Length, turn), "",
					diag.Subject{Kind: "run", Name: t.Run}).Measured(mm(t.Length), mm(turn), true)
			}
		}
	},
}
