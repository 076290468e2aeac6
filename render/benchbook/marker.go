package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// markers is one row for each text that is printed, with every place it goes to. The same rows, one for each mark, are among the tables for a label printer.
func markers(fl *page.Flow, s *bench.SectionPlan, body page.Box) {
	if len(s.Markers) == 0 {
		return
	}
	fl.Heading(1, "Markers")
	common.Intro(fl, "In the order of the cut list. The table markers.csv holds the same for a label printer. A mark goes on before the end beside it is made, and reads towards that end. Where nothing else is said it sits "+usualPlace(s)+". Every is the distance of the marks between the ends.")
	t := table.New(
		table.Column{Title: "Text", Type: page.Strong.Faced(label.Face), Weight: 4, Min: 24},
		table.Column{Title: "Wire, over mm", Whole: true, Type: page.Tight},
		table.Column{Title: "Where", Weight: 10, Min: 50, Type: page.Tight},
		table.Column{Title: "Every mm", Align: page.Right, Whole: true, Type: page.Tight},
		table.Column{Title: "No.", Align: page.Right, Whole: true},
		table.Column{Title: "Made, on", Whole: true},
	)
	t.Later, t.RowHeight, t.Pad, t.GroupEvery = "Markers", 5.2, 0.2, 0
	usual := usualPlace(s)
	for i := 0; i < len(s.Markers); {
		m := &s.Markers[i]
		where, between, n := "", "", 0
		j := i
		for ; j < len(s.Markers) && s.Markers[j].Cut == m.Cut && s.Markers[j].Wire == m.Wire && s.Markers[j].Text == m.Text; j++ {
			k := &s.Markers[j]
			n += k.Count
			if k.Place == bench.AlongWire {
				between = strings.TrimPrefix(strings.TrimSuffix(k.At, " mm between the ends"), "every ")
				continue
			}
			if where != "" {
				where += "; "
			}
			where += k.Place
			if k.At != "" && k.At != usual {
				where += " (" + k.At + ")"
			}
		}
		text := m.Text
		if text == "" {
			text = "no label"
		}
		wire := m.Code
		if wire == "" {
			wire = m.Colour
		}
		if !m.Size.IsZero() {
			wire += " " + common.SizeText(m.Size)
		}
		if m.Outside > 0 {
			wire += ", " + common.Tenths(m.Outside)
		}
		t.Row(table.T(text), table.T(wire), table.T(where), table.T(between), table.T(strconv.Itoa(n)), table.Ticks(2))
		i = j
	}
	settle(t, body.W, 0, 2)
	fl.Add(t)
}

// usualPlace is where on the wire most marks sit.
func usualPlace(s *bench.SectionPlan) string {
	count := map[string]int{}
	best := ""
	for i := range s.Markers {
		at := s.Markers[i].At
		if count[at]++; count[at] > count[best] {
			best = at
		}
	}
	return best
}
