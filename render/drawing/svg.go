package drawing

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"strconv"
	"strings"

	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// SVG is the drawing at full size as an SVG 1.1 file: width and height in mm and a viewBox of the same numbers, so that one unit is one
// millimetre. What belongs to a layer is a group with the layer's name as its id and class.
func (d *Drawing) SVG() []byte {
	l := d.sheetFor()
	w := &svg{layout: l}
	w.put(`<?xml version="1.0" encoding="UTF-8"?>` + "\n")
	w.put(`<svg xmlns="http://www.w3.org/2000/svg" version="1.1" xml:space="preserve" width="%smm" height="%smm" viewBox="0 0 %s %s">`+"\n", mm(l.W), mm(l.H), mm(l.W), mm(l.H))
	w.put("<title>%s</title>\n<desc>%s</desc>\n", escaped(d.Title), "Full size, 1:1: one unit is one millimetre. Only the group CUT is to be cut.")
	w.put("<style>\n.layer { fill: none; stroke: #000; stroke-linejoin: miter }\n")
	for _, p := range pens {
		w.put(".%s { stroke-width: %s%s }\n", strings.ToLower(string(p.layer)), mm(p.width), dashes(p.dash))
	}
	w.put(".sign { stroke-dasharray: none }\n.words { fill: #000; stroke: none; font-family: \"DejaVu Sans\", sans-serif }\n</style>\n")
	for _, p := range pens {
		w.group(p)
	}
	w.put("</svg>\n")
	return w.out.Bytes()
}

type svg struct {
	layout *Layout
	out    bytes.Buffer
}

func (w *svg) put(f string, args ...any) { fmt.Fprintf(&w.out, f, args...) }

// group writes one layer; an empty one is left out.
func (w *svg) group(p pen) {
	start := w.out.Len()
	class := strings.ToLower(string(p.layer))
	w.put("<g id=\"%s\" class=\"layer %s\">\n", p.layer, class)
	head := w.out.Len()
	l := w.layout
	for _, s := range l.d.Strokes {
		if ps := l.points(nil, s); penOf(s.Layer).layer == p.layer && len(ps) > 1 {
			w.chain(ps, s.Closed && len(ps) > 2, "")
		}
	}
	for _, r := range l.d.Rings {
		if penOf(r.Layer).layer == p.layer && r.drawn() {
			w.ring(r)
		}
	}
	for _, s := range l.d.Spots {
		if s.layer() == p.layer && s.At.finite() {
			w.spot(s)
		}
	}
	if p.layer == Dim {
		for _, b := range l.tags {
			w.rect(b, ` fill="#fff"`)
		}
		for _, r := range l.key {
			w.rect(r.tag, "")
		}
		if l.bar != nil {
			w.line(l.bar.line, ` id="bar"`)
			for _, t := range l.bar.ticks {
				w.line(t, "")
			}
		}
	}
	if p.layer == Words {
		for _, s := range l.leaders {
			w.line(s, "")
		}
		for _, t := range l.words() {
			w.text(t)
		}
	}
	if w.out.Len() == head {
		w.out.Truncate(start)
		return
	}
	w.put("</g>\n")
}

// words is every text of the layout.
func (l *Layout) words() []text {
	out := append([]text(nil), l.texts...)
	for _, r := range l.key {
		out = append(out, r.lines...)
	}
	if l.bar != nil {
		out = append(out, l.bar.words)
	}
	return out
}

// layer of a sign; none is ever to be cut.
func (s Spot) layer() Layer {
	if l := penOf(s.Layer).layer; l != Cut {
		return l
	}
	return Mark
}

func (w *svg) line(p piece, more string) {
	w.put("<line%s x1=\"%s\" y1=\"%s\" x2=\"%s\" y2=\"%s\"/>\n", more, mm(p.a.X), mm(p.a.Y), mm(p.b.X), mm(p.b.Y))
}

func (w *svg) rect(b page.Box, more string) {
	w.put("<rect%s x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", more, mm(b.X), mm(b.Y), mm(b.W), mm(b.H))
}

func (w *svg) chain(ps []page.Point, closed bool, more string) {
	name := "polyline"
	if closed {
		name = "polygon"
	}
	var at []string
	for _, p := range ps {
		at = append(at, mm(p.X)+","+mm(p.Y))
	}
	w.put("<%s%s points=\"%s\"/>\n", name, more, strings.Join(at, " "))
}

func (w *svg) ring(r Ring) {
	m := w.layout.Paper(r.Middle)
	if r.whole() {
		w.put("<circle cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", mm(m.X), mm(m.Y), mm(r.Radius))
		return
	}
	a, b := w.layout.Paper(r.at(float64(r.From))), w.layout.Paper(r.at(float64(r.To)))
	large := 0
	if r.sweep() > 180 {
		large = 1
	}
	// y runs downwards: counterclockwise is the way of falling angles, sweep 0.
	w.put("<path d=\"M %s %s A %s %s 0 %d 0 %s %s\"/>\n", mm(a.X), mm(a.Y), mm(r.Radius), mm(r.Radius), large, mm(b.X), mm(b.Y))
}

func (w *svg) spot(s Spot) {
	at := w.layout.Paper(s.At)
	if s.Sign == Circle || s.Sign == Dot {
		fill := ""
		if s.Sign == Dot {
			fill = ` fill="#000"`
		}
		w.put("<circle class=\"sign\"%s cx=\"%s\" cy=\"%s\" r=\"%s\"/>\n", fill, mm(at.X), mm(at.Y), mm(s.half()))
		return
	}
	for _, o := range s.shape(at) {
		w.chain(o, false, ` class="sign"`)
	}
}

// text is as long as it was measured, whatever face the reader has.
func (w *svg) text(t text) {
	weight := ""
	if t.voice.Face == font.Bold {
		weight = ` font-weight="bold"`
	}
	w.put("<text class=\"words\" x=\"%s\" y=\"%s\" font-size=\"%s\" textLength=\"%s\" lengthAdjust=\"spacingAndGlyphs\"%s>%s</text>\n",
		mm(t.at.X), mm(t.at.Y), mm(t.voice.Size.MM()), mm(t.voice.Width(t.s)), weight, escaped(t.s))
}

func dashes(d []page.MM) string {
	if len(d) == 0 {
		return ""
	}
	var out []string
	for _, x := range d {
		out = append(out, mm(x))
	}
	return "; stroke-dasharray: " + strings.Join(out, " ")
}

// mm is a length to a ten thousandth of a millimetre.
func mm(x unit.Length) string { return unit.Number(float64(x), 4) }

// escaped is text for XML; what may not stand in XML at all becomes U+FFFD.
func escaped(s string) string {
	var b strings.Builder
	if xml.EscapeText(&b, []byte(s)) != nil {
		return strconv.QuoteToASCII(s)
	}
	return b.String()
}
