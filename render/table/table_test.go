package table

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"loomsheet/render/font"
	"loomsheet/render/page"
	"pgregory.net/rapid"
)

var frame = page.Frame{Job: "boat", Book: "Bench book", Section: "stern", Revision: "B", Digest: "0a1b2c3d"}

func lay(t *testing.T, tables ...*Table) *page.Doc {
	t.Helper()
	fl := page.NewFlow(frame)
	for _, tb := range tables {
		fl.Add(tb)
	}
	d, err := fl.Doc("t", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func texts(p page.Page) []page.Text {
	var out []page.Text
	for _, i := range p.Items {
		if t, ok := i.(page.Text); ok && frame.Body().Holds(t.Bounds()) {
			out = append(out, t)
		}
	}
	return out
}

// count is how many runs on the page begin with s.
func count(p page.Page, s string) int {
	n := 0
	for _, t := range texts(p) {
		if strings.HasPrefix(t.S, s) {
			n++
		}
	}
	return n
}

func numbered(n int) *Table {
	t := New(Column{Title: "Wire"}, Column{Title: "Length mm", Align: page.Right})
	for i := range n {
		t.Row(T(fmt.Sprint("w", i)), Number("100"))
	}
	return t
}

func TestHeadsAreRepeatedAndRowsLimited(t *testing.T) {
	tb := numbered(47)
	tb.Title, tb.MaxRows = "Cut list", 20
	d := lay(t, tb)
	if len(d.Pages) != 3 {
		t.Fatalf("%d pages", len(d.Pages))
	}
	total := 0
	for i, p := range d.Pages {
		if count(p, "Wire") != 1 || count(p, "Length mm") != 1 {
			t.Errorf("page %d has no head", i+1)
		}
		want := 0
		if i > 0 {
			want = 1
		}
		if count(p, "Cut list, continued") != want {
			t.Errorf("page %d: title", i+1)
		}
		if n := count(p, "w"); n > 20 {
			t.Errorf("page %d has %d rows", i+1, n)
		} else {
			total += n
		}
	}
	if total != 47 {
		t.Errorf("%d rows of 47", total)
	}
}

func TestLastRowNotAlone(t *testing.T) {
	tb := numbered(21)
	tb.MaxRows = 20
	if d := lay(t, tb); count(d.Pages[1], "w") != 2 {
		t.Errorf("%d rows on the last page", count(d.Pages[1], "w"))
	}
	for n := 20; n < 45; n++ {
		d := lay(t, numbered(n))
		for i, p := range d.Pages {
			if count(p, "w") < 2 {
				t.Errorf("%d rows: page %d has one", n, i+1)
			}
		}
	}
}

func TestRowHeightAndGroupGap(t *testing.T) {
	tb := New(Column{Title: "Wire"})
	for i := range 12 {
		tb.Row(T(fmt.Sprint("w", i)))
	}
	var ys []float64
	for _, x := range texts(lay(t, tb).Pages[0]) {
		if strings.HasPrefix(x.S, "w") {
			ys = append(ys, float64(x.At.Y))
		}
	}
	for i := 1; i < len(ys); i++ {
		step, want := ys[i]-ys[i-1], 7.0
		if i%5 == 0 {
			want += float64(groupGap)
		}
		if step < want-0.01 || step > want+0.01 {
			t.Errorf("row %d stands %.2f below the one before, want %.2f", i+1, step, want)
		}
	}
}

func TestTogether(t *testing.T) {
	for _, groups := range []bool{false, true} {
		first, second := numbered(20), numbered(12)
		second.Title = "Pins"
		if groups {
			second.Sub("half tub")
			for i := range 12 {
				second.Row(T(fmt.Sprint("w", i)))
			}
			second.GroupsTogether = true
		} else {
			second.Together = true
		}
		d := lay(t, first, second)
		if groups {
			for i, p := range d.Pages {
				if n := count(p, "half tub (continued)"); n > 0 {
					t.Errorf("group divided on page %d", i+1)
				}
			}
			continue
		}
		if n := count(d.Pages[0], "w"); n != 20 || count(d.Pages[1], "w") != 12 {
			t.Errorf("the table is divided: %d rows before it", n)
		}
	}
	long := numbered(80)
	long.Together = true
	d := lay(t, numbered(3), long)
	if n := count(d.Pages[0], "w"); n < 20 {
		t.Errorf("a table longer than a page leaves the first page with %d rows", n)
	}
}

func TestSubheadGoesOn(t *testing.T) {
	tb := New(Column{Title: "Wire"})
	tb.Sub("reel one")
	for i := range 40 {
		tb.Row(T(fmt.Sprint("w", i)))
	}
	d := lay(t, tb)
	if count(d.Pages[0], "reel one") != 1 || count(d.Pages[1], "reel one (continued)") != 1 {
		t.Errorf("%s", d.Text())
	}
}

func TestWidths(t *testing.T) {
	sum := func(ws []MM) (s MM) {
		for _, w := range ws {
			s += w
		}
		return s
	}
	long := strings.Repeat("word ", 100)
	tb := New(Column{Title: "a"}, Column{Title: "tick", Width: 15}, Column{Title: "b", Min: 30})
	tb.Row(T(long), Tick(), T("x"))
	ws, err := tb.Widths(170)
	if err != nil || sum(ws) < 169.99 || sum(ws) > 170.01 || ws[1] > 15.01 || ws[2] < 30 || ws[0] < 120 {
		t.Errorf("%v %v", ws, err)
	}
	// Two long columns share by weight, the short one keeps its words.
	tb = New(Column{Title: "a", Weight: 2}, Column{Title: "b"}, Column{Title: "c"})
	tb.Row(T(long), T(long), T("short"))
	ws, err = tb.Widths(170)
	if err != nil || ws[0] < 1.9*ws[1] || ws[0] > 2.1*ws[1] || ws[2] < page.Body.Width("short")+2*padX {
		t.Errorf("%v %v", ws, err)
	}
	// Room to spare goes to the column with a weight.
	tb = New(Column{Title: "a", Weight: 1}, Column{Title: "b"})
	tb.Row(T("x"), T("y"))
	if ws, err = tb.Widths(170); err != nil || ws[1] > 8 {
		t.Errorf("%v %v", ws, err)
	}
	tb = New(make([]Column, 60)...)
	tb.Row(T("W"))
	for i := range tb.Columns {
		tb.Columns[i].Title = "W"
	}
	if _, err = tb.Widths(170); err == nil || !strings.Contains(err.Error(), "60 columns") {
		t.Errorf("error %v", err)
	}
}

func TestMisuseIsAnError(t *testing.T) {
	none := New()
	none.Row()
	more := New(Column{Title: "a"})
	more.Row(T("1"), T("2"))
	for _, tb := range []*Table{none, more} {
		fl := page.NewFlow(frame)
		fl.Para("x")
		fl.Add(tb)
		if _, err := fl.Doc("", time.Time{}); err == nil {
			t.Error("passes")
		}
	}
	empty := New(Column{Title: "a"})
	if d := lay(t, empty); count(d.Pages[0], "a") != 1 || empty.Len() != 0 {
		t.Error("a table without rows has no head")
	}
	missing := New(Column{Title: "a"})
	missing.Row(T("日"))
	fl := page.NewFlow(frame)
	fl.Add(missing)
	if _, err := fl.Doc("", time.Time{}); err == nil || !strings.Contains(err.Error(), "U+65E5") {
		t.Errorf("error %v", err)
	}
}

func TestDrawnThings(t *testing.T) {
	red := page.RGB(200, 0, 0)
	tb := New(Column{Title: "a"}, Column{Title: "b", Align: page.Centre}, Column{Title: "c"})
	tb.Row(Swatch("RD/WH", red, page.White), Ticks(3), Blank("blank"))
	var boxes, swatches, shades int
	for _, i := range lay(t, tb).Pages[0].Items {
		r, ok := i.(page.Rect)
		switch {
		case !ok:
		case r.Box.W == page.TickSize && r.Box.H == page.TickSize:
			boxes++
		case r.Style.Fill == red:
			swatches++
		case r.Style.Fill == page.Pale:
			shades++
		}
	}
	if boxes != 3 || swatches != 1 || shades != 1 {
		t.Errorf("%d boxes, %d swatches, %d shades", boxes, swatches, shades)
	}
}

// anyText draws a text of no, few or very many letters; plain string generators seldom leave the short ones.
func anyText(letters []rune, lengths ...int) *rapid.Generator[string] {
	return rapid.Custom(func(t *rapid.T) string {
		n := rapid.SampledFrom(lengths).Draw(t, "letters")
		return rapid.StringOfN(rapid.SampledFrom(letters), n, n, -1).Draw(t, "text")
	})
}

// Whatever stands in a table: every letter of it is printed, no run leaves its cell, its page or covers another, no
// row is divided, heads stand on each page.
func TestTableHoldsAnyText(t *testing.T) {
	letters := []rune("ab._/WMil1Ωµ² -äß\u0301\n") // the first twelve for heads
	rapid.Check(t, func(t *rapid.T) {
		text := anyText(letters, 0, 1, 3, 8, 8, 15, 15, 40, 300, 4000)
		n := rapid.SampledFrom([]int{1, 2, 4, 6, 8, 10}).Draw(t, "columns")
		cols := make([]Column, n)
		for i := range cols {
			cols[i] = Column{Title: anyText(letters[:12], 0, 4, 10, 14, 1500).Draw(t, "head"), Weight: rapid.IntRange(0, 3).Draw(t, "weight"),
				Align: page.Align(rapid.IntRange(0, 2).Draw(t, "align")), Type: rapid.SampledFrom([]page.Type{{}, page.Code, page.Big, page.Tight}).Draw(t, "type")}
			if rapid.IntRange(0, 4).Draw(t, "fixed") == 0 {
				cols[i].Width = MM(rapid.IntRange(1, 18).Draw(t, "width"))
			}
		}
		tb := New(cols...)
		tb.Title = text.Draw(t, "title")
		tb.MaxRows = rapid.IntRange(0, 20).Draw(t, "most")
		tb.Together, tb.GroupsTogether = rapid.Bool().Draw(t, "together"), rapid.Bool().Draw(t, "groups")
		put := map[string]int{}
		for range rapid.SampledFrom([]int{0, 1, 4, 12, 40}).Draw(t, "rows") {
			if rapid.IntRange(0, 5).Draw(t, "sub") == 0 {
				tb.Sub(text.Draw(t, "subhead"))
			}
			var cells []Cell
			kind := rapid.SampledFrom([]string{"row", "row", "row", "more", "note"}).Draw(t, "kind")
			if kind == "note" {
				tb.Note(anyText([]rune("n -"), 1, 30, 300, 3000).Draw(t, "note"))
				continue
			}
			for range rapid.SampledFrom([]int{n, n - 1}).Draw(t, "cells") {
				c := Cell{Text: text.Draw(t, "cell"), Ticks: rapid.SampledFrom([]int{0, 0, 0, 1}).Draw(t, "ticks")}
				if rapid.IntRange(0, 6).Draw(t, "swatch") == 0 {
					c.Swatch = []page.Ink{page.White, page.Black}
				}
				cells = append(cells, c)
				put["W"] += strings.Count(c.Text, "W")
			}
			if kind == "more" {
				tb.More(cells...)
			} else {
				tb.Row(cells...)
			}
		}
		ws, err := tb.Widths(frame.Body().W)
		if err != nil {
			t.Skip("too many columns")
		}
		x := frame.Body().X
		edges := []MM{x}
		for _, w := range ws {
			x += w
			edges = append(edges, x)
		}
		fl := page.NewFlow(frame)
		fl.Add(tb)
		d, err := fl.Doc("t", time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		// Letters in cells: all W but those of heads, title and subheads, told by their voices.
		got := 0
		for i, p := range d.Pages {
			for _, o := range p.Overlaps() {
				t.Fatalf("page %d: %q over %q", i+1, o[0].S, o[1].S)
			}
			for _, r := range texts(p) {
				if r.Face == font.Bold && r.Size != page.Big.Size || strings.Trim(r.S, "n -") == "" {
					continue
				}
				got += strings.Count(r.S, "W")
				b := r.Bounds()
				inside := false
				for k := range ws {
					inside = inside || b.X >= edges[k]-0.02 && b.Right() <= edges[k+1]+0.02
				}
				if !inside {
					t.Fatalf("page %d: %q crosses its column: %v, %v", i+1, r.S, b, edges)
				}
			}
		}
		if got != put["W"] {
			t.Fatalf("%d letters W went in, %d came out", put["W"], got)
		}
	})
}
