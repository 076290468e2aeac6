package solid

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// Holds tells whether a place is inside the outline or on its edge. An outline that crosses itself holds what an odd number of its sides
// lies to one side of.
func (o Outline) Holds(f Flat) bool {
	if d, _, _ := o.Edge(f); d <= tiny {
		return true
	}
	in := false
	for i := range o {
		p, q := o[i], o[(i+1)%len(o)]
		if (p.V > f.V) != (q.V > f.V) && f.U < unit.Length((q.U-p.U)*(f.V-p.V)/(q.V-p.V))+p.U {
			in = !in
		}
	}
	return in
}

// Edge is how far a place is from the nearest side of the outline, which side that is (from corner side to the next) and the place on it. Of
// equals the first counts. Without an outline the distance is infinite and side -1.
func (o Outline) Edge(f Flat) (distance unit.Length, side int, nearest Flat) {
	distance, side = far(), -1
	p := Point{X: f.U, Y: f.V}
	if !Known(p) {
		return distance, side, nearest
	}
	for i := range o {
		a, b := o[i], o[(i+1)%len(o)]
		_, _, at := segments(p, p, Point{X: a.U, Y: a.V}, Point{X: b.U, Y: b.V})
		if d := Between(p, at); d < distance {
			distance, side, nearest = d, i, Flat{at.X, at.Y}
		}
	}
	return distance, side, nearest
}

// Area inside the outline; 0 of fewer than three corners.
func (o Outline) Area() unit.Area {
	var sum float64
	for i := range o {
		p, q := o[i], o[(i+1)%len(o)]
		sum += float64((p.U-o[0].U)*(q.V-o[0].V)) - float64((q.U-o[0].U)*(p.V-o[0].V))
	}
	if math.IsNaN(sum) {
		return 0
	}
	return unit.Area(math.Abs(sum) / 2)
}

// Hull is the narrowest outline without inward corners that holds all points, counter-clockwise from the leftmost. Points that are no place
// are left out; of points in one line the two ends remain.
func Hull(points []Flat) Outline {
	var ps []Flat
	for _, p := range points {
		if within(p.U) && within(p.V) {
			ps = append(ps, p)
		}
	}
	slices.SortFunc(ps, func(a, b Flat) int { return cmp.Or(cmp.Compare(a.U, b.U), cmp.Compare(a.V, b.V)) })
	ps = slices.Compact(ps)
	if len(ps) < 3 {
		return ps
	}
	half := func(out Outline, ps []Flat, floor int) Outline {
		for _, p := range ps {
			for len(out) >= floor+2 {
				a, b := out[len(out)-2], out[len(out)-1]
				if float64((b.U-a.U)*(p.V-a.V))-float64((b.V-a.V)*(p.U-a.U)) > 0 {
					break
				}
				out = out[:len(out)-1]
			}
			out = append(out, p)
		}
		return out
	}
	out := half(nil, ps, 0)
	slices.Reverse(ps)
	out = half(out[:len(out)-1], ps, len(out)-1)
	return out[:len(out)-1]
}

// Cross tells whether the straight lines from a to b and from c to d cross at an inner place of both.
func Cross(a, b, c, d Flat) bool {
	side := func(p, q, r Flat) float64 {
		return float64(q.U-p.U)*float64(r.V-p.V) - float64(q.V-p.V)*float64(r.U-p.U)
	}
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
