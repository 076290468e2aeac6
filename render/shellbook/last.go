package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/shell"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// late lists what would need a new hole although the body is painted.
func late(fl *page.Flow, s *shell.Shell) {
	if len(s.Late) == 0 {
		return
	}
	fl.Heading(2, "What would need a new hole")
	common.Intro(fl, "The body is painted, and this revision wants holes that are not there. Either the plan gives way to the hole named, or somebody drills painted metal and answers for it.")
	t := table.New(
		table.Column{Title: "Mark, for", Type: mark, Weight: 2, Min: 30},
		table.Column{Title: "Panel, wanted at", Weight: 2, Min: 36},
		table.Column{Title: "Nearest usable hole", Type: page.Strong, Weight: 2, Min: 30},
		table.Column{Title: "Away mm", Align: page.Right, Whole: true, Type: place},
		table.Column{Title: "Gap then mm", Align: page.Right, Type: place, Min: 22},
		table.Column{Title: "Settled", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later = rowsOnPage, "What would need a new hole"
	for _, l := range s.Late {
		nearest, away, gap, most := l.Nearest, coordinate(l.Away, 0), "–", ""
		if nearest == "" {
			nearest, away = "none", "–"
		} else if l.Limit > 0 {
			gap, most = coordinate(l.Span, 0), "of "+coordinate(l.Limit, 0)
		}
		t.Row(table.T(l.Mark), table.T(l.Panel), table.T(nearest), table.T(away), table.T(gap), table.Tick())
		t.More(small(l.What), small(triple(l.At, 0)), table.Cell{}, table.Cell{}, small(most))
		if l.Why != "" {
			t.Note("It does not serve as it is: " + l.Why + ".")
		}
	}
	fl.Add(t)
}

// plugs lists the holes that nothing uses any more.
func plugs(fl *page.Flow, s *shell.Shell) {
	if len(s.Plugs) == 0 {
		return
	}
	fl.Heading(2, "Blanking plugs")
	common.Intro(fl, "Frozen holes that nothing uses any more: each gets a plug, so that no water, fumes or fire pass.")
	t := table.New(
		table.Column{Title: "Mark", Type: mark, Weight: 2, Min: 30},
		table.Column{Title: "Panel", Weight: 2, Min: 30},
		table.Column{Title: "Place", Weight: 2, Min: 36, Type: page.Tight},
		table.Column{Title: "Hole mm", Align: page.Right, Whole: true, Min: 22},
		table.Column{Title: "Plugged", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later = rowsOnPage, "Blanking plugs"
	for _, p := range s.Plugs {
		t.Row(table.T(p.Mark), table.T(p.Panel), table.T(placeText(p.At, p.Known, 1)), drillCell(p.Drill, 0, ""), table.Tick())
	}
	fl.Add(t)
}

// nothingLeft is the last line of the list when it leaves nothing open.
const nothingLeft = "Nothing left to drill after paint."

// lastLine says that nothing is left, or names what is.
func lastLine(fl *page.Flow, s *shell.Shell) {
	if len(s.Open) == 0 && len(s.Late) == 0 {
		fl.Together(func() {
			fl.Heading(2, "The last line")
			common.Intro(fl, "What follows holds for the harness as planned in this revision, not for what holds the devices.")
			fl.Say(page.Strong.Sized(12), nothingLeft)
		})
		return
	}
	fl.Heading(2, "The last line: settle before paint")
	fl.Say(page.Strong.Sized(12), "Something on this list has no fixing or no place yet. Painting now means drilling after paint.")
	var left []string
	if n := len(s.Late); n > 0 {
		var marks []string
		for _, l := range s.Late {
			marks = append(marks, l.Mark)
		}
		left = append(left, "A new hole after paint ("+strconv.Itoa(n)+"): "+strings.Join(series(marks), ", "))
	}
	for _, o := range s.Open {
		left = append(left, common.Sentence(o.Why)+" ("+strconv.Itoa(len(o.Marks))+"): "+strings.Join(series(o.Marks), ", "))
	}
	fl.Checklist(left...)
}
