package drawing

import (
	"math"

	"loomsheet/render/page"
)

// clump is small pieces that hang together, by their numbers, and the box around them: what is clear of that is clear of them all.
type clump struct {
	x0, y0, x1, y1 page.MM
	from, to       int
	signs          bool // all of them are of signs
}

// The most that a clump of more than one piece is wide and high, and the most pieces in it.
const (
	clumpSize   page.MM = 5
	clumpPieces         = 16
)

// clumps puts pieces that follow one another together, behind those of out.
func clumps(out []clump, pieces []piece) []clump {
	for i := range pieces {
		p := &pieces[i]
		c := clump{min(p.a.X, p.b.X), min(p.a.Y, p.b.Y), max(p.a.X, p.b.X), max(p.a.Y, p.b.Y), i, i + 1, p.sign}
		if n := len(out); n > 0 && p.a == pieces[i-1].b && i-out[n-1].from < clumpPieces {
			o := &out[n-1]
			u := clump{min(c.x0, o.x0), min(c.y0, o.y0), max(c.x1, o.x1), max(c.y1, o.y1), o.from, i + 1, c.signs && o.signs}
			if u.x1-u.x0 <= clumpSize && u.y1-u.y0 <= clumpSize {
				*o = u
				continue
			}
		}
		out = append(out, c)
	}
	return out
}

func (c *clump) box() page.Box { return page.Box{X: c.x0, Y: c.y0, W: c.x1 - c.x0, H: c.y1 - c.y0} }

// clearOf tells whether it lies further than a gap from a box.
func (c *clump) clearOf(b page.Box, gap page.MM) bool {
	return c.x0 > b.X+b.W+gap || c.x1 < b.X-gap || c.y0 > b.Y+b.H+gap || c.y1 < b.Y-gap
}

// beside tells whether it surely lies beside the line through a piece, and not close.
func (c *clump) beside(p *piece, close page.MM) bool {
	dx, dy := float64(p.b.X-p.a.X), float64(p.b.Y-p.a.Y)
	off := dx*float64((c.y0+c.y1)/2-p.a.Y) - dy*float64((c.x0+c.x1)/2-p.a.X)
	return math.Abs(off) > math.Abs(dx)*float64((c.y1-c.y0)/2+close)+math.Abs(dy)*float64((c.x1-c.x0)/2+close)
}
