package solid

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
)

// TestAtCorners: at a corner without an arc the way still has the direction of the leg before it; beyond an end it is that end.
func TestAtCorners(t *testing.T) {
	w, _ := Round([]Point{pt(0, 0, 0), pt(100, 0, 0), pt(100, 50, 0), pt(100, 50, 30)}, fixed(0))
	for _, c := range []struct {
		station unit.Length
		at      Point
		along   Vector
	}{
		{-5, pt(0, 0, 0), Vector{1, 0, 0}}, {0, pt(0, 0, 0), Vector{1, 0, 0}}, {0.5, pt(0.5, 0, 0), Vector{1, 0, 0}}, {100, pt(100, 0, 0), Vector{1, 0, 0}},
		{100.5, pt(100, 0.5, 0), Vector{0, 1, 0}}, {150, pt(100, 50, 0), Vector{0, 1, 0}}, {151, pt(100, 50, 1), Vector{0, 0, 1}}, {180, pt(100, 50, 30), Vector{0, 0, 1}}, {999, pt(100, 50, 30), Vector{0, 0, 1}},
	} {
		at, along := w.At(c.station)
		if Between(at, c.at) > 1e-9 || math.Abs(along.dot(c.along)-1) > 1e-9 {
			t.Errorf("at %v: %v along %v, want %v along %v", c.station, at, along, c.at, c.along)
		}
	}
	if leg, _ := Way(nil).find(3); leg != -1 {
		t.Errorf("leg %d of nothing", leg)
	}
}

// TestSmallArcs: a bend of less than a millimetre is an arc like any other. From (0, 0) to (10, 0) to (10, 10) with 0.5 mm: 9.5 straight, a quarter round of 0.5,
// 9.5 straight.
func TestSmallArcs(t *testing.T) {
	const r = 0.5
	w, _ := Round([]Point{pt(0, 0, 0), pt(10, 0, 0), pt(10, 10, 0)}, fixed(r))
	if want := 19 + r*math.Pi/2; math.Abs(float64(w.Length())-want) > 1e-9 {
		t.Fatalf("%v long, want %g", w.Length(), want)
	}
	middle := unit.Length(9.5 + r*math.Pi/4)
	at, along := w.At(middle)
	root := math.Sqrt2 / 2
	if Between(at, pt(9.5+r*root, 0.5-r*root, 0)) > 1e-9 || math.Abs(along.dot(Vector{unit.Length(root), unit.Length(root), 0})-1) > 1e-9 {
		t.Errorf("half way round at %v along %v", at, along)
	}
	// nearest to a point outside the bend on its diagonal is half way round
	if s, d := w.Near(pt(12, -2, 0)); math.Abs(float64(s-middle)) > 1e-6 || math.Abs(float64(d)-(math.Hypot(2.5, 2.5)-r)) > 1e-6 {
		t.Errorf("near at %v, %v off", s, d)
	}
	// the middle of the arc is as far from all of it: the first station counts
	if s, d := w.Near(pt(9.5, 0.5, 0)); math.Abs(float64(s)-9.5) > 1e-9 || math.Abs(float64(d)-r) > 1e-9 {
		t.Errorf("near its middle at %v, %v off", s, d)
	}
	// a plane through which only the bend dips: x = 9.8 is passed once on the way in, on the arc: sin(a) = 0.3/0.5
	p := Plane{Origin: pt(9.8, 0, 0), Across: Vector{0, 1, 0}, Up: Vector{0, 0, 1}}
	o := Outline{{-50, -50}, {50, -50}, {50, 50}, {-50, 50}}
	var got []float64
	for _, x := range w.CrossingsOf(p, o, 0) {
		got = append(got, float64(x.Station))
	}
	if len(got) > 0 { // it goes no more than 0.2 mm past the sheet: that is not through it
		t.Errorf("crosses at %v", got)
	}
}
