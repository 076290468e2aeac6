package reviewbook

import (
	"slices"

	"loomsheet/harness/contact"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// leastUse of what a contact may carry from which it stands in the table.
const leastUse = 0.25

// contacts lists what each contact carries against what it may carry in its place.
func (b *book) contacts(fl *page.Flow) {
	if b.in.Contact == nil || len(b.in.Contact.Ends) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Contacts")
	fl.Say(prose, "What a contact may carry: its rating x the factor for its wire and for how full its connector is x the factor for the air. Full: the share of the cavities that would make the heat of all, were they loaded like this one. "+
		"Of several side by side the one with the least resistance must hold. * marks what rests on a rating that is typical or from memory, or on the pattern of another connector.")
	use := func(e *contact.EndResult) float64 {
		return float64(max(e.Amps, e.Shared)) / max(float64(e.Allowed), 1e-6)
	}
	var ends []*contact.EndResult
	rest := 0
	for i := range b.in.Contact.Ends {
		if e := &b.in.Contact.Ends[i]; use(e) < leastUse {
			rest++
		} else {
			ends = append(ends, e)
		}
	}
	slices.SortStableFunc(ends, func(x, y *contact.EndResult) int { return unit.Compare(use(y), use(x)) })
	t := table.New(typed([]table.Column{{Title: "Wire", Type: bold, Weight: 3, Min: 40}, {Title: "Where", Weight: 2, Min: 28}, {Title: "Carries A", Align: page.Right, Min: 17}, {Title: "Rated A", Align: page.Right}, {Title: "Full %", Align: page.Right},
		{Title: "x", Align: page.Right, Min: 14}, {Title: "x air", Align: page.Right, Min: 14}, {Title: "May carry A", Align: page.Right, Min: 18}, {Title: "Verdict", Type: bold, Min: 19}}, plain)...)
	t.RowHeight, t.Close = 5, true
	most := ""
	if rest > 0 {
		most = common.Count(rest, "contact more carries", "contacts more carry") + " less than a quarter of what they may; the tables hold each."
	}
	if len(ends) == 0 {
		t.Note(most)
	}
	t.AddLong(fl, &b.widths.contacts, table.Run{Rows: len(ends), Put: func(t *table.Table, i int) {
		e := ends[i]
		name := ""
		if w := b.wire(e.Wire); w != nil {
			name = w.Name
		}
		t.Row(table.T(name), table.T(e.Where+", "+e.Contact), table.T(amps(max(e.Amps, e.Shared))), table.T(star(plainNumber(e.Rating), e.Verified)), table.T(fixed(float64(e.Loaded)*100, 0)), table.T(fixed(float64(e.Loading), 3)),
			table.T(fixed(float64(e.Warm), 3)), table.T(amps(e.Allowed)), table.T(met(e.Met)))
		if i == len(ends)-1 {
			t.Note(most)
		}
	}})
}
