package page

import (
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
