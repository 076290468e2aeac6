package table

import (
	"fmt"
	"testing"
	"time"

	"loomsheet/render/page"
)

// A later page of a table without a title goes on with the heading over it, also in a chapter that is made when its turn comes.
func TestLaterPagesHaveAHeading(t *testing.T) {
	rows := func() *Table {
		t := New(Column{Title: "No."})
		for i := range 60 {
			t.Row(T(fmt.Sprint(i)))
		}
		return t
	}
	fl := page.NewFlow(page.Frame{Job: "job", Book: "book"})
	fl.Heading(1, "Limits")
	fl.Para("of all kinds")
	fl.Later(func(fl *page.Flow) { fl.Add(rows()) })
	fl.NewPage()
	fl.Later(func(fl *page.Flow) {
		fl.Heading(2, "Loads")
		fl.Add(rows())
	})
	fl.NewPage()
	fl.Add(rows()) // nobody knows what stands over it
	d, err := fl.Doc("t", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]int{}
	for _, p := range d.Pages {
		for _, name := range []string{"Limits, continued", "Loads, continued"} {
			found[name] += count(p, name)
		}
	}
	if want := map[string]int{"Limits, continued": 1, "Loads, continued": 1}; fmt.Sprint(found) != fmt.Sprint(want) || len(d.Pages) != 6 {
		t.Errorf("%d pages: %v", len(d.Pages), found)
	}
}
