package drawing

import (
	"math"

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

func newGrid(w, h page.MM, things int) *grid {
	g := &grid{cell: max(6, max(w, h)/80), seen: make([]int, things)}
	g.cols, g.rows = int(w/g.cell)+1, int(h/g.cell)+1
	g.at = make([][]int, g.cols*g.rows)
	return g
}

// cells calls do for each cell that a box touches; what lies beyond the edge counts to the cells on it.
func (g *grid) cells(b page.Box, do func(cell int)) {
	clamp := func(x page.MM, n int) int { return int(max(0, min(float64(n-1), math.Floor(float64(x/g.cell))))) }
	x0, x1 := clamp(b.X, g.cols), clamp(b.Right(), g.cols)
	for y, y1 := clamp(b.Y, g.rows), clamp(b.Bottom(), g.rows); y <= y1; y++ {
		for x := x0; x <= x1; x++ {
			do(y*g.cols + x)
		}
	}
}

func (g *grid) add(n int, b page.Box) {
	g.cells(b, func(c int) { g.at[c] = append(g.at[c], n) })
}

func (g *grid) remove(n int, b page.Box) {
	g.cells(b, func(c int) {
		for i, x := range g.at[c] {
			if x == n {
				g.at[c] = append(g.at[c][:i], g.at[c][i+1:]...)
				return
			}
		}
	})
}

// near calls do once for each thing in the cells of a box, until it returns false.
func (g *grid) near(b page.Box, do func(n int) bool) { g.walk(b, nil, do) }

// nearPiece is near for the cells that a piece runs through, or passes closely.
func (g *grid) nearPiece(p piece, do func(n int) bool) {
	g.walk(p.box(), func(c int) bool {
		x, y := c%g.cols, c/g.cols
		if x == 0 || y == 0 || x == g.cols-1 || y == g.rows-1 {
			return true // these stand for all beyond them too
		}
		return p.meets(page.Box{X: g.cell*page.MM(x) - 1, Y: g.cell*page.MM(y) - 1, W: g.cell + 2, H: g.cell + 2})
	}, do)
}

func (g *grid) walk(b page.Box, pick func(cell int) bool, do func(n int) bool) {
	g.search++
	g.cells(b, func(c int) {
		if pick != nil && !pick(c) {
			return
		}
		for _, n := range g.at[c] {
			if g.search < 0 {
				return
			}
			if g.seen[n] != g.search {
				g.seen[n] = g.search
				if !do(n) {
					g.search = -g.search
					return
				}
			}
		}
	})
	if g.search < 0 {
		g.search = -g.search
	}
}

// piece is a straight piece of something drawn.
type piece struct {
	a, b page.Point
	sign bool // of a sign
	// firm is set of what a leader must not be taken for a part of: arrows and what is cut.
	firm bool
}

// weight is what a leader costs that crosses it: a line once, a sign by two or more of its sides, an arrow or a cut line as much as another leader.
func (p piece) weight() float64 {
	if p.firm {
		return crossCost
	}
	return 0.5
}

func (p piece) box() page.Box {
	x, y := min(p.a.X, p.b.X), min(p.a.Y, p.b.Y)
	return page.Box{X: x, Y: y, W: max(p.a.X, p.b.X) - x, H: max(p.a.Y, p.b.Y) - y}
}

// meets tells whether a piece runs through a box.
func (p piece) meets(b page.Box) bool {
	_, _, ok := p.within(b)
	return ok
}

// within is the part of a piece inside a box, as shares of the way from a to b.
func (p piece) within(b page.Box) (from, to float64, ok bool) {
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
func (p piece) crosses(q piece) bool {
	side := func(a, b, c page.Point) float64 {
		return float64(float64(b.X-a.X)*float64(c.Y-a.Y)) - float64(float64(b.Y-a.Y)*float64(c.X-a.X))
	}
	d1, d2 := side(q.a, q.b, p.a), side(q.a, q.b, p.b)
	d3, d4 := side(p.a, p.b, q.a), side(p.a, p.b, q.b)
	return p.box().Holds(page.Box{X: q.a.X, Y: q.a.Y}) && d3 == 0 || (d1 > 0) != (d2 > 0) && (d3 > 0) != (d4 > 0)
}

// runsAlong tells whether a piece lies on another for a good part of its own length.
func (p piece) runsAlong(q piece) bool {
	if b := grown(p.box(), 0.4); !b.Meets(grown(q.box(), 0.1)) {
		return false
	}
	n := 0
	for _, k := range []float64{0.25, 0.5, 0.75} {
		at := p.along(k)
		if q.meets(grown(page.Box{X: at.X, Y: at.Y}, 0.4)) {
			n++
		}
	}
	return n > 1
}

func grown(b page.Box, by page.MM) page.Box { return b.Inset(-by) }

// union is the smallest box around two.
func union(a, b page.Box) page.Box {
	x, y := min(a.X, b.X), min(a.Y, b.Y)
	return page.Box{X: x, Y: y, W: max(a.Right(), b.Right()) - x, H: max(a.Bottom(), b.Bottom()) - y}
}
