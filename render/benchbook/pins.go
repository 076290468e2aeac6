package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// connectors is a table for each connector half, device housing and set of studs.
func connectors(fl *page.Flow, s *bench.SectionPlan) {
	if len(s.Connectors) == 0 {
		return
	}
	fl.NewPage()
	fl.Heading(1, "Pin tables")
	common.Intro(fl, "No faces are drawn in this book: find each cavity by the mark moulded beside it. "+
		"Left and right change places between the wire side, where the wires go in, and the mating side; the marks on the housing do not.")
	for i := range s.Connectors {
		connector(fl, &s.Connectors[i], s.Name)
	}
}

func connector(fl *page.Flow, c *bench.Connector, section string) {
	studs := c.Housing == "" && c.Contacts == "lugs" || c.Break != "" && c.Contacts == ""
	place := "Cavity"
	if studs {
		place = "Stud"
	}
	t := table.New(
		table.Column{Title: place, Min: 19},
		table.Column{Title: "Label, wire", Weight: 3, Min: 32},
		table.Column{Title: "Colour, size", Min: 27},
		table.Column{Title: "Goes to", Weight: 3, Min: 32},
		table.Column{Title: "Contact, mark", Weight: 2, Min: 27},
		table.Column{Title: "In", Align: page.Centre, Whole: true},
		table.Column{Title: "Chk", Align: page.Centre, Whole: true},
	)
	t.Later, t.MaxRows, t.Together = c.Title, 20, true
	for i := 0; i < len(c.Rows); {
		n := blanks(c.Rows[i:])
		if n >= manyBlanks {
			blankRows(t, c.Rows[i:i+n])
			i += n
			continue
		}
		pinRow(t, &c.Rows[i])
		i++
	}
	add := func() {
		fl.Heading(2, c.Title)
		common.Intro(fl, describe(c, section, studs))
	}
	if t.Len() == 0 {
		add()
		fl.Para("It has no cavity.")
		return
	}
	add()
	fl.Add(t)
}

// describe says in a sentence or two what a connector is.
func describe(c *bench.Connector, section string, studs bool) string {
	var out []string
	say := func(s string) { out = append(out, s) }
	switch {
	case c.Break != "" && studs:
		say("The lugs of section " + section + " on stud post " + c.Break)
	case c.Break != "":
		say("The " + section + " half of break " + c.Break)
	case studs:
		say("The studs of " + c.Device)
	case c.Device != "":
		say("At device " + c.Device)
	}
	switch {
	case c.Housing != "" && c.Break != "" && !studs && c.Contacts != "":
		say("housing " + c.Housing + " with " + strings.ToUpper(c.Contacts))
	case c.Housing != "":
		say("housing " + c.Housing)
	case !studs:
		say("housing not stated")
	}
	if c.Device != "" && !studs && c.Contacts != "" {
		say("contacts " + c.Contacts)
	}
	if c.Key != "" {
		say("key " + c.Key)
	}
	if c.Mount != "" {
		say("mount " + c.Mount)
	}
	if c.Panel != "" {
		say("panel " + c.Panel)
	}
	text := strings.Join(out, ", ") + "."
	if c.Cavities > 0 {
		text += " " + strconv.Itoa(c.Free) + " of " + common.Count(c.Cavities, "cavity", "cavities") + " without a wire."
	}
	return text
}

// manyBlanks in a row, all alike, share one line that names each.
const manyBlanks = 4

// blanks counts the rows from the first on that are blank alike and have no pin of a name.
func blanks(rows []bench.PinRow) int {
	n := 0
	for n < len(rows) && rows[n].Blank != "" && rows[n].Blank == rows[0].Blank && rows[n].Pin == "" && rows[n].Cavity != "" && rows[n].Status == rows[0].Status {
		n++
	}
	return n
}

func blankRows(t *table.Table, rows []bench.PinRow) {
	var names []string
	for _, r := range rows {
		names = append(names, r.Cavity)
	}
	blank := table.Blank("")
	t.Row(table.Cell{Text: names[0] + "–" + names[len(names)-1], Type: label, Shade: true}, table.Blank(rows[0].Blank+": "+strconv.Itoa(len(rows))+" cavities"), blank,
		table.Blank(strings.Join(names, ", ")), blank, blank, table.Tick())
}

func pinRow(t *table.Table, r *bench.PinRow) {
	cavity := table.Cell{Text: r.Cavity, Type: figure}
	if len([]rune(r.Cavity)) > 4 {
		cavity.Type = label
	}
	if r.Cavity == "" {
		cavity = table.Cell{Text: "none left", Type: unsure}
	}
	if r.Blank != "" {
		text := r.Blank
		if r.Pin != "" {
			text = "pin " + r.Pin + ": " + text
		}
		cavity.Shade = true
		blank := table.Blank("")
		t.Row(cavity, table.Blank(text), blank, blank, blank, blank, table.Tick())
		return
	}
	mark := r.Label
	if mark == "" {
		mark = "no label"
	}
	pin, cable := "", ""
	if r.Pin != "" {
		pin = "pin " + r.Pin
	}
	if r.Cable != "" {
		cable = "in cable " + r.Cable
	}
	t.Row(cavity, table.Cell{Text: mark, Type: label}, common.ColourCell(r.Code, r.Colour), table.Cell{Text: r.GoesTo, Type: page.Tight}, table.Cell{Text: chosen(r.Contact), Type: page.Tight}, table.Tick(), table.Tick())
	small := func(s string) table.Cell { return table.Cell{Text: s, Type: page.Tight} }
	t.More(small(pin), small(r.Name), small(sizeText(r.Size, r.ColourStatus, r.Colour)), small(cable), small(r.Status.String()))
}
