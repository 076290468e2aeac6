// Package page holds sheets as pages of primitives before they are PDF: text runs, lines, boxes, arcs and polygons at
// places in millimetres from the upper left corner of the page, y downwards. All layout is decided here; a writer only
// copies. Tests read the same primitives.
//
// A book is written into a Flow, which measures its blocks first, then breaks pages, then draws, and at the end gives
// each page its header and footer with "page n of m":
//
//	fl := page.NewFlow(page.Frame{Size: page.A4, Job: "roadster", Book: "Bench book", Section: "engine",
//		Revision: "C", Digest: "3f9ac201", NotForBuild: "2 findings are open"})
//	fl.Heading(1, "Cut list")
//	fl.Para("Cut from the top; tick when labelled.")
//	fl.Figure(40, func(c *page.Canvas) { c.Circle(20, 20, 15, page.Thin); c.Text(20, 38, page.Small, "wire side") })
//	fl.Add(table)        // any Block, such as a *table.Table
//	doc, err := fl.Doc() // checked: nothing outside the page, nothing that cannot be printed
//
// Paper lengths are MM, the length type of the job; type sizes are points.
package page

import (
	"time"

	"loomsheet/render/font"
)

// MM is a length on paper in millimetres.
type MM = font.MM

// Pt is a type size in points.
type Pt = font.Pt

// Size of a sheet.
type Size struct{ W, H MM }

// The sheets of ISO 216 and ANSI/ASME Y14.1 that sheets are printed on.
var (
	A4     = Size{210, 297}
	A3     = Size{297, 420}
	Letter = Size{215.9, 279.4}
)

// Landscape is the sheet turned on its long side.
func (s Size) Landscape() Size { return Size{max(s.W, s.H), min(s.W, s.H)} }

// Point is a place on the page.
type Point struct{ X, Y MM }

// Box is an upright rectangle on the page.
type Box struct{ X, Y, W, H MM }

// Right is the x of the right edge.
func (b Box) Right() MM { return b.X + b.W }

// Bottom is the y of the lower edge.
func (b Box) Bottom() MM { return b.Y + b.H }

// Inset is the box with each edge moved inwards.
func (b Box) Inset(d MM) Box { return Box{b.X + d, b.Y + d, b.W - 2*d, b.H - 2*d} }

// Mid is the centre.
func (b Box) Mid() Point { return Point{b.X + b.W/2, b.Y + b.H/2} }

// tolerance for sums of lengths: a hundredth of a millimetre, a tenth of a hairline.
const tolerance = 0.01

// Holds tells whether o lies inside b.
func (b Box) Holds(o Box) bool {
	return o.X >= b.X-tolerance && o.Y >= b.Y-tolerance && o.Right() <= b.Right()+tolerance && o.Bottom() <= b.Bottom()+tolerance
}

// Meets tells whether the two boxes share more than an edge.
func (b Box) Meets(o Box) bool {
	return o.X < b.Right()-tolerance && b.X < o.Right()-tolerance && o.Y < b.Bottom()-tolerance && b.Y < o.Bottom()-tolerance
}

// Ink is a colour, or none: the zero Ink draws nothing.
type Ink struct {
	R, G, B uint8
	On      bool
}

// RGB is an ink of the given red, green and blue.
func RGB(r, g, b uint8) Ink { return Ink{r, g, b, true} }

// The inks of the books. Swatches of wire colours bring their own.
var (
	None   = Ink{}
	Black  = RGB(0, 0, 0)
	Dark   = RGB(70, 70, 70)    // second voice: units, captions
	Middle = RGB(140, 140, 140) // rules between rows
	Pale   = RGB(228, 228, 228) // ground of subheads and blank cavities
	White  = RGB(255, 255, 255)
)

// Style is how a line or an outline is drawn and filled.
type Style struct {
	Line  Ink
	Width MM // of the line; 0 with a Line ink is a hairline of 0.1 mm
	Dash  []MM
	Fill  Ink
}

// Common styles.
var (
	Hair  = Style{Line: Middle, Width: 0.1}
	Thin  = Style{Line: Black, Width: 0.2}
	Firm  = Style{Line: Black, Width: 0.5}
	Thick = Style{Line: Black, Width: 1.2}
	Solid = Style{Fill: Black}
)

// Turn is how a text run stands.
type Turn uint8

// Level text reads from the left, Up from below (turned a quarter to the left), Down from above.
const (
	Level Turn = iota
	Up
	Down
)

// Item is one primitive: Text, Line, Rect, Arc or Polygon.
type Item interface {
	// Bounds is the smallest box around what is drawn, line widths left out.
	Bounds() Box
}

// Text is one run in one face, from At on the baseline onwards.
type Text struct {
	At   Point
	Turn Turn
	Face font.Face
	Size Pt
	Ink  Ink
	S    string
	Cell Box // what the run must stay inside; the zero box is the page
}

// Line between two points.
type Line struct {
	A, B  Point
	Style Style
}

// Rect is a box, outlined, filled or both.
type Rect struct {
	Box   Box
	Style Style
}

// Arc of an ellipse with half-axes RX and RY; From and To are degrees counterclockwise from 3 o'clock. A whole turn
// (0 to 360) may be filled.
type Arc struct {
	At       Point
	RX, RY   MM
	From, To Degrees
	Style    Style
}

// Degrees of an angle on the page.
type Degrees float64

// Polygon through its points, closed unless Open.
type Polygon struct {
	Points []Point
	Open   bool
	Style  Style
}

// Bounds is the box of the run by the measures of its face: advance, ascent, descent.
func (t Text) Bounds() Box {
	w, a, d := font.Width(t.Face, t.Size, t.S), font.Ascent(t.Face, t.Size), font.Descent(t.Face, t.Size)
	switch t.Turn {
	case Up:
		return Box{t.At.X - a, t.At.Y - w, a + d, w}
	case Down:
		return Box{t.At.X - d, t.At.Y, a + d, w}
	}
	return Box{t.At.X, t.At.Y - a, w, a + d}
}

// Bounds of the line.
func (l Line) Bounds() Box { return around(l.A, l.B) }

// Bounds of the box: itself.
func (r Rect) Bounds() Box { return r.Box }

// Bounds of the whole ellipse of the arc.
func (a Arc) Bounds() Box { return Box{a.At.X - a.RX, a.At.Y - a.RY, 2 * a.RX, 2 * a.RY} }

// Bounds of the polygon.
func (p Polygon) Bounds() Box { return around(p.Points...) }

func around(ps ...Point) Box {
	if len(ps) == 0 {
		return Box{}
	}
	lo, hi := ps[0], ps[0]
	for _, p := range ps[1:] {
		lo = Point{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return Box{lo.X, lo.Y, hi.X - lo.X, hi.Y - lo.Y}
}

// Page is one side of a sheet.
type Page struct {
	Size  Size
	Items []Item
}

// Bookmark is an entry of the outline: Level 1 is the outermost, Page the index into Doc.Pages, Y the height of the
// heading on it.
type Bookmark struct {
	Title string
	Level int
	Page  int
	Y     MM
}

// Doc is a whole book.
type Doc struct {
	Title     string
	Pages     []Page
	Bookmarks []Bookmark
	Date      time.Time // stamped into the file; the zero time stands for 1 January 2000

	sound bool // its pages passed Check
}
