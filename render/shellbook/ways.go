package shellbook

import (
	"strings"

	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// ways is what to watch when the bundles are laid: hazards they pass, and ends that move.
func ways(fl *page.Flow, plan *body) {
	nears(fl, plan)
	moves(fl, plan)
}

func nears(fl *page.Flow, plan *body) {
	list := plan.Route.Nears
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "What the runs pass")
	common.Intro(fl, "Least distance from the outside of the bundle to the outside of what it must keep away from. Measure it when the clips are on, and again with everything that moves at its stops.")
	t := table.New(
		table.Column{Title: "Run (stretch)", Type: page.Strong, Weight: 2, Min: 30},
		table.Column{Title: "Station", Align: page.Right, Whole: true},
		table.Column{Title: "Hazard, position", Weight: 2, Min: 30},
		table.Column{Title: "Gap mm", Align: page.Right, Type: place, Whole: true},
		table.Column{Title: "Needed, by", Weight: 4, Min: 50, Type: page.Tight},
		table.Column{Title: "Seen", Align: page.Centre, Whole: true},
	)
	t.Later, t.Close = "What the runs pass", true
	for _, n := range list {
		what := joined(", ", n.Hazard, n.Position)
		if n.Kind != "" && n.Kind != n.Hazard {
			what += " (" + n.Kind + ")"
		}
		run := n.Run
		if n.Stretch > 0 {
			run += " (" + ordinal(n.Stretch) + ")"
		}
		t.Row(table.T(run), table.T(coordinate(n.After, 0)), table.T(what), table.T(common.Tenths(n.Gap)), table.T(joined(", ", common.Tenths(n.Needed), n.By, after("in ", n.Sleeve))), table.Tick())
	}
	fl.Add(t)
}

func moves(fl *page.Flow, plan *body) {
	list := plan.Route.Moves
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "Ends that move")
	common.Intro(fl, "Between the two things that hold it, such a stretch needs the length that is straight there, what it moves, and some to spare. Tie nothing in between.")
	t := table.New(
		table.Column{Title: "Run (stretch)", Type: page.Strong, Weight: 2, Min: 26},
		table.Column{Title: "Held at", Weight: 2, Min: 34},
		table.Column{Title: "Free mm", Align: page.Right, Type: place, Whole: true},
		table.Column{Title: "Needed mm", Align: page.Right, Type: place, Whole: true},
		table.Column{Title: "Straight + moves + spare", Weight: 2, Min: 34, Type: page.Tight},
		table.Column{Title: "Moved", Align: page.Centre, Whole: true},
	)
	t.Later, t.Close = "Ends that move", true
	for _, m := range list {
		run := m.Run
		if m.Stretch > 0 {
			run += " (" + ordinal(m.Stretch) + ")"
		}
		t.Row(table.T(run), table.T(joined(" and ", m.From, m.To)), table.T(common.Tenths(m.Free)), table.T(common.Tenths(m.Needed)),
			table.T(common.Tenths(m.Straight)+" + "+common.Tenths(m.Moves)+" + "+common.Tenths(m.Spare)), table.Tick())
		if len(m.Tied) > 0 {
			t.Note("Tied in between by " + strings.Join(series(m.Tied), ", ") + ": take off, or let it slide.")
		}
	}
	fl.Add(t)
}
