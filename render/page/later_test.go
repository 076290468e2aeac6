package page

import (
	"errors"
	"fmt"
	"reflect"
	"testing"
	"time"

	"pgregory.net/rapid"
)

// chapter writes a chapter of some lines, figures and things that stay together.
func chapter(fl *Flow, n, lines int) {
	fl.Heading(1+n%3, fmt.Sprintf("Chapter %d", n))
	for i := range lines {
		fl.Para(fmt.Sprintf("line %d of chapter %d", i, n))
		if i%7 == 3 {
			fl.Together(func() {
				fl.Heading(3, "Figure")
				fl.Figure(MM(20+5*n), func(c *Canvas) { c.Line(0, 0, 10, 10, Thin) })
			})
		}
	}
}

// A book whose chapters are made when their turn comes is the same, page by page, as one that is written at once; so is one that is handed over page
// by page, whether its parts are held between two layouts or not.
func TestLaterIsTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sizes := rapid.SliceOfN(rapid.IntRange(0, 40), 1, 9).Draw(t, "chapters")
		once, later := NewFlow(Frame{Job: "job", Book: "book"}), NewFlow(Frame{Job: "job", Book: "book"})
		once.Para("cover")
		later.Para("cover")
		made := 0
		for n, lines := range sizes {
			chapter(once, n, lines)
			later.Later(func(fl *Flow) {
				made++
				chapter(fl, n, lines)
			})
		}
		want, err := once.Doc("t", time.Time{})
		if err != nil {
			t.Fatal(err)
		}
		got, err := later.Doc("t", time.Time{})
		if err != nil || !reflect.DeepEqual(want, got) {
			t.Fatalf("%v: not the same book", err)
		}
		if made != len(sizes) {
			t.Fatalf("%d chapters were made %d times", len(sizes), made)
		}
		later.kept = mostKept + 1
		var pages []Page
		marks, err := later.Marks()
		if err == nil {
			later.kept = mostKept + 1
			err = later.Each(nil, func(p Page) error {
				pages = append(pages, p)
				return nil
			})
		}
		if err != nil || !reflect.DeepEqual(pages, want.Pages) || !reflect.DeepEqual(marks, want.Bookmarks) || len(later.Sheets()) != len(pages) {
			t.Fatalf("%v: page by page it is not the same book", err)
		}
		if made < 2*len(sizes) {
			t.Fatal("chapters of a long book are held")
		}
	})
}

// A long book is laid out again by the contours of its chapters: the same pages, whatever they hold, and none is made for it.
func TestContours(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kinds := rapid.SliceOfN(rapid.IntRange(0, 7), 1, 12).Draw(t, "chapters")
		wide := Frame{Job: "job", Book: "wide", Size: A4.Landscape()}
		headed := Part{Height: 9, Draw: nothing}
		again := func(n int, limit int) Block {
			return measured(func(_, _ MM) []Part {
				var out []Part
				for i := range n {
					out = append(out, Part{Height: 30, Gap: 2, Again: &headed, Limit: limit, Keep: Keep(i % 2), Draw: nothing})
				}
				return out
			})
		}
		made := 0
		write := func(fl *Flow, kind, n int) {
			made++
			switch kind {
			case 0: // an empty one
			case 1:
				fl.NewPage()
			case 2:
				fl.SetFrame(wide)
			case 3:
				fl.SetFrame(wide)
				chapter(fl, n, 9)
				fl.NewPage()
			case 4:
				fl.Add(again(20, 0))
				fl.Space(400)
				fl.Para("after a space")
				fl.Figure(100, nothing)
				fl.Together(func() {
					for range 6 {
						fl.Figure(33, nothing)
					}
				})
			case 5:
				fl.Add(again(20, 3))
				fl.Add(again(5, 3))
				fl.FigureRest(50, nothing)
			case 6:
				fl.Later(func(fl *Flow) { chapter(fl, n, 12) })
				fl.Later(func(fl *Flow) { fl.SetFrame(Frame{Job: "job", Book: "inner"}) })
			default:
				chapter(fl, n, 30)
			}
		}
		once, later := NewFlow(Frame{Job: "job", Book: "book"}), NewFlow(Frame{Job: "job", Book: "book"})
		for _, fl := range []*Flow{once, later} {
			fl.Para("cover")
			for n, kind := range kinds {
				if fl == once {
					write(fl, kind, n)
				} else {
					fl.Later(func(fl *Flow) { write(fl, kind, n) })
				}
				if n%3 == 1 {
					fl.Say(Small, "between")
				}
			}
			fl.Para("end")
		}
		want, err := once.Marks()
		if err != nil {
			t.Fatal(err)
		}
		later.Marks()
		made = 0
		for range 2 {
			later.kept = mostKept + 1
			got, err := later.Marks()
			if err != nil || !reflect.DeepEqual(got, want) || !reflect.DeepEqual(later.Sheets(), once.Sheets()) {
				t.Fatalf("%v: %v on %v, want %v on %v", err, got, later.Sheets(), want, once.Sheets())
			}
		}
		if made > 0 {
			t.Fatal("chapters are made again")
		}
		n := 0
		later.kept = mostKept + 1
		if err := later.Each(nil, func(Page) error { n++; return nil }); err != nil || n != len(once.Sheets()) || made != len(kinds) {
			t.Fatalf("%v: %d pages, want %d", err, n, len(once.Sheets()))
		}
	})
}

// A chapter that changes, or that has a fault, is made anew.
func TestNoContour(t *testing.T) {
	fl, n := NewFlow(Frame{Job: "job", Book: "book"}), 0
	fl.Later(func(fl *Flow) { fl.Add(growing{&n}) })
	for pages := range 4 {
		n, fl.kept = pages, mostKept+1
		if _, err := fl.Marks(); err != nil || len(fl.Sheets()) != pages+1 {
			t.Errorf("%v: %d pages, want %d", err, len(fl.Sheets()), pages+1)
		}
	}
	fl = NewFlow(Frame{Job: "job", Book: "book"})
	fl.Later(func(fl *Flow) { fl.Add(faulty{}) })
	for range 3 {
		fl.kept = mostKept + 1
		if _, err := fl.Marks(); err == nil {
			t.Error("the fault is forgotten")
		}
	}
}

type growing struct{ pages *int }

func (growing) Changes() {}

func (g growing) Parts(_, height MM) ([]Part, error) {
	out := []Part{{Height: 10, Draw: nothing}}
	for range *g.pages {
		out = append(out, Part{Height: height, Draw: nothing})
	}
	return out, nil
}

type faulty struct{}

func (faulty) Parts(_, _ MM) ([]Part, error) { return nil, errors.New("a fault") }

// Volumes hold every page once, none too many, and their outlines begin with what is open.
func TestVolumes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		pages, most := rapid.IntRange(1, 500).Draw(t, "pages"), rapid.IntRange(2, 120).Draw(t, "most")
		var marks []Bookmark
		level, at := 0, 0
		for at < pages {
			level = rapid.IntRange(1, min(level+1, 3)).Draw(t, "level")
			marks = append(marks, Bookmark{Title: fmt.Sprint(len(marks)), Level: level, Page: at})
			at += rapid.IntRange(0, 60).Draw(t, "length")
		}
		next, told := 0, 0
		for i, v := range Volumes(marks, pages, most) {
			if v.From != next || v.To <= v.From || v.To-v.From > most {
				t.Fatalf("volume %d is %v", i+1, v)
			}
			next = v.To
			last := 0
			for _, m := range v.Within(marks) {
				if m.Level > last+1 || m.Page < 0 || m.Page >= v.To-v.From {
					t.Fatalf("volume %d: %+v after level %d", i+1, m, last)
				}
				last = m.Level
				if at, _ := fmt.Sscan(m.Title, &told); at == 1 && marks[told].Page >= v.From && marks[told].Page-v.From != m.Page {
					t.Fatalf("volume %d: %+v is at %d", i+1, m, marks[told].Page)
				}
			}
		}
		if next != pages {
			t.Fatalf("%d of %d pages", next, pages)
		}
	})
}
