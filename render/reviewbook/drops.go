package reviewbook

import (
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// drops is the volts of every load: its worst case, all cases, and what is left while something starts.
func (b *book) drops(fl *page.Flow) {
	fl.NewPage()
	fl.Heading(1, "Volts at the loads")
	fl.Say(prose, "All drops are out and back: what is lost on the feed, from the plus terminal of the supply to the load, and on the return, from the load to the minus terminal. "+
		"Volts at the supply are those at its terminals under this load. Percentages name the volts they are of. Nominal values are solved; wires stand at their mean temperature in the case, joints at their age by the setting joint-age.")
	b.worstTable(fl)
	b.neverFed(fl)
	b.allCases(fl)
	b.startTable(fl)
}

func voltColumns() []table.Column {
	return []table.Column{{Title: "At the supply V", Align: page.Right}, {Title: "At the load V", Align: page.Right}, {Title: "Lost out V", Align: page.Right},
		{Title: "Lost back V", Align: page.Right}, {Title: "Out and back V", Align: page.Right}}
}

func voltCells(l *solve.LoadResult) []table.Cell {
	if l.Supply == "" {
		return []table.Cell{table.T("–"), table.T(volts(l.Volts)), table.T("–"), table.T("–"), table.T("–")}
	}
	return []table.Cell{table.T(volts(l.SupplyVolts)), table.T(volts(l.Volts)), table.T(volts(l.FeedDrop)), table.T(volts(l.ReturnDrop)), table.T(volts(both(l)))}
}

func typed(cols []table.Column, t page.Type) []table.Column {
	for i := range cols {
		if cols[i].Type.Size == 0 {
			cols[i].Type = t
		}
	}
	return cols
}

func (b *book) worstTable(fl *page.Flow) {
	fl.Heading(2, "Worst case of each load, least room first")
	cols := append([]table.Column{{Title: "Load, case", Type: bold, Weight: 3, Min: 28}}, voltColumns()...)
	cols = append(cols, table.Column{Title: "Limit that left least room", Weight: 3, Min: 30}, table.Column{Title: "Room V", Align: page.Right}, table.Column{Title: "Limit"})
	t := table.New(typed(cols, plain)...)
	t.RowHeight = 5.6
	for _, r := range b.loads {
		if r.worst != nil {
			b.worstRow(t, r)
		}
	}
	if t.Len() == 0 {
		fl.Say(prose, "No load is fed in any case.")
		return
	}
	fl.Add(t)
}

func (b *book) worstRow(t *table.Table, r *loadRow) {
	h := r.worst
	l := h.load
	row := append([]table.Cell{table.T(r.name)}, voltCells(l)...)
	under := "case " + h.c.Case
	if h.start != "" {
		under += ", while " + h.start + " starts"
	}
	more := []table.Cell{small(under), small(l.Supply), small(amps(l.Amps) + " A"), {}, {}, small(percent(both(l), h.of()))}
	if h.has {
		what, figure := limitText(&h.limit)
		row = append(row, table.T(what), table.T(volts(h.room())), yes(h.limit.Met()))
		more = append(more, small(figure+"; "+b.limitSource(&h.limit)))
	} else {
		row = append(row, table.T("no limit"), table.T("–"), table.T("none"))
	}
	t.Row(row...)
	t.More(more...)
}

func (b *book) neverFed(fl *page.Flow) {
	var names []string
	for _, r := range b.loads {
		if r.worst == nil {
			names = append(names, r.name)
		}
	}
	if len(names) > 0 {
		fl.Say(prose, "Fed in no case, so not judged: "+list(names)+".")
	}
}

// allCases is every load in every case, a line each.
func (b *book) allCases(fl *page.Flow) {
	fl.Heading(2, "All cases")
	t := table.New(typed([]table.Column{{Title: "Load", Weight: 3, Type: page.Strong.Sized(8.5).Faced(page.Tight.Face), Min: 24}, {Title: "Amps", Align: page.Right}, {Title: "Supply V", Align: page.Right},
		{Title: "Load V", Align: page.Right}, {Title: "Out V", Align: page.Right}, {Title: "Back V", Align: page.Right}, {Title: "Both V", Align: page.Right},
		{Title: "Share", Min: 22}, {Title: "Least room V, by", Weight: 2}, {Title: "Limit"}}, fine)...)
	t.RowHeight = 4.8
	for _, c := range b.in.Cases {
		t.Sub("Case " + c.Case)
		var unfed, rest []string
		rows := 0
		for i := range c.Loads {
			l := &c.Loads[i]
			switch {
			case l.Rests:
				rest = append(rest, b.loadName(l))
			case !l.Fed:
				unfed = append(unfed, b.loadName(l))
			default:
				b.caseRow(t, c, l)
				rows++
			}
		}
		if rows == 0 {
			t.Row(table.T("no load is fed"))
		}
		if len(unfed) > 0 {
			t.Note("Not fed in this case: " + list(unfed) + ".")
		}
		if len(rest) > 0 {
			t.Note("At rest, as the case says: " + list(rest) + ".")
		}
	}
	if len(b.in.Cases) == 0 {
		fl.Say(prose, "The job has no case, so nothing was solved.")
		return
	}
	fl.Add(t)
}

func (b *book) caseRow(t *table.Table, c *solve.CaseResult, l *solve.LoadResult) {
	h := held{c: c, load: l}
	h.limit, h.has = least(fit.Limits(b.in.Job, b.in.Net, c, l))
	cells := voltCells(l)
	row := []table.Cell{table.T(b.loadName(l)), table.T(amps(l.Amps))}
	row = append(append(row, cells...), table.T(percent(both(l), h.of())))
	if h.has {
		row = append(row, table.T(volts(h.room())+", "+h.limit.Name), mark(h.limit.Met()))
	} else {
		row = append(row, table.T("no limit"))
	}
	t.Row(row...)
}

func mark(met bool) table.Cell {
	if met {
		return small("met")
	}
	return table.Cell{Text: "NOT MET", Type: bold}
}

// startTable is the volts while a device starts, of the loads that are judged then and of what starts.
func (b *book) startTable(fl *page.Flow) {
	fl.Heading(2, "While something starts")
	if len(b.starts) == 0 {
		fl.Say(prose, "No device that draws in a case has a starting value.")
		return
	}
	fl.Say(prose, "One device starts at a time, all else as it stands in the case. The loads with least-start-volts are judged; what starts stands beside them, and of the loads without that limit the one left with the smallest share of its volts.")
	cols := []table.Column{{Title: "Load", Type: bold, Weight: 3, Min: 26}, {Title: "Before V", Align: page.Right}, {Title: "During V", Align: page.Right}, {Title: "During A", Align: page.Right},
		{Title: "At the supply V", Align: page.Right}, {Title: "Lost out V", Align: page.Right}, {Title: "Lost back V", Align: page.Right}, {Title: "Limit, where set", Weight: 3, Min: 28}, {Title: "Room V", Align: page.Right}, {Title: "Limit"}}
	t := table.New(typed(cols, plain)...)
	t.RowHeight = 5.6
	for i := 0; i < len(b.starts); {
		j := i
		for j < len(b.starts) && b.starts[j].c == b.starts[i].c && b.starts[j].start == b.starts[i].start {
			j++
		}
		b.startGroup(t, b.starts[i:j])
		i = j
	}
	fl.Add(t)
}

func (b *book) startGroup(t *table.Table, ss []startRow) {
	sub := "Case " + ss[0].c.Case + ": " + ss[0].start + " starts"
	if d, ok := b.startTime(ss[0].start); ok {
		sub += ", for " + d.String()
	}
	t.Sub(sub)
	lowest := -1
	share := func(s *startRow) float64 { return float64(s.load.Volts) / max(float64(s.load.At), 1e-3) }
	unjudged := 0
	for i := range ss {
		s := &ss[i]
		if s.has || s.own && s.load.Fed {
			b.startLine(t, s)
			continue
		}
		if !s.load.Fed || s.before.Rests {
			continue
		}
		unjudged++
		if lowest < 0 || share(s) < share(&ss[lowest]) {
			lowest = i
		}
	}
	if lowest >= 0 {
		b.startLine(t, &ss[lowest])
		if unjudged > 1 {
			t.More(small("lowest of " + strconv.Itoa(unjudged) + " loads that have no such limit"))
		}
	}
}

func (b *book) startLine(t *table.Table, s *startRow) {
	l := s.load
	row := []table.Cell{table.T(b.loadName(l)), table.T(volts(s.before.Volts)), table.T(volts(l.Volts)), table.T(amps(l.Amps))}
	if !s.before.Fed {
		row[1] = table.T("–")
	}
	if l.Supply != "" {
		row = append(row, table.T(volts(l.SupplyVolts)), table.T(volts(l.FeedDrop)), table.T(volts(l.ReturnDrop)))
	} else {
		row = append(row, table.T("–"), table.T("–"), table.T("–"))
	}
	if !s.has {
		t.Row(append(row, table.T("no limit set"))...)
		return
	}
	_, figure := limitText(&s.limit)
	t.Row(append(row, table.T(figure), table.T(volts(s.room())), yes(s.limit.Met()))...)
	t.More(table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{}, table.Cell{}, small(b.limitSource(&s.limit)))
}

// startTime is how long a device's starting current lasts, the longest of its draws and coils.
func (b *book) startTime(device string) (d unit.Time, ok bool) {
	x := b.device(device)
	if x == nil {
		return 0, false
	}
	take := func(l *design.Draw) {
		if l.Start.Given && l.StartFor > 0 {
			d, ok = max(d, l.StartFor), true
		}
	}
	for i := range x.Draws {
		take(&x.Draws[i])
	}
	for i := range x.Coils {
		take(&x.Coils[i].Draw)
	}
	return d, ok
}
