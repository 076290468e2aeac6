package solid

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// toSegment is the distance of a point from a segment by vectors of gonum's r3.
func toSegment(p, a, b Point) float64 {
	d, e := r3.Sub(r3of(b), r3of(a)), r3.Sub(r3of(p), r3of(a))
	if r3.Norm2(d) == 0 {
		return r3.Norm(e)
	}
	s := max(0, min(1, r3.Dot(e, d)/r3.Norm2(d)))
	return r3.Norm(r3.Sub(e, r3.Scale(s, d)))
}

func toBoxAt(p, a, b Point) float64 {
	out := 0.0
	for k := range 3 {
		x, l, h := axes(p)[k], min(axes(a)[k], axes(b)[k]), max(axes(a)[k], axes(b)[k])
		out = math.Hypot(out, max(0, l-x, x-h))
	}
	return out
}

// Distances against dense samples: the distance at a station changes by no more than the station does, so the least of samples a step apart is
// between the true one and half a step more.
func TestGapsFromOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		w, _ := Round(ps, anyRadius(t, len(ps)))
		a, b := anyPoint(t, 1200), anyPoint(t, 1200)
		station, d := w.Near(a)
		at, _ := w.At(station)
		const n = 3000
		step := float64(w.Length()) / n
		for name, c := range map[string]struct {
			got Gap
			of  func(Point) float64
		}{
			"segment": {w.ToSegment(a, b), func(p Point) float64 { return toSegment(p, a, b) }},
			"box":     {w.ToBox(a, b), func(p Point) float64 { return toBoxAt(p, a, b) }},
			"point":   {Gap{Distance: d, Station: station, On: at, Other: a}, func(p Point) float64 { return float64(Between(p, a)) }},
		} {
			least := math.Inf(1)
			for i := range n + 1 {
				p, _ := w.At(unit.Length(step * float64(i)))
				least = min(least, c.of(p))
			}
			if got := float64(c.got.Distance); got > least+bound+1e-6 || got < least-step/2-1e-6 {
				t.Fatalf("%s: %v, by samples %v", name, got, least)
			}
			if p, _ := w.At(c.got.Station); Between(p, c.got.On) > 1e-5 || math.Abs(float64(Between(c.got.On, c.got.Other)-c.got.Distance)) > 1e-6 || c.of(c.got.On)-float64(c.got.Distance) > 1e-6 {
				t.Fatalf("%s: %+v does not agree with itself", name, c.got)
			}
		}
	})
}

// The distance of two straight pieces, or of a piece and a box, is the same from either.
func TestGapsBothWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, c, d := anyPoint(t, 900), anyPoint(t, 900), anyPoint(t, 900), anyPoint(t, 900)
		one, _ := Round([]Point{a, b}, fixed(0))
		two, _ := Round([]Point{c, d}, fixed(0))
		if x, y := one.ToSegment(c, d).Distance, two.ToSegment(a, b).Distance; !alike(x, y) {
			t.Fatalf("%v there, %v back", x, y)
		}
		if x, y := one.ToBox(c, d).Distance, one.ToBox(d, c).Distance; x != y {
			t.Fatalf("box %v, the other way round %v", x, y)
		}
		if x, y := Between(a, b), Between(b, a); x != y {
			t.Fatalf("%v %v", x, y)
		}
	})
}

func TestGapsByHand(t *testing.T) {
	quarter, _ := Round([]Point{pt(0, 0, 0), pt(100, 0, 0), pt(100, 100, 0)}, fixed(100)) // circle about (0, 100)
	cross, _ := Round([]Point{pt(-50, 0, 0), pt(50, 0, 0)}, fixed(0))
	for _, c := range []struct {
		name string
		got  Gap
		want float64
		near float64
	}{
		{"skew lines", cross.ToSegment(pt(0, -50, 7), pt(0, 50, 7)), 7, 1e-9},
		{"side by side", cross.ToSegment(pt(-10, 4, 3), pt(10, 4, 3)), 5, 1e-9},
		{"end to end", cross.ToSegment(pt(53, 4, 0), pt(90, 4, 0)), 5, 1e-9},
		{"crossing", cross.ToSegment(pt(0, -50, 0), pt(0, 50, 0)), 0, 1e-9},
		{"the axis of the arc", quarter.ToSegment(pt(0, 100, -500), pt(0, 100, 500)), 100, bound},
		{"a chord's shadow", quarter.ToSegment(pt(100, 0, 0), pt(200, -100, 0)), 100 * (math.Sqrt2 - 1), bound},
		{"above the middle", quarter.ToSegment(pt(0, 100, 75), pt(0, 100, 75)), 125, bound},
		{"a box beside", cross.ToBox(pt(-5, 3, 4), pt(5, 9, 9)), 5, 1e-9},
		{"a box in the way", cross.ToBox(pt(-5, -3, -4), pt(5, 9, 9)), 0, 1e-9},
		{"a box in the crook", quarter.ToBox(pt(0, 100, 0), pt(30, 60, 5)), 50, bound}, // its corner (30, 60): 100 less 50
		{"a polyline", cross.ToPolyline([]Point{pt(0, 90, 0), pt(0, 50, 0), pt(0, 8, 6)}), 10, 1e-9},
		{"one point", cross.ToPolyline([]Point{pt(0, 8, 6)}), 10, 1e-9},
		{"nothing", cross.ToPolyline(nil), math.Inf(1), 0},
		{"no way", Way(nil).ToSegment(pt(0, 0, 0), pt(1, 0, 0)), math.Inf(1), 0},
		{"no place", cross.ToSegment(pt(0, 0, math.NaN()), pt(1, 0, 0)), math.Inf(1), 0},
	} {
		if got := float64(c.got.Distance); got != c.want && !(math.Abs(got-c.want) <= c.near) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// Whatever the numbers, no answer is one that is no number.
func TestNeverNaN(t *testing.T) {
	wild := rapid.OneOf(rapid.Float64(), rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 0, 1e308, -1e308, 5e-324, 1, 1e12, 1e11}))
	point := rapid.Custom(func(t *rapid.T) Point { return pt(wild.Draw(t, "x"), wild.Draw(t, "y"), wild.Draw(t, "z")) })
	sane := func(t *rapid.T, xs ...unit.Length) {
		for _, x := range xs {
			if math.IsNaN(float64(x)) {
				t.Fatalf("not a number among %v", xs)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		ps := rapid.SliceOfN(point, 0, 6).Draw(t, "corners")
		w, bends := Round(ps, func(int) unit.Length { return unit.Length(wild.Draw(t, "radius")) })
		for _, b := range bends {
			sane(t, b.Radius, b.From, b.To, unit.Length(b.Turn))
		}
		a, b, s := point.Draw(t, "a"), point.Draw(t, "b"), unit.Length(wild.Draw(t, "station"))
		p, v := w.At(s)
		sane(t, p.X, p.Y, p.Z, v.X, v.Y, v.Z, w.Length())
		near, off := w.Near(a)
		sane(t, near, off)
		for _, g := range []Gap{w.ToSegment(a, b), w.ToBox(a, b), w.ToPolyline(ps)} {
			sane(t, g.Distance, g.Station, g.On.X, g.On.Y, g.On.Z, g.Other.X, g.Other.Y, g.Other.Z)
		}
		sane(t, w.Part(s, near).Length(), Between(a, b))
		angle, _ := Angle(Minus(a, b), Vector(b))
		sane(t, unit.Length(angle))
		for _, f := range []func([]Point, Vector) (Plane, unit.Length, bool){FlatOf, FitPlane} {
			plane, off, ok := f(ps, Vector(a))
			if !ok {
				continue
			}
			n := plane.Normal()
			at, d := plane.Flat(b)
			sane(t, off, n.X, n.Y, n.Z, at.U, at.V, d)
			o := make(Outline, len(ps))
			for i := range ps {
				o[i], _ = plane.Flat(ps[i])
			}
			e, _, f := o.Edge(at)
			sane(t, e, f.U, f.V, unit.Length(o.Area()), unit.Length(Hull(o).Area()))
			for _, c := range w.Crossings(plane, o) {
				sane(t, c.Station, c.At.X, c.At.Y, c.At.Z)
			}
		}
		flats := Outline{{a.X, a.Y}, {b.X, b.Y}, {s, s}}
		e, _, _ := flats.Edge(Flat{a.Z, b.Z})
		sane(t, e, unit.Length(flats.Area()))
		flats.Holds(Flat{a.Z, b.Z})
	})
}
