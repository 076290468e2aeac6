package shellbook

import (
	"cmp"
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// clipTable is the empty list of the clips of a run.
func clipTable(later string) *table.Table {
	t := table.New(
		table.Column{Title: "Mark, why", Weight: 4, Min: 26},
		table.Column{Title: "Station", Align: page.Right, Whole: true},
		table.Column{Title: "Place, fixed to", Weight: 3, Min: 36},
		table.Column{Title: "Clip, fixing", Weight: 4, Min: 31},
		table.Column{Title: "Ø, bundle", Align: page.Right, Min: 21, Whole: true},
		table.Column{Title: "Drill, screw", Align: page.Right, Min: 19, Whole: true},
		table.Column{Title: "On", Align: page.Centre, Whole: true},
	)
	t.MaxRows, t.Later, t.GroupEvery, t.Pad, t.RowHeight = rowsOnPage, later, 0, padHand, 6
	return t
}

// way is a place between the ends of a stretch, or a bend.
type way struct {
	at   unit.Length
	what string
	spot string
}

// between is the places between the ends of a stretch and its bends, in order.
func between(r *fix.RunPlan) []way {
	var out []way
	for i := range r.Nodes {
		n := &r.Nodes[i]
		what := nodeName(n)
		if n.Breakout {
			what += ", breakout"
		}
		out = append(out, way{n.After, what, placeText(n.At, n.Known, 0)})
	}
	bent := make([]bool, len(out))
	for _, b := range r.Bends {
		i := slices.IndexFunc(out, func(w way) bool { return abs(w.at-b.After) < nearBend })
		if i >= 0 && i < len(bent) && !bent[i] {
			out[i].what += ", bend " + bendText(b)
			bent[i] = true
			continue
		}
		out = append(out, way{b.After, "bend " + bendText(b), ""})
	}
	if n := len(r.Nodes); n > 0 { // the ends stand in the head
		keep := out[:0]
		for i, w := range out {
			if (i == 0 || i == n-1) && !bent[i] {
				continue
			}
			keep = append(keep, w)
		}
		out = keep
	}
	slices.SortStableFunc(out, func(a, b way) int { return cmp.Compare(a.at, b.at) })
	return out
}

// clipRows lists the clips of a stretch and what lies between, as one walks it.
func clipRows(t *table.Table, r *fix.RunPlan, why *reasons) {
	ways := between(r)
	last, have := unit.Length(0), false
	for i := range r.Clips {
		c := &r.Clips[i]
		for len(ways) > 0 && ways[0].at <= c.After {
			ways[0].row(t)
			ways = ways[1:]
		}
		clipRow(t, c, r, last, have, why)
		last, have = c.After, true
	}
	for _, w := range ways {
		w.row(t)
	}
}

// nodeName is what a place is called; one that is only a coordinate is a waypoint.
func nodeName(s *fix.Station) string {
	if len(s.What) > 0 && s.What[0] == '(' {
		return "waypoint"
	}
	return s.What
}

func (w way) row(t *table.Table) {
	b := table.Blank("")
	t.Row(table.Blank(w.what), table.Blank(coordinate(w.at, 0)), table.Cell{Text: w.spot, Type: page.Tight, Shade: true}, b, b, b, b)
}

func clipRow(t *table.Table, c *fix.Clip, r *fix.RunPlan, last unit.Length, have bool, why *reasons) {
	station := table.Cell{Text: "not on run", Type: page.Strong}
	gap := ""
	if onRun(c) {
		station = table.Cell{Text: coordinate(c.After, 0), Type: figure}
		if have && unit.Finite(last) {
			gap = "+" + coordinate(c.After-last, 0)
		}
	}
	part, fastener := c.Part, c.Fastener
	if part == "" {
		part = "no clip chosen"
	}
	if fastener == "" {
		fastener = kindText(c.Kind)
	}
	if fastener == "" {
		fastener = "no fixing stated"
	}
	if n := why.number(c); n > 0 {
		fastener += ", note " + strconv.Itoa(n)
	}
	if wrap := c.Wrap(); wrap > 0 && unit.Finite(wrap) {
		part += ", wrap " + common.Tenths(wrap)
	}
	size := "none fits"
	if c.ClipSize > 0 {
		size = common.Tenths(c.ClipSize)
	}
	reason := c.Why
	if c.Why == "fixed" {
		reason = "fixed by hand"
	}
	if c.Status != design.Computed {
		reason += ", " + c.Status.String()
	}
	drill, screw := "no hole", ""
	switch {
	case c.Drill > 0:
		drill = common.Tenths(c.Drill)
	case c.Fastener == "" && c.Kind == "":
		drill = "not known"
	}
	if c.Screw > 0 && unit.Finite(c.Screw) {
		screw = "× " + common.Tenths(c.Screw)
	}
	t.Row(table.Cell{Text: c.Mark, Type: mark}, station, small(placeText(c.At, c.Known, 0)), table.T(part), table.Strong(size), table.Strong(drill), table.Tick())
	t.More(small(reason), small(gap), onCell(c, r), small(fastener), small(span(c.Least.Length(), c.Bundle)), small(screw))
	hole := ""
	if c.Hole != "" && c.Hole != c.Mark {
		hole = "hole " + c.Hole
	}
	if s := joined(", ", hole, after("shared with ", c.With)); s != "" {
		t.More(table.Cell{}, table.Cell{}, small(s))
	}
	if c.Ear > 0 && c.EarSide != "" {
		t.Note("Its hole is " + common.Tenths(c.Ear) + " mm " + c.EarSide + ".")
	}
}

// onCell is what a clip is fixed to, or a line to write on.
func onCell(c *fix.Clip, r *fix.RunPlan) table.Cell {
	switch {
	case c.Panel != "":
		return small(c.Panel)
	case c.Tube != "":
		return small("tube " + c.Tube)
	case r.Panel != "":
		return small("no panel: decide by hand")
	}
	return table.Write()
}

// onRun tells whether a clip has a station on its stretch.
func onRun(c *fix.Clip) bool { return unit.Finite(c.After) && c.After >= 0 }
