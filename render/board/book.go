package board

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// BookTitle is the name of the book of a section's board at full size.
const BookTitle = "Board at full size"

// Book is the boards of a section on sheets at full size: how to join them, a map of the sheets, then the sheets.
func Book(frame page.Frame, boards []board.Board, sec *bench.SectionPlan) *page.Flow {
	fl := page.NewFlow(frame)
	fl.Heading(1, BookTitle)
	fl.Para("Print without fitting to the page. Measure the bar on each sheet with a steel rule before it is used: if it is off, the print is off. " +
		"Lay each sheet on its neighbours so that lines and crosses lie on one another, tape them down, then set the pegs. Crosses carry their distances from the lower left corner of the board: check two of them by tape. " +
		"Numbers with a p are pegs, other numbers are true lengths in mm from node to node. Faces are seen from the wire side; the part's own sheet is in the bench book.")
	for i := range boards {
		b := &boards[i]
		if b.Section != sec.Name || len(b.Pieces) == 0 {
			continue
		}
		body := frame.Body()
		full := Full(b, sec)
		tiles := Tiles(full, b.Width, b.Height, body.W, body.H-titleRoom)
		fl.Heading(2, "Map of the sheets, "+Title(b))
		if tiles == nil {
			fl.Para("The board is too large for sheets of this size; use its SVG file.")
			continue
		}
		m := sheetMap(b, tiles)
		l := m.Lay(body.W, min(body.H-mapRoom, 140), 0)
		fl.Figure(l.H, l.Draw)
		fl.Para(strconv.Itoa(len(tiles)) + " sheets. Those with nothing on them are left out.")
		for _, t := range tiles {
			fl.NewPage()
			fl.Heading(3, t.Drawing.Title)
			t.Drawing.Add(fl, body.W, body.H-titleRoom, 1)
		}
	}
	return fl
}

// Room for the title of a sheet, which may take two lines, and for the words above the map.
const (
	titleRoom page.MM = 16
	mapRoom   page.MM = 80
)

// sheetMap is the board with the sheets that it is printed on.
func sheetMap(b *board.Board, tiles []Tile) *drawing.Drawing {
	s := &sheet{b: b, d: &drawing.Drawing{Title: "Sheets of " + Title(b)}}
	s.outline()
	for i := range b.Pieces {
		for k := range b.Pieces[i].Limbs {
			s.stroke(drawing.Run, false, b.Pieces[i].Limbs[k].Line...)
		}
	}
	for i := range tiles {
		t := &tiles[i]
		lo, hi := board.At{X: t.Low.X + overlap/2, Y: t.Low.Y + overlap/2}, board.At{X: t.High.X - overlap/2, Y: t.High.Y - overlap/2}
		s.stroke(drawing.Dim, true, lo, board.At{X: hi.X, Y: lo.Y}, hi, board.At{X: lo.X, Y: hi.Y})
		s.d.Labels = append(s.d.Labels, drawing.Label{At: drawing.Place{X: lo.X + 12, Y: hi.Y - 60}, Text: t.Name, Small: true})
	}
	return s.d
}

// SVG is a board at full size as a file, with lines above it that say what it was made from.
func SVG(b *board.Board, sec *bench.SectionPlan, lines ...string) []byte {
	d := Full(b, sec)
	for i, l := range append([]string{d.Title}, lines...) {
		d.Labels = append(d.Labels, drawing.Label{At: drawing.Place{Y: b.Height + 6 + page.Body.Height(len(lines)-i)}, Text: l})
	}
	return d.SVG()
}
