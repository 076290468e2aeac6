package benchbook

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// pairs is what is twisted, cabled or screened on the bench before it is laid up.
func pairs(fl *page.Flow, s *bench.SectionPlan) {
	if len(s.Pairs) == 0 {
		return
	}
	fl.Heading(1, "Pairs and cables made up here")
	for i := range s.Pairs {
		p := &s.Pairs[i]
		fl.Together(func() {
			fl.Heading(2, p.Cable)
			var say string
			if p.Lay > 0 {
				say = "One turn in " + common.Whole(p.Lay) + " mm"
				if p.Turns > 0 {
					say += ", " + strconv.Itoa(p.Turns) + " turns over " + common.Whole(p.Twisted) + " mm"
				}
				if p.Untwisted > 0 {
					say += "; at most " + common.Whole(p.Untwisted) + " mm left untwisted at each end"
				}
				say += "."
			}
			common.Intro(fl, or(say, "Laid side by side."))
			t := table.New(
				table.Column{Title: "Label, colour, size", Weight: 4, Min: 36},
				table.Column{Title: "Ends", Weight: 6, Min: 40, Type: page.Tight},
				table.Column{Title: "Cut mm", Align: page.Right, Whole: true, Type: page.Strong},
				table.Column{Title: "In", Align: page.Centre, Whole: true},
			)
			t.Later, t.RowHeight = p.Cable, 6
			for _, m := range p.Members {
				t.Row(markCell(m.Label, m.Name), table.T(m.Ends[0]), table.T(common.Whole(m.Length)), table.Tick())
				t.More(wireCell(m.Code, m.Colour, 1, m.Size), table.T(m.Ends[1]))
			}
			if k := p.Screen; k != nil {
				t.Row(table.Cell{Text: "screen", Type: label}, table.T(k.Ends[0]), table.T(common.Whole(k.Length)), table.Tick())
				t.More(table.T(""), table.T(k.Ends[1]))
			}
			fl.Add(t)
			fl.Checklist(p.Steps...)
		})
	}
}

func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
