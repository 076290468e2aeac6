package shell

import (
	"math"

	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// shape is a circle or a rectangle in a plane.
type shape struct {
	mid     solid.Flat
	across  unit.Length   // diameter of a circle; of a rectangle its longer side
	corners solid.Outline // of a rectangle; nil: a circle
}

func circle(mid solid.Flat, d unit.Length) shape { return shape{mid: mid, across: max(0, d)} }

// seenAt turns an offset across and up, as seen from a face of the panel and turned clockwise there, into the panel's own coordinates.
func seenAt(across, up unit.Length, turn unit.Angle, face int) solid.Flat {
	s, c := math.Sincos(float64(turn) * math.Pi / 180)
	u := unit.Length(float64(across)*c + float64(up)*s)
	v := unit.Length(float64(up)*c - float64(across)*s)
	if face < 0 {
		u = -u
	}
	return solid.Flat{U: u, V: v}
}

// rect is a rectangle turned clockwise as seen from a face; with no height it is a circle.
func rect(mid solid.Flat, wide, high unit.Length, turn unit.Angle, face int) shape {
	if !(high > 0) {
		return circle(mid, wide)
	}
	out := shape{mid: mid, across: max(wide, high)}
	for _, k := range [4][2]unit.Length{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		f := seenAt(k[0]*wide/2, k[1]*high/2, turn, face)
		out.corners = append(out.corners, solid.Flat{U: mid.U + f.U, V: mid.V + f.V})
	}
	return out
}

// from is the distance of a place from a shape, 0 within it.
func (s shape) from(p solid.Flat) unit.Length {
	if s.corners == nil {
		return max(0, apart(p, s.mid)-s.across/2)
	}
	if s.corners.Holds(p) {
		return 0
	}
	return toSides(s.corners, p)
}

// gap is the least distance of two shapes, 0 where they meet.
func gap(a, b shape) unit.Length {
	if a.corners == nil {
		return max(0, b.from(a.mid)-a.across/2)
	}
	if b.corners == nil {
		return max(0, a.from(b.mid)-b.across/2)
	}
	return outlines(a.corners, b.corners)
}

// outlines is the least distance of two outlines, 0 where they meet or one holds the other.
func outlines(a, b solid.Outline) unit.Length {
	if len(a) == 0 || len(b) == 0 {
		return unit.Length(math.Inf(1))
	}
	if a.Holds(b[0]) || b.Holds(a[0]) {
		return 0
	}
	d := unit.Length(math.Inf(1))
	for i := range a {
		for j := range b {
			d = min(d, lines(a[i], a[(i+1)%len(a)], b[j], b[(j+1)%len(b)]))
		}
	}
	return d
}

// lines is the least distance of two pieces of line.
func lines(a, b, c, d solid.Flat) unit.Length {
	side := func(p, q, r solid.Flat) float64 {
		return float64(q.U-p.U)*float64(r.V-p.V) - float64(q.V-p.V)*float64(r.U-p.U)
	}
	if side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0 {
		return 0
	}
	return min(fromLine(a, c, d), fromLine(b, c, d), fromLine(c, a, b), fromLine(d, a, b))
}

// toLine is the distance of a shape from a piece of line, 0 where they meet.
func (s shape) toLine(a, b solid.Flat) unit.Length {
	if s.corners == nil {
		return max(0, fromLine(s.mid, a, b)-s.across/2)
	}
	if s.corners.Holds(a) {
		return 0
	}
	d := unit.Length(math.Inf(1))
	for i := range s.corners {
		d = min(d, lines(s.corners[i], s.corners[(i+1)%4], a, b))
	}
	return d
}

// within is the distance of a shape from an area, 0 where they meet.
func (s shape) within(o solid.Outline) unit.Length {
	if s.corners != nil {
		return outlines(s.corners, o)
	}
	if o.Holds(s.mid) {
		return 0
	}
	return max(0, toSides(o, s.mid)-s.across/2)
}

// box widens the corners of a box so that it holds the shape.
func (s shape) box(low, high *solid.Flat) {
	grow := func(f solid.Flat, r unit.Length) {
		low.U, low.V = min(low.U, f.U-r), min(low.V, f.V-r)
		high.U, high.V = max(high.U, f.U+r), max(high.V, f.V+r)
	}
	if s.corners == nil {
		grow(s.mid, s.across/2)
	}
	for _, c := range s.corners {
		grow(c, 0)
	}
}
