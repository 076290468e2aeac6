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

// connectors is a table for each connector half, device housing and set of studs.
func connectors(fl *page.Flow, s *bench.SectionPlan, body page.Box) {
	if len(s.Connectors) == 0 {
		return
	}
	fl.Heading(1, "Pin tables")
	common.Intro(fl, "Find a connector by the contents on the cover: small ones fill the pages. Each face is drawn twice: "+
		"left and right change places between the wire side, where the wires go in, and the mating side; the marks moulded beside the cavities do not. A crossed cavity stays blank. "+
		face.WireSide.Held()+" "+face.MatingSide.Held())
	var tables []*table.Table
	var blocks []page.Block // the face with its table where both are small, else nil
	var heights []page.MM
	for i := range s.Connectors {
		c := &s.Connectors[i]
		t := pinTable(c)
		var b page.Block
		if small(c) {

			if b = connector.Beside(c, t, faceShare); unfit(b, body.W) {
				b = nil
			}
		}
		var h page.MM
		var err error
		if b != nil {
			h, err = page.Height(b, body.W)
		} else {
			h, err = page.Height(t, body.W)
			if v, e := page.Height(connector.Views(c), body.W); e == nil {
				h += v
			}
		}
		if err != nil {
			h = body.H
		}
		tables, blocks, heights = append(tables, t), append(blocks, b), append(heights, h+aboveTable)
	}
	for _, i := range filled(heights, body.H, aboveTables) {
		fl.Heading(2, s.Connectors[i].Title)
		common.Intro(fl, describe(&s.Connectors[i]))
		if blocks[i] != nil {
			fl.Add(blocks[i])
			continue
		}
		fl.Add(connector.Views(&s.Connectors[i]))
		if tables[i].Len() == 0 {
			fl.Para("It has no cavity.")
			continue
		}
		fl.Add(tables[i])
	}
}

// faceShare is the share of the width for the face of a small connector.
const faceShare = 0.38

// small tells whether a connector's face stands beside its table.
func small(c *bench.Connector) bool {
	return len(c.Wire.Cavities) > 0 && len(c.Rows) <= 6 && len(c.Rows) > 0
}

// unfit tells whether a block cannot be laid out in a width.
func unfit(b page.Block, width page.MM) bool {
	h, err := page.Height(b, width)
	return err != nil || h == 0
}

// What stands above the first table, and above each, of the usual one or two lines of text.
const (
	aboveTables page.MM = 30
	aboveTable  page.MM = 22
)

// filled is the order that fills the pages: as given, but where one does not fit on what is left of a page, the next that
// does goes first. The first of the page that follows is the one that had to wait.
func filled(heights []page.MM, page, used page.MM) []int {
	var out, left []int
	for i := range heights {
		left = append(left, i)
	}
	for len(left) > 0 {
		k := 0
		for k < len(left) && used+heights[left[k]] > page {
			k++
		}
		if k == len(left) {
			k, used = 0, 0
		}
		used += heights[left[k]]
		for used > page {
			used -= page
		}
		out, left = append(out, left[k]), append(left[:k:k], left[k+1:]...)
	}
	return out
}

// onStuds tells whether a connector is a set of lugs on studs.
func onStuds(c *bench.Connector) bool {
	return c.Housing == "" && c.Contacts == "lugs" || c.Break != "" && c.Contacts == ""
}

// shape is which columns the table of a connector has: what is the same for all its rows is said once, above it.
type shape struct {
	pins    bool   // some rows have a pin's own name
	contact string // of all rows, with its seal; empty: they differ, and have a column
}

func shapeOf(c *bench.Connector) shape {
	var s shape
	first := true
	for i := range c.Rows {
		r := &c.Rows[i]
		s.pins = s.pins || r.Pin != ""
		if r.Blank != "" {
			continue
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
	out := []table.Column{{Title: "Label", Weight: 4, Min: 24, Type: label}, {Title: "Colour, size", Weight: 3, Min: 26}, {Title: "Goes to", Weight: 5, Min: 28, Type: page.Tight}}
	if s.contact == "" {
		out = append(out, table.Column{Title: "Contact, seal", Weight: 4, Min: 26, Type: page.Tight})
	}
	return out
}

func pinTable(c *bench.Connector) *table.Table {
	place := "Cavity"
	if onStuds(c) {
		place = "Stud"
	}
	s := shapeOf(c)
	columns := []table.Column{{Title: place, Whole: true, Min: 12}}
	if s.pins {
		columns = append(columns, table.Column{Title: "Pin", Min: 10, Type: page.Tight})
	}
	columns = append(columns, s.names()...)
	t := table.New(append(columns, table.Column{Title: "In", Align: page.Centre, Whole: true}, table.Column{Title: "Chk", Align: page.Centre, Whole: true})...)
	t.Later, t.MaxRows, t.Together, t.Pad = c.Title, 25, true, padHand
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
	text := common.Sentence(strings.Join(out, ", "))
	if made := shapeOf(c).contact; made != "" {
		text += "; all " + made
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
	if s.pins {
		cells = append(cells, table.Blank(""))
	}
	for i := range s.names() {
		if i < len(words) {
			cells = append(cells, table.Blank(words[i]))
		} else {
			cells = append(cells, table.Blank(""))
		}
	}
	t.Row(append(cells, table.Blank(""), table.Tick())...)
}

func (s shape) blankRows(t *table.Table, rows []bench.PinRow) {
	var names []string
	for _, r := range rows {
		names = append(names, r.Cavity)
	}
	s.blank(t, table.Cell{Text: names[0] + "–" + names[len(names)-1], Type: label, Shade: true}, rows[0].Blank+": "+strconv.Itoa(len(rows))+" cavities", "", strings.Join(names, ", "))
}

func (s shape) row(t *table.Table, r *bench.PinRow) {
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
		s.blank(t, cavity, text)
		return
	}
	cells := []table.Cell{cavity}
	if s.pins {
		cells = append(cells, table.T(r.Pin))
	}
	to := r.GoesTo
	if r.Cable != "" {
		to += "; in cable " + r.Cable
	}
	if r.Status != design.Computed {
		to += "; " + r.Status.String()
	}
	cells = append(cells, markCell(r.Label, r.Name), wireCell(r.Code, r.Colour, r.ColourStatus, r.Size), table.T(to))
	if s.contact == "" {
		cells = append(cells, table.T(contactWords(r)))
	}
	t.Row(append(cells, table.Tick(), table.Tick())...)
}
