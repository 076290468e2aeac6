package drawing

import (
	"bytes"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"

	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// DXF is the drawing at full size as a DXF file in its ASCII form, of the entities of release 12 (AC1009) alone: LINE, POLYLINE, CIRCLE, ARC,
// TEXT. One unit is one millimetre, coordinates are those of the drawing. Each layer of the drawing is one of the file; CUT has nothing
// but what is to be cut. Text is ASCII, other characters are written \U+XXXX, and each text is fitted between two points so that it
// takes the room it was measured to take, whatever font the reader has.
func (d *Drawing) DXF() []byte {
	w := &dxf{layout: d.sheetFor()}
	w.pair(999, ascii(d.Title))
	w.pair(999, "Units are millimetres, full size. Only layer CUT is to be cut.")
	w.header()
	w.tables()
	w.section("BLOCKS")
	w.pair(0, "ENDSEC")
	w.section("ENTITIES")
	w.entities()
	w.pair(0, "ENDSEC")
	w.pair(0, "EOF")
	return w.out.Bytes()
}

type dxf struct {
	layout *Layout
	out    bytes.Buffer
}

// pair writes a group: its code and its value, each on a line that ends with CR LF.
func (w *dxf) pair(code int, value string) {
	w.out.WriteString(strconv.Itoa(code) + "\r\n" + value + "\r\n")
}

func (w *dxf) whole(code, n int) { w.pair(code, strconv.Itoa(n)) }

func (w *dxf) section(name string) {
	w.pair(0, "SECTION")
	w.pair(2, name)
}

// real writes a number with up to six decimals and always a point, as group codes 10 to 59 ask for.
func (w *dxf) real(code int, x float64) {
	s := unit.Number(x, 6)
	if !strings.Contains(s, ".") {
		s += ".0"
	}
	w.pair(code, s)
}

func (w *dxf) length(code int, x unit.Length) { w.real(code, float64(x)) }

// at writes a place with the code of its x; that of y is ten more, of z twenty.
func (w *dxf) at(code int, p Place) {
	w.length(code, p.X)
	w.length(code+10, p.Y)
	w.real(code+20, 0)
}

func (w *dxf) header() {
	l := w.layout
	w.section("HEADER")
	w.pair(9, "$ACADVER")
	w.pair(1, "AC1009")
	w.pair(9, "$INSUNITS") // 4: millimetres
	w.whole(70, 4)
	w.pair(9, "$MEASUREMENT") // 1: metric
	w.whole(70, 1)
	w.pair(9, "$LUNITS") // 2: decimal
	w.whole(70, 2)
	w.pair(9, "$EXTMIN")
	w.at(10, l.place(page.Point{Y: l.H}))
	w.pair(9, "$EXTMAX")
	w.at(10, l.place(page.Point{X: l.W}))
	w.pair(9, "$LTSCALE")
	w.real(40, 1)
	w.pair(0, "ENDSEC")
}

func (w *dxf) table(name string, n int) {
	w.pair(0, "TABLE")
	w.pair(2, name)
	w.whole(70, n)
}

func (w *dxf) tables() {
	w.section("TABLES")
	var lines []pen
	for _, p := range pens {
		if len(p.dash) > 0 {
			lines = append(lines, p)
		}
	}
	w.table("LTYPE", len(lines)+1)
	w.lineType("CONTINUOUS", "continuous", nil)
	for _, p := range lines {
		w.lineType(p.line, "dashes of layer "+string(p.layer), p.dash)
	}
	w.pair(0, "ENDTAB")
	w.table("LAYER", len(pens)+1)
	w.layer("0", 7, "CONTINUOUS")
	for _, p := range pens {
		w.layer(string(p.layer), p.colour, p.line)
	}
	w.pair(0, "ENDTAB")
	w.table("STYLE", 1)
	w.pair(0, "STYLE")
	w.pair(2, "STANDARD")
	w.whole(70, 0)
	w.real(40, 0)
	w.real(41, 1)
	w.real(50, 0)
	w.whole(71, 0)
	w.real(42, 2.5)
	w.pair(3, "txt")
	w.pair(4, "")
	w.pair(0, "ENDTAB")
	w.pair(0, "ENDSEC")
}

// lineType writes dashes as positive lengths and gaps as negative ones.
func (w *dxf) lineType(name, said string, dash []page.MM) {
	sum := unit.Length(0)
	for _, x := range dash {
		sum += x
	}
	w.pair(0, "LTYPE")
	w.pair(2, name)
	w.whole(70, 0)
	w.pair(3, said)
	w.whole(72, 65)
	w.whole(73, len(dash))
	w.length(40, sum)
	for i, x := range dash {
		if i%2 == 1 {
			x = -x
		}
		w.length(49, x)
	}
}

func (w *dxf) layer(name string, colour int, line string) {
	w.pair(0, "LAYER")
	w.pair(2, name)
	w.whole(70, 0)
	w.whole(62, colour)
	w.pair(6, line)
}

func (w *dxf) entities() {
	l := w.layout
	for _, s := range l.d.Strokes {
		var ps []Place
		for _, p := range s.Places {
			if p.finite() {
				ps = append(ps, p)
			}
		}
		w.chain(penOf(s.Layer).layer, ps, s.Closed)
	}
	for _, r := range l.d.Rings {
		if r.drawn() {
			w.ring(penOf(r.Layer).layer, r)
		}
	}
	for _, s := range l.d.Spots {
		if s.At.finite() {
			w.spot(s)
		}
	}
	for _, p := range l.leaders {
		w.piece(Words, p)
	}
	for _, b := range l.tags {
		w.box(b)
	}
	for _, r := range l.key {
		w.box(r.tag)
	}
	if l.bar != nil {
		w.piece(Dim, l.bar.line)
		for _, t := range l.bar.ticks {
			w.piece(Dim, t)
		}
	}
	for _, t := range l.words() {
		w.text(t)
	}
}

func (w *dxf) piece(layer Layer, p piece) {
	w.chain(layer, []Place{w.layout.place(p.a), w.layout.place(p.b)}, false)
}

func (w *dxf) box(b page.Box) {
	at := func(x, y page.MM) Place { return w.layout.place(page.Point{X: x, Y: y}) }
	w.chain(Dim, []Place{at(b.X, b.Bottom()), at(b.Right(), b.Bottom()), at(b.Right(), b.Y), at(b.X, b.Y)}, true)
}

// chain writes two places as a LINE, more as a POLYLINE.
func (w *dxf) chain(layer Layer, ps []Place, closed bool) {
	if len(ps) < 2 {
		return
	}
	if len(ps) == 2 {
		w.pair(0, "LINE")
		w.pair(8, string(layer))
		w.at(10, ps[0])
		w.at(11, ps[1])
		return
	}
	w.pair(0, "POLYLINE")
	w.pair(8, string(layer))
	w.whole(66, 1)
	w.at(10, Place{})
	flag := 0
	if closed {
		flag = 1
	}
	w.whole(70, flag)
	for _, p := range ps {
		w.pair(0, "VERTEX")
		w.pair(8, string(layer))
		w.at(10, p)
	}
	w.pair(0, "SEQEND")
	w.pair(8, string(layer))
}

func (w *dxf) ring(layer Layer, r Ring) {
	name := "CIRCLE"
	if !r.whole() {
		name = "ARC"
	}
	w.pair(0, name)
	w.pair(8, string(layer))
	w.at(10, r.Middle)
	w.length(40, r.Radius)
	if !r.whole() {
		w.real(50, turned(float64(r.From)))
		w.real(51, turned(float64(r.To)))
	}
}

func (w *dxf) spot(s Spot) {
	if s.Sign == Circle || s.Sign == Dot {
		w.ring(s.layer(), Ring{Middle: s.At, Radius: s.half()})
		return
	}
	for _, o := range s.shape(w.layout.Paper(s.At)) {
		var ps []Place
		for _, p := range o {
			ps = append(ps, w.layout.place(p))
		}
		closed := len(ps) > 2
		if closed {
			ps = ps[:len(ps)-1]
		}
		w.chain(s.layer(), ps, closed)
	}
}

// text is fitted (72: 5) between its start and its end; its height is that of a capital letter.
func (w *dxf) text(t text) {
	w.pair(0, "TEXT")
	w.pair(8, string(Words))
	w.at(10, w.layout.place(t.at))
	w.length(40, font.CapHeight(t.voice.Face, t.voice.Size))
	w.pair(1, ascii(t.s))
	w.whole(72, 5)
	w.at(11, w.layout.place(page.Point{X: t.at.X + t.voice.Width(t.s), Y: t.at.Y}))
}

// ascii writes text for DXF: what is not ASCII, the backslash and the caret as \U+XXXX (beyond U+FFFF as the two halves of UTF-16) and so a
// percent sign that stands beside another, which would start a sign of its own; the end of a line as a blank.
func ascii(s string) string {
	const hex = "0123456789ABCDEF"
	var b strings.Builder
	code := func(r rune) {
		b.WriteString(`\U+`)
		for _, shift := range []int{12, 8, 4, 0} {
			b.WriteByte(hex[(r>>shift)&15])
		}
	}
	for i, r := range s {
		switch {
		case r == utf8.RuneError:
			code(r)
		case r < ' ' || r == 0x7f:
			b.WriteByte(' ')
		case r == '%' && (i > 0 && s[i-1] == '%' || i+1 < len(s) && s[i+1] == '%'):
			code(r)
		case r == '\\' || r == '^' || r > 0x7e && r <= math.MaxUint16:
			code(r)
		case r > math.MaxUint16:
			a, z := utf16.EncodeRune(r)
			code(a)
			code(z)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
