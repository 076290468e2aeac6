package drawing

import "loomsheet/render/page"

// cells parts a box into eight columns and eight rows, a bit each, so that of many things most can be told to lie apart from a box or a line by one
// operation. What lies beyond the box counts to the cells on its edge.
type cells struct {
	x, y page.MM
	w, h float64 // cells to a millimetre
}

const cellsAcross = 8

func cellsOf(b page.Box) cells {
	return cells{b.X, b.Y, cellsAcross / float64(b.W), cellsAcross / float64(b.H)}
}

func cellOf(off page.MM, per float64) uint {
	return uint(max(0, min(cellsAcross-1, float64(off)*per)))
}

// columns are the bits from one column to another in each row, rows those of whole rows.
var columns, rows = func() (columns, rows [cellsAcross][cellsAcross]uint64) {
	for from := range cellsAcross {
		for to := from; to < cellsAcross; to++ {
			for k := from; k <= to; k++ {
				columns[from][to] |= 0x0101010101010101 << k
				rows[from][to] |= 0xff << (cellsAcross * k)
			}
		}
	}
	return columns, rows
}()

// span is the cells that a box touches.
func (c *cells) span(x0, y0, x1, y1 page.MM) uint64 {
	return columns[cellOf(x0-c.x, c.w)][cellOf(x1-c.x, c.w)] & rows[cellOf(y0-c.y, c.h)][cellOf(y1-c.y, c.h)]
}

// box is the cells within a margin of a box.
func (c *cells) box(b page.Box, margin page.MM) uint64 {
	return c.span(b.X-margin, b.Y-margin, b.X+b.W+margin, b.Y+b.H+margin)
}

// line is the cells within a margin, along each axis, of a piece, and some beside them. Row by row, it is what lies about the part of the piece that is as
// near to the row.
func (c *cells) line(p *piece, margin page.MM) (mask uint64) {
	a, b := p.a, p.b
	if a.Y > b.Y {
		a, b = b, a
	}
	from, to := cellOf(a.Y-margin-c.y, c.h), cellOf(b.Y+margin-c.y, c.h)
	rise := float64(b.Y - a.Y)
	if from == to || rise < 1 {
		return columns[cellOf(min(a.X, b.X)-margin-c.x, c.w)][cellOf(max(a.X, b.X)+margin-c.x, c.w)] & rows[from][to]
	}
	slope := float64(b.X-a.X) / rise
	for r := from; r <= to; r++ {
		x, end := a.X, b.X
		if r > from {
			if down := float64(r)/c.h - float64(a.Y+margin-c.y); down > 0 {
				x += page.MM(slope * down)
			}
		}
		if r < to {
			if up := float64(b.Y-margin-c.y) - float64(r+1)/c.h; up > 0 {
				end -= page.MM(slope * up)
			}
		}
		mask |= columns[cellOf(min(x, end)-margin-c.x, c.w)][cellOf(max(x, end)+margin-c.x, c.w)] & rows[r][r]
	}
	return mask
}
