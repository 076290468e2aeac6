package reviewbook

import (
	"strconv"

	"loomsheet/harness/design"
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
		"Volts at the supply are those at its terminals under this load. Percentages name the volts they are of. Of a spread of loads and resistances what loses most is solved, of supplies what the case says; wires stand at their mean temperature in the case, joints at their age by the setting joint-age.")
	fl.Later(b.worstTable)
	fl.Later(b.neverFed)
	fl.Later(b.allCases)
	fl.Later(b.startTable)
}

func voltColumns() []table.Column {
	return []table.Column{{Title: "At the supply V", Align: page.Right}, {Title: "At the load V", Align: page.Right}, {Title: "Lost out V", Align: page.Right},
		{Title: "Lost back V", Align: page.Right}, {Title: "Out and back V", Align: page.Right, Min: 26}}
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
	cols = append(cols, table.Column{Title: "Limit that left least room", Weight: 3, Min: 36}, table.Column{Title: "Room V", Align: page.Right})
	t := table.New(typed(cols, plain)...)
	t.RowHeight, t.Close = 5, true
	var rows []*loadRow
	var runs []table.Run
	for _, r := range b.loads {
		if r.worst == nil {
			continue
		}
		s := "No limit"
		switch {
		case r.worst.has && r.worst.limit.Met():
			s = "Limit met"
		case r.worst.has:
			s = "Limit " + notMetWords
		}
		if len(runs) == 0 || runs[len(runs)-1].Sub != s {
			first := len(rows)
			runs = append(runs, table.Run{Sub: s, Put: func(t *table.Table, i int) { b.worstRow(t, rows[first+i]) }})
		}
		rows = append(rows, r)
		runs[len(runs)-1].Rows++
	}
	if len(rows) == 0 {
		fl.Say(prose, "No load is fed in any case.")
		return
	}
	t.AddLong(fl, &b.widths.worst, runs...)
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
		row = append(row, table.T(what), table.T(volts(h.room())))
		more = append(more, small(figure+"; "+b.limitSource(&h.limit)))
	} else {
		row = append(row, table.T("no limit is set"), table.T("–"))
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
		fl.Say(prose, "Fed in no case, or only through other loads, so not judged: "+list(names)+".")
	}
}

// allCases is every load in every case, a line each.
func (b *book) allCases(fl *page.Flow) {
	fl.Heading(2, "All cases")
	t := table.New(typed([]table.Column{{Title: "Load", Weight: 3, Type: page.Strong.Sized(8.5).Faced(page.Tight.Face), Min: 24}, {Title: "Amps", Align: page.Right}, {Title: "Supply V", Align: page.Right},
		{Title: "Load V", Align: page.Right}, {Title: "Out V", Align: page.Right}, {Title: "Back V", Align: page.Right}, {Title: "Both V", Align: page.Right},
		{Title: "%", Align: page.Right}, {Title: "of V", Align: page.Right}, {Title: "Least room V, by", Weight: 2, Min: 28}, {Title: "Limit", Min: 19}}, fine)...)
	t.RowHeight, t.Close = 4.4, true
	if len(b.in.Cases) == 0 {
		fl.Say(prose, "The job has no case, so nothing was solved.")
		return
	}
	var runs []table.Run
	for _, c := range b.in.Cases {
		runs = append(runs, b.caseRun(c))
	}
	t.AddLong(fl, &b.widths.cases, runs...)
}

// caseRun is the loads of a case that are judged, and under the last of them the others by name.
func (b *book) caseRun(c *solve.CaseResult) table.Run {
	var judged []int
	for i := range c.Loads {
		if l := &c.Loads[i]; l.Fed && !l.Rests && !stray(c.Net, l) {
			judged = append(judged, i)
		}
	}
	return table.Run{Sub: "Case " + c.Case, Rows: max(1, len(judged)), Put: func(t *table.Table, i int) {
		if len(judged) == 0 {
			t.Row(table.T("no load is fed"))
		} else {
			b.caseRow(t, c, judged[i])
		}
		if i >= len(judged)-1 {
			b.notJudgedIn(t, c)
		}
	}}
}

func (b *book) notJudgedIn(t *table.Table, c *solve.CaseResult) {
	var unfed, rest, strays []string
	for i := range c.Loads {
		l := &c.Loads[i]
		switch {
		case l.Rests:
			rest = append(rest, b.loadName(l))
		case !l.Fed:
			unfed = append(unfed, b.loadName(l))
		case stray(c.Net, l):
			strays = append(strays, b.loadName(l)+" "+volts(l.Volts)+" V")
		}
	}
	if len(unfed) > 0 {
		t.Note("Not fed in this case: " + list(unfed) + ".")
	}
	if len(strays) > 0 {
		t.Note("Off, reached only through other loads, so not judged: " + list(strays) + ".")
	}
	if len(rest) > 0 {
		t.Note("At rest, as the case says: " + list(rest) + ".")
	}
}

func (b *book) caseRow(t *table.Table, c *solve.CaseResult, load int) {
	l := &c.Loads[load]
	h := held{c: c, load: l}
	h.limit, h.has = least(b.limits.Limits(c, load))
	cells := voltCells(l)
	row := []table.Cell{table.T(b.loadName(l)), table.T(amps(l.Amps))}
	row = append(append(row, cells...), table.T(percentOnly(both(l), h.of())), table.T(unit.Number(float64(h.of()), 3)))
	if h.has {
		row = append(row, table.T(volts(h.room())+", "+h.limit.Name), verdictCell(h.limit.Met()))
	} else {
		row = append(row, table.T("no limit"))
	}
	t.Row(row...)
}

// startTable is the volts while a device starts: of what starts, of the loads that are judged then, and of the one that dips most
// among the others.
func (b *book) startTable(fl *page.Flow) {
	fl.Heading(2, "While something starts")
	if len(b.starts) == 0 {
		fl.Say(prose, "No device that draws in a case has a starting value.")
		return
	}
	fl.Say(prose, "One device starts at a time, all else as it stands in the case. Under what starts stand the loads that have least-start-volts set, and of those that have it not the one that dips most. Where each limit was set stands under Limits and settings in force.")
	cols := []table.Column{{Title: "Load", Weight: 3, Min: 40, Type: bold}, {Title: "Before V", Align: page.Right}, {Title: "While V", Align: page.Right}, {Title: "While A", Align: page.Right},
		{Title: "Supply V", Align: page.Right}, {Title: "Out V", Align: page.Right}, {Title: "Back V", Align: page.Right}, {Title: "Limit V", Type: fine, Min: 34},
		{Title: "Room V", Align: page.Right}}
	t := table.New(typed(cols, plain)...)
	t.RowHeight, t.GroupEvery, t.Close = 4.6, 0, true
	var last *solve.CaseResult
	for i := 0; i < len(b.starts); {
		j := i
		for j < len(b.starts) && b.starts[j].c == b.starts[i].c && b.starts[j].start == b.starts[i].start {
			j++
		}
		if c := b.starts[i].c; c != last {
			t.Sub("Case " + c.Case)
			last = c
		}
		b.startGroup(t, b.starts[i:j])
		i = j
	}
	fl.Add(t)
}

func (b *book) startGroup(t *table.Table, ss []startRow) {
	first := ss[0].start + " starts"
	if d, ok := b.startTime(ss[0].start); ok {
		first += ", " + d.String()
	}
	var judged []*startRow
	var most *startRow
	own, others := 0, 0
	for i := range ss {
		s := &ss[i]
		switch {
		case s.own && s.load.Fed:
			name := first
			if own > 0 || s.load.Coil {
				name = b.loadName(s.load) + " (" + first + ")"
			}
			own++
			b.startLine(t, s, table.T(name))
		case s.has:
			judged = append(judged, s)
		case s.others > 0:
			others += s.others
			if most == nil || unit.WorseBy(s.dip(), most.dip(), alikeVolts) {
				most = s
			}
		}
	}
	for _, s := range judged {
		b.startLine(t, s, table.Cell{Text: b.loadName(s.load), Type: plain})
	}
	if most == nil {
		return
	}
	b.startLine(t, most, small(b.loadName(most.load)+", dips most of "+strconv.Itoa(others)+" not judged"))
}

func (b *book) startLine(t *table.Table, s *startRow, name table.Cell) {
	l := s.load
	row := []table.Cell{name, table.T(volts(s.before.Volts)), table.T(volts(l.Volts)), table.T(amps(l.Amps))}
	if !s.before.Fed {
		row[1] = table.T("–")
	}
	if l.Supply != "" {
		row = append(row, table.T(volts(l.SupplyVolts)), table.T(volts(l.FeedDrop)), table.T(volts(l.ReturnDrop)))
	} else {
		row = append(row, table.T("–"), table.T("–"), table.T("–"))
	}
	if !s.has {
		t.Row(append(row, table.T("none set"))...)
		return
	}
	_, figure := limitText(&s.limit)
	t.Row(append(row, table.T(figure+": "+metWords(s.limit.Met())), table.T(volts(s.room())))...)
}

func metWords(met bool) string {
	if met {
		return "met"
	}
	return notMetWords
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
