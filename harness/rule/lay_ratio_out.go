package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var layRatioOut = &Rule{
	Key: "lay-ratio-out", Title: "layers are laid too steep or too long", Severity: diag.Finding,
	Why:     "Laid too short a bundle turns stiff and takes up much wire; laid too long its layers open at every bend.",
	Formula: "lay-ratio-least <= lay length / outside diameter of the layer <= lay-ratio-most, for runs that are laid in layers",
	Source:  "ASTM B286, second-hand: 8 to 16 times the outside diameter of the layer",
	Do:      "Set lay-ratio of the run within the limits.",
	Fires:   smallJob + "set lay to layers\nset lay-ratio to 20\n",
	Silent:  smallJob + "set lay to layers\nset lay-ratio to 12\n",
	Check: func(m *Model, out *diag.List) {
		done := map[string]bool{}
		trunks := laidInLayers(m)
		if trunks == nil {
			return
		}
		scopes := net.EdgeScopes(m.Job, m.Net.Space)
		for _, t := range trunks {
			e := &m.Net.Space.Edges[t.Edges[0]]
			at := scopes[t.Edges[0]]
			got, r := float64(net.LayRatio(m.Job, at)), m.Job.Settings.Get("lay-ratio", at)
			limit, word := m.Job.Settings.Get("lay-ratio-least", at), "least"
			low := got < limit.Value.Quantity.Value
			if !low {
				limit, word = m.Job.Settings.Get("lay-ratio-most", at), "most"
			}
			if done[t.Run] || !low && !(got > limit.Value.Quantity.Value) {
				continue
			}
			done[t.Run] = true
			d := out.Finding(e.Span, "", fmt.Sprintf("run %s: a turn of a layer is %s times its outside diameter, the %s is %s", t.Run, unit.Number(got, 1), word, limit.Value),
				"The limit is "+limit.Source()+".", diag.Subject{Kind: "run", Name: t.Run}).Measured(unit.Quantity{Value: got}, limit.Value.Quantity, low)
			if r.Set {
				d.Point(r.Span, "set here")
			}
		}
	},
}
