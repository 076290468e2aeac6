package pdf

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"github.com/jung-kurt/gofpdf"

	"loomsheet/render/font"
	"loomsheet/render/page"
	"loomsheet/render/table"
)

// long is a book with a table of so many rows of nine cells, two of them with boxes or swatches.
func long(tb testing.TB, rows int) *page.Doc {
	fl := page.NewFlow(demoFrame())
	fl.Heading(1, "Cut list")
	t := table.New(table.Column{Title: "Wire", Type: page.Strong, Weight: 2}, table.Column{Title: "Colour"}, table.Column{Title: "Size mm²", Align: page.Right},
		table.Column{Title: "Length mm", Align: page.Right}, table.Column{Title: "From"}, table.Column{Title: "To"}, table.Column{Title: "Strip", Align: page.Right},
		table.Column{Title: "Reel"}, table.Column{Title: "Cut", Align: page.Centre})
	for i := range rows {
		t.Row(table.T(fmt.Sprintf("feed-%d", i)), table.Swatch("RD/WH", red, white), table.T("1.5"), table.Number(fmt.Sprint(900+37*(i%80))),
			table.T(fmt.Sprintf("A.%d", i%40)), table.T(fmt.Sprintf("box.f%d", i%90)), table.T("4.5"), table.T(fmt.Sprint(i%7)), table.Tick())
	}
	fl.Add(t)
	doc, err := fl.Doc("long", time.Time{})
	if err != nil {
		tb.Fatal(err)
	}
	return doc
}

// raw writes the same texts, lines and boxes as Write straight with the library, with the same fonts embedded: no gate, no bookmarks, and a font, an
// ink or a width is set only where it changes.
func raw(tb testing.TB, doc *page.Doc) []byte {
	pdf := gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: sheet(doc.Pages[0].Size)})
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCompression(true)
	have := map[font.Face]bool{}
	var face font.Face
	var size page.Pt
	var words, line, fill page.Ink
	var width page.MM
	set := func(i *page.Ink, to page.Ink, do func(r, g, b int)) {
		if *i != to {
			*i = to
			do(int(to.R), int(to.G), int(to.B))
		}
	}
	for _, p := range doc.Pages {
		pdf.AddPageFormat("P", sheet(p.Size))
		for _, item := range p.Items {
			style := func(s page.Style) (how string) {
				if s.Fill.On {
					set(&fill, s.Fill, pdf.SetFillColor)
					how = "F"
				}
				if s.Line.On {
					set(&line, s.Line, pdf.SetDrawColor)
					if s.Width != width {
						width = s.Width
						pdf.SetLineWidth(float64(width))
					}
					how += "D"
				}
				return how
			}
			switch i := item.(type) {
			case page.Text:
				if !have[i.Face] {
					have[i.Face] = true
					pdf.AddUTF8FontFromBytes(i.Face.String(), "", i.Face.TTF())
				}
				if i.Face != face || i.Size != size || len(have) == 1 {
					face, size = i.Face, i.Size
					pdf.SetFont(face.String(), "", float64(size))
				}
				set(&words, i.Ink, pdf.SetTextColor)
				pdf.Text(float64(i.At.X), float64(i.At.Y), i.S)
			case page.Line:
				style(i.Style)
				pdf.Line(float64(i.A.X), float64(i.A.Y), float64(i.B.X), float64(i.B.Y))
			case page.Rect:
				pdf.Rect(float64(i.Box.X), float64(i.Box.Y), float64(i.Box.W), float64(i.Box.H), style(i.Style))
			default:
				tb.Fatalf("a %T in a table", item)
			}
		}
	}
	var out bytes.Buffer
	if err := pdf.Output(&out); err != nil {
		tb.Fatal(err)
	}
	return out.Bytes()
}

const benchRows = 6000

func BenchmarkRaw(b *testing.B) {
	doc := long(b, benchRows)
	for b.Loop() {
		raw(b, doc)
	}
}

// BenchmarkWrite prints how many times the time of the bare library the writer takes for the same book, each written by turns; gate and all.
func BenchmarkWrite(b *testing.B) {
	doc := long(b, benchRows)
	var mine, bare time.Duration
	for b.Loop() {
		start := time.Now()
		if err := doc.Check(); err != nil {
			b.Fatal(err)
		}
		if _, err := Write(doc); err != nil {
			b.Fatal(err)
		}
		mid := time.Now()
		raw(b, doc)
		mine, bare = mine+mid.Sub(start), bare+time.Since(mid)
	}
	b.ReportMetric(float64(mine)/float64(bare), "times-bare")
	b.ReportMetric(float64(len(doc.Pages)), "pages")
}

// BenchmarkTable is all of it, from rows to the file, against the bare library.
func BenchmarkTable(b *testing.B) {
	doc := long(b, benchRows)
	var mine, bare time.Duration
	for b.Loop() {
		start := time.Now()
		if _, err := Write(long(b, benchRows)); err != nil {
			b.Fatal(err)
		}
		mid := time.Now()
		raw(b, doc)
		mine, bare = mine+mid.Sub(start), bare+time.Since(mid)
	}
	b.ReportMetric(float64(mine)/float64(bare), "times-bare")
}

// What the writer puts out beside the bare library's bytes is little.
func TestLittleIsAdded(t *testing.T) {
	doc := long(t, 300)
	out, err := Write(doc)
	if err != nil {
		t.Fatal(err)
	}
	if bare := len(raw(t, doc)); len(out) > bare+bare/4 {
		t.Errorf("%d bytes, the bare library writes %d", len(out), bare)
	}
}
