package solid

import (
	"math"

	"loomsheet/harness/unit"
)

// reach is how far from the datum a place may lie on any axis, mm; what lies further is taken for not known, so that no sum overflows.
const reach = 1e12

// Known tells whether a point is a place: finite, and no further than a million kilometres from the datum.
func Known(p Point) bool {
	return within(p.X) && within(p.Y) && within(p.Z)
}

func within(x unit.Length) bool { return x >= -reach && x <= reach }

func far() unit.Length { return unit.Length(math.Inf(1)) }

// Between is the distance of two points, infinite if one of them is no place.
func Between(a, b Point) unit.Length {
	d := Minus(a, b).Length()
	if math.IsNaN(float64(d)) {
		return far()
	}
	return d
}

// Same tells whether two points lie in one place, as Round takes it: no further apart than a millionth of a thousandth of a millimetre.
func Same(a, b Point) bool { return Between(a, b) <= tiny }

// Minus leads from b to a.
func Minus(a, b Point) Vector { return Vector{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

// Moved is p displaced by v.
func Moved(p Point, v Vector) Point { return Point{X: p.X + v.X, Y: p.Y + v.Y, Z: p.Z + v.Z} }

// Add is v and w one after the other.
func (v Vector) Add(w Vector) Vector { return Vector{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Scale is v made longer by a factor.
func (v Vector) Scale(by unit.Ratio) Vector { return v.scale(float64(by)) }

func (v Vector) scale(by float64) Vector {
	f := unit.Length(by)
	return Vector{unit.Length(v.X * f), unit.Length(v.Y * f), unit.Length(v.Z * f)}
}

// Dot is the scalar product: how far v reaches along w, where w is of length 1.
func (v Vector) Dot(w Vector) unit.Length { return unit.Length(v.dot(w)) }

func (v Vector) dot(w Vector) float64 {
	return float64(v.X*w.X) + float64(v.Y*w.Y) + float64(v.Z*w.Z)
}

// Cross is the vector product, by the right hand.
func (v Vector) Cross(w Vector) Vector {
	return Vector{
		unit.Length(v.Y*w.Z) - unit.Length(v.Z*w.Y),
		unit.Length(v.Z*w.X) - unit.Length(v.X*w.Z),
		unit.Length(v.X*w.Y) - unit.Length(v.Y*w.X),
	}
}

// Length of v.
func (v Vector) Length() unit.Length {
	return unit.Length(hypot(hypot(float64(v.X), float64(v.Y)), float64(v.Z)))
}

// hypot is math.Hypot, which it need not ask where one side is nothing.
func hypot(a, b float64) float64 {
	switch {
	case b == 0:
		return math.Abs(a)
	case a == 0:
		return math.Abs(b)
	}
	return math.Hypot(a, b)
}

// Unit is v at length 1; ok is false if v has no direction.
func (v Vector) Unit() (u Vector, ok bool) {
	most := max(math.Abs(float64(v.X)), math.Abs(float64(v.Y)), math.Abs(float64(v.Z)))
	if !(most > 0) || math.IsInf(most, 1) {
		return Vector{}, false
	}
	v = Vector{v.X / unit.Length(most), v.Y / unit.Length(most), v.Z / unit.Length(most)}
	l := v.Length()
	return Vector{v.X / l, v.Y / l, v.Z / l}, true
}

// Angle between two directions, 0 to 180 degrees; ok is false if one has none.
func Angle(a, b Vector) (angle unit.Angle, ok bool) {
	a, okA := a.Unit()
	b, okB := b.Unit()
	if !okA || !okB {
		return 0, false
	}
	return unit.Angle(turn(a, b) * 180 / math.Pi), true
}

// turn is the angle of two directions in radians; unlike the arc cosine it is exact for small ones.
func turn(a, b Vector) float64 { return math.Atan2(float64(a.Cross(b).Length()), a.dot(b)) }

// on is the point at a share of the way from a to b.
func on(a, b Point, share float64) Point {
	if share == 1 {
		return b
	}
	return Moved(a, Minus(b, a).scale(share))
}

func clamp(x, low, high float64) float64 {
	if !(x > low) {
		return low
	}
	return min(x, high)
}
