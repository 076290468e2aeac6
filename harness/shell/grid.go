package shell

import (
	"math"
	"slices"

	"loomsheet/harness/design"
)

// holeGrid is stated holes by where they are, so that those at a place are found without a look at all.
type holeGrid struct{ cells map[[3]int64][]int }

// wideCell is how wide a cell is, mm: what is touching a thing on its panel, though it is a little off that, is in the thing's cell or in one beside it.
const wideCell = 8 * float64(touching)

func newHoleGrid(list []*design.Hole) *holeGrid {
	g := &holeGrid{map[[3]int64][]int{}}
	for i, h := range list {
		if h.Known && place(h.At) {
			c := cellOf(h.At)
			g.cells[c] = append(g.cells[c], i)
		}
	}
	return g
}

func cellOf(p design.Point3) [3]int64 {
	return [3]int64{int64(math.Floor(float64(p.X) / wideCell)), int64(math.Floor(float64(p.Y) / wideCell)), int64(math.Floor(float64(p.Z) / wideCell))}
}

// at is the holes near a place, by their number in the list, in order.
func (g *holeGrid) at(p design.Point3) (out []int) {
	c := cellOf(p)
	for x := c[0] - 1; x <= c[0]+1; x++ {
		for y := c[1] - 1; y <= c[1]+1; y++ {
			for z := c[2] - 1; z <= c[2]+1; z++ {
				out = append(out, g.cells[[3]int64{x, y, z}]...)
			}
		}
	}
	slices.Sort(out)
	return out
}
