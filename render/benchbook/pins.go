package benchbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/bench"
	"loomsheet/harness/design"
	"loomsheet/harness/face"
	"loomsheet/render/common"
	"loomsheet/render/connector"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// connectors is a table for each connector half, device housing and set of studs: the large ones in turn, then the small ones two by two.
func connectors(fl *page.Flow, s *bench.SectionPlan, body page.Box) {
	if len(s.Connectors) == 0 {
		return
	}
	fl.Heading(1, "Pin tables")
	common.Intro(fl, "Find a connector by the contents on the cover: large ones first, then small ones side by side. Each face is drawn twice: "+
		"left and right change places between the wire side, where the wires go in, and the mating side; the marks moulded beside the cavities do not. A crossed cavity stays blank. "+
		face.WireSide.Held()+" "+face.MatingSide.Held())
	var beside []small
	var large []*bench.Connector
	var room []need
	for i := range s.Connectors {
		c := &s.Connectors[i]
		if k, ok := smallOf(c, body); ok {
			beside = append(beside, k)
			continue
		}
		large, room = append(large, c), append(room, needOf(c, body))
	}
	for _, i := range filled(room, body.H, aboveTables) {
		c := large[i]
		fl.Heading(2, c.Title)
		common.Intro(fl, describe(c))
		fl.Add(connector.Views(c))
		if t := pinTable(c, false); t.Len() > 0 {
			settle(t, body.W, namesOf(t)...)
			fl.Add(t)
		} else {
			fl.Para("It has no cavity.")
		}
	}
	for _, row := range rowsOf(beside, body, 0) {
		fl.Add(row)
	}
}

// needOf is what a large connector takes, and what of it must find room on the page on which it begins: its faces and the first rows.
func needOf(c *bench.Connector, body page.Box) need {
	t := pinTable(c, false)
	settle(t, body.W, namesOf(t)...)
	above := page.Heading2.Leading() + 10 + page.Body.Height(len(page.Body.Wrap(describe(c), body.W))) + tall(connector.Views(c), body)
	n := need{above + tall(t, body), above + firstRows}
	if t.Together {
		n.start = n.all
	}
	return n
}

// tall is the height of a block; 0 for one that cannot be laid out in the width.
func tall(b page.Block, body page.Box) page.MM {
	h, err := page.Height(b, body.W)
	if err != nil {
		return 0
	}
	return h
}

// firstRows is room for the head of a table and two rows; aboveTables what stands above the first connector.
const (
	firstRows   page.MM = 28
	aboveTables page.MM = 38
)

// namesOf is the columns of a pin table that share the room: label, where it goes, and the contact where it has a column.
func namesOf(t *table.Table) []int {
	var out []int
	for i, c := range t.Columns {
		if c.Title == "Label" || c.Title == "Goes to" || strings.HasPrefix(c.Title, "Contact") {
			out = append(out, i)
		}
	}
	return out
}

// onStuds tells whether a connector is a set of lugs on studs.
func onStuds(c *bench.Connector) bool {
	return c.Housing == "" && c.Contacts == "lugs" || c.Break != "" && c.Contacts == ""
}

// shape is which columns the table of a connector has: what is the same for all its rows is said once, above it.
type shape struct {
	pins    bool          // some rows have a pin's own name
	contact string        // of all rows, with its seal; empty: they differ, and have a column
	status  design.Status // of most rows; those of another say so
	narrow  bool          // half of the width: where it goes stands below the label
}

func shapeOf(c *bench.Connector) shape {
	var s shape
	first := true
	var count [8]int
	for i := range c.Rows {
		r := &c.Rows[i]
		s.pins = s.pins || r.Pin != ""
		if r.Blank != "" {
			continue
		}
		if n := int(r.Status); n < len(count) {
			if count[n]++; count[n] > count[s.status] {
				s.status = r.Status
			}
		}
		switch made := contactWords(r); {
		case first:
			s.contact, first = made, false
		case s.contact != made:
			s.contact = ""
		}
	}
	return s
}

// contactWords is the contact of a row with its seal.
func contactWords(r *bench.PinRow) string {
	s := chosen(r.Contact)
	if r.Seal != "" {
		s += ", " + r.Seal
	}
	return s
}

// names is the columns of names of a pin table, which share the room.
func (s shape) names() []table.Column {
	out := []table.Column{{Title: "Label", Weight: 4, Min: 24, Type: label}, {Title: "Colour, size", Whole: true}, {Title: "Goes to", Weight: 5, Min: 30, Type: page.Tight}}
	if s.narrow {
		return []table.Column{{Title: "Label", Weight: 4, Min: 22, Type: label}, {Title: "Colour, size", Min: 24}}
	}
	if s.contact == "" {
		out = append(out, table.Column{Title: "Contact, seal", Weight: 4, Min: 20, Type: page.Tight})
	}
	return out
}

func pinTable(c *bench.Connector, narrow bool) *table.Table {
	place := "Cavity"
	if onStuds(c) {
		place = "Stud"
	}
	s := shapeOf(c)
	s.narrow = narrow
	if place == "Cavity" {
		place = "Cav."
	}
	columns := []table.Column{{Title: place, Whole: true, Min: 11, Figure: true}}
	if s.pins && !narrow {
		columns = append(columns, table.Column{Title: "Pin", Min: 10, Type: page.Tight})
	}
	columns = append(columns, s.names()...)
	t := table.New(append(columns, table.Column{Title: "In, chk", Whole: true})...)
	for i := range c.Rows {
		if r := &c.Rows[i]; narrow && r.Blank == "" {
			k := &t.Columns[len(columns)-1]
			k.Min = max(k.Min, wireRoom(r.Code, r.Colour, r.ColourStatus, r.Size))
		}
	}
	t.Later, t.MaxRows, t.Pad, t.RowHeight, t.GroupEvery = c.Title, 30, padHand, 6.4, 0
	t.Together = len(c.Rows) <= fewRows
	for i := 0; i < len(c.Rows); {
		n := blanks(c.Rows[i:])
		if n >= manyBlanks {
			s.blankRows(t, c.Rows[i:i+n])
			i += n
			continue
		}
		s.row(t, &c.Rows[i])
		i++
	}
	return t
}

// fewRows of a table stay on one page.
const fewRows = 6

// describe says in a sentence or two what a connector is.
func describe(c *bench.Connector) string {
	studs := onStuds(c)
	var out []string
	say := func(s string) { out = append(out, s) }
	switch {
	case c.Break != "" && studs:
		say("lugs on a stud post")
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
	if c.Device != "" && !studs && c.Contacts != "" && !strings.HasPrefix(c.Contacts, "as the device") {
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
	text := common.Sentence(strings.Join(out, ", "))
	if made := shapeOf(c).contact; made != "" {
		text += "; all " + made
	}
	if s := shapeOf(c).status; s != design.Computed {
		text += "; cavities " + s.String() + " unless said"
	}
	if c.Cavities > 0 {
		text += "; " + strconv.Itoa(c.Free) + " of " + strconv.Itoa(c.Cavities) + " blank"
	}
	return text + "."
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

// blank is a shaded row: its first cell, then a word for each further column.
func (s shape) blank(t *table.Table, first table.Cell, words ...string) {
	cells := []table.Cell{first}
	if s.pins && !s.narrow {
		cells = append(cells, table.Blank(""))
	}
	for i := range s.names() {
		if i < len(words) {
			cells = append(cells, table.Cell{Text: words[i], Type: page.Tight.Faced(label.Face), Shade: true})
		} else {
			cells = append(cells, table.Blank(""))
		}
	}
	t.Row(append(cells, table.Ticks(1))...)
}

func (s shape) blankRows(t *table.Table, rows []bench.PinRow) {
	var names []string
	for _, r := range rows {
		names = append(names, r.Cavity)
	}
	words := []string{rows[0].Blank + ": " + strconv.Itoa(len(rows)) + " cavities", "", strings.Join(names, ", ")}
	if s.narrow { // the middle column is not there
		words = append(words[:1], words[2:]...)
	}
	s.blank(t, table.Cell{Text: names[0] + "–" + names[len(names)-1], Type: label, Shade: true}, words...)
}

func (s shape) row(t *table.Table, r *bench.PinRow) {
	cavity := table.Cell{Text: r.Cavity, Type: figure}
	if n := len([]rune(r.Cavity)); n > 4 || n > 2 && s.narrow {
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
		s.blank(t, cavity, text)
		return
	}
	cells := []table.Cell{cavity}
	if s.pins && !s.narrow {
		cells = append(cells, table.T(r.Pin))
	}
	to := r.GoesTo
	if r.Cable != "" {
		to += "; in cable " + r.Cable
	}
	if r.Status != s.status {
		to += "; " + r.Status.String()
	}
	wire := wireCell(r.Code, r.Colour, r.ColourStatus, r.Size)
	if s.narrow {
		t.Row(append(cells, markCell(r.Label, r.Name), wire, table.Ticks(2))...)
		note := "to " + to
		if r.Pin != "" {
			note = "pin " + r.Pin + ", " + note
		}
		if s.contact == "" {
			note += "; " + contactWords(r)
		}
		t.Note(note)
		return
	}
	cells = append(cells, markCell(r.Label, r.Name), wire, table.T(to))
	if s.contact == "" {
		cells = append(cells, table.T(contactWords(r)))
	}
	t.Row(append(cells, table.Ticks(2))...)
}
