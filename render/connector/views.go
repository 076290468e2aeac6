// Package connector draws the face of a connector half from both sides: each cavity with its name, the letters of its wire's colour and its
// label; blanks crossed out. The two views are told apart by their titles, grounds and outlines, and by words.
package connector

import (
	"math"
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/face"
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// Room on paper.
const (
	titleHeight page.MM = 6.5
	gutter      page.MM = 5
	margin      page.MM = 2.5 // round the outline
	mostCavity  page.MM = 14  // across
	smallCavity page.MM = 11  // across, of a view that is narrower than smallWidth
	smallWidth  page.MM = 60
	stacked     page.MM = 8.6 // across, where the views stand one above the other
	leastCavity page.MM = 7.5 // below this the two views stand one above the other
	mostTall    page.MM = 70  // of one view
	evenTaller  page.MM = 180 // where its cavities would be too small otherwise
	nameOnly    page.MM = 3.6 // radius of a cavity below which only its name has room
)

// Views is the wire side and the mating side of a connector; nothing where its housing states no places.
func Views(c *bench.Connector) page.Block {
	return block(func(width, _ page.MM) []page.Part {
		if len(c.Wire.Cavities) == 0 {
			return nil
		}
		v, across := choose(c, width)
		if !across {
			return []page.Part{v.part(width, c.Wire), v.part(width, c.Mating)}
		}
		half := (width - gutter) / 2
		h := v.height(half)
		return []page.Part{{Height: h, Gap: 3, Keep: page.Firmly, Draw: func(cv *page.Canvas) {
			v.draw(cv.Sub(page.Box{W: half, H: h}), c.Wire)
			v.draw(cv.Sub(page.Box{X: half + gutter, W: half, H: h}), c.Mating)
		}}}
	})
}

// Legible tells whether the views have room for the letters of every wire's colour in a width.
func Legible(c *bench.Connector, width page.MM) bool {
	if len(c.Wire.Cavities) == 0 {
		return true
	}
	v, _ := choose(c, width)
	return v.legible()
}

// choose sets the views beside one another, or, where letters or cavities would be too small so, one above the other.
func choose(c *bench.Connector, width page.MM) (v view, across bool) {
	v = view{of: c, e: extent(c.Wire)}
	v.fit((width - gutter) / 2)
	if v.cavity() >= leastCavity && v.legible() {
		return v, true
	}
	wide := v
	if wide.fit(width); wide.scale <= v.scale*1.15 {
		return v, true
	}
	most := wide.scale
	for _, across := range []page.MM{stacked, 10, 12, mostCavity} { // no larger than need be
		if wide.scale = min(most, float64(across)/float64(v.e.least)); wide.legible() {
			break
		}
	}
	return wide, false
}

// legible tells whether the letters of every wire have room in its cavity.
func (v view) legible() bool {
	for _, k := range v.of.Wire.Cavities {
		row := v.row(k.Name)
		if row == nil || row.Blank != "" {
			continue
		}
		r := v.paper(k.Diameter) / 2
		if t := lettered.Sized(least); r < nameOnly || t.Width(letters(row)) > 2*r*widest || t.Leading() > r*0.72*1.15 {
			return false
		}
	}
	return true
}

type block func(width, height page.MM) []page.Part

// Parts measures the block.
func (b block) Parts(width, height page.MM) ([]page.Part, error) { return b(width, height), nil }

// view is one connector at one scale.
type view struct {
	of    *bench.Connector
	e     box
	scale float64 // millimetres on paper for one of the thing
}

// box is what the outline of a face takes up.
type box struct {
	left, right, low, high, least unit.Length // least is the smallest cavity
}

func extent(f face.Face) box {
	o := f.Outline
	e := box{o.X - o.W/2, o.X + o.W/2, o.Y - o.H/2, o.Y + o.H/2, 0}
	for _, c := range f.Cavities {
		if e.least == 0 || c.Diameter < e.least {
			e.least = c.Diameter
		}
	}
	return e
}

// fit takes the largest scale at which the face fits a width.
func (v *view) fit(width page.MM) float64 {
	v.scale = 1
	room := func(have page.MM, want unit.Length) float64 {
		if want <= 0 {
			return 10
		}
		return float64(have-2*margin) / float64(want)
	}
	wide := room(width, v.e.right-v.e.left)
	v.scale = min(wide, room(mostTall, v.e.high-v.e.low))
	if v.cavity() < leastCavity {
		v.scale = min(wide, room(evenTaller, v.e.high-v.e.low), float64(leastCavity)/float64(max(v.e.least, 0.1)))
	}
	if most := mostCavity; v.e.least > 0 {
		if width < smallWidth {
			most = smallCavity
		}
		v.scale = min(v.scale, float64(most)/float64(v.e.least))
	}
	return v.scale
}

func (v *view) cavity() page.MM { return v.paper(v.e.least) }

func (v *view) paper(l unit.Length) page.MM { return page.MM(float64(l) * v.scale) }

// height of one view in a width: title, words, outline.
func (v *view) height(width page.MM) page.MM {
	return titleHeight + v.words(width, v.of.Wire, v.of.Mating) + v.paper(v.e.high-v.e.low) + 2*margin + keyHeight
}

// words is what the longer of the sentences takes.
func (v *view) words(width page.MM, faces ...face.Face) page.MM {
	n := 0
	for _, f := range faces {
		n = max(n, len(captions.Wrap(reading(f), width)))
	}
	return captions.Height(n) + 2
}

// mostRead is how many cavities are read out; more are found by their marks alone.
const mostRead = 150

func reading(f face.Face) string {
	if len(f.Cavities) > mostRead {
		return strconv.Itoa(len(f.Cavities)) + " cavities: go by the marks moulded beside them."
	}
	return f.Reading()
}

var (
	captions  = page.Small
	keyHeight = page.MM(5)
	named     = page.Type{Face: font.Bold, Size: 10, Ink: page.Black}
	lettered  = page.Type{Face: font.NarrowBold, Size: 8.5, Ink: page.Black}
	labelled  = page.Type{Face: font.Narrow, Size: 7, Ink: page.Black}
)

func (v view) part(width page.MM, f face.Face) page.Part {
	h := v.height(width)
	return page.Part{Height: h, Gap: 3, Keep: page.Firmly, Draw: func(c *page.Canvas) { v.draw(c, f) }}
}

// draw puts a view onto a canvas of its size.
func (v view) draw(c *page.Canvas, f face.Face) {
	v.title(c, f.View)
	y := titleHeight + 1
	c.TextIn(page.Box{Y: y, W: c.W(), H: 40}, captions, page.Left, reading(f))
	y = titleHeight + v.words(c.W(), v.of.Wire, v.of.Mating) + keyHeight

	e := extent(f)
	w := v.paper(e.right - e.left)
	left := (c.W() - w) / 2
	at := func(x, y2 unit.Length) (page.MM, page.MM) {
		return left + v.paper(x-e.left), y + margin + v.paper(e.high-y2)
	}

	outline := page.Style{Line: page.Black, Width: 0.7}
	if f.View == face.MatingSide {
		outline = page.Style{Line: page.Black, Width: 0.4, Dash: []page.MM{2, 1.2}, Fill: page.Pale}
	}
	mx, my := at(f.Outline.X, f.Outline.Y)
	if f.Outline.Round {
		c.Circle(mx, my, w/2, outline)
	} else {
		c.Rect(page.Box{X: left, Y: y + margin, W: w, H: v.paper(e.high - e.low)}, outline)
	}
	if f.Key.Known {
		x, ky := at(f.Key.X, f.Key.Y)
		v.key(c, f, x, ky, mx, my)
	}
	v.top(c, f, mx, y+margin)
	for _, k := range f.Cavities {
		x, y := at(k.X, k.Y)
		v.drawCavity(c, x, y, v.paper(k.Diameter)/2, k.Name)
	}
}

// title is a black band for the wire side, a white one for the mating side.
func (v view) title(c *page.Canvas, side face.View) {
	band := page.Box{W: c.W(), H: titleHeight}
	t := page.Type{Face: font.Bold, Size: 10.5, Ink: page.White}
	style := page.Solid
	long, words := "WIRE SIDE: where the wires go in", "WIRE SIDE"
	if side == face.MatingSide {
		t.Ink, style = page.Black, page.Style{Line: page.Black, Width: 0.4}
		long, words = "MATING SIDE: where the halves meet", "MATING SIDE"
	}
	if t.Width(long) <= c.W()-4 {
		words = long
	}
	c.Rect(band, style)
	c.Lines(page.Box{X: 2, Y: (titleHeight - t.Leading()) / 2, W: c.W() - 4, H: t.Leading()}, t, page.Left, []string{t.Fit(words, c.W()-4)})
}

// top says how the view is held: by the name of the key, and by the word where the part does not say at which place it is.
func (v view) top(c *page.Canvas, f face.Face, x, y page.MM) {
	words := "top"
	if v.of.Key != "" {
		words += ", key " + v.of.Key
		if !f.Key.Known {
			words += " (where: not stated by the part)"
		}
	}
	c.TextAt(x, y-1.6, captions, page.Centre, captions.Fit(words, c.W()))
}

// key is a solid wedge that points to the keyway from inside the outline's edge outwards.
func (v view) key(c *page.Canvas, f face.Face, x, y, mx, my page.MM) {
	dx, dy := float64(x-mx), float64(y-my)
	d := math.Hypot(dx, dy)
	if d == 0 {
		return
	}
	dx, dy = dx/d, dy/d
	if !f.Outline.Round { // a wedge stands square on a straight edge
		if w, h := float64(v.paper(f.Outline.W)), float64(v.paper(f.Outline.H)); math.Abs(dx)*h > math.Abs(dy)*w {
			dx, dy = math.Copysign(1, dx), 0
		} else {
			dx, dy = 0, math.Copysign(1, dy)
		}
	}
	reach := v.edge(f, dx, dy)
	ex, ey := mx+page.MM(dx*reach), my+page.MM(dy*reach)
	if !f.Outline.Round {
		const corner = 2 // a wedge stays off the corners
		w, h := v.paper(f.Outline.W)/2-corner, v.paper(f.Outline.H)/2-corner
		if dx == 0 {
			ex = max(mx-w, min(mx+w, x))
		} else {
			ey = max(my-h, min(my+h, y))
		}
	}
	const h, half = 2.6, 1.8
	c.Polygon(page.Solid, page.Point{X: ex - page.MM(dx*h), Y: ey - page.MM(dy*h)},
		page.Point{X: ex - page.MM(dy*half), Y: ey + page.MM(dx*half)}, page.Point{X: ex + page.MM(dy*half), Y: ey - page.MM(dx*half)})
}

// edge is how far the outline lies from its middle, on paper, along an axis, or in any direction of a round one.
func (v view) edge(f face.Face, dx, dy float64) float64 {
	if f.Outline.Round || dy == 0 {
		return float64(v.paper(f.Outline.W)) / 2
	}
	return float64(v.paper(f.Outline.H)) / 2
}

func (v view) drawCavity(c *page.Canvas, x, y, r page.MM, name string) {
	row := v.row(name)
	c.Circle(x, y, r, page.Style{Line: page.Black, Width: 0.3, Fill: page.White})
	inner := page.Box{X: x - r*0.86, Y: y - r*0.5, W: 2 * r * 0.86, H: r}
	if row == nil || row.Blank != "" {
		const k = 0.70711
		d := page.MM(float64(r) * k)
		c.Line(x-d, y-d, x+d, y+d, crossed)
		c.Line(x-d, y+d, x+d, y-d, crossed)
		c.Middle(inner, named, name)
		return
	}
	if r < nameOnly {
		c.Middle(inner, named, name)
		return
	}
	top := page.Box{X: x - r*0.72, Y: y - r*0.86, W: r * 1.44, H: r * 0.56}
	mid := page.Box{X: x - r*0.93, Y: y - r*0.28, W: r * 1.86, H: r * 0.5}
	low := page.Box{X: x - r*0.74, Y: y + r*0.22, W: r * 1.48, H: r * 0.44}
	if !write(c, low, labelled, row.Label) { // no room: the table below has it
		top = page.Box{X: x - r*0.8, Y: y - r*0.78, W: r * 1.6, H: r * 0.78}
		mid = page.Box{X: x - r*0.9, Y: y + r*0.02, W: r * 1.8, H: r * 0.72}
	}
	c.Middle(top, named, name)
	if !write(c, mid, lettered, letters(row)) {
		mid.X, mid.W = x-r*widest, 2*r*widest
		write(c, mid, lettered.Sized(least), letters(row))
	}
}

// least is the smallest type in a cavity.
const least page.Pt = 6.2

// write sets a text in one line in the middle of a box, smaller where it must be; false, with nothing drawn, where it has no room in the least size.
func write(c *page.Canvas, b page.Box, t page.Type, s string) bool {
	for ; t.Size >= least; t.Size -= 0.2 {
		if s != "" && t.Width(s) <= b.W && t.Leading() <= b.H*1.15 {
			c.Lines(page.Box{X: b.X, Y: b.Y + (b.H-t.Leading())/2, W: b.W, H: t.Leading()}, t, page.Centre, []string{s})
			return true
		}
	}
	return false
}

// widest is the share of a cavity that letters may take across.
const widest = 0.97

// crossed is how a blank cavity is struck out: to be seen on a grey print as well.
var crossed = page.Style{Line: page.Middle, Width: 0.45}

// letters is the colour by IEC 60757, or as it was written.
func letters(r *bench.PinRow) string {
	if r.Code != "" {
		return r.Code
	}
	return r.Colour
}

// row is the first wire in a cavity.
func (v view) row(name string) *bench.PinRow {
	for i := range v.of.Rows {
		if v.of.Rows[i].Cavity == name {
			return &v.of.Rows[i]
		}
	}
	return nil
}
