package layup

import (
	"math"

	"loomsheet/harness/pack"
	"loomsheet/harness/unit"
)

// inValleys lays thin pieces in the valleys of a core, each as deep as it finds room within the circle around the core; at is where the pieces of the
// core lie, of the given radii. It gives for each thin piece whether it found room, and the places of the core and of those that did, in order. They
// go round with the core.
func inValleys(at []pack.Circle, outside float64, thin []float64) (fits []bool, all []pack.Circle) {
	type circle struct{ x, y, r float64 }
	var put []circle
	for _, c := range at {
		put = append(put, circle{float64(c.X), float64(c.Y), float64(c.Diameter) / 2})
	}
	all = append(all, at...)
	fits = make([]bool, len(thin))
	const hair = 1e-9
	failed := math.Inf(1) // what is as thick as this has found no room: there is only less as more is laid
	for k, r := range thin {
		if r >= failed || len(put) >= mostValley {
			continue
		}
		best, bx, by := math.Inf(1), 0.0, 0.0
		try := func(x, y float64) {
			from := math.Hypot(x, y)
			if !(from+r <= outside*(1+hair)) || from >= best-hair {
				return
			}
			for _, c := range put {
				if math.Hypot(x-c.x, y-c.y) < (c.r+r)*(1-hair) {
					return
				}
			}
			best, bx, by = from, x, y
		}
		// Places that touch two: two pieces, or a piece and the circle around all, in which a middle may be r less far out.
		meet := func(a circle, ra float64, bx, by, rb float64) {
			dx, dy := bx-a.x, by-a.y
			d := math.Hypot(dx, dy)
			if d == 0 || d > ra+rb || d < math.Abs(ra-rb) {
				return
			}
			along := (float64(d*d) + float64(ra*ra) - float64(rb*rb)) / (2 * d)
			h := math.Sqrt(max(0, float64(ra*ra)-float64(along*along)))
			ex, ey := dx/d, dy/d
			mx, my := a.x+float64(along*ex), a.y+float64(along*ey)
			try(mx-float64(h*ey), my+float64(h*ex))
			try(mx+float64(h*ey), my-float64(h*ex))
		}
		for i, a := range put {
			for _, b := range put[:i] {
				meet(a, a.r+r, b.x, b.y, b.r+r)
			}
			meet(a, a.r+r, 0, 0, outside-r)
		}
		if fits[k] = !math.IsInf(best, 1); !fits[k] {
			failed = r
		} else {
			put = append(put, circle{bx, by, r})
			all = append(all, pack.Circle{X: unit.Length(bx), Y: unit.Length(by), Diameter: unit.Length(2 * r)})
		}
	}
	return fits, all
}
