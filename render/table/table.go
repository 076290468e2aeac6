// Package table is a page.Block for the tables of the books: columns that share the width by what stands in them,
// cells that wrap whatever the length of a name, rows tall enough for a dirty thumb, heads repeated on every page.
//
//	t := table.New(
//		table.Column{Title: "wire", Type: page.Strong},
//		table.Column{Title: "length mm", Align: page.Right},
//		table.Column{Title: "colour"},
//		table.Column{Title: "cut", Width: 12, Align: page.Centre},
//	)
//	t.MaxRows = 20
//	t.Sub("wire 1.5 mm², class 125 °C")
//	t.Row(table.T("inj-feed box.f2 – A.7"), table.Number("1490"), table.Swatch("RD/WH", red, white), table.Tick())
//	flow.Add(t)
//
// No row is broken over two pages, but for one taller than most of a page, which goes on in a row of its own. Text
// never leaves its cell: a name too long for it breaks after - . _ / or between letters.
package table

import (
	"fmt"

	"loomsheet/render/page"
)

// MM is a length on paper in millimetres.
type MM = page.MM

// Column of a table.
type Column struct {
	Title  string
	Width  MM         // fixed, but for a longer word in its head; 0 lets the contents decide
	Min    MM         // not narrower, unless the columns would not fit at all
	Whole  bool       // figures and boxes: neither its cells nor the words of its head are broken over lines
	Figure bool       // large figures: what is free above and below them is in their letters' own height already
	Weight int        // share when room is short or left over, against 1 for the other columns
	Align  page.Align // of head and cells
	Type   page.Type  // of its cells; the zero Type is page.Body, 10 pt
}

// Cell is what stands in one field. The zero Cell is empty.
type Cell struct {
	Text   string    // "\n" begins a new line
	Type   page.Type // overrides the column's
	Ticks  int       // boxes to tick, before the text
	Swatch []page.Ink
	Shade  bool // pale ground: a cavity that stays blank
	Write  bool // a line to write on, for what is found out on the bench
}

// T is a text cell.
func T(s string) Cell { return Cell{Text: s} }

// Strong is a text cell in bold.
func Strong(s string) Cell { return Cell{Text: s, Type: page.Strong} }

// Number is a figure to be read across the bench, larger than the text.
func Number(s string) Cell { return Cell{Text: s, Type: page.Big} }

// Tick is an empty box to tick.
func Tick() Cell { return Cell{Ticks: 1} }

// Ticks is a row of boxes to tick.
func Ticks(n int) Cell { return Cell{Ticks: n} }

// Swatch is a colour code beside a small field of its inks: the ground first, then its stripes.
func Swatch(code string, inks ...page.Ink) Cell { return Cell{Text: code, Swatch: inks} }

// Blank is a shaded cell with a word in it, for what stays empty on purpose.
func Blank(s string) Cell { return Cell{Text: s, Shade: true} }

// Write is a line to write on.
func Write() Cell { return Cell{Write: true} }

// Table is a block of rows. Set its options before it is added to a flow.
type Table struct {
	Title   string // a line above the head, repeated with "continued"
	Later   string // the title of its later pages where another stands above the first
	Columns []Column
	// RowHeight is the least height of a row, 7 mm by New.
	RowHeight MM
	// Close sets the rows nearer to each other, for long tables that are read at a desk and not ticked on the bench.
	Close bool
	// Pad is what stays free above and below the text of a row; 0 is 1.3 mm, or 0.6 mm in a Close table.
	Pad MM
	// Notes is the voice of remarks; the zero Type is page.Tight.
	Notes page.Type
	// GroupEvery leaves a gap after so many rows, 5 by New, 0 for none; counting begins anew after a subhead.
	GroupEvery int
	// MaxRows is the most rows on one page; 0 is no limit.
	MaxRows int
	// Together keeps the whole table on one page unless it is longer than one.
	Together bool
	// GroupsTogether keeps the rows under each subhead on one page unless they are longer than one.
	GroupsTogether bool

	rows  []row
	known []measured // by column
	at    *place     // of a piece of a long table; nil: the whole
}

type row struct {
	sub   string // a subhead, if not empty
	note  string // over the whole width, if not empty
	more  bool   // belongs to the row above
	tied  bool   // a row of its own that stays with the one above
	cells []Cell
}

// New is an empty table of the given columns.
func New(columns ...Column) *Table {
	return &Table{Columns: columns, RowHeight: 7, GroupEvery: 5}
}

// Row appends a row. Cells that are left out are empty; more cells than columns are an error of Parts.
func (t *Table) Row(cells ...Cell) { t.rows = append(t.rows, row{cells: cells}) }

// More appends a second line to the row above: no rule parts the two, no page ends between them, it has no least height
// and does not count as a row. For a cell that says two things in two voices, and for lines that must stand side by side.
func (t *Table) More(cells ...Cell) { t.rows = append(t.rows, row{cells: cells, more: t.follows()}) }

// Tied appends a row that stays on the page of the row above unless the tied rows are longer than a page, and is not parted
// from it by a gap: the cores of a cable under the cable.
func (t *Table) Tied(cells ...Cell) { t.rows = append(t.rows, row{cells: cells, tied: t.follows()}) }

// Note appends a remark over the whole width to the row above.
func (t *Table) Note(s string) {
	if s != "" {
		t.rows = append(t.rows, row{note: s, more: t.follows()})
	}
}

// follows tells whether there is a row to go on with.
func (t *Table) follows() bool { return len(t.rows) > 0 && t.rows[len(t.rows)-1].sub == "" }

// Sub appends a subhead over the whole width.
func (t *Table) Sub(s string) {
	if s != "" {
		t.rows = append(t.rows, row{sub: s})
	}
}

// Len is the number of rows, subheads and what belongs to the row above not counted.
func (t *Table) Len() int {
	n := 0
	for _, r := range t.rows {
		if r.sub == "" && !r.more {
			n++
		}
	}
	return n
}

// SwatchWidth is the width of the field of a colour.
const SwatchWidth MM = 7

const (
	padX     MM = 1.6 // left and right of a cell's text
	padY     MM = 1.3 // above and below
	padClose MM = 0.6 // the same in a table whose rows stand close
	padMore  MM = 0.2 // between a row and what belongs to it
	groupGap MM = 2.4
	tickGap  MM = 1.4
	swatchH  MM = 3.4
)

var (
	headType  = page.Type{Face: page.Heading1.Face, Size: 9.5}
	subType   = page.Strong
	noteType  = page.Tight
	titleType = page.Heading3
)

// cellType is the voice of a cell in its column.
func cellType(c Column, cell Cell) page.Type {
	for _, t := range []page.Type{cell.Type, c.Type} {
		if t.Size > 0 {
			return t
		}
	}
	return page.Body
}

// padY is what stays free above and below the text of a row.
func (t *Table) padY() MM {
	switch {
	case t.Pad > 0:
		return t.Pad
	case t.Close:
		return padClose
	}
	return padY
}

// lead is the width that ticks and swatch take before the text of a cell.
func (c Cell) lead() MM {
	w := MM(0)
	if c.Ticks > 0 {
		w += MM(float64(float64(c.Ticks)*float64(page.TickSize)) + float64(float64(c.Ticks-1)*float64(tickGap)))
	}
	if len(c.Swatch) > 0 {
		if w > 0 {
			w += tickGap
		}
		w += SwatchWidth
	}
	if w > 0 && c.Text != "" {
		w += tickGap
	}
	return w
}

// Room is the width of a column in which the cell stands in one line, if its Type is stated.
func (c Cell) Room() MM { return c.Type.Width(c.Text) + c.lead() + 2*padX + 0.2 }

// check refuses rows that do not fit the columns.
func (t *Table) check() error {
	if len(t.Columns) == 0 {
		return fmt.Errorf("table %q has no columns", t.Title)
	}
	for i, r := range t.rows {
		if len(r.cells) > len(t.Columns) {
			return fmt.Errorf("table %q: row %d has %d cells for %d columns", t.Title, i+1, len(r.cells), len(t.Columns))
		}
	}
	return nil
}
