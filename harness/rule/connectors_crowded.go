package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

var connectorsCrowded = &Rule{
	Key: "connectors-crowded", Title: "connectors on a panel leave one another no room", Severity: diag.Finding,
	Why:     "A plug that no hand reaches or a nut that no spanner goes round is never mated properly.",
	Formula: "flanges apart; from a nut or a plug to its neighbour at least connector-room, or the `room` of its housing",
	Source:  "common practice",
	Do:      "Move one of them.",
	Fires:   twoPlugs("(400, 32, 0 mm)"),
	Silent:  twoPlugs("(400, 80, 0 mm)"),
	Check: func(m *Model, out *diag.List) {
		for _, g := range byRun(m.Shell.Crowded, func(c *shell.Crowded) string { return c.Panel }, func(c *shell.Crowded) unit.Length { return c.Gap - c.Needed }) {
			c := g[0]
			out.Finding(c.Where, "", fmt.Sprintf("panel %s: %s and %s are %s apart", c.Panel, c.A, c.B, c.Gap),
				fmt.Sprintf("%s; %s is asked (%s).%s", c.Why, c.Needed, c.Source, others(g, func(c *shell.Crowded) string { return fmt.Sprintf("%s and %s, %s", c.A, c.B, c.Gap) })), aboutPanel(c.Panel)).
				Measured(mm(c.Gap), mm(c.Needed), true).Point(c.Other, "its neighbour")
		}
	},
}
