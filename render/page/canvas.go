package page

import (
	"loomsheet/render/font"
)

// Type is how text is set: face, size, ink (none means black).
type Type struct {
	Face font.Face
	Size Pt
	Ink  Ink
}

// The voices of the books. Bench text is 10 pt and more; Small is for captions and the frame.
var (
	Body     = Type{font.Sans, 10, Black}
	Strong   = Type{font.Bold, 10, Black}
	Code     = Type{font.Mono, 10, Black}
	Tight    = Type{font.Narrow, 10, Black} // for crowded columns
	Small    = Type{font.Sans, 8, Dark}
	Big      = Type{font.Bold, 15, Black}
	Title    = Type{font.Bold, 24, Black}
	Heading1 = Type{font.Bold, 16, Black}
	Heading2 = Type{font.Bold, 12.5, Black}
	Heading3 = Type{font.Bold, 10.5, Black}
)

// Leading is the distance between the baselines of two lines.
func (t Type) Leading() MM { return font.Leading(t.Face, t.Size) }

// Width of s in one line.
func (t Type) Width(s string) MM { return font.Width(t.Face, t.Size, s) }

// Wrap breaks s into lines no wider than w.
func (t Type) Wrap(s string, w MM) []string { return font.Wrap(t.Face, t.Size, s, w) }

// Lines is how many lines Wrap makes of s.
func (t Type) Lines(s string, w MM) int { return font.Lines(t.Face, t.Size, s, w) }

// Fit shortens s to w with an ellipsis.
func (t Type) Fit(s string, w MM) string { return font.Fit(t.Face, t.Size, s, w) }

// Height of n lines.
func (t Type) Height(n int) MM { return MM(float64(n) * float64(t.Leading())) }

// Sized is the same voice in another size.
func (t Type) Sized(p Pt) Type { t.Size = p; return t }

// Faced is the same voice in another face.
func (t Type) Faced(f font.Face) Type { t.Face = f; return t }

// Baseline is the distance from the top of a line to its baseline, so that ascent and descent sit evenly in it.
func (t Type) Baseline() MM {
	a, d := font.Ascent(t.Face, t.Size), font.Descent(t.Face, t.Size)
	return a + (t.Leading()-a-d)/2
}

// Align is where text stands in its width.
type Align uint8

// The alignments.
const (
	Left Align = iota
	Centre
	Right
)

// Canvas draws into a rectangle of a page. Its own coordinates start at its upper left corner.
type Canvas struct {
	box   Box // on the page
	items *[]Item
}

// NewCanvas draws on p inside box.
func NewCanvas(p *Page, box Box) *Canvas { return &Canvas{box, &p.Items} }

// W is the width of the canvas.
func (c *Canvas) W() MM { return c.box.W }

// H is the height of the canvas.
func (c *Canvas) H() MM { return c.box.H }

// Sub is a canvas for a part of this one.
func (c *Canvas) Sub(b Box) *Canvas { return &Canvas{c.place(b), c.items} }

// Put adds an item as it is, in page coordinates.
func (c *Canvas) Put(i Item) { *c.items = append(*c.items, i) }

// At turns a place on the canvas into one on the page.
func (c *Canvas) At(x, y MM) Point { return Point{c.box.X + x, c.box.Y + y} }

func (c *Canvas) place(b Box) Box { return Box{c.box.X + b.X, c.box.Y + b.Y, b.W, b.H} }

// Line from one place to another.
func (c *Canvas) Line(x1, y1, x2, y2 MM, s Style) { c.Put(Line{c.At(x1, y1), c.At(x2, y2), s}) }

// Rect draws a box.
func (c *Canvas) Rect(b Box, s Style) { c.Put(Rect{c.place(b), s}) }

// Circle about a centre.
func (c *Canvas) Circle(x, y, r MM, s Style) { c.Put(Arc{c.At(x, y), r, r, 0, 360, s}) }

// Arc about a centre, counterclockwise from 3 o'clock.
func (c *Canvas) Arc(x, y, r MM, from, to Degrees, s Style) {
	c.Put(Arc{c.At(x, y), r, r, from, to, s})
}

// Polygon through places on the canvas, closed.
func (c *Canvas) Polygon(s Style, ps ...Point) { c.Put(Polygon{c.all(ps), false, s}) }

// Polyline through places on the canvas, left open.
func (c *Canvas) Polyline(s Style, ps ...Point) { c.Put(Polygon{c.all(ps), true, s}) }

func (c *Canvas) all(ps []Point) []Point {
	out := make([]Point, len(ps))
	for i, p := range ps {
		out[i] = c.At(p.X, p.Y)
	}
	return out
}

// Text in one line with its baseline at y, starting at x. It is not wrapped or shortened, and must stay on the canvas.
func (c *Canvas) Text(x, y MM, t Type, s string) { c.text(c.At(x, y), Level, t, s, c.box) }

// TextAt is Text standing about x as told.
func (c *Canvas) TextAt(x, y MM, t Type, a Align, s string) {
	c.Text(x+shift(a, 0, t.Width(s)), y, t, s)
}

// TurnedText is a run that reads upwards or downwards from its start.
func (c *Canvas) TurnedText(x, y MM, turn Turn, t Type, s string) {
	c.text(c.At(x, y), turn, t, s, c.box)
}

func (c *Canvas) text(at Point, turn Turn, t Type, s string, cell Box) {
	if s == "" {
		return
	}
	ink := t.Ink
	if !ink.On {
		ink = Black
	}
	c.Put(Text{at, turn, t.Face, t.Size, ink, s, cell})
}

// shift is where text of width w starts in the given room; in no room it stands about the start.
func shift(a Align, room, w MM) MM {
	switch a {
	case Centre:
		return (room - w) / 2
	case Right:
		return room - w
	}
	return 0
}

// Lines sets wrapped lines from the top of box downwards.
func (c *Canvas) Lines(b Box, t Type, a Align, lines []string) {
	y := b.Y + t.Baseline()
	cell := c.place(b)
	for _, l := range lines {
		c.text(c.At(b.X+shift(a, b.W, t.Width(l)), y), Level, t, l, cell)
		y += t.Leading()
	}
}

// TextIn wraps s into box, from its top; it returns the height that was used.
func (c *Canvas) TextIn(b Box, t Type, a Align, s string) MM {
	lines := t.Wrap(s, b.W)
	c.Lines(b, t, a, lines)
	return t.Height(len(lines))
}

// smallest type that Middle shrinks to.
const smallest Pt = 6

// Middle centres s in box both ways, wrapped, and smaller where it must be, so that no word is broken and nothing
// stands out; what does not even fit in 6 pt ends in an ellipsis. For a number inside a drawn cavity.
func (c *Canvas) Middle(b Box, t Type, s string) {
	lines := t.Wrap(s, b.W)
	for t.Size > smallest && (t.Height(len(lines)) > b.H || font.Longest(t.Face, t.Size, s) > b.W) {
		t.Size = max(t.Size-0.5, smallest)
		lines = t.Wrap(s, b.W)
	}
	if t.Height(len(lines)) > b.H || font.Longest(t.Face, t.Size, s) > b.W {
		lines = []string{t.Fit(s, b.W)}
	}
	h := t.Height(len(lines))
	c.Lines(Box{b.X, b.Y + (b.H-h)/2, b.W, h}, t, Centre, lines)
}

// TickBox is the empty square that the builder ticks, with its upper left corner at x, y.
func (c *Canvas) TickBox(x, y MM) {
	c.Rect(Box{x, y, TickSize, TickSize}, Style{Line: Black, Width: 0.3})
}

// TickSize is the side of a tick box.
const TickSize MM = 4.2
