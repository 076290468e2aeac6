package drawing

import (
	"math"
	"slices"

	"loomsheet/render/page"
)

// grid finds what lies near a box: things by number, each in the cells that its box touches.
type grid struct {
	cell       page.MM
	cols, rows int
	at         [][]int
	seen       []int // by number: the last search that met it
	search     int
}

// begin empties the grid for so many things on another area.
func (g *grid) begin(w, h page.MM, things int) {
	g.cell = max(6, max(w, h)/80)
	g.cols, g.rows = int(w/g.cell)+1, int(h/g.cell)+1
	g.at = slices.Grow(g.at[:0], g.cols*g.rows)[:g.cols*g.rows]
	for i := range g.at {
		g.at[i] = g.at[i][:0]
	}
	if g.seen = g.seen[:0]; cap(g.seen) < things {
		g.seen = make([]int, 0, things)
	}
	g.seen = g.seen[:things] // marked by searches before, or never
}

// span is the columns and rows of the cells that a box touches; what lies beyond the edge counts to the cells on it.
func (g *grid) span(b page.Box) (x0, x1, y0, y1 int) {
	return g.cellOf(b.X, g.cols), g.cellOf(b.Right(), g.cols), g.cellOf(b.Y, g.rows), g.cellOf(b.Bottom(), g.rows)
}

// cellOf is the column or row, of n, in which a coordinate lies.
func (g *grid) cellOf(x page.MM, n int) int {
	c := float64(x / g.cell)
	switch {
	case !(c > 0):
		return 0
	case c >= float64(n-1):
		return n - 1
	}
	return int(c)
}

func (g *grid) add(n int, b page.Box) {
	x0, x1, y0, y1 := g.span(b)
	for y := y0; y <= y1; y++ {
		for c := y*g.cols + x0; c <= y*g.cols+x1; c++ {
			g.at[c] = append(g.at[c], n)
		}
	}
}

func (g *grid) remove(n int, b page.Box) {
	x0, x1, y0, y1 := g.span(b)
	for y := y0; y <= y1; y++ {
		for c := y*g.cols + x0; c <= y*g.cols+x1; c++ {
			for i, x := range g.at[c] {
				if x == n {
					g.at[c] = append(g.at[c][:i], g.at[c][i+1:]...)
					break
				}
			}
		}
	}
}

// near calls do once for each thing in the cells of a box, until it returns false.
func (g *grid) near(b page.Box, do func(n int) bool) {
	g.search++
	x0, x1, y0, y1 := g.span(b)
	for y := y0; y <= y1; y++ {
		for c := y*g.cols + x0; c <= y*g.cols+x1; c++ {
			if !g.visit(c, do) {
				return
			}
		}
	}
}

// visit calls do for each thing in a cell that this search has not met yet; false where do returned false.
func (g *grid) visit(c int, do func(n int) bool) bool {
	for _, n := range g.at[c] {
		if g.seen[n] != g.search {
			g.seen[n] = g.search
			if !do(n) {
				return false
			}
		}
	}
	return true
}

// share tells whether a piece, of any way, runs through or passes closely a cell that a box touches.
func (g *grid) share(p *piece, b page.Box) bool {
	x0, x1, y0, y1 := g.span(p.box())
	bx0, bx1, by0, by1 := g.span(b)
	for y := max(y0, by0); y <= min(y1, by1); y++ {
		from, to := g.along(p, y, x0, x1)
		for x := max(x0, bx0); x <= min(x1, bx1); x++ {
			// The cells on the edge stand for all beyond them too.
			if x == 0 || y == 0 || x == g.cols-1 || y == g.rows-1 ||
				x >= from && x <= to && p.meets(page.Box{X: g.cell*page.MM(x) - 1, Y: g.cell*page.MM(y) - 1, W: g.cell + 2, H: g.cell + 2}) {
				return true
			}
		}
	}
	return false
}

// nearPiece calls do once for each thing in the cells that a piece runs through or passes closely, and in some beside them, until it returns false.
func (g *grid) nearPiece(p *piece, do func(n int) bool) {
	g.search++
	x0, x1, y0, y1 := g.span(grown(p.box(), 1))
	for y := y0; y <= y1; y++ {
		from, to := x0, x1
		if y > 0 && y < g.rows-1 { // the rows on the edge stand for all beyond them too
			from, to = g.along(p, y, x0, x1)
		}
		for x := max(x0, from); x <= min(x1, to); x++ {
			if !g.visit(y*g.cols+x, do) {
				return
			}
		}
	}
}

// along is the columns, of x0 to x1, outside which a piece surely passes no cell of a row closely.
func (g *grid) along(p *piece, y, x0, x1 int) (from, to int) {
	rise := p.b.Y - p.a.Y
	if rise < 0.1 && rise > -0.1 {
		return x0, x1
	}
	low, high := (page.MM(float64(g.cell)*float64(y))-1-p.a.Y)/rise, (page.MM(float64(g.cell)*float64(y+1))+1-p.a.Y)/rise
	if low > high {
		low, high = high, low
	}
	low, high = max(low, 0), min(high, 1)
	if !(low <= high) { // by rounding at most
		return x0, x1
	}
	way := p.b.X - p.a.X
	left, right := p.a.X+page.MM(float64(low)*float64(way)), p.a.X+page.MM(float64(high)*float64(way))
	const margin = 1.01 // what counts as close, and a little for rounding
	return g.cellOf(min(left, right)-margin, g.cols) - 1, g.cellOf(max(left, right)+margin, g.cols) + 1
}

// piece is a straight piece of something drawn.
type piece struct {
	a, b page.Point
	sign bool // of a sign
	// firm is set of what a leader must not be taken for a part of: arrows and what is cut.
	firm bool
}

// weight is what a leader costs that crosses it: a line once, a sign by two or more of its sides, an arrow or a cut line as much as another leader.
func (p *piece) weight() float64 {
	if p.firm {
		return crossCost
	}
	return 0.5
}

func (p *piece) box() page.Box {
	x, y := min(p.a.X, p.b.X), min(p.a.Y, p.b.Y)
	return page.Box{X: x, Y: y, W: max(p.a.X, p.b.X) - x, H: max(p.a.Y, p.b.Y) - y}
}

// blur is more than the rounding of places on paper.
const blur page.MM = 1e-6

// meets tells whether a piece runs through a box.
func (p *piece) meets(b page.Box) bool {
	right, bottom := b.Right()+blur, b.Bottom()+blur
	x, y := b.X-blur, b.Y-blur
	if p.a.X < x && p.b.X < x || p.a.X > right && p.b.X > right || p.a.Y < y && p.b.Y < y || p.a.Y > bottom && p.b.Y > bottom {
		return false
	}
	// Most lines pass a box by, and a product of lengths tells so without a division.
	dx, dy := float64(p.b.X-p.a.X), float64(p.b.Y-p.a.Y)
	off := dx*float64(b.Y+b.H/2-p.a.Y) - dy*float64(b.X+b.W/2-p.a.X)
	if math.Abs(off) > math.Abs(dx)*float64(b.H/2+surely)+math.Abs(dy)*float64(b.W/2+surely) {
		return false
	}
	_, _, ok := p.within(b)
	return ok
}

// surely is far more than blur and all rounding of places on paper.
const surely page.MM = 1e-3

// within is the part of a piece inside a box, as shares of the way from a to b.
func (p *piece) within(b page.Box) (from, to float64, ok bool) {
	from, to = 0, 1
	for _, e := range [2][4]page.MM{{p.a.X, p.b.X, b.X, b.Right()}, {p.a.Y, p.b.Y, b.Y, b.Bottom()}} {
		start, way := float64(e[0]), float64(e[1]-e[0])
		lo, hi := float64(e[2])-start, float64(e[3])-start
		if way == 0 {
			if lo > 0 || hi < 0 {
				return 0, 0, false
			}
			continue
		}
		lo, hi = lo/way, hi/way
		if lo > hi {
			lo, hi = hi, lo
		}
		from, to = max(from, lo), min(to, hi)
		if from > to {
			return 0, 0, false
		}
	}
	return from, to, true
}

// crosses tells whether two pieces cross or touch.
func (p *piece) crosses(q *piece) bool {
	return p.crossesIn(p.box(), q, q.box())
}

// crossesIn is crosses, the boxes of both known.
func (p *piece) crossesIn(box page.Box, q *piece, other page.Box) bool {
	if far(box, other, touching) {
		return false
	}
	d1, d2 := side(q.a, q.b, p.a), side(q.a, q.b, p.b)
	d3, d4 := side(p.a, p.b, q.a), side(p.a, p.b, q.b)
	return d3 == 0 && box.Holds(page.Box{X: q.a.X, Y: q.a.Y}) || (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0)
}

// touching is a little more than the distance at which page.Box takes two edges for one.
const touching page.MM = 0.02

// side is positive, negative or zero as c lies left of, right of or on the line from a to b.
func side(a, b, c page.Point) float64 {
	return float64(float64(b.X-a.X)*float64(c.Y-a.Y)) - float64(float64(b.Y-a.Y)*float64(c.X-a.X))
}

// far tells whether two boxes lie further apart than a gap.
func far(a, b page.Box, gap page.MM) bool {
	return a.X-gap > b.X+b.W || b.X-gap > a.X+a.W || a.Y-gap > b.Y+b.H || b.Y-gap > a.Y+a.H
}

// runsAlong tells whether a piece lies on another for a good part of its own length, the boxes of both known.
func (p *piece) runsAlong(box page.Box, q *piece, other page.Box) bool {
	// One that is near two of the places is about as long as the way between them, along each axis.
	if other.W+1 < max(p.b.X-p.a.X, p.a.X-p.b.X)/4 || other.H+1 < max(p.b.Y-p.a.Y, p.a.Y-p.b.Y)/4 {
		return false
	}
	if b := grown(box, 0.4); !b.Meets(grown(other, 0.1)) {
		return false
	}
	near := func(k float64) bool {
		at := p.along(k)
		return q.meets(grown(page.Box{X: at.X, Y: at.Y}, 0.4))
	}
	a, b := near(0.25), near(0.5)
	return a && b || (a || b) && near(0.75)
}

func grown(b page.Box, by page.MM) page.Box { return b.Inset(-by) }

// union is the smallest box around two.
func union(a, b page.Box) page.Box {
	x, y := min(a.X, b.X), min(a.Y, b.Y)
	return page.Box{X: x, Y: y, W: max(a.Right(), b.Right()) - x, H: max(a.Bottom(), b.Bottom()) - y}
}

// grain is one over the step in millimetres to which places are brought before labels are placed. It is a power of two, so that sums and
// products of such places are exact on any paper of up to 8 m: whether a leader meets a line then does not turn on how a processor rounds.
const grain = 1 << 10

func snap(x page.MM) page.MM { return page.MM(math.Floor(float64(x)*grain+0.5) / grain) }

func snapped(p page.Point) page.Point { return page.Point{X: snap(p.X), Y: snap(p.Y)} }

// snappedBox brings the edges of a box onto the grid.
func snappedBox(b page.Box) page.Box {
	x, y := snap(b.X), snap(b.Y)
	return page.Box{X: x, Y: y, W: snap(b.Right()) - x, H: snap(b.Bottom()) - y}
}
