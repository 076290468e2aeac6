package solid

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
)

func pt(x, y, z float64) Point {
	return Point{X: unit.Length(x), Y: unit.Length(y), Z: unit.Length(z)}
}

func vec(x, y, z float64) Vector { return Vector(pt(x, y, z)) }

func fixed(r float64) func(int) unit.Length { return func(int) unit.Length { return unit.Length(r) } }

func alike[T ~float64](a, b T) bool { return math.Abs(float64(a-b)) < 1e-6 }

func same(a, b Point) bool { return Between(a, b) < 1e-6 }

func TestVectors(t *testing.T) {
	if d := Between(pt(1, 2, 3), pt(3, 5, 9)); !alike(d, 7) { // 2, 3, 6: 7
		t.Errorf("distance %v", d)
	}
	for _, c := range []struct {
		a, b Vector
		want unit.Angle
		ok   bool
	}{
		{vec(1, 0, 0), vec(0, 5, 0), 90, true}, {vec(1, 0, 0), vec(1, 1, 0), 45, true}, {vec(1, 0, 0), vec(-2, 0, 0), 180, true},
		{vec(1, 1, 1), vec(2, 2, 2), 0, true}, {vec(0, 0, 0), vec(1, 0, 0), 0, false}, {vec(math.Inf(1), 0, 0), vec(1, 0, 0), 0, false},
		{vec(math.NaN(), 0, 0), vec(1, 0, 0), 0, false}, {vec(1e-300, 0, 0), vec(0, 1e300, 0), 90, true},
		{vec(1, 0, 0), vec(1, 1e-9, 0), 180e-9 / math.Pi, true},
	} {
		if got, ok := Angle(c.a, c.b); ok != c.ok || math.Abs(float64(got-c.want)) > 1e-12*(1+math.Abs(float64(c.want))) {
			t.Errorf("angle of %v and %v is %v %v", c.a, c.b, got, ok)
		}
	}
	if got := vec(1, 0, 0).Cross(vec(0, 1, 0)); got != vec(0, 0, 1) {
		t.Errorf("x across y is %v", got)
	}
	if d := Between(pt(math.Inf(1), 0, 0), pt(math.Inf(1), 0, 0)); !math.IsInf(float64(d), 1) {
		t.Errorf("two places that are none are %v apart", d)
	}
}

// A right corner of radius 50: each leg loses 50, the arc is 50 pi / 2. By hand.
func TestRoundRightCorner(t *testing.T) {
	w, bends := Round([]Point{pt(0, 0, 0), pt(100, 0, 0), pt(100, 200, 0)}, fixed(50))
	if len(w) != 3 || len(bends) != 1 {
		t.Fatalf("%d legs, %d bends", len(w), len(bends))
	}
	arc := 50 * math.Pi / 2
	if b := bends[0]; b.Corner != 1 || !alike(b.Turn, 90) || b.Radius != 50 || b.From != 50 || !alike(float64(b.To), 50+arc) {
		t.Errorf("bend %+v", b)
	}
	if l := w.Length(); !alike(float64(l), 50+arc+150) {
		t.Errorf("length %v", l)
	}
	if !same(w[1].Middle, pt(50, 50, 0)) {
		t.Errorf("middle %v", w[1].Middle)
	}
	p, dir := w.At(unit.Length(50 + arc/2))
	if s := 50 * math.Sqrt2 / 2; !same(p, pt(50+s, 50-s, 0)) || !same(Point(dir), pt(math.Sqrt2/2, math.Sqrt2/2, 0)) {
		t.Errorf("middle of the arc %v towards %v", p, dir)
	}
	// the corner is 50 (sqrt 2 - 1) off the way
	s, d := w.Near(pt(100, 0, 0))
	if !alike(float64(d), 50*(math.Sqrt2-1)) || !alike(float64(s), 50+arc/2) {
		t.Errorf("the corner lies %v off at %v", d, s)
	}
	st := Stations([]Point{pt(0, 0, 0), pt(100, 0, 0), pt(100, 200, 0)}, bends)
	if st[0] != 0 || !alike(float64(st[1]), 50+arc/2) || !alike(st[2], w.Length()) {
		t.Errorf("stations %v", st)
	}
}
