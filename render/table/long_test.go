package table

import (
	"fmt"
	"reflect"
	"strings"
	"testing"
	"time"

	"loomsheet/render/page"

	"pgregory.net/rapid"
)

// A long table looks as it would if it were held whole, wherever its pieces end, and its columns are measured once.
func TestLongIsAsWhole(t *testing.T) {
	defer func(n int) { rowsHeld = n }(rowsHeld)
	rapid.Check(t, func(t *rapid.T) {
		type line struct{ text, under, note string }
		var all [][]line
		var subs []string
		words := func(name string, most int) string {
			return strings.Repeat("wire ab-12 ", rapid.IntRange(0, most).Draw(t, name))
		}
		for n := range rapid.IntRange(1, 4).Draw(t, "runs") {
			sub := fmt.Sprint("case ", n)
			if n == 0 && rapid.Bool().Draw(t, "no sub") {
				sub = ""
			}
			subs = append(subs, sub)
			run := make([]line, rapid.IntRange(0, 40).Draw(t, "rows"))
			for i := range run {
				most := 6
				if rapid.IntRange(0, 30).Draw(t, "tall") == 0 {
					most = 900
				}
				run[i] = line{words("text", most), words("under", 4), words("note", 9)}
			}
			all = append(all, run)
		}
		every, title := rapid.SampledFrom([]int{0, 5}).Draw(t, "every"), rapid.SampledFrom([]string{"", "Loads"}).Draw(t, "title")
		asked := 0
		var runs []Run
		for n := range all {
			runs = append(runs, Run{subs[n], len(all[n]), func(t *Table, i int) {
				asked++
				x := all[n][i]
				t.Row(T(fmt.Sprint(n, ".", i)), Cell{Text: x.text, Type: page.Tight})
				if x.under != "" {
					t.More(Cell{}, T(x.under))
				}
				t.Note(x.note)
			}})
		}
		book := func(held int, known *Measures) *page.Doc {
			rowsHeld = held
			fl := page.NewFlow(page.Frame{Job: "job", Book: "book"})
			fl.Heading(1, "Limits")
			tb := New(Column{Title: "No.", Type: page.Strong}, Column{Title: "What it is", Weight: 3})
			tb.GroupEvery, tb.Title = every, title
			tb.AddLong(fl, known, runs...)
			fl.Para("what follows")
			d, err := fl.Doc("t", time.Time{})
			if err != nil {
				t.Fatal(err)
			}
			return d
		}
		whole := book(1000, nil)
		held := rapid.IntRange(1, 9).Draw(t, "held")
		var known Measures
		for range 2 {
			asked = 0
			if got := book(held, &known); !reflect.DeepEqual(got.Pages, whole.Pages) || !reflect.DeepEqual(got.Bookmarks, whole.Bookmarks) {
				t.Fatalf("%d rows at a time: %d pages, whole %d", held, len(got.Pages), len(whole.Pages))
			}
		}
		rows := 0
		for _, r := range all {
			rows += len(r)
		}
		if asked > rows { // small enough to be kept from one layout to the next
			t.Fatalf("%d rows are made %d times once their measures are known", rows, asked)
		}
	})
}
