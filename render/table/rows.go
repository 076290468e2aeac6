package table

import (
	"slices"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// rows is how the rows of a table are laid out. Texts are broken into lines to be counted, and again to be drawn: the lines of a long table would be most
// of what is held of it.
type rows struct {
	table   *Table
	columns []Column // as they were when the table was laid out
	widths  []MM
	over    []MM // of a remark
	notes   page.Type
	most    MM // height of a part
	scratch []field
}

func (t *Table) layout(widths []MM, most MM) *rows {
	l := &rows{table: t, columns: slices.Clone(t.Columns), widths: widths, notes: noteType, most: most, scratch: make([]field, len(widths))}
	width := MM(0)
	for _, w := range widths {
		width += w
	}
	l.over = []MM{width}
	if t.Notes.Size > 0 {
		l.notes = t.Notes
	}
	return l
}

// field is a cell as it is set.
type field struct {
	cell   Cell
	ty     page.Type
	align  page.Align
	figure bool
	room   MM       // for its text
	count  int      // of its lines
	lines  []string // themselves, once they are drawn
}

// across is the widths of what stands side by side.
func (l *rows) across(r *row) []MM {
	if r.note != "" {
		return l.over
	}
	return l.widths
}

func (l *rows) field(r *row, i int) (f field) {
	widths := l.across(r)
	if len(widths) == len(l.columns) {
		f.align, f.figure = l.columns[i].Align, l.columns[i].Figure
	}
	if r.note != "" {
		f.cell, f.ty = Cell{Text: r.note}, l.notes
	} else {
		if i < len(r.cells) {
			f.cell = r.cells[i]
		}
		f.ty = cellType(l.columns[i], f.cell)
	}
	f.room = widths[i] - 2*padX - f.cell.lead()
	return f
}

// parts appends the row as one part, or as several when it is taller than most; open tells that more belongs to it.
func (l *rows) parts(out []page.Part, r *row, open bool) []page.Part {
	e := edges{more: r.more, open: open}
	fields, tall := l.scratch[:len(l.across(r))], false
	for i := range fields {
		f := l.field(r, i)
		f.count = f.ty.Lines(f.cell.Text, f.room)
		tall = tall || f.count > l.fit(&f)
		fields[i] = f
	}
	if tall {
		return l.split(out, r, slices.Clone(fields), e)
	}
	h, base := l.measure(fields, e)
	return append(out, page.Part{Height: h, Draw: func(c *page.Canvas) {
		l.draw(c, l.across(r), e, h, base, func(i int) field {
			f := l.field(r, i)
			f.lines = f.ty.Wrap(f.cell.Text, f.room)
			return f
		})
	}})
}

// fit is how many lines of a cell one part may hold.
func (l *rows) fit(f *field) int {
	return max(1, int(float64(l.most-2*l.table.padY())/float64(f.ty.Leading())))
}

// split is the row in as many parts as it needs.
func (l *rows) split(out []page.Part, r *row, fields []field, e edges) []page.Part {
	for i := range fields {
		fields[i].lines = fields[i].ty.Wrap(fields[i].cell.Text, fields[i].room)
	}
	for {
		now := slices.Clone(fields)
		e.rest = false
		for i := range fields {
			f, fit := &fields[i], l.fit(&fields[i])
			if len(f.lines) > fit {
				now[i].lines, f.lines, e.rest = f.lines[:fit], f.lines[fit:], true
			} else {
				f.lines = nil
			}
			f.cell.Ticks = 0
			now[i].count = len(now[i].lines)
		}
		e := e
		h, base := l.measure(now, e)
		out = append(out, page.Part{Height: h, Draw: func(c *page.Canvas) {
			l.draw(c, l.across(r), e, h, base, func(i int) field { return now[i] })
		}})
		if !e.rest {
			return out
		}
	}
}

// edges is how a row meets its neighbours.
type edges struct {
	more, open bool // it belongs to the row above, the next one belongs to it
	rest       bool // its own text goes on in another part
}

// measure is the height of a row and the baseline that the first lines of its cells share, whatever their sizes.
func (l *rows) measure(fields []field, e edges) (h, base MM) {
	t := l.table
	least, above, below := t.RowHeight, t.padY(), t.padY()
	if e.more {
		least, above = 0, padMore
	}
	if e.open && !e.rest {
		below = padMore
	}
	up, down := page.Body.Baseline(), page.Body.Leading()-page.Body.Baseline()
	for i := range fields {
		switch f := &fields[i]; {
		case f.cell.Text == "":
		case f.figure:
			up = max(up, font.Ascent(f.ty.Face, f.ty.Size)-above)
			down = max(down, font.Descent(f.ty.Face, f.ty.Size))
		default:
			up = max(up, f.ty.Baseline())
			down = max(down, f.ty.Leading()-f.ty.Baseline())
		}
	}
	base = max(above, (least-up-down)/2) + up
	h = max(least, base+down+below)
	for i := range fields {
		if f := &fields[i]; f.cell.Text != "" && (f.count > 1 || !f.figure) {
			h = max(h, base-f.ty.Baseline()+f.ty.Height(f.count)+below)
		}
	}
	return h, base
}

// draw sets a row whose first baseline is base.
func (l *rows) draw(c *page.Canvas, widths []MM, e edges, h, base MM, at func(i int) field) {
	x := MM(0)
	for i, w := range widths {
		f := at(i)
		if f.cell.Shade {
			c.Rect(page.Box{X: x, Y: 0, W: w, H: h}, page.Style{Fill: page.Pale})
		}
		f.draw(c, x+padX, w-2*padX, base)
		x += w
	}
	if !e.open || e.rest {
		c.Line(0, h, c.W(), h, page.Hair)
	}
}

// draw sets ticks, swatch and text from left to right; base is the first baseline, w the room.
func (f *field) draw(c *page.Canvas, left, w, base MM) {
	a := f.align
	lead := f.cell.lead()
	text := MM(0)
	for _, l := range f.lines {
		text = max(text, f.ty.Width(l))
	}
	x := left
	switch a {
	case page.Centre:
		x += (w - lead - text) / 2
	case page.Right:
		x += w - lead - text
	}
	end := x + lead
	mid := base - font.CapHeight(page.Body.Face, page.Body.Size)/2
	for range f.cell.Ticks {
		c.TickBox(x, mid-page.TickSize/2)
		x += page.TickSize + tickGap
	}
	if len(f.cell.Swatch) > 0 {
		swatch(c, page.Box{X: x, Y: mid - swatchH/2, W: SwatchWidth, H: swatchH}, f.cell.Swatch)
	}
	if f.cell.Write {
		c.Line(left, base+0.6, left+w, base+0.6, page.Thin)
	}
	if f.cell.Text == "" {
		return
	}
	room := page.Box{X: end, Y: base - f.ty.Baseline(), W: left + w - end, H: f.ty.Height(len(f.lines))}
	if a == page.Centre {
		room.W = text
	}
	c.Lines(room, f.ty, a, f.lines)
}

// swatch is a field of the ground colour with its stripes along it, outlined so that white and pale show.
func swatch(c *page.Canvas, b page.Box, inks []page.Ink) {
	c.Rect(b, page.Style{Fill: inks[0]})
	n := len(inks) - 1
	for i, ink := range inks[1:] {
		h := b.H / MM(2*n+1)
		c.Rect(page.Box{X: b.X, Y: b.Y + MM(float64(2*i+1)*float64(h)), W: b.W, H: h}, page.Style{Fill: ink})
	}
	c.Rect(b, page.Style{Line: page.Black, Width: 0.2})
}
