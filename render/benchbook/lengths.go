package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// parts of a length that have a column of their own, in the order of a sum.
var parts = []struct {
	kind  bench.TermKind
	title string
}{
	{bench.WayTerm, "Way"}, {bench.TakeUpTerm, "Take-up"}, {bench.BreakoutTerm, "Break-outs"}, {bench.EndTerm, "Tails"}, {bench.LoopTerm, "Loops"},
	{bench.WasteTerm, "Waste"}, {bench.ToleranceTerm, "Toler-ance"}, {bench.RoundTerm, "Round"},
}

// lengths shows what each length is made of, for whoever doubts one: a column for each sort of part, the pieces of the way below.
func lengths(fl *page.Flow, s *bench.SectionPlan) {
	small := page.Tight.Sized(8.5) // nobody cuts by this table
	columns := []table.Column{{Title: "No.", Align: page.Right, Whole: true, Type: small}, {Title: "Label", Weight: 4, Min: 26, Type: small}}
	for _, p := range parts {
		column := table.Column{Title: p.title, Align: page.Right, Min: 13.8, Type: small}
		if p.kind == bench.WayTerm {
			column.Min = 20
		}
		columns = append(columns, column)
	}
	t := table.New(append(columns, table.Column{Title: "Length", Align: page.Right, Type: page.Strong.Sized(9), Whole: true})...)
	t.RowHeight, t.Later, t.Close, t.Pad, t.Notes, t.GroupEvery = 4.2, "Sums of the lengths", true, 0.1, small, 0
	seen := map[string]int{}
	for i := range s.Cuts {
		c := &s.Cuts[i]
		cells := []table.Cell{table.T(strconv.Itoa(i + 1)), table.T(or(c.Label, c.Name))}
		for _, p := range parts {
			cells = append(cells, table.T(sum(c, p.kind)))
		}
		d := details(c)
		if n, ok := seen[d]; ok {
			d, cells[2].Text = "", cells[2].Text+" ("+strconv.Itoa(n)+")"
		} else {
			seen[d] = i + 1
		}
		t.Row(append(cells, table.T(common.Whole(c.Length)))...)
		t.Note(d)
	}
	if t.Len() == 0 {
		return
	}
	fl.Heading(1, "Sums of the lengths")
	common.Intro(fl, "In millimetres; each length is the sum of its row. Below it the pieces of the way; one along a run names the stations between which the wire lies there, from the run's beginning. A number in brackets behind the way: it is the way of that piece.")
	fl.Add(t)
}

// sum of all parts of one sort, empty where there are none.
func sum(c *bench.Cut, k bench.TermKind) string {
	l := c.Terms.Sum(func(of bench.TermKind) bool { return of == k })
	if l == 0 {
		return ""
	}
	return common.Tenths(l)
}

// details are the pieces of the way by name. The other parts are few and stand in columns; harness.json and the table of cuts hold every one.
func details(c *bench.Cut) string {
	if c.Length <= 0 {
		return "a part of its way has no known length"
	}
	var out []string
	for _, t := range c.Terms.All() {
		if t.Kind == bench.WayTerm {
			out = append(out, common.Squared(t.What)+": "+common.Tenths(t.Length))
		}
	}
	return strings.Join(out, ", ")
}
