package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

var holesClose = &Rule{
	Key: "holes-close", Title: "two holes are too close to each other", Severity: diag.Finding,
	Why:     "The metal between two holes tears, and neither rivet nuts nor washers sit flat.",
	Formula: "distance from middle to middle, at least hole-apart times the larger diameter; beside a cut-out at least cut-out-gap of metal",
	Source:  "AC 43.13-1B 4-57 for rivets, from memory",
	Do:      "Move one of them, or let one hole serve both.",
	Fires:   floorJob("") + "hole one at (300, 60, 0 mm) panel floor drill 6 mm\nhole two at (310, 60, 0 mm) panel floor drill 6 mm\n",
	Silent:  floorJob("") + "hole one at (300, 60, 0 mm) panel floor drill 6 mm\nhole two at (340, 60, 0 mm) panel floor drill 6 mm\n",
	Check: func(m *Model, out *diag.List) {
		for _, g := range byRun(m.Shell.Close, func(c *shell.Close) string { return c.Panel }, func(c *shell.Close) unit.Length { return c.Distance - c.Needed }) {
			c := g[0]
			out.Finding(c.Where, "", fmt.Sprintf("panel %s: holes %s and %s are %s apart", c.Panel, c.A, c.B, c.Distance),
				fmt.Sprintf("%s is asked (%s).%s", c.Needed, c.Source, others(g, func(c *shell.Close) string { return fmt.Sprintf("%s and %s, %s", c.A, c.B, c.Distance) })), aboutPanel(c.Panel)).
				Measured(mm(c.Distance), mm(c.Needed), true).Point(c.Other, "the other one")
		}
	},
}
