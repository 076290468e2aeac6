// Package pdf copies a page.Doc into a PDF file. It decides nothing: every place, size and line break was fixed on the
// page. The same book gives the same bytes on any day, in any time zone, in any process.
//
// The fonts that a book uses are embedded, cut down to the characters in it.
package pdf

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/jung-kurt/gofpdf"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// epoch is the date of a book that names none.
var epoch = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Write makes the PDF of a book. It passes the gate of Doc.Ready first, so that a text the writer would choke on, or
// print as a box, is an error here; any fault of the writer itself is one too.
func Write(doc *page.Doc) ([]byte, error) {
	if doc == nil {
		return nil, errors.New("no book to print")
	}
	if err := doc.Ready(); err != nil {
		return nil, err
	}
	w := newWriter(doc.Title, doc.Date, doc.Bookmarks, doc.Pages[0].Size, doc.Pages[len(doc.Pages)-1].Size)
	for i := range doc.Pages {
		if err := w.page(&doc.Pages[i]); err != nil {
			return nil, fmt.Errorf("page %d: %w", i+1, err)
		}
	}
	return w.bytes()
}

// Volumes makes a PDF of each volume of a book, as its pages come out of the flow, which must have been laid out by Flow.Marks before; the marks are those that
// it gave. What was handed over is held no longer, and of the book no more than one volume.
func Volumes(fl *page.Flow, title string, date time.Time, marks []page.Bookmark, volumes []page.Volume, to func(volume int, data []byte) error) error {
	if len(volumes) == 0 {
		return errors.New("no book to print")
	}
	texts := page.Doc{Title: title, Bookmarks: marks}
	if err := texts.CheckTitles(len(fl.Sheets())); err != nil {
		return err
	}
	at, n := 0, 0
	var w *writer
	note := func(p int) string {
		if len(volumes) < 2 {
			return ""
		}
		return fmt.Sprintf("volume %d of %d", at+1, len(volumes))
	}
	return fl.Each(note, func(p page.Page) error {
		v := volumes[at]
		if n == v.From {
			name := title
			if len(volumes) > 1 {
				name += fmt.Sprintf(", volume %d of %d", at+1, len(volumes))
			}
			w = newWriter(name, date, v.Within(marks), fl.Sheets()[v.From], fl.Sheets()[v.To-1])
		}
		n++
		if err := w.page(&p); err != nil {
			return fmt.Errorf("page %d: %w", n, err)
		}
		if n < v.To {
			return nil
		}
		data, err := w.bytes()
		if err != nil {
			return err
		}
		w = nil
		at++
		return to(at-1, data)
	})
}

// newWriter begins a file. The writer turns bookmarks over by the height of the last page, which it has to know beforehand.
func newWriter(title string, date time.Time, marks []page.Bookmark, first, last page.Size) *writer {
	w := &writer{faces: map[embedded]bool{}, marks: marks, last: last}
	w.file = gofpdf.NewCustom(&gofpdf.InitType{OrientationStr: "P", UnitStr: "mm", Size: sheet(first)})
	w.file.SetAutoPageBreak(false, 0)
	w.file.SetMargins(0, 0, 0)
	w.file.SetCellMargin(0)
	w.file.SetCompression(false) // of pages that are empty, see pack
	w.file.SetCatalogSort(true)
	if date.IsZero() {
		date = epoch
	}
	w.file.SetCreationDate(date.UTC())
	w.file.SetModificationDate(date.UTC())
	w.file.SetTitle(title, true)
	w.file.SetProducer("loomsheet", true)
	w.file.SetLineCapStyle("butt")
	w.file.SetLineJoinStyle("miter")
	return w
}

// page writes the next page: what is drawn on it is packed at once and kept beside the file, in which the page stands empty until the end.
func (w *writer) page(p *page.Page) error {
	w.file.AddPageFormat("P", sheet(p.Size))
	for ; len(w.marks) > 0 && w.marks[0].Page <= len(w.pages); w.marks = w.marks[1:] {
		b := w.marks[0]
		if !w.titled { // titles are encoded as those of a Unicode font only while one is chosen
			w.titled = true
			w.file.SetFont(w.embed(embedded{Face: font.Sans}), "", 10)
		}
		w.file.Bookmark(b.Title, b.Level-1, float64(w.last.H-(p.Size.H-b.Y)))
	}
	var err error
	drawn := w.file.CreateTemplateCustom(gofpdf.PointType{}, sheet(p.Size), func(t *gofpdf.Tpl) {
		w.pdf, w.set = &t.Fpdf, plain
		for _, item := range p.Items {
			if err = w.item(item); err != nil {
				return
			}
		}
		err = t.Error()
	})
	if err != nil {
		return err
	}
	packed, err := packPage(drawn.Bytes())
	w.pages = append(w.pages, packed)
	return err
}

// bytes ends the file.
func (w *writer) bytes() ([]byte, error) {
	p := packing{pages: w.pages}
	if err := w.file.Output(&p); err != nil {
		return nil, err
	}
	w.file, w.pdf = nil, nil
	return p.out, nil
}

func sheet(s page.Size) gofpdf.SizeType { return gofpdf.SizeType{Wd: float64(s.W), Ht: float64(s.H)} }

type writer struct {
	file   *gofpdf.Fpdf      // with empty pages
	titled bool              // it has a face
	pdf    *gofpdf.Fpdf      // what is drawn on: a page, which shares the fonts of the file
	set    settings          // of that page
	faces  map[embedded]bool // in the file
	marks  []page.Bookmark   // of pages to come
	last   page.Size         // of the last page
	pages  [][]byte          // what is on each, packed
}

// settings is what is set on a page and need not be set again.
type settings struct {
	face             embedded
	size             page.Pt // 0: no face yet
	words, fill, ink page.Ink
	width            float64 // of lines, 0: none yet
	dash             []page.MM
}

// plain is a page as the library begins it.
var plain = settings{words: page.Black, fill: page.Black, ink: page.Black}

// embed puts a face into the file, and gives its name there.
func (w *writer) embed(f embedded) string {
	if !w.faces[f] {
		w.faces[f] = true
		w.file.AddUTF8FontFromBytes(f.family(), "", f.data())
	}
	return f.family()
}

func (w *writer) setFont(f embedded, size page.Pt) {
	if w.set.face == f && w.set.size == size {
		return
	}
	w.set.face, w.set.size = f, size
	w.pdf.SetFont(w.embed(f), "", float64(size))
}

func (w *writer) setFill(i page.Ink) {
	if w.set.fill != i {
		w.set.fill = i
		w.pdf.SetFillColor(int(i.R), int(i.G), int(i.B))
	}
}

func (w *writer) item(item page.Item) error {
	switch i := item.(type) {
	case page.Text:
		w.text(i)
	case page.Line:
		if w.style(i.Style) != "" {
			w.pdf.Line(float64(i.A.X), float64(i.A.Y), float64(i.B.X), float64(i.B.Y))
		}
	case page.Rect:
		if s := w.style(i.Style); s != "" {
			w.pdf.Rect(float64(i.Box.X), float64(i.Box.Y), float64(i.Box.W), float64(i.Box.H), s)
		}
	case page.Arc:
		if s := w.style(i.Style); s != "" {
			w.pdf.Arc(float64(i.At.X), float64(i.At.Y), float64(i.RX), float64(i.RY), 0, float64(i.From), float64(i.To), s)
		}
	case page.Polygon:
		w.polygon(i)
	default:
		return fmt.Errorf("no way to print a %T", item)
	}
	return w.pdf.Error()
}

func (w *writer) text(t page.Text) {
	w.setFont(faceFor(t.Face, t.S), t.Size)
	if w.set.words != t.Ink {
		w.set.words = t.Ink
		w.pdf.SetTextColor(int(t.Ink.R), int(t.Ink.G), int(t.Ink.B))
	}
	w.setFill(t.Ink) // letters are filled: of another ink the library would change it for each run, and back again
	x, y := float64(t.At.X), float64(t.At.Y)
	if t.Turn == page.Level {
		w.pdf.Text(x, y, t.S)
		return
	}
	angle := 90.0
	if t.Turn == page.Down {
		angle = -90
	}
	w.pdf.TransformBegin()
	w.pdf.TransformRotate(angle, x, y)
	w.pdf.Text(x, y, t.S)
	w.pdf.TransformEnd()
}

func (w *writer) polygon(p page.Polygon) {
	s := w.style(p.Style)
	if s == "" || len(p.Points) < 2 {
		return
	}
	w.pdf.MoveTo(float64(p.Points[0].X), float64(p.Points[0].Y))
	for _, q := range p.Points[1:] {
		w.pdf.LineTo(float64(q.X), float64(q.Y))
	}
	if !p.Open {
		w.pdf.ClosePath()
	}
	w.pdf.DrawPath(s)
}

// style sets inks, width and dash, and returns the writer's word for outline, fill or both; "" draws nothing.
func (w *writer) style(s page.Style) string {
	out := ""
	if s.Fill.On {
		w.setFill(s.Fill)
		out = "F"
	}
	if !s.Line.On {
		return out
	}
	if w.set.ink != s.Line {
		w.set.ink = s.Line
		w.pdf.SetDrawColor(int(s.Line.R), int(s.Line.G), int(s.Line.B))
	}
	width := float64(s.Width)
	if width <= 0 {
		width = 0.1
	}
	if w.set.width != width {
		w.set.width = width
		w.pdf.SetLineWidth(width)
	}
	if !slices.Equal(w.set.dash, s.Dash) {
		w.set.dash = s.Dash
		dash := make([]float64, len(s.Dash))
		for i, d := range s.Dash {
			dash[i] = float64(d)
		}
		w.pdf.SetDashPattern(dash, 0)
	}
	return out + "D"
}
