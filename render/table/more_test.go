package table

import (
	"fmt"
	"strings"
	"testing"

	"loomsheet/render/page"
)

// doubled is a table of rows of two lines and a remark each.
func doubled(n int) *Table {
	t := New(Column{Title: "Wire"}, Column{Title: "End"})
	for i := range n {
		t.Row(Cell{Text: fmt.Sprint("w", i), Type: page.Big}, T("box, cavity 1"))
		t.More(T(fmt.Sprint("name of w", i)), T("lamp, cavity 2"))
		t.Note(fmt.Sprint("remark on w", i, " that is wider than the first of the two columns by far and stands over both"))
	}
	return t
}

func TestMoreStaysWithItsRow(t *testing.T) {
	tb := doubled(60)
	tb.MaxRows = 9
	d := lay(t, tb)
	if tb.Len() != 60 || len(d.Pages) != 7 {
		t.Fatalf("%d rows on %d pages", tb.Len(), len(d.Pages))
	}
	for i, p := range d.Pages {
		rows, names, remarks := count(p, "w"), count(p, "name"), count(p, "remark")
		if rows != names || rows != remarks || rows == 0 || rows > 9 {
			t.Errorf("page %d has %d rows, %d names, %d remarks", i+1, rows, names, remarks)
		}
		if o := p.Overlaps(); len(o) > 0 {
			t.Errorf("page %d: %v", i+1, o[0])
		}
	}
}

func TestNoRuleInsideARow(t *testing.T) {
	p := lay(t, doubled(3)).Pages[0]
	rules := 0
	for _, i := range p.Items {
		if l, ok := i.(page.Line); ok && l.Style.Width == page.Hair.Width && l.B.X-l.A.X > 100 {
			rules++
		}
	}
	if rules != 3 {
		t.Errorf("%d rules below 3 rows", rules)
	}
}

func TestLaterTitle(t *testing.T) {
	tb := numbered(30)
	tb.Later = "Connector A"
	d := lay(t, tb)
	for i, p := range d.Pages {
		if n := count(p, "Connector A, continued"); n != min(i, 1) {
			t.Errorf("page %d: %d titles", i+1, n)
		}
	}
}

// A figure is never broken, however long the texts beside it; a least width gives way before the table does not fit.
func TestWholeColumns(t *testing.T) {
	long := strings.Repeat("never-ending-", 40)
	tb := New(Column{Title: "Text", Min: 90}, Column{Title: "x", Whole: true, Align: page.Right}, Column{Title: "Deburred", Whole: true}, Column{Title: "More", Min: 90})
	for i := range 5 {
		tb.Row(T(long), Number(fmt.Sprint(-1155432-i)), Tick(), T(long))
	}
	text := lay(t, tb).Text()
	for i := range 5 {
		if want := fmt.Sprint(-1155432 - i); !strings.Contains(text, want) {
			t.Errorf("no %s in %s", want, text)
		}
	}
	if !strings.Contains(text, "Deburred") {
		t.Error("the head is broken")
	}
}

// What should belong to a row but follows a subhead or nothing is a row of its own.
func TestMoreWithoutRow(t *testing.T) {
	tb := New(Column{Title: "Wire"})
	tb.More(T("w0"))
	tb.Sub("reel")
	tb.Note("w1")
	if p := lay(t, tb).Pages[0]; tb.Len() != 2 || count(p, "w") != 2 {
		t.Errorf("%d rows, %s", tb.Len(), strings.Join(p.Lines(), "|"))
	}
}

// Rows that stand close take less room, and still hold their text.
func TestCloseRows(t *testing.T) {
	height := func(near bool) MM {
		tb := New(Column{Title: "what"})
		tb.RowHeight, tb.Close = 0, near
		tb.Row(T("one"))
		tb.Row(T("two\nlines"))
		h, err := page.Height(tb, 80)
		if err != nil {
			t.Fatal(err)
		}
		return h
	}
	if a, b := height(false), height(true); a-b < 2*2*(padY-padClose)-0.01 || a-b > 2*2*(padY-padClose)+0.01 {
		t.Errorf("%v and %v", a, b)
	}
}

// Tied rows stand on the page of the row that they belong to, unless they are longer than a page.
func TestTied(t *testing.T) {
	tb := New(Column{Title: "Piece"})
	for i := range 30 {
		tb.Row(T(fmt.Sprint("cable", i)))
		for k := range i % 7 {
			tb.Tied(T(fmt.Sprint("core", k, " of cable", i)))
		}
	}
	tb.Row(T("cable30"))
	for k := range 90 {
		tb.Tied(T(fmt.Sprint("core", k, " of the long one")))
	}
	d := lay(t, tb)
	for n, p := range d.Pages {
		text := "\n" + strings.Join(p.Lines(), "\n") + "\n"
		for i := range 30 {
			cable, cores := strings.Contains(text, fmt.Sprint("\ncable", i, "\n")), strings.Count(text, fmt.Sprint("of cable", i, "\n"))
			if cable && cores != i%7 || !cable && cores > 0 {
				t.Errorf("page %d: cable %d is there: %v, with %d of %d cores", n+1, i, cable, cores, i%7)
			}
		}
	}
}

func TestWriteIsALineInItsCell(t *testing.T) {
	tb := New(Column{Title: "a", Width: 30}, Column{Title: "b", Width: 60})
	tb.Row(T("x"), Write())
	lines := 0
	for _, i := range lay(t, tb).Pages[0].Items {
		if l, ok := i.(page.Line); ok && l.Style.Width == page.Thin.Width && l.A.Y == l.B.Y {
			if w := l.B.X - l.A.X; w > 56 && w < 120 {
				lines++
			}
		}
	}
	if lines != 1 {
		t.Errorf("%d lines to write on", lines)
	}
}
