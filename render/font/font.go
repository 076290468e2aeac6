// Package font holds the faces that the sheets are set in, measures text in them, wraps it, and refuses what they
// cannot print.
//
// Everything drawn on paper passes one gate, Check: text with a character that the face lacks, with a tab or a line
// end, with invalid UTF-8 or beyond the U+FFFF that the PDF writer can take, is an error that names the character,
// never a box on the sheet. Width agrees with what the PDF shows: advances are rounded to a thousandth of an em, as
// the width table of an embedded font holds them, and there is no kerning.
//
// Lengths on paper are millimetres (MM, the same type as the lengths of the job, so that a template at 1:1 needs no
// conversion), type sizes are points (Pt, 1/72 inch).
package font

import (
	"slices"
	"sync"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"github.com/go-fonts/dejavu/dejavusanscondensed"
	"github.com/go-fonts/dejavu/dejavusanscondensedbold"
	"github.com/go-fonts/dejavu/dejavusansmono"
	"github.com/go-fonts/dejavu/dejavusansmonobold"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"

	"loomsheet/harness/unit"
)

// MM is a length on paper in millimetres.
type MM = unit.Length

// Pt is a type size in points of 1/72 inch.
type Pt float64

// MM is the size as a length on paper.
func (p Pt) MM() MM { return MM(float64(p) * 25.4 / 72) }

// Face is one of the embedded typefaces.
type Face uint8

// The faces: the DejaVu family, which has Ω µ ² ° Ø ☐ ✓ and the accented letters of Europe.
const (
	Sans       Face = iota // running text
	Bold                   // heads, wire names
	Mono                   // digests, coordinates
	MonoBold               //
	Narrow                 // condensed, for crowded columns
	NarrowBold             // table heads
	faces
)

var faceNames = [faces]string{"Sans", "Bold", "Mono", "MonoBold", "Narrow", "NarrowBold"}

var faceData = [faces][]byte{
	dejavusans.TTF, dejavusansbold.TTF, dejavusansmono.TTF, dejavusansmonobold.TTF,
	dejavusanscondensed.TTF, dejavusanscondensedbold.TTF,
}

// Faces lists every face.
func Faces() []Face { return []Face{Sans, Bold, Mono, MonoBold, Narrow, NarrowBold} }

// String is the name of the face, also its family name inside a PDF.
func (f Face) String() string { return faceNames[f.known()] }

// TTF is a fresh copy of the TrueType file of the face (PDF writers pad tables in place).
func (f Face) TTF() []byte { return slices.Clone(faceData[f.known()]) }

// known replaces a face that does not exist by the plain one.
func (f Face) known() Face {
	if f >= faces {
		return Sans
	}
	return f
}

// metrics of one face in thousandths of an em; advance is -1 where there is no glyph.
type metrics struct {
	advance       [0x10000]int16
	prints        [0x10000]bool // passes the gate of Check
	missing       int
	ascent, depth int
	capital       int
}

var (
	loaded  [faces]*metrics
	loading [faces]sync.Once
)

// load reads the advances of a face once. The files are embedded, so a file that cannot be read is a broken build.
func (f Face) load() *metrics {
	f = f.known()
	loading[f].Do(func() {
		file, err := sfnt.Parse(faceData[f])
		if err != nil {
			panic("font " + f.String() + ": " + err.Error())
		}
		var (
			buf sfnt.Buffer
			em  = fixed.I(int(file.UnitsPerEm()))
			m   = new(metrics)
		)
		perMille := func(v fixed.Int26_6) int {
			den := 2 * int(em)
			return (2000*int(v) + int(em)) / den
		}
		measure := func(g sfnt.GlyphIndex) int {
			a, err := file.GlyphAdvance(&buf, g, em, 0)
			if err != nil {
				return 0
			}
			return perMille(a)
		}
		m.missing = measure(0)
		for r := range m.advance {
			m.advance[r] = -1
			if g, err := file.GlyphIndex(&buf, rune(r)); err == nil && g != 0 {
				m.advance[r] = int16(measure(g))
				m.prints[r] = refusal(rune(r)) == ""
			}
		}
		if fm, err := file.Metrics(&buf, em, 0); err == nil {
			m.ascent, m.depth = perMille(fm.Ascent), perMille(fm.Descent)
		}
		if g, err := file.GlyphIndex(&buf, 'H'); err == nil {
			if box, _, err := file.GlyphBounds(&buf, g, em, 0); err == nil {
				m.capital = perMille(-box.Min.Y)
			}
		}
		loaded[f] = m
	})
	return loaded[f]
}

// has tells whether the face has a glyph for r.
func (m *metrics) has(r rune) bool { return r >= 0 && r < 0x10000 && m.advance[r] >= 0 }

// unit is the advance of r in thousandths of an em; a missing glyph counts as the face's box.
func (m *metrics) unit(r rune) int {
	if m.has(r) {
		return int(m.advance[r])
	}
	return m.missing
}

// units is the advance of s in thousandths of an em.
func (m *metrics) units(s string) int {
	n := 0
	for _, r := range s {
		n += m.unit(r)
	}
	return n
}

// scale turns thousandths of an em into millimetres.
func (p Pt) scale(units int) MM { return MM(float64(units) * float64(p) * 25.4 / 72 / 1000) }

// Width of s set in one line.
func Width(f Face, size Pt, s string) MM { return size.scale(f.load().units(s)) }

// Ascent is the height above the baseline that any letter of the face with its accent may take.
func Ascent(f Face, size Pt) MM { return size.scale(f.load().ascent) }

// Descent is the depth below the baseline that any letter of the face may take, as a positive length.
func Descent(f Face, size Pt) MM { return size.scale(f.load().depth) }

// CapHeight is the height of a capital letter without accent.
func CapHeight(f Face, size Pt) MM { return size.scale(f.load().capital) }

// Leading is the distance from baseline to baseline: a little more than ascent and descent, so lines never touch.
func Leading(f Face, size Pt) MM { return MM(1.22 * float64(size.MM())) }
