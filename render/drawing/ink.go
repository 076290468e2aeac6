package drawing

import (
	"math"

	"loomsheet/render/page"
)

// ink counts the square millimetres of a sheet in which a line surely lies: of a crowded sheet it tells most places of labels to be taken at once.
type ink struct {
	cols, rows int
	sums       []int32 // of the squares above and to the left, by the corners
}

// inked is how many pieces a sheet has before this is worth while.
const inked = 1000

// mostInked is how wide and high such a sheet is at most.
const mostInked page.MM = 2000

// begin marks the pieces of a sheet, where that is worth while.
func (k *ink) begin(area page.Box, pieces []piece) {
	if k.cols, k.rows = 0, 0; len(pieces) >= inked && area.Right() <= mostInked && area.Bottom() <= mostInked {
		k.mark(area, pieces)
	}
}

func (k *ink) mark(area page.Box, pieces []piece) {
	k.cols, k.rows = int(area.Right())+1, int(area.Bottom())+1
	n := (k.cols + 1) * (k.rows + 1)
	if cap(k.sums) < n {
		k.sums = make([]int32, n)
	}
	k.sums = k.sums[:n]
	for i := range k.sums {
		k.sums[i] = 0
	}
	for i := range pieces {
		p := &pieces[i]
		steps := 1 + int(2*max(p.b.X-p.a.X, p.a.X-p.b.X, p.b.Y-p.a.Y, p.a.Y-p.b.Y))
		for s := 0; s <= steps; s++ {
			at := p.along(float64(s) / float64(steps))
			x, fx := math.Modf(float64(at.X))
			y, fy := math.Modf(float64(at.Y))
			// Well within the square, so that no rounding has brought the place into it.
			const least, most = 2 * float64(blur), 1 - 2*float64(blur)
			if fx > least && fx < most && fy > least && fy < most && x < float64(k.cols) && y < float64(k.rows) {
				k.sums[(int(y)+1)*(k.cols+1)+int(x)+1] = 1
			}
		}
	}
	for y := 1; y <= k.rows; y++ {
		row := int32(0)
		for x := 1; x <= k.cols; x++ {
			row += k.sums[y*(k.cols+1)+x]
			k.sums[y*(k.cols+1)+x] = k.sums[(y-1)*(k.cols+1)+x] + row
		}
	}
}

// in tells whether a piece surely runs through a box; where it does not say so one may.
func (k *ink) in(b page.Box) bool {
	if k.cols == 0 {
		return false
	}
	x0, y0 := max(0, int(math.Ceil(float64(b.X)))), max(0, int(math.Ceil(float64(b.Y))))
	x1, y1 := min(k.cols, int(math.Floor(float64(b.X+b.W)))), min(k.rows, int(math.Floor(float64(b.Y+b.H))))
	if x0 >= x1 || y0 >= y1 {
		return false
	}
	w := k.cols + 1
	return k.sums[y1*w+x1]-k.sums[y0*w+x1]-k.sums[y1*w+x0]+k.sums[y0*w+x0] > 0
}
