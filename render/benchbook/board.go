package benchbook

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/harness/unit"
	sheet "loomsheet/render/board"
	"loomsheet/render/common"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// boards is each lay of the forming board on a wide page, then its pegs and marks to be set out by tape.
func boards(fl *page.Flow, list []board.Board, s *bench.SectionPlan, frame page.Frame) {
	wide := frame
	wide.Size = frame.Size.Landscape()
	first := true
	for i := range list {
		b := &list[i]
		if b.Section != s.Name || len(b.Pieces) == 0 {
			continue
		}
		fl.SetFrame(wide)
		if first {
			fl.Heading(1, "Forming board")
		}
		fl.Heading(2, "Board of "+sheet.Title(b))
		common.Intro(fl, "Board "+common.Whole(b.Width)+" by "+common.Whole(b.Height)+" mm. Lengths are true; numbers are pegs. Not for measuring off: set out by the table, or print the board at full size from its own file.")
		room := wide.Body()
		sheet.Small(b, s).Add(fl, room.W, room.H-page.MM(34), 0)
		fl.SetFrame(frame)
		pegs(fl, b)
		first = false
	}
}

// pegs is where each peg goes, from the lower left corner of the board, with two tapes to check; then what else is marked.
func pegs(fl *page.Flow, b *board.Board) {
	fl.Heading(2, "Pegs of "+sheet.Title(b))
	common.Intro(fl, "Right and up in millimetres from the lower left corner of the board; the two tapes, from the lower left and the lower right corner, are the check.")
	t := table.New(
		table.Column{Title: "Peg", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Right", Align: page.Right, Whole: true},
		table.Column{Title: "Up", Align: page.Right, Whole: true},
		table.Column{Title: "Tape left", Align: page.Right, Whole: true},
		table.Column{Title: "Tape right", Align: page.Right, Whole: true},
		table.Column{Title: "What", Weight: 8, Min: 60, Type: page.Tight},
		table.Column{Title: "Set", Align: page.Centre, Whole: true},
	)
	t.Later, t.RowHeight, t.Pad = "Pegs of "+sheet.Title(b), 5, 0.3
	for _, p := range b.Pegs {
		t.Row(table.T(strconv.Itoa(p.Number)), at(p.At.X), at(p.At.Y), at(p.Left), at(p.Right), table.T(p.Text), table.Tick())
	}
	fl.Add(t)
	if len(b.Marks) == 0 {
		return
	}
	fl.Heading(2, "Marks of "+sheet.Title(b))
	m := table.New(
		table.Column{Title: "What", Weight: 5, Min: 50},
		table.Column{Title: "Mm from", Align: page.Right, Whole: true, Type: page.Strong},
		table.Column{Title: "Place, along", Weight: 5, Min: 50, Type: page.Tight},
		table.Column{Title: "Right", Align: page.Right, Whole: true},
		table.Column{Title: "Up", Align: page.Right, Whole: true},
		table.Column{Title: "Set", Align: page.Centre, Whole: true},
	)
	m.Later, m.RowHeight, m.Pad = "Marks of "+sheet.Title(b), 5, 0.3
	for _, k := range b.Marks {
		m.Row(table.T(k.Text), at(k.Station), table.T(k.From+", along "+k.Limb), at(k.At.X), at(k.At.Y), table.Tick())
	}
	fl.Add(m)
}

// at is a coordinate in whole millimetres; 0 is one as well.
func at(l unit.Length) table.Cell {
	if !unit.Finite(l) {
		return table.T("?")
	}
	return table.T(unit.Number(float64(l), 0))
}
