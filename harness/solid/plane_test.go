package solid

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/mat"
	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

var up = vec(0, 0, 1)

func TestPlaneDirections(t *testing.T) {
	for _, c := range []struct {
		name       string
		corners    []Point
		across, up Vector
		off        float64
	}{
		{"a floor", []Point{pt(0, 0, 5), pt(10, 0, 5), pt(10, 20, 5), pt(0, 20, 5)}, vec(1, 0, 0), vec(0, 1, 0), 0},
		{"a floor the other way round", []Point{pt(0, 20, 5), pt(10, 20, 5), pt(10, 0, 5), pt(0, 0, 5)}, vec(1, 0, 0), vec(0, 1, 0), 0},
		{"a wall across the car", []Point{pt(3, 0, 0), pt(3, 10, 0), pt(3, 10, 10), pt(3, 0, 10)}, vec(0, 1, 0), vec(0, 0, 1), 0},
		{"a wall along the car", []Point{pt(0, 3, 0), pt(0, 3, 10), pt(10, 3, 10), pt(10, 3, 0)}, vec(1, 0, 0), vec(0, 0, 1), 0},
		{"a slope of 45 degrees", []Point{pt(0, 0, 0), pt(0, 10, 0), pt(10, 10, 10), pt(10, 0, 10)}, vec(0, 1, 0), vec(math.Sqrt2/2, 0, math.Sqrt2/2), 0},
		// one corner of four 4 mm up: each then stands 1 mm off the plane through the middle
		{"a twisted wall", []Point{pt(0, 0, 0), pt(0, 1000, 0), pt(4, 1000, 1000), pt(0, 0, 1000)}, vec(0, 1, 0), vec(0, 0, 1), 1},
	} {
		p, off, ok := FlatOf(c.corners, up)
		if !ok || Between(Point(p.Across), Point(c.across)) > 0.003 || Between(Point(p.Up), Point(c.up)) > 0.003 || math.Abs(float64(off)-c.off) > 0.001 {
			t.Errorf("%s: across %v up %v off %v", c.name, p.Across, p.Up, off)
		}
	}
	if _, _, ok := FlatOf([]Point{pt(0, 0, 0), pt(1, 1, 1), pt(2, 2, 2)}, up); ok {
		t.Error("a plane of a line")
	}
	if _, _, ok := FitPlane([]Point{pt(0, 0, 0), pt(1, 1, 1), pt(2, 2, 2), pt(3, 3, 3)}, up); ok {
		t.Error("a plane fitted to a line")
	}
	if _, _, ok := FitPlane([]Point{pt(0, 0, 0), pt(1, 1, 1)}, up); ok {
		t.Error("a plane of two points")
	}
}

func TestPlaneHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Point { return anyPoint(t, 900) }), 3, 7).Draw(t, "points")
		for name, f := range map[string]func([]Point, Vector) (Plane, unit.Length, bool){"corners": FlatOf, "points": FitPlane} {
			p, off, ok := f(ps, up)
			if !ok {
				continue
			}
			n := p.Normal()
			if !alike(p.Across.Length(), 1) || !alike(p.Up.Length(), 1) || !alike(n.Length(), 1) || !alike(p.Across.Dot(p.Up), 0) {
				t.Fatalf("%s: directions %+v", name, p)
			}
			if level := math.Abs(float64(n.Z)) > math.Sqrt(1-nearlyLevel*nearlyLevel); !level && (!alike(p.Across.Z, 0) || p.Up.Z < -1e-9) || level && (p.Across.X < 0 || n.Z < 0) {
				t.Fatalf("%s: across %v up %v", name, p.Across, p.Up)
			}
			for _, q := range ps {
				at, d := p.Flat(q)
				if d > off+1e-9 || d < -off-1e-9 {
					t.Fatalf("%s: a point %v off, at most %v", name, d, off)
				}
				if !same(Moved(p.Space(at), n.Scale(unit.Ratio(d))), q) {
					t.Fatalf("%s: there and back is another place", name)
				}
			}
			back := slices.Clone(ps)
			slices.Reverse(back)
			if r, _, ok := f(back, up); !ok || name == "corners" && !same(Point(r.Across), Point(p.Across)) {
				t.Fatalf("%s: the order shows: %+v, %+v", name, p, r)
			}
		}
	})
}

// The sum of squares of the distances is the least eigenvalue of the spread, by gonum's EigenSym; and no turned plane is nearer.
func TestFitFromOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Point { return anyPoint(t, 900) }), 3, 20).Draw(t, "points")
		p, _, ok := FitPlane(ps, up)
		if !ok {
			return
		}
		squares := func(n Vector) (sum float64) {
			for _, q := range ps {
				d := float64(Minus(q, p.Origin).Dot(n))
				sum += d * d
			}
			return sum
		}
		spread := mat.NewSymDense(3, nil)
		for _, q := range ps {
			d := axes(Point(Minus(q, p.Origin)))
			for i := range 3 {
				for j := i; j < 3; j++ {
					spread.SetSym(i, j, spread.At(i, j)+d[i]*d[j])
				}
			}
		}
		var e mat.EigenSym
		if !e.Factorize(spread, false) {
			t.Fatal("no eigenvalues")
		}
		values := e.Values(nil)
		got := squares(p.Normal())
		if math.Abs(got-values[0]) > 1e-9*values[2] {
			t.Fatalf("squares %v, gonum's least eigenvalue %v of %v", got, values[0], values)
		}
		turned, ok := p.Normal().Add(Vector(anyPoint(t, 0.3))).Unit()
		if ok && squares(turned) < got-1e-9*values[2] {
			t.Fatal("a turned plane is nearer")
		}
	})
}

func TestOutlineByHand(t *testing.T) {
	ell := Outline{{0, 0}, {40, 0}, {40, 10}, {10, 10}, {10, 30}, {0, 30}} // an L: 400 + 200
	if a := ell.Area(); a != 600 {
		t.Errorf("area %v", a)
	}
	for _, c := range []struct {
		f    Flat
		in   bool
		d    float64
		side int
	}{
		{Flat{5, 5}, true, 5, 0}, {Flat{20, 20}, false, 10, 2}, {Flat{12, 5}, true, 5, 0}, {Flat{10, 10}, true, 0, 2}, {Flat{43, -4}, false, 5, 0}, {Flat{5, 29}, true, 1, 4},
	} {
		d, side, at := ell.Edge(c.f)
		if ell.Holds(c.f) != c.in || !alike(float64(d), c.d) || side != c.side || !alike(math.Hypot(float64(at.U-c.f.U), float64(at.V-c.f.V)), c.d) {
			t.Errorf("%v: in %v, %v from side %d", c.f, ell.Holds(c.f), d, side)
		}
	}
	if _, side, _ := Outline(nil).Edge(Flat{}); side != -1 || Outline(nil).Holds(Flat{}) {
		t.Error("an outline of nothing")
	}
}

// Area by counting random places; the hull holds all points, and every corner of it is one of them.
func TestOutlineFromOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		coord := rapid.Map(rapid.IntRange(-50, 50), func(i int) unit.Length { return unit.Length(i) })
		ps := rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Flat { return Flat{coord.Draw(t, "u"), coord.Draw(t, "v")} }), 1, 20).Draw(t, "points")
		h := Hull(ps)
		for _, p := range ps {
			if !h.Holds(p) {
				t.Fatalf("%v is not in the hull %v", p, h)
			}
		}
		for i, c := range h {
			if !slices.Contains(ps, c) {
				t.Fatalf("%v is none of the points", c)
			}
			if n := len(h); n > 2 {
				a, b := h[(i+1)%n], h[(i+2)%n]
				if (a.U-c.U)*(b.V-c.V)-(a.V-c.V)*(b.U-c.U) <= 0 {
					t.Fatalf("the hull %v turns inward at %v", h, a)
				}
			}
		}
		rng := rand.New(rand.NewPCG(1, 2))
		const n = 4000
		in := 0
		for range n {
			if h.Holds(Flat{unit.Length(rng.Float64()*100 - 50), unit.Length(rng.Float64()*100 - 50)}) {
				in++
			}
		}
		if got, want := float64(h.Area()), float64(in)/n*1e4; math.Abs(got-want) > 500 { // over six times the spread of the count: 1e4 sqrt(0.25/4000) = 79
			t.Fatalf("area %v, by counting %v", got, want)
		}
	})
}

func TestCrossings(t *testing.T) {
	wall := []Point{pt(100, -50, -50), pt(100, 50, -50), pt(100, 50, 50), pt(100, -50, 50)}
	p, _, _ := FlatOf(wall, up)
	o := make(Outline, 4)
	for i := range wall {
		o[i], _ = p.Flat(wall[i])
	}
	for _, c := range []struct {
		name   string
		ps     []Point
		radius float64
		want   []float64
	}{
		{"through", []Point{pt(0, 0, 0), pt(300, 0, 0)}, 0, []float64{100}},
		{"through and back", []Point{pt(0, 0, 0), pt(300, 0, 0), pt(300, 20, 0), pt(0, 20, 0)}, 0, []float64{100, 520}},
		{"past it", []Point{pt(0, 60, 0), pt(300, 60, 0)}, 0, nil},
		{"up to it", []Point{pt(0, 0, 0), pt(100, 0, 0)}, 0, nil},
		{"a millimetre through", []Point{pt(0, 0, 0), pt(101, 0, 0)}, 0, nil},
		{"more", []Point{pt(0, 0, 0), pt(101.1, 0, 0)}, 0, []float64{100}},
		{"a corner on it", []Point{pt(0, 0, 0), pt(100, 0, 0), pt(200, 30, 0)}, 0, []float64{100}},
		{"along it and away", []Point{pt(0, 0, 0), pt(100, 0, 0), pt(100, 30, 0), pt(0, 30, 0)}, 0, nil},
		// an arc of 40 from (80, 0) to (120, 40): it lies 100 along where cos = 1/2 of its radius, by hand: 80 + 40 asin(1/2)
		{"on an arc", []Point{pt(0, 0, 0), pt(120, 0, 0), pt(120, 400, 0)}, 40, []float64{80 + 40*math.Asin(0.5)}},
		// the corner is 10 mm through, the arc of 100 about (10, 100) reaches x = 110 only at its end, where the way turns along the wall
		{"an arc cut short", []Point{pt(0, 0, 0), pt(110, 0, 0), pt(0, 110, 0)}, 20, nil},
	} {
		w, _ := Round(c.ps, fixed(c.radius))
		var got []float64
		for _, x := range w.Crossings(p, o) {
			got = append(got, float64(x.Station))
			if !alike(float64(x.At.X), 100) {
				t.Errorf("%s: crosses at %v", c.name, x.At)
			}
		}
		if !slices.EqualFunc(got, c.want, alike) {
			t.Errorf("%s: crosses at %v, want %v", c.name, got, c.want)
		}
	}
	w, _ := Round([]Point{pt(0, 0, 0), pt(110, 0, 0)}, fixed(0))
	if len(w.CrossingsOf(p, o, 5)) != 1 || w.CrossingsOf(p, o, 9.5) != nil {
		t.Error("a sheet that is not flat")
	}
}

func TestSheets(t *testing.T) {
	through, _ := Round([]Point{pt(-50, 10, 10), pt(50, 10, 10)}, fixed(0))
	flat := []Point{pt(0, 0, 0), pt(0, 100, 0), pt(0, 100, 100), pt(0, 0, 100)}
	// the fifth is 20 off the other four: the plane lies 4 from them, and they and it at most 16 from the plane; by hand
	curved := append(slices.Clone(flat), pt(20, 50, 50))
	for _, c := range []struct {
		name            string
		corners, points []Point
		want            unit.Length
	}{{"corners", flat, nil, 50}, {"corners before points", flat, curved, 50}, {"points", nil, curved, 54}} {
		s, ok := SheetOf(c.corners, c.points)
		if got := through.Through(s); !ok || len(got) != 1 || !alike(got[0].Station, c.want) {
			t.Errorf("%s: %v %v", c.name, got, ok)
		}
	}
	short, _ := Round([]Point{pt(-50, 10, 10), pt(20, 10, 10)}, fixed(0))
	if s, _ := SheetOf(nil, curved); !alike(s.Uneven, 16) || short.Through(s) != nil {
		t.Errorf("a way that ends in the dent passes a sheet %v uneven", s.Uneven)
	}
	for _, ps := range [][]Point{nil, flat[:2], {pt(0, 0, 0), pt(1, 1, 1), pt(2, 2, 2)}} {
		if _, ok := SheetOf(ps, nil); ok {
			t.Errorf("a sheet with corners %v", ps)
		}
		if _, ok := SheetOf(nil, ps); ok {
			t.Errorf("a sheet of points %v", ps)
		}
	}
}
