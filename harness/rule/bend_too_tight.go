package rule

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/diag"
	"loomsheet/harness/net"
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
			detail := fmt.Sprintf("Needed is %s at the inner side: %s (%s).%s", b.Needed, b.Rule, b.Source, turned(m.Net, b))
			if b.Fits >= b.Needed {
				detail += fmt.Sprintf(" There is room for %s: state a larger `bend`, or none.", b.Fits)
			} else if b.Stated {
				detail += fmt.Sprintf(" Between its neighbours there is room for %s only.", b.Fits)
			}
			detail += others(g, func(b *route.Bend) string {
				return fmt.Sprintf("%s at %s of %s%s", b.Inside, b.Place, b.Needed, first(m.Net, b))
			})
			onto := ""
			if b.Onto != "" && b.Onto != b.Run {
				onto = " into run " + b.Onto
			}
			out.Finding(b.Span, "", fmt.Sprintf("run %s bends to %s by %s at %s%s", b.Run, b.Inside, b.Turn, b.Place, onto), detail, aboutRun(b.Run)).
				Measured(mm(b.Inside), mm(b.Needed), true)
		}
	},
}

// turned names the wires that a bend turns, the one that rules first.
func turned(nt *net.Net, b *route.Bend) string {
	list := ruling(b)
	names := make([]string, 0, 4)
	for i, w := range list {
		if i == 3 && len(list) > 4 {
			names = append(names, fmt.Sprintf("and %d more", len(list)-i))
			break
		}
		names = append(names, turnedName(nt, w))
	}
	switch len(names) {
	case 0:
		return ""
	case 1:
		return " What turns there: " + names[0] + "."
	}
	return " What turns there: " + strings.Join(names, "; ") + "."
}

// first names the first of them in brackets.
func first(nt *net.Net, b *route.Bend) string {
	switch list := ruling(b); len(list) {
	case 0:
		return ""
	case 1:
		return " (" + turnedName(nt, list[0]) + ")"
	default:
		return fmt.Sprintf(" (%s and %d more)", turnedName(nt, list[0]), len(list)-1)
	}
}

// ruling is what a bend turns, thickest first, but the wire that rules before all.
func ruling(b *route.Bend) []int {
	list := slices.Clone(b.Turned())
	if i := slices.Index(list, b.Wire); i > 0 {
		list = slices.Insert(slices.Delete(list, i, i+1), 0, b.Wire)
	}
	return list
}

func turnedName(nt *net.Net, wire int) string {
	if w := &nt.Wires[wire]; w.Cable != "" {
		return "cable " + w.Cable
	} else {
		return w.Name
	}
}
