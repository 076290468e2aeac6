package drawing

import (
	"math"

	"loomsheet/harness/unit"
)

// Bounds is the smallest upright rectangle around lines, arcs, spots and the places of labels; what lies nowhere (not a number, endless)
// does not count. ok is false for an empty drawing.
func (d *Drawing) Bounds() (low, high Place, ok bool) {
	grow := func(p Place) {
		if !p.finite() {
			return
		}
		if !ok {
			low, high, ok = p, p, true
			return
		}
		low = Place{min(low.X, p.X), min(low.Y, p.Y)}
		high = Place{max(high.X, p.X), max(high.Y, p.Y)}
	}
	for _, s := range d.Strokes {
		for _, p := range s.Places {
			grow(p)
		}
	}
	for _, r := range d.Rings {
		if !r.drawn() {
			continue
		}
		for _, q := range []float64{0, 90, 180, 270} {
			if r.covers(q) {
				grow(r.at(q))
			}
		}
		if !r.whole() {
			grow(r.at(float64(r.From)))
			grow(r.at(float64(r.To)))
		}
	}
	for _, s := range d.Spots {
		grow(s.At)
	}
	for _, l := range d.Labels {
		grow(l.At)
	}
	return low, high, ok
}

func (p Place) finite() bool { return unit.Finite(p.X) && unit.Finite(p.Y) }

func (r Ring) drawn() bool {
	return r.Middle.finite() && unit.Finite(r.Radius) && r.Radius > 0 && unit.Finite(r.From) && unit.Finite(r.To)
}

func (r Ring) whole() bool { return r.From == r.To || math.Abs(float64(r.To-r.From)) >= 360 }

// sweep is how far an arc runs, counterclockwise, of 0 to 360 degrees.
func (r Ring) sweep() float64 {
	if r.whole() {
		return 360
	}
	return turned(float64(r.To - r.From))
}

// turned brings an angle into 0 to 360 degrees.
func turned(deg float64) float64 {
	deg = math.Mod(deg, 360)
	if deg < 0 {
		deg += 360
	}
	return deg
}

// covers tells whether a direction lies on the arc.
func (r Ring) covers(deg float64) bool { return turned(deg-float64(r.From)) <= r.sweep() }

// at is the place on the circle in a direction; the four quarters are exact.
func (r Ring) at(deg float64) Place {
	c, s := cosSin(deg)
	return Place{r.Middle.X + unit.Length(float64(r.Radius)*c), r.Middle.Y + unit.Length(float64(r.Radius)*s)}
}

func cosSin(deg float64) (c, s float64) {
	switch turned(deg) {
	case 0:
		return 1, 0
	case 90:
		return 0, 1
	case 180:
		return -1, 0
	case 270:
		return 0, -1
	}
	s, c = math.Sincos(deg * math.Pi / 180)
	return c, s
}
