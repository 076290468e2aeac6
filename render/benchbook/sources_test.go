package benchbook

import (
	"strings"
	"testing"
	"time"

	"loomsheet/render/page"
)

// A document is named once below a table, whatever is said out of it.
func TestSourcesNamedOnce(t *testing.T) {
	var s sources
	if got := s.mark("A table", "row 1") + s.mark("A sheet", "") + s.mark("A table", "row 2") + s.mark("A table", "row 1"); got != "abca" {
		t.Errorf("marks %s", got)
	}
	fl := page.NewFlow(page.Frame{Job: "job", Book: "book"})
	s.print(fl)
	d, err := fl.Doc("t", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	if want := "A table: a row 1; c row 2. A sheet: b."; !strings.Contains(strings.Join(strings.Fields(d.Dump()), " "), want) {
		t.Errorf("want %q:\n%s", want, d.Dump())
	}
}
