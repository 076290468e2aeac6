package reviewbook

import (
	"cmp"
	"slices"
	"strconv"

	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// findings lists the open ones, worst first, then the accepted ones, then the notes.
func (b *book) findings(fl *page.Flow) {
	var open, accepted, notes diag.List
	for _, m := range b.in.Messages {
		switch {
		case m.Accepted != nil:
			accepted = append(accepted, m)
		case m.Severity > diag.Note:
			open = append(open, m)
		default:
			notes = append(notes, m)
		}
	}
	slices.SortStableFunc(open, func(a, b diag.Diagnostic) int { return cmp.Compare(b.Severity, a.Severity) })
	fl.NewPage()
	fl.Heading(1, "Findings")
	n := 0
	group := func(title, none string, ms diag.List) {
		fl.Heading(2, title)
		if len(ms) == 0 {
			fl.Say(prose, none)
			return
		}
		t := table.New(table.Column{Title: "No.", Align: page.Right, Type: bold}, table.Column{Title: "What", Weight: 4, Type: plain}, table.Column{Title: "Where", Weight: 1, Type: fine, Min: 38},
			table.Column{Title: "Seen", Align: page.Centre, Width: 11})
		t.RowHeight, t.GroupEvery, t.Close = 6, 0, true
		for i := range ms {
			n++
			b.finding(t, n, &ms[i])
		}
		fl.Add(t)
	}
	group("Open", "No finding is open.", open)
	group("Accepted", "No finding is accepted.", accepted)
	if len(notes) > 0 {
		group("Notes", "", notes)
	}
	b.lookedFor(fl)
}

func (b *book) finding(t *table.Table, n int, m *diag.Diagnostic) {
	t.Row(table.T(strconv.Itoa(n)), table.Cell{Text: common.Squared(m.Title), Type: bold}, table.T(b.at(m.Span)), table.Tick())
	about := m.Code
	if m.Severity == diag.Mistake {
		about += ", a mistake in the text"
	}
	if m.HasValue {
		word := "at most "
		if m.LowIsWorse {
			word = "at least "
		}
		value, limit := measured(m.Value, m.Limit)
		about += ": " + value + ", " + word + limit
	}
	if m.Case != "" {
		about += "; case " + m.Case
	}
	t.More(table.Cell{}, small(about), small(subject(m.Subject)))
	if m.Detail != "" {
		t.More(table.Cell{}, table.T(common.Squared(m.Detail)))
	}
	for _, r := range m.Related {
		t.More(table.Cell{}, small(r.Text), table.T(b.at(r.Span)))
	}
	if a := m.Accepted; a != nil {
		t.More(table.Cell{}, table.Cell{Text: "Accepted by " + orNobody(a.By) + until(a.Until), Type: bold}, table.T(b.at(a.Span)))
		reason := a.Reason
		if reason == "" {
			reason = "not given"
		}
		t.More(table.Cell{}, table.T("Reason: "+reason))
	}
}

// measured prints what was measured and its limit to five significant digits, or in full where those would make the two look alike.
func measured(value, limit unit.Quantity) (v, l string) {
	short := func(q unit.Quantity) string {
		if q.Dim == unit.DimGauge {
			return q.String()
		}
		if x, err := strconv.ParseFloat(strconv.FormatFloat(q.Value, 'g', 5, 64), 64); err == nil {
			q.Value = x
		}
		return q.String()
	}
	v, l = short(value), short(limit)
	if v == l {
		v, l = value.String(), limit.String()
	}
	return common.Squared(v), common.Squared(l)
}

func orNobody(s string) string {
	if s == "" {
		return "nobody named"
	}
	return s
}

func until(rev string) string {
	if rev == "" {
		return ", without an end"
	}
	return ", until revision " + rev
}

func subject(s diag.Subject) string {
	if s.Kind == "" && s.Name == "" {
		return ""
	}
	t := s.Kind + " " + s.Name
	if s.From != "" {
		t += " from " + s.From + " to " + s.To
	}
	return t
}
