package drawing

import (
	"math"

	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// pieces is all that is drawn as straight pieces on paper, which labels keep clear of.
// They take the room of out.
func (l *Layout) pieces(out []piece) []piece {
	out = out[:0]
	var ps []page.Point
	for _, s := range l.d.Strokes {
		from := len(out)
		ps = l.points(ps[:0], s)
		out = chain(out, ps, s.Closed)
		firmly(s.Layer, out[from:])
	}
	for _, r := range l.d.Rings {
		if r.drawn() {
			from := len(out)
			out = chain(out, l.arc(r), false)
			firmly(r.Layer, out[from:])
		}
	}
	for _, s := range l.d.Spots {
		if s.At.finite() {
			from := len(out)
			for _, o := range s.shape(l.Paper(s.At)) {
				out = chain(out, o, false)
			}
			for i := from; i < len(out); i++ {
				out[i].sign = true
			}
		}
	}
	return out
}

// firmly marks the pieces of arrows and of what is cut.
func firmly(l Layer, ps []piece) {
	for i := range ps {
		ps[i].firm = l == Cut || l == Dim
	}
}

// chain adds the pieces between points.
func chain(out []piece, ps []page.Point, closed bool) []piece {
	for i := 1; i < len(ps); i++ {
		out = append(out, piece{a: ps[i-1], b: ps[i]})
	}
	if n := len(ps); closed && n > 2 {
		out = append(out, piece{a: ps[n-1], b: ps[0]})
	}
	return out
}

// points adds those of a stroke on paper; those that lie nowhere are passed over.
func (l *Layout) points(out []page.Point, s Stroke) []page.Point {
	for _, p := range s.Places {
		if p.finite() {
			out = append(out, l.Paper(p))
		}
	}
	return out
}

// arc is a circle or an arc as a chain of chords, none further than 0.05 mm from it.
func (l *Layout) arc(r Ring) []page.Point {
	radius, sweep := float64(r.Radius)/float64(l.Scale), r.sweep()
	step := 45.0
	if radius > 0.1 {
		step = min(step, 2*math.Acos(1-0.05/radius)*180/math.Pi)
	}
	n := int(max(2, min(400, math.Ceil(sweep/step))))
	out := make([]page.Point, n+1)
	for i := range out {
		out[i] = l.Paper(r.at(float64(r.From) + sweep*float64(i)/float64(n)))
	}
	return out
}

// spotSize is how wide a sign is where none is given.
const spotSize page.MM = 2.5

func (s Spot) half() page.MM {
	if s.Size > 0 && unit.Finite(s.Size) {
		return s.Size / 2
	}
	if s.Sign == Dot {
		return spotSize / 4
	}
	return spotSize / 2
}

// shape is a sign as chains of points about its middle; the round ones are eight-sided here and round where they are drawn.
func (s Spot) shape(at page.Point) [][]page.Point {
	h := s.half()
	p := func(x, y page.MM) page.Point {
		return page.Point{X: at.X + page.MM(float64(x)*float64(h)), Y: at.Y + page.MM(float64(y)*float64(h))}
	}
	switch s.Sign {
	case Cross:
		return [][]page.Point{{p(-1, 0), p(1, 0)}, {p(0, -1), p(0, 1)}}
	case Square:
		return [][]page.Point{{p(-1, -1), p(1, -1), p(1, 1), p(-1, 1), p(-1, -1)}}
	case Triangle:
		return [][]page.Point{{p(0, -1), p(1, 0.8), p(-1, 0.8), p(0, -1)}}
	case Diamond:
		return [][]page.Point{{p(0, -1), p(1, 0), p(0, 1), p(-1, 0), p(0, -1)}}
	}
	const k = 0.7071
	return [][]page.Point{{p(1, 0), p(k, k), p(0, 1), p(-k, k), p(-1, 0), p(-k, -k), p(0, -1), p(k, -k), p(1, 0)}}
}
