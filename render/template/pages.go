package template

import (
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// Sheets is a template on sheets that leave w by h for drawing, at full size: one, or as many as it takes with joining marks and letters. It
// is nil where it is too large for that (see drawing.Tiles).
func (t Template) Sheets(w, h page.MM) []*drawing.Drawing { return t.Drawing.Tiles(w, h) }

// Add puts a template into a book, each sheet on a page of its own under its title, at full size. frame is the book's. One too large is
// named with a word on where it is to be had.
func (t Template) Add(fl *page.Flow, frame page.Frame) {
	body := frame.Body()
	h := body.H - titleRoom
	sheets := t.Sheets(body.W, h)
	if sheets == nil {
		fl.Heading(2, t.Title)
		fl.Para("It is too large for sheets of this size; use its SVG or DXF file.")
		return
	}
	for _, d := range sheets {
		fl.NewPage()
		fl.Heading(2, d.Title)
		d.Add(fl, body.W, h, 1)
	}
}

// titleRoom is kept for the title, which may take two lines.
const titleRoom page.MM = 22
