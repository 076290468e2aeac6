package rule

import (
	"fmt"

	"loomsheet/harness/diag"
)

var boardTooSmall = &Rule{
	Key: "board-too-small", Title: "a bundle finds no room on the board", Severity: diag.Finding,
	Why:     "What is not on the board is made by guess.",
	Formula: "each bundle has a place on a board of board-width by board-height, board-gap from all others, folded or broken if need be",
	Source:  "search that is bounded: a place may exist that it did not find",
	Do:      "State a larger board, less board-gap, or make that branch up by hand to the lengths of the cut list.",
	Fires:   smallJob + "set board-width to 90 mm\nset board-height to 60 mm\n",
	Silent:  smallJob + "set board-width to 900 mm\n",
	Check: func(m *Model, out *diag.List) {
		for i := range m.Boards {
			b := &m.Boards[i]
			for _, l := range b.Left {
				if l.Unknown {
					continue
				}
				out.Finding(l.Span, "", fmt.Sprintf("section %s: %s, %s long, finds no room on a board of %s x %s", b.Section, l.Limb, l.Length, b.Width, b.Height),
					"It was tried straight, folded, and drawn short.", diag.Subject{Kind: "section", Name: b.Section, From: l.Limb})
			}
		}
	},
}
