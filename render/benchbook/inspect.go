package benchbook

import (
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// inspection is what is looked at, rung through and measured before the section leaves the bench.
func inspection(fl *page.Flow, s *bench.SectionPlan) {
	fl.Heading(1, "Inspection")
	fl.Checklist(
		"Every length against the board: no branch short, ends at their pegs.",
		"Every mark at both ends, to be read without turning the bundle.",
		"Every contact locked: a push, then a pull by hand at each wire.",
		"Seals and blanks in place, none cut or rolled.",
		"No strand outside a barrel, no insulation under a conductor crimp.",
		"Sleeves recovered, no sharp edge below them, nothing left that should have been slid on.",
	)
	rings(fl, s.Inspection.Rings)
	isolation(fl, s.Inspection.Isolation)
}

func rings(fl *page.Flow, list []bench.Ring) {
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "Ring through")
	common.Intro(fl, "Nothing plugged in. Zero the meter with its leads together. The figure is the most that the copper may have at 20 °C; contact of the probe comes on top. "+
		"Write down what was read: it is the baseline for whoever looks for a fault in later years.")
	t := table.New(
		table.Column{Title: "From", Weight: 5, Min: 34, Type: page.Tight},
		table.Column{Title: "To", Weight: 5, Min: 34, Type: page.Tight},
		table.Column{Title: "Most mΩ", Align: page.Right, Whole: true},
		table.Column{Title: "Read mΩ", Width: 20},
		table.Column{Title: "OK", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Ring through", 4.8, 0.2
	for _, r := range list {
		for i, e := range r.To {
			from := table.T("")
			if i == 0 {
				from = table.T(marked(r.From))
			}
			cells := []table.Cell{from, table.T(marked(e)), table.T(milliohms(e)), table.Write(), table.Tick()}
			if i == 0 {
				t.Row(cells...)
			} else {
				t.Tied(cells...)
			}
		}
	}
	fl.Add(t)
}

func marked(e bench.RingEnd) string {
	if e.Label == "" {
		return e.Text
	}
	return e.Text + " · " + e.Label
}

func milliohms(e bench.RingEnd) string {
	if !e.Known {
		return "rings"
	}
	return unit.Number(float64(e.Most)*1000, 1)
}

func isolation(fl *page.Flow, list []bench.Isolation) {
	if len(list) == 0 {
		return
	}
	fl.Heading(2, "Isolation")
	common.Intro(fl, "Each place against all the others of its connector, and against a screen or a metal shell: none may ring but those named together. All electronics are off, since nothing is plugged in.")
	t := table.New(
		table.Column{Title: "Connector", Weight: 3, Type: page.Strong},
		table.Column{Title: "Places with a wire", Weight: 6, Type: page.Tight},
		table.Column{Title: "Joined in a splice", Weight: 3, Type: page.Tight},
		table.Column{Title: "OK", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Isolation", 5, 0.3
	for _, i := range list {
		var joined []string
		for _, j := range i.Joined {
			joined = append(joined, strings.Join(j, " = "))
		}
		if joined == nil {
			joined = []string{"none"}
		}
		t.Row(table.T(i.Title), table.T(strings.Join(i.Ends, ", ")), table.T(strings.Join(joined, "; ")), table.Tick())
	}
	fl.Add(t)
}
