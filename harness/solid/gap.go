package solid

import (
	"math"
	"slices"
)

// bound is how far the distance of an arc from a segment or a box may be over the true one, mm.
const bound = 1e-3

// ToSegment is how near the way comes to the straight line from a to b. Straight legs are exact; arcs are within 0.001 mm, never under the true
// distance: see nearest.
func (w Way) ToSegment(a, b Point) Gap {
	return w.to(Known(a) && Known(b), func(p, q Point) (float64, Point, Point) { return segments(p, q, a, b) })
}

// ToBox is how near the way comes to the solid box between two opposite corners; 0 inside. Straight legs are exact; arcs as in ToSegment.
func (w Way) ToBox(low, high Point) Gap {
	l := Point{X: min(low.X, high.X), Y: min(low.Y, high.Y), Z: min(low.Z, high.Z)}
	h := Point{X: max(low.X, high.X), Y: max(low.Y, high.Y), Z: max(low.Z, high.Z)}
	return w.to(Known(l) && Known(h), func(p, q Point) (float64, Point, Point) { return toBox(p, q, l, h) })
}

// ToPolyline is how near the way comes to a line through points; one point alone is a point.
func (w Way) ToPolyline(ps []Point) Gap {
	best := Gap{Distance: far()}
	for i := range ps {
		if i > 0 || len(ps) == 1 {
			if g := w.ToSegment(ps[max(0, i-1)], ps[i]); g.Distance < best.Distance {
				best = g
			}
		}
	}
	return best
}

// to is the gap to something convex, of which near tells for a straight piece: at what share of it it is nearest, where that is, and to what.
func (w Way) to(ok bool, near func(p, q Point) (share float64, here, there Point)) Gap {
	return w.gap(func(l *Leg) (float64, Point, Point) {
		if l.Radius <= 0 {
			s, here, there := near(l.From, l.To)
			return s * float64(l.Length), here, there
		}
		a := l.arc()
		angle, there := a.nearest(near)
		return angle * a.radius, a.at(angle), there
	}, ok)
}

// nearest is the angle at which the arc comes nearest to something convex, for which there is no closed form. The arc is halved again and
// again. No point of a piece of angle t lies further from its chord than r(1 - cos(t/2)), so the piece comes no nearer than its chord less
// that; and the point of the arc over the chord's nearest comes as near as the chord and that more. Pieces that cannot better the best by more
// than the bound are left out; once r(1 - cos(t/2)) is a quarter of the bound all are.
func (a *arc) nearest(near func(p, q Point) (float64, Point, Point)) (angle float64, there Point) {
	sag := func(t float64) float64 { s := math.Sin(t / 4); return 2 * a.radius * s * s }
	best := math.Inf(1)
	try := func(at float64) {
		p := a.at(at)
		if _, _, o := near(p, p); float64(Between(p, o)) < best {
			best, angle, there = float64(Between(p, o)), at, o
		}
	}
	try(0)
	try(a.turn)
	// For arcs too large for the bound to be reached the number of pieces is held down, and the bound is coarser.
	within := max(bound, a.radius*1e-9)
	type piece struct{ from, to float64 }
	todo := []piece{{0, a.turn}}
	for len(todo) > 0 {
		p := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		t := p.to - p.from
		share, here, other := near(a.at(p.from), a.at(p.to))
		chord := float64(Between(here, other))
		if !(chord-sag(t) < best-within) {
			continue
		}
		half := a.radius * math.Sin(t/2)
		over := math.Asin(clamp((2*share-1)*half/a.radius, -1, 1))
		try((p.from+p.to)/2 + clamp(over, -t/2, t/2))
		if sag(t) > within/4 {
			middle := (p.from + p.to) / 2
			todo = append(todo, piece{middle, p.to}, piece{p.from, middle})
		}
	}
	return angle, there
}

// segments is where two straight pieces come nearest, in closed form: the square of the distance is a bowl in the two shares, its lowest
// place inside or on one of the four sides.
func segments(p, q, a, b Point) (share float64, here, there Point) {
	d, e, r := Minus(q, p), Minus(b, a), Minus(p, a)
	dd, ee := d.dot(d), e.dot(e)
	best := math.Inf(1)
	try := func(s, t float64) {
		x, y := on(p, q, s), on(a, b, t)
		if l := float64(Between(x, y)); l < best {
			best, share, here, there = l, s, x, y
		}
	}
	onto := func(square, to float64) float64 { // the share nearest to a place, 0 of what has no length
		if !(square > 0) {
			return 0
		}
		return clamp(to/square, 0, 1)
	}
	try(0, onto(ee, r.dot(e)))
	if c := d.Cross(e); c.dot(c) > 1e-18*dd*ee {
		// Cramer's rule on the cross product stands up to nearly parallel pieces.
		s := e.Cross(r).dot(c) / c.dot(c)
		t := d.Cross(r).dot(c) / c.dot(c)
		if s >= 0 && s <= 1 && t >= 0 && t <= 1 {
			try(s, onto(ee, Minus(on(p, q, s), a).dot(e)))
		}
	}
	try(onto(dd, -r.dot(d)), 0)
	try(onto(dd, Minus(b, p).dot(d)), 1)
	try(1, onto(ee, Minus(q, a).dot(e)))
	return share, here, there
}

// toBox is where a straight piece comes nearest to a box, in closed form: between the shares at which it passes the planes of the box's
// faces the square of the distance is a parabola.
func toBox(p, q, low, high Point) (share float64, here, there Point) {
	from, by := axes(p), axes(Point(Minus(q, p)))
	l, h := axes(low), axes(high)
	cuts := []float64{0, 1}
	for k := range 3 {
		for _, face := range [2]float64{l[k], h[k]} {
			if s := (face - from[k]) / by[k]; s > 0 && s < 1 {
				cuts = append(cuts, s)
			}
		}
	}
	slices.Sort(cuts)
	best := math.Inf(1)
	try := func(s float64) {
		x := on(p, q, s)
		y := Point{X: min(max(x.X, low.X), high.X), Y: min(max(x.Y, low.Y), high.Y), Z: min(max(x.Z, low.Z), high.Z)}
		if d := float64(Between(x, y)); d < best {
			best, share, here, there = d, s, x, y
		}
	}
	try(0)
	for i := 1; i < len(cuts); i++ {
		middle := (cuts[i-1] + cuts[i]) / 2
		var slope, curve float64 // of half the square of the distance, at share 0
		for k := range 3 {
			face, x := l[k], from[k]+middle*by[k]
			if x > h[k] {
				face = h[k]
			} else if x >= l[k] {
				continue
			}
			slope += (from[k] - face) * by[k]
			curve += by[k] * by[k]
		}
		if curve > 0 {
			try(clamp(-slope/curve, cuts[i-1], cuts[i]))
		}
		try(cuts[i])
	}
	return share, here, there
}

func axes(p Point) [3]float64 { return [3]float64{float64(p.X), float64(p.Y), float64(p.Z)} }
