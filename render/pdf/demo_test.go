package pdf

import (
	"fmt"
	"os"
	"testing"
	"time"

	"loomsheet/render/page"
	"loomsheet/render/table"
)

var (
	red    = page.RGB(190, 30, 30)
	white  = page.White
	blue   = page.RGB(40, 70, 170)
	green  = page.RGB(30, 130, 60)
	yellow = page.RGB(240, 205, 40)
)

const longName = "injector-driver-bank-two-cylinder-four-return_with_a_name.that/never-ends-because-somebody-liked-it-so"

func demoFrame() page.Frame {
	return page.Frame{
		Size: page.A4, Job: "Roadster, engine harness", Book: "Bench book", Section: "engine",
		Revision: "C", Digest: "3f9ac201",
		NotForBuild: "2 findings are open; the fuse check against the wire was not run.",
	}
}

// demo is a book with one of everything, of an invented job.
func demo() *page.Flow {
	fl := page.NewFlow(demoFrame())
	fl.Title("Bench book: engine")
	fl.Facts(page.Fact{Name: "Job", Value: "Roadster, engine harness (invented)"}, page.Fact{Name: "Revision", Value: "C of 2026-02-11"},
		page.Fact{Name: "Longest wire", Value: "4 120 mm, " + longName}, page.Fact{Name: "Resistance", Value: "7,6 mΩ/m at 20 °C, 35 µΩ each contact, 2.5 mm²"})
	fl.Caution("Before you begin", "Disconnect the battery first, and keep the lead where it cannot spring back.",
		"Local codes, the vehicle maker's instructions and a competent person's judgement come before this paper.",
		"Verify every result with a meter.")
	fl.Heading(2, "Do these first")
	fl.Checklist("Compare revision and source with the note on the board.", "Calibrate the crimp tool and write its number here: ______________________",
		"Lay out reels in the order of the cut list; a reel that is short is marked ✓ in the last column and replaced before the first cut, never after.")
	fl.NewPage()
	fl.Heading(1, "Cut list")
	fl.Para("Cut from the top. Tick a box only when the wire is labelled at both ends. Größe ☐ ✓ Ω µ ² ä.")
	t := table.New(
		table.Column{Title: "Wire", Type: page.Strong, Weight: 2},
		table.Column{Title: "Colour"},
		table.Column{Title: "Size mm²", Align: page.Right},
		table.Column{Title: "Length mm", Align: page.Right},
		table.Column{Title: "Goes to", Weight: 2},
		table.Column{Title: "Cut", Width: 11, Align: page.Centre},
		table.Column{Title: "Crimp", Width: 13, Align: page.Centre},
	)
	t.MaxRows = 20
	t.Sub("reel 1.5 mm², class 125 °C")
	for i := range 27 {
		name := fmt.Sprintf("inj-feed-%d", i+1)
		if i == 6 {
			name = longName
		}
		t.Row(table.T(name), table.Swatch("RD/WH", red, white), table.T("1.5"), table.Number(fmt.Sprint(900+37*i)),
			table.T(fmt.Sprintf("connector A half tub cavity %d", i+1)), table.Tick(), table.Ticks(2))
		if i == 11 {
			t.Sub("reel 2.5 mm², class 150 °C")
		}
	}
	fl.Add(t)
	fl.Heading(1, "Connectors")
	for n, name := range []string{"A", "start-post", longName} {
		fl.Heading(2, "Connector "+name)
		p := table.New(table.Column{Title: "Cavity", Align: page.Centre, Type: page.Strong}, table.Column{Title: "Wire"}, table.Column{Title: "Colour"},
			table.Column{Title: "Gauge", Align: page.Right}, table.Column{Title: "Goes to"}, table.Column{Title: "Contact"}, table.Column{Title: "Pinned", Align: page.Centre})
		p.Title, p.Together = "Pins of connector "+name, true
		for i := range 6 + 3*n {
			if i == 3 {
				p.Row(table.Blank(fmt.Sprint(i+1)), table.Blank("blank: fit plug"), table.Blank(""), table.Blank(""), table.Blank(""), table.Blank(""), table.Tick())
				continue
			}
			p.Row(table.T(fmt.Sprint(i+1)), table.T("crank-h"), table.Swatch("BU/YE/GN", blue, yellow, green), table.T("0.75 mm²"), table.T("ecu.crank-h"), table.T("size 20 socket"), table.Tick())
		}
		fl.Together(func() {
			fl.Figure(48, face)
			fl.Add(p)
		})
	}
	fl.SetFrame(page.Frame{Size: page.A3.Landscape(), Job: "Roadster, engine harness", Book: "Shell book", Revision: "C", Digest: "3f9ac201"})
	fl.Heading(1, "Plan of the runs")
	fl.FigureRest(100, func(c *page.Canvas) {
		c.Rect(page.Box{X: 0, Y: 0, W: c.W(), H: c.H()}, page.Hair)
		c.Polyline(page.Firm, page.Point{X: 20, Y: 20}, page.Point{X: 150, Y: 60}, page.Point{X: 300, Y: 60})
		c.TurnedText(15, 60, page.Up, page.Small, "from the datum")
		c.TurnedText(310, 60, page.Down, page.Body, "to bulkhead")
		c.Polygon(page.Solid, page.Point{X: 300, Y: 58}, page.Point{X: 306, Y: 60}, page.Point{X: 300, Y: 62})
		c.Line(20, 80, 120, 80, page.Style{Line: page.Black, Width: 0.3, Dash: []page.MM{2, 1}})
	})
	return fl
}

func face(c *page.Canvas) {
	for i, name := range []string{"wire side", "mating side"} {
		x := page.MM(30 + 70*i)
		c.Circle(x, 20, 18, page.Firm)
		for k := range 6 {
			c.Circle(x-10+page.MM(k%3)*10, 15+page.MM(k/3)*10, 3.6, page.Thin)
			c.Middle(page.Box{X: x - 13.6 + page.MM(k%3)*10, Y: 11.4 + page.MM(k/3)*10, W: 7.2, H: 7.2}, page.Body, fmt.Sprint(k+1))
		}
		c.Arc(x, 20, 16, 60, 120, page.Thick)
		c.TextAt(x, 44, page.Strong, page.Centre, name)
	}
}

func demoDoc(t testing.TB) *page.Doc {
	t.Helper()
	doc, err := demo().Doc("Roadster: demo", time.Time{})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func demoPDF(t testing.TB) []byte {
	t.Helper()
	out, err := Write(demoDoc(t))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// With LOOMSHEET_DEMO set to a file, the demo book is left there to be looked at.
func TestDemo(t *testing.T) {
	out := demoPDF(t)
	if file := os.Getenv("LOOMSHEET_DEMO"); file != "" {
		if err := os.WriteFile(file, out, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for i, p := range demoDoc(t).Pages {
		for _, o := range p.Overlaps() {
			t.Errorf("page %d: %q over %q", i+1, o[0].S, o[1].S)
		}
	}
}
