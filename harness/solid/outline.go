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
	if !o.beyond(f, 1e-3) {
		if d, _, _ := o.Edge(f); d <= tiny {
			return true
		}
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
	least := math.Inf(1) // of the squares of the distances, not to the last digit: what is further off is not looked at closely
	for i := range o {
		if d := square(f, o[i], o[(i+1)%len(o)]); d >= 0 {
			least = min(least, d)
		}
	}
	least += float64(least*1e-6) + 1e-6
	for i := range o {
		a, b := o[i], o[(i+1)%len(o)]
		if square(f, a, b) > least {
			continue
		}
		_, _, at := segments(p, p, Point{X: a.U, Y: a.V}, Point{X: b.U, Y: b.V})
		if d := Between(p, at); d < distance {
			distance, side, nearest = d, i, Flat{at.X, at.Y}
		}
	}
	return distance, side, nearest
}

// square is about the square of the distance of a place from a side; below 0 where that cannot be told.
func square(f, a, b Flat) float64 {
	dx, dy := float64(b.U-a.U), float64(b.V-a.V)
	px, py := float64(f.U-a.U), float64(f.V-a.V)
	t := 0.0
	if l := float64(dx*dx) + float64(dy*dy); l > 0 {
		t = min(1, max(0, (float64(px*dx)+float64(py*dy))/l))
	}
	px, py = px-float64(t*dx), py-float64(t*dy)
	if d := float64(px*px) + float64(py*py); d < 1e18 {
		return d
	}
	return -1
}

// Beyond tells for sure that a place is further than that from every side; false where it is not, or where it is a close thing.
func (o Outline) Beyond(f Flat, distance unit.Length) bool { return o.beyond(f, float64(distance)) }

func (o Outline) beyond(f Flat, distance float64) bool {
	far := distance + 1e-3 + math.Abs(distance)*1e-3
	for i := range o {
		if !(square(f, o[i], o[(i+1)%len(o)]) > float64(far*far)) {
			return false
		}
	}
	return true
}

// Room is a distance within which no side of the outline lies for sure: what is so near a place is inside the outline where the place is, and outside
// where it is not. 0 where that cannot be told, without limit where there is no outline.
func (o Outline) Room(f Flat) unit.Length {
	least := math.Inf(1)
	for i := range o {
		d := square(f, o[i], o[(i+1)%len(o)])
		if !(d >= 0) {
			return 0
		}
		least = min(least, d)
	}
	return unit.Length(max(0, math.Sqrt(least)*(1-1e-3)-1e-2))
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
