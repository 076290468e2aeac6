package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/route"
	"loomsheet/harness/unit"
)

var bendTooTight = &Rule{
	Key: "bend-too-tight", Title: "a bundle is bent too tightly", Severity: diag.Finding,
	Why:     "A tight bend works the strands, thins the insulation on its outer side and opens seals.",
	Formula: "radius at the inner side of the bend, as stated or else as there is room for, at least the largest of bend-wire x thickest wire, bend-bundle x bundle (bend-flexing where it moves), bend-cable x cable, or what the part states",
	Source:  "AC 43.13-1B 11-96, from memory: 10 times the largest wire; NASA-STD-8739.4 7.3.21: 6 and 10 times a cable",
	Do:      "Move the waypoint so that the bend has room, state a larger `bend` or none, or fit a moulded boot and accept the finding.",
	Fires:   with(smallJob, "at (500, 0, 0 mm)", "at (500, 200, 0 mm)", "section body zone cabin\n", "section body zone cabin bend 2 mm\n"),
	Silent:  with(smallJob, "at (500, 0, 0 mm)", "at (500, 200, 0 mm)"),
	Check: func(m *Model, out *diag.List) {
		var tight []route.Bend
		for _, b := range m.Route.Bends {
			if b.Needed > 0 && b.Inside < b.Needed-0.5 {
				tight = append(tight, b)
			}
		}
		for _, g := range byRun(tight, func(b *route.Bend) string { return b.Run }, func(b *route.Bend) unit.Length { return b.Inside - b.Needed }) {
			b := g[0]
			detail := fmt.Sprintf("Needed is %s at the inner side: %s (%s).", b.Needed, b.Rule, b.Source)
			if b.Fits >= b.Needed {
				detail += fmt.Sprintf(" There is room for %s: state a larger `bend`, or none.", b.Fits)
			} else if b.Stated {
				detail += fmt.Sprintf(" Between its neighbours there is room for %s only.", b.Fits)
			}
			detail += others(g, func(b *route.Bend) string { return fmt.Sprintf("%s at %s of %s", b.Inside, b.Place, b.Needed) })
			onto := ""
			if b.Onto != "" && b.Onto != b.Run {
				onto = " into run " + b.Onto
			}
			out.Finding(b.Span, "", fmt.Sprintf("run %s bends to %s by %s at %s%s", b.Run, b.Inside, b.Turn, b.Place, onto), detail, aboutRun(b.Run)).
				Measured(mm(b.Inside), mm(b.Needed), true)
		}
	},
}
