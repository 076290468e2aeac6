package board

import (
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// Room kept on the page of an overview for its heading and the words below it.
const headRoom page.MM = 34

// Add puts the boards of a section into its book: for each a page across with the drawing to scale, then the tables of what to mark and where
// the pegs go. frame is the book's, in which the book goes on afterwards.
func Add(fl *page.Flow, frame page.Frame, boards []board.Board, sec *bench.SectionPlan) {
	var mine []*board.Board
	for i := range boards {
		if boards[i].Section == sec.Name {
			mine = append(mine, &boards[i])
		}
	}
	if len(mine) == 0 {
		return
	}
	wide := frame
	if wide.Size == (page.Size{}) {
		wide.Size = page.A4
	}
	wide.Size = wide.Size.Landscape()
	for i, b := range mine {
		fl.SetFrame(wide)
		if i == 0 {
			fl.Heading(1, "Board")
		}
		overview(fl, wide, b)
	}
	fl.SetFrame(frame)
	for _, b := range mine {
		Tables(fl, b)
	}
}

// overview is a page with the whole board on it.
func overview(fl *page.Flow, frame page.Frame, b *board.Board) {
	fl.Heading(2, "Board of "+Title(b))
	fl.Para(words(b))
	body := frame.Body()
	d := newSmall(b, body.W, body.H-headRoom)
	if !d.whole {
		fl.Para("Drawn is the part that is used, from x " + mm(d.low.X) + ", y " + mm(d.low.Y) + " to x " + mm(d.high.X) + ", y " + mm(d.high.Y) + " mm.")
	}
	fl.Figure(d.height(), d.draw)
}

// words says what the drawing shows.
func words(b *board.Board) string {
	s := "Board " + mm(b.Width) + " x " + mm(b.Height) + " mm. Bold figures are pegs, light ones true lengths from node to node in mm, diamonds splices. What had no room here stands in the tables and on the sheets at full size."
	breaks := 0
	for _, p := range b.Pieces {
		for _, l := range p.Limbs {
			breaks += len(l.Breaks)
		}
	}
	if breaks > 0 {
		s += " Where two strokes cross a bundle it is drawn short: its length is the figure, to be made by tape."
	}
	return s
}

// Tables lists the pegs of a board, what is marked on it, and what does not go over it.
func Tables(fl *page.Flow, b *board.Board) {
	pegs(fl, b)
	marks(fl, b)
	for _, l := range b.Left {
		why := "It found no room: make it up by hand."
		if l.Unknown {
			why = "Its length is not known."
		}
		fl.Para("Not on the board: " + l.Limb + ". " + why)
	}
	var open, loose []string
	for i := range b.Reaches {
		r := &b.Reaches[i]
		name := r.Label
		if name == "" {
			name = r.Name
		}
		if len(r.OverGap) > 0 {
			open = append(open, name)
		}
		if r.Loose && r.Spare < 0 {
			loose = append(loose, name)
		}
	}
	if len(open) > 0 {
		fl.Para("Wires that pass where a ring lies open, to be laid in last: " + list(open) + ".")
	}
	if len(loose) > 0 {
		fl.Para("Loose leads that do not reach between their pegs, to be put in off the board: " + list(loose) + ".")
	}
}

func list(names []string) string {
	s := ""
	for i, n := range names {
		if i > 0 {
			s += ", "
		}
		s += n
	}
	return s
}

// pegs lists nodes and ends one a row, the rest, which only carry, several a row.
func pegs(fl *page.Flow, b *board.Board) {
	if len(b.Pegs) == 0 {
		return
	}
	t := table.New(
		table.Column{Title: "peg", Whole: true, Align: page.Right, Type: page.Strong},
		table.Column{Title: "x mm", Whole: true, Align: page.Right},
		table.Column{Title: "y mm", Whole: true, Align: page.Right},
		table.Column{Title: "tape left", Whole: true, Align: page.Right},
		table.Column{Title: "tape right", Whole: true, Align: page.Right},
		table.Column{Title: "what", Weight: 4},
		table.Column{Title: "set", Width: 10, Align: page.Centre},
	)
	t.Title, t.Later = "Nodes and ends", "Pegs of "+Title(b)+": nodes and ends"
	t.Close = true
	few := table.New()
	few.Title = "Those that only carry: along bundles, and on the inner side of bends"
	few.Later, few.Close = "Pegs of "+Title(b)+" that only carry", true
	const across = 3
	for range across {
		few.Columns = append(few.Columns, table.Column{Title: "peg", Whole: true, Align: page.Right, Type: page.Strong}, table.Column{Title: "x mm", Whole: true, Align: page.Right},
			table.Column{Title: "y mm", Whole: true, Align: page.Right}, table.Column{Title: "set", Width: 10, Align: page.Centre})
	}
	var row []table.Cell
	n := 0
	for i := range b.Pegs {
		p := &b.Pegs[i]
		if p.Kind == "node" || p.Kind == "end" {
			t.Row(table.T(strconv.Itoa(p.Number)), cell(p.At.X), cell(p.At.Y), cell(p.Left), cell(p.Right), table.T(p.Text), table.Tick())
			continue
		}
		row = append(row, table.T(strconv.Itoa(p.Number)), cell(p.At.X), cell(p.At.Y), table.Tick())
		if n++; n%across == 0 {
			few.Row(row...)
			row = nil
		}
	}
	if len(row) > 0 {
		few.Row(row...)
	}
	fl.Heading(2, "Pegs of "+Title(b))
	fl.Para("Tapes run from the lower left and the lower right corner of the board to the middle of the peg.")
	fl.Add(t)
	if n > 0 {
		fl.Add(few)
	}
}

func cell(l unit.Length) table.Cell { return table.T(mm(l)) }

// marks lists what is marked along the bundles.
func marks(fl *page.Flow, b *board.Board) {
	t := table.New(
		table.Column{Title: "on", Weight: 2},
		table.Column{Title: "from", Weight: 1},
		table.Column{Title: "at mm", Whole: true, Align: page.Right, Type: page.Strong},
		table.Column{Title: "what", Weight: 3},
		table.Column{Title: "marked", Width: 14, Align: page.Centre},
	)
	t.Title = "Marks along the bundles of " + Title(b)
	t.Close = true
	for i := range b.Marks {
		m := &b.Marks[i]
		what := m.Text
		if m.Kind == "breakout" {
			what = "breakout " + what
		}
		t.Row(table.T(m.Limb), table.T(m.From), cell(m.Station), table.T(what), table.Tick())
	}
	if len(b.Marks) > 0 {
		fl.Add(t)
	}
}
