package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

var layThick = &Rule{
	Key: "lay-thick", Title: "a run laid in layers is much thicker than by hand", Severity: diag.Finding,
	Why:     "Wires of very unequal thickness do not fill layers: what is built up with tape and fillers wants larger clips, bushes and sleeves than the same wires laid by hand.",
	Formula: "outside diameter of the outermost layer <= (1 + lay-over) x 1.2 sqrt(sum d2), a twisted pair as the circle around it",
	Source:  "common practice; a cable maker's 1.2 sqrt(sum d2) for wires laid by hand",
	Do:      "Leave `lay` to auto, set it to hand, or lead the thickest wires by themselves.",
	Fires:   with(smallJob, "back from battery.neg to lamp.2 colour black", "back from battery.neg to lamp.2 colour black parallel 9") + "set lay to layers\nset lay-over to 1 %\n",
	Silent:  smallJob + "set lay to layers\nset lay-over to 1 %\n",
	Check: func(m *Model, out *diag.List) {
		trunks := laidInLayers(m)
		if trunks == nil {
			return
		}
		scopes := net.EdgeScopes(m.Job, m.Net.Space)
		for _, t := range trunks {
			worst, edge := unit.Ratio(0), -1
			for _, e := range t.Edges {
				if l := m.Layup.Of(e); l.Trade > 0 {
					if over := unit.Ratio(l.Outside/l.Trade) - 1; unit.WorseBy(over, worst, 1e-9) {
						worst, edge = over, e
					}
				}
			}
			if edge < 0 {
				continue
			}
			e, l := &m.Net.Space.Edges[edge], m.Layup.Of(edge)
			r := m.Job.Settings.Get("lay-over", scopes[edge])
			if worst > unit.Ratio(r.Value.Quantity.Value)*(1+1e-6)+1e-9 {
				out.Finding(e.Span, "", fmt.Sprintf("run %s, %s to %s: in layers it is %s thick, by hand %s", t.Run, l.From, l.To, l.Outside, l.Trade),
					fmt.Sprintf("That is %s more; the limit is %s (%s). Its clips and sleeves are chosen for the layers.", worst, r.Value, r.Source()), diag.Subject{Kind: "run", Name: t.Run}).
					Measured(unit.Quantity{Value: float64(worst), Dim: unit.DimRatio}, r.Value.Quantity, false)
			}
		}
	},
}
