package table

import (
	"slices"

	"loomsheet/render/page"
)

// Run is the rows under one subhead of a long table.
type Run struct {
	Sub  string // empty: none, of the first run alone
	Rows int
	Put  func(t *Table, i int) // appends row i and what belongs to it; the same each time it is asked
}

// Measures is what the texts of a long table take, found when it is first laid out.
type Measures struct{ columns []measured }

// rowsHeld is how many rows of a long table are made at a time.
var rowsHeld = 256

// AddLong adds to a flow the table as if it held the rows of all runs. They are made in pieces when they are laid out and drawn, so that no more than one is
// held; so no row of a run may be tied to another. known is kept from one layout to the next.
func (t *Table) AddLong(fl *page.Flow, known *Measures, runs ...Run) {
	all := 0
	for _, r := range runs {
		all += r.Rows
	}
	if all <= rowsHeld || t.MaxRows > 0 || t.Together || t.GroupsTogether { // ties that reach over pieces
		for _, r := range runs {
			t.Sub(r.Sub)
			r.put(t, 0, r.Rows)
		}
		fl.Add(t)
		return
	}
	runs = slices.DeleteFunc(slices.Clone(runs), func(r Run) bool { return r.Sub == "" && r.Rows == 0 })
	l := &long{t, known, runs}
	for n := range runs {
		for from := 0; ; from += rowsHeld {
			to := min(from+rowsHeld, runs[n].Rows)
			fl.Add(&piece{l, n, from, to})
			if to == runs[n].Rows {
				break
			}
		}
	}
}

func (r *Run) put(t *Table, from, to int) {
	for i := from; i < to; i++ {
		r.Put(t, i)
	}
}

// long is a table of runs; it has no rows of its own.
type long struct {
	*Table
	known *Measures
	runs  []Run
}

// piece is rows from and up to, and without, to of one of its runs.
type piece struct {
	*long
	run, from, to int
}

// Parts is those of the table that show the rows of the piece.
func (p *piece) Parts(width, height MM) ([]page.Part, error) {
	r, t := &p.runs[p.run], *p.Table
	t.at = &place{
		begun: p.run > 0 || p.from > 0, goesOn: p.run < len(p.runs)-1 || p.to < r.Rows,
		sub: r.Sub, before: p.from, after: r.Rows - p.to,
	}
	if p.from == 0 {
		t.Sub(r.Sub)
	}
	r.put(&t, p.from, p.to)
	t.known = p.measures()
	return t.Parts(width, height)
}

// measures is what the columns of the whole table take.
func (l *long) measures() []measured {
	k := l.known
	if slices.EqualFunc(k.columns, l.Columns, func(m measured, c Column) bool { return m.title == c.Title && m.voice == c.Type }) {
		return k.columns
	}
	k.columns = nil
	for _, c := range l.Columns {
		k.columns = append(k.columns, begun(c))
	}
	for _, r := range l.runs {
		for from := 0; from < r.Rows; from += rowsHeld {
			t := Table{Columns: l.Columns}
			r.put(&t, from, min(from+rowsHeld, r.Rows))
			for i, c := range t.Columns {
				k.columns[i].take(t.rows, i, c)
			}
		}
	}
	return k.columns
}

// place is where rows stand in a table of which they are a piece.
type place struct {
	begun, goesOn bool   // the table before them, and after
	sub           string // under which they stand
	before, after int    // rows under it
}
