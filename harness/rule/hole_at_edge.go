package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

var holeAtEdge = &Rule{
	Key: "hole-at-edge", Title: "a hole is too close to the edge of its panel, or where none may be", Severity: diag.Finding,
	Why:     "A hole at the edge tears out; one in a keep-out meets what is behind it.",
	Formula: "distance from the middle of the hole to the panel's edge, at least hole-edge diameters; of a cut-out at least cut-out-gap of metal; none in a keep-out or beyond the sheet",
	Source:  "AC 43.13-1B 4-57 for rivets, from memory",
	Do:      "Move it, or correct the panel's corners.",
	Fires:   floorJob("") + "hole one at (300, -195, 0 mm) panel floor drill 6 mm\n",
	Silent:  floorJob("") + "hole one at (300, -150, 0 mm) panel floor drill 6 mm\n",
	Check: func(m *Model, out *diag.List) {
		for _, g := range byRun(m.Shell.AtEdge, func(c *shell.AtEdge) string { return c.Panel }, func(c *shell.AtEdge) unit.Length { return c.Distance - c.Needed }) {
			say := func(c *shell.AtEdge) string {
				switch c.What {
				case "keep-out":
					return c.Mark + " is in a keep-out"
				case "outside":
					return c.Mark + " is beside the sheet"
				}
				return fmt.Sprintf("%s is %s from the edge", c.Mark, c.Distance)
			}
			c := g[0]
			out.Finding(c.Where, "", fmt.Sprintf("panel %s: hole %s", c.Panel, say(c)), fmt.Sprintf("%s is asked (%s).%s", c.Needed, c.Source, others(g, say)), aboutPanel(c.Panel)).
				Measured(mm(c.Distance), mm(c.Needed), true).Point(c.Other, "the panel")
		}
	},
}
