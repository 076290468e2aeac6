package table_test

import (
	"fmt"
	"time"

	"loomsheet/render/page"
	"loomsheet/render/table"
)

func Example() {
	red, white := page.RGB(190, 30, 30), page.White
	fl := page.NewFlow(page.Frame{Job: "roadster", Book: "Bench book", Section: "engine", Revision: "C", Digest: "3f9ac201"})
	fl.Heading(1, "Cut list")
	t := table.New(table.Column{Title: "Wire", Type: page.Strong, Weight: 1}, table.Column{Title: "Colour"},
		table.Column{Title: "Length mm", Align: page.Right}, table.Column{Title: "Cut", Align: page.Centre})
	t.MaxRows = 20
	t.Sub("reel 1.5 mm²")
	t.Row(table.T("inj-feed"), table.Swatch("RD/WH", red, white), table.Number("1490"), table.Tick())
	fl.Add(t)
	doc, err := fl.Doc("Bench book: engine", time.Time{})
	fmt.Println(err)
	for _, line := range doc.Pages[0].Lines() {
		fmt.Println(line)
	}
	// Output:
	// <nil>
	// roadster  Bench book – engine
	// Cut list
	// Wire  Colour  Length mm  Cut
	// reel 1.5 mm²
	// inj-feed  RD/WH  1490
	// Revision C   Source 3f9ac201  page 1 of 1
	// Destroy this sheet if its revision or source differs from those on the board.
}
