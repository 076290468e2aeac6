package rule

import (
	"fmt"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

var wireShortForBoard = &Rule{
	Key: "wire-short-for-board", Title: "a wire is cut shorter than its way over the board", Severity: diag.Finding,
	Why:     "A wire that does not reach from peg to peg is thrown away, or pulled in tight and breaks at its contact.",
	Formula: "cut length >= way from peg to peg + board-reach at each end in a connector or on a stud + both strip lengths + what is lost at its crimps; a loose lead is put in off the board and not judged",
	Source:  "geometry of the forming board",
	Do:      "Allow more: set tail or service-loop, or less board-reach where the connector in hand asks less.",
	Fires:   smallJob + "set tail to 0 mm\nset service-loop to 0 mm\nset take-up to 0 %\nset board-reach to 60 mm\n",
	Silent:  smallJob + "set board-reach to 60 mm\n",
	Check: func(m *Model, out *diag.List) {
		for b := range m.Boards {
			for i := range m.Boards[b].Reaches {
				r := &m.Boards[b].Reaches[i]
				if r.Loose || r.Spare >= -0.5 || !unit.Finite(r.Spare) {
					continue
				}
				w := &m.Net.Wires[r.Wire]
				need := r.Way + r.Holders + r.Strip + r.Waste
				out.Finding(r.Span, "", fmt.Sprintf("%s is cut to %s and needs %s on the board", r.Name, r.Cut, need),
					fmt.Sprintf("Its way from peg to peg is %s, its ends take %s past the pegs and %s of strip, and %s is lost at its crimps.", r.Way, r.Holders, r.Strip, r.Waste),
					diag.Subject{Kind: "circuit", Name: w.Circuit, From: w.From, To: w.To}).
					Measured(lengthQuantity(r.Cut), lengthQuantity(need), true)
			}
		}
	},
}
