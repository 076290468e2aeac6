package pdf

import (
	"bytes"
	"strconv"

	"github.com/jung-kurt/gofpdf"

	"loomsheet/render/font"
	"loomsheet/render/page"
)

// What stands on pages by the thousand, runs, lines and boxes, is handed to the library in the words that it would use itself: it takes ten times as long to
// find them. Tests hold the two together.

// words is what is said to the library next.
type words struct {
	b      []byte
	reader bytes.Reader
	k, h   float64 // points to a millimetre, height of the page
}

func (o *words) begin(pdf *gofpdf.Fpdf) {
	o.k = pdf.GetConversionRatio()
	_, o.h = pdf.GetPageSize()
}

func (o *words) say(pdf *gofpdf.Fpdf) {
	o.reader.Reset(o.b)
	pdf.RawWriteBuf(&o.reader)
	o.b = o.b[:0]
}

func (o *words) text(s string) { o.b = append(o.b, s...) }

func (o *words) number(x float64) { o.b = append(strconv.AppendFloat(o.b, x, 'f', 2, 64), ' ') }

func (o *words) place(p page.Point) {
	o.number(float64(p.X) * o.k)
	o.number((o.h - float64(p.Y)) * o.k)
}

// painted are the words for an outline, a filling or both.
var painted = map[string]string{"D": "S", "F": "f", "FD": "B"}

func (o *words) line(l page.Line) {
	o.place(l.A)
	o.text("m ")
	o.place(l.B)
	o.text("l S")
}

func (o *words) rect(b page.Box, how string) {
	o.place(page.Point{X: b.X, Y: b.Y})
	o.number(float64(b.W) * o.k)
	o.number(-float64(b.H) * o.k)
	o.text("re ")
	o.text(painted[how])
}

func (o *words) polygon(p page.Polygon, how string) {
	for i, q := range p.Points {
		o.place(q)
		if i == 0 {
			o.text("m\n")
		} else {
			o.text("l\n")
		}
	}
	if !p.Open {
		o.text("h\n")
	}
	o.text(painted[how])
}

func (o *words) run(at page.Point, s string) {
	o.text("BT ")
	o.place(at)
	o.text("Td (")
	for _, r := range s {
		o.half(byte(r >> 8))
		o.half(byte(r))
	}
	o.text(") Tj ET")
}

// half is half a letter.
func (o *words) half(c byte) {
	switch c {
	case '\\', '(', ')':
		o.b = append(o.b, '\\', c)
	case '\r':
		o.text(`\r`)
	default:
		o.b = append(o.b, c)
	}
}

// letters is which letters of a face a file has.
type letters [1 << 16 / 64]uint64

// add notes the letters of s, and tells whether one of them is new.
func (l *letters) add(s string) (fresh bool) {
	for _, r := range s {
		at, bit := &l[uint16(r)>>6], uint64(1)<<(r&63)
		fresh = fresh || *at&bit == 0
		*at |= bit
	}
	return fresh
}

// run sets s in the face that is chosen. One with a new letter goes through the library, which notes what its cut of the face has to hold.
func (w *writer) run(f font.Face, at page.Point, s string) {
	have := w.letters[f]
	if have == nil {
		have = new(letters)
		w.letters[f] = have
	}
	if have.add(s) {
		w.pdf.Text(float64(at.X), float64(at.Y), s)
		return
	}
	w.words.run(at, s)
	w.words.say(w.pdf)
}
