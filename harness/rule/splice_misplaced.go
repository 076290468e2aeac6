package rule

import (
	"fmt"
	"math"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/joint"
)

var spliceMisplaced = &Rule{
	Key: "splice-misplaced", Title: "a splice sits where none should be", Severity: diag.Finding,
	Why: "A barrel is the stiffest place of a bundle: where wires bend, part or move, its conductors break off at its ends; in heat its sleeve goes.",
	Formula: "in the school apart: middle of the splice >= splice-clear from connectors, studs and breakouts; in the school close: <= splice-close from one of them; end of the barrel >= splice-off from the arc of a bend and from a bush; " +
		"air and heat-margin, and the conductors there, <= heat of its sleeve and its barrel; not in a stretch that moves",
	Source: "practice disagrees: directly behind a connector, or 40 to 305 mm off it; set splice-school names the one that rules",
	Do:     "Move the splice (`along` a run `after` a length), or leave its place out and the program chooses one. What is meant to lie behind a connector or at a breakout wants set splice-school to close.",
	Fires:  oneSplice("along main after 30 mm"),
	Silent: oneSplice("along main after 50 mm"),
	Check: func(m *Model, out *diag.List) {
		for i := range m.Joints.Made {
			j := &m.Joints.Made[i]
			if len(j.Misses) == 0 {
				continue
			}
			x := &j.Misses[0]
			var rest []string
			for k := range j.Misses[1:] {
				rest = append(rest, missText(&j.Misses[k+1]))
			}
			detail := ""
			if x.Source != "" {
				detail = "By " + x.Source + ". "
			}
			if len(rest) > 0 {
				detail += "Besides, it lies " + strings.Join(rest, ", and ") + ". "
			}
			if j.Status == design.Computed {
				detail += "No place on its runs meets all limits: this one misses them least."
			}
			d := out.Finding(j.Span, "", fmt.Sprintf("splice %s lies %s", j.Splice, missText(x)), strings.TrimSpace(detail), diag.Subject{Kind: "splice", Name: j.Splice})
			switch {
			case x.Kind == joint.InHeat:
				d.Measured(celsius(x.Hot), celsius(x.Stands), false)
			case x.Kind == joint.FarFromBoth && !math.IsInf(float64(x.Is), 1):
				d.Measured(mm(x.Is), mm(x.Wants), false)
			case x.Wants > 0 && x.Kind != joint.FarFromBoth:
				d.Measured(mm(x.Is), mm(x.Wants), true)
			}
		}
	},
}

// missText words what is wrong with a place: "12 mm from the breakout hub, where 40 mm are asked".
func missText(x *joint.Miss) string {
	from := func(thing string) string {
		if x.Is < 0.5 {
			return fmt.Sprintf("at %s, from which %s are asked", thing, x.Wants)
		}
		return fmt.Sprintf("%s from %s, where %s are asked", x.Is, thing, x.Wants)
	}
	switch x.Kind {
	case joint.NearEnd:
		return from("the connector or stud at " + x.What)
	case joint.NearBranch:
		return from("the breakout at " + x.What)
	case joint.InBend:
		if x.Is < 0.5 {
			return "in the bend at " + x.What
		}
		return from("the bend at " + x.What)
	case joint.InBush:
		if x.Is < 0.5 {
			return "in the bush " + x.What
		}
		return from("the bush " + x.What)
	case joint.FarFromBoth:
		if math.IsInf(float64(x.Is), 1) {
			return fmt.Sprintf("close to no connector and no breakout, of which one within %s is asked", x.Wants)
		}
		return fmt.Sprintf("%s from %s, the next connector or breakout, where at most %s are asked", x.Is, x.What, x.Wants)
	case joint.InHeat:
		if x.Inside {
			return fmt.Sprintf("where its conductors reach %s: %s stands %s", x.Hot, x.What, x.Stands)
		}
		return fmt.Sprintf("in air of %s, margin counted in: %s stands %s", x.Hot, x.What, x.Stands)
	case joint.InMotion:
		if x.Wants > 0 {
			return from("the stretch of run " + x.What + " that moves")
		}
		return "in a stretch of run " + x.What + " that moves"
	}
	return "where it should not: " + x.What
}
