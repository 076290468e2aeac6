package solid

import (
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

func anyPoint(t *rapid.T, most float64) Point {
	// whole numbers as often as not: places that coincide, lie in line or turn back come up
	c := rapid.OneOf(rapid.Float64Range(-most, most), rapid.Map(rapid.IntRange(-3, 3), func(i int) float64 { return float64(i) * most / 3 }))
	return pt(c.Draw(t, "x"), c.Draw(t, "y"), c.Draw(t, "z"))
}

func anyCorners(t *rapid.T) []Point {
	n := rapid.IntRange(1, 8).Draw(t, "corners")
	out := make([]Point, n)
	for i := range out {
		out[i] = anyPoint(t, 900)
	}
	return out
}

func anyRadius(t *rapid.T, n int) func(int) unit.Length {
	rs := rapid.SliceOfN(rapid.Float64Range(0, 400), n, n).Draw(t, "radii")
	return func(i int) unit.Length { return unit.Length(rs[i]) }
}

func lengthOf(ps []Point) (sum unit.Length) {
	for i := 1; i < len(ps); i++ {
		sum += Between(ps[i-1], ps[i])
	}
	return sum
}

func r3of(p Point) r3.Vec { return r3.Vec{X: float64(p.X), Y: float64(p.Y), Z: float64(p.Z)} }

func TestRoundHolds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		radius := anyRadius(t, len(ps))
		w, bends := Round(ps, radius)
		if whole := lengthOf(ps); w.Length() > whole+1e-6 {
			t.Fatalf("%v long, its corners %v", w.Length(), whole)
		}
		if !same(w[0].From, ps[0]) || !same(w[len(w)-1].To, ps[len(ps)-1]) {
			t.Fatal("the ends moved")
		}
		at := unit.Length(0)
		for i, l := range w {
			if i > 0 && !same(w[i-1].To, l.From) {
				t.Fatalf("leg %d begins at %v, the one before ends at %v", i, l.From, w[i-1].To)
			}
			if l.Radius > 0 {
				k := slices.IndexFunc(bends, func(b Bend) bool { return alike(b.From, at) })
				if k < 0 || !alike(bends[k].To, at+l.Length) || bends[k].Radius != l.Radius || l.Radius > radius(bends[k].Corner)+1e-9 {
					t.Fatalf("the arc at %v is none of %+v", at, bends)
				}
				if !same(l.From, Moved(l.Middle, Minus(l.From, l.Middle))) || math.Abs(float64(Between(l.From, l.Middle)-l.Radius)) > 1e-6 || math.Abs(float64(Between(l.To, l.Middle)-l.Radius)) > 1e-6 {
					t.Fatalf("the ends of %+v are not on its circle", l)
				}
			}
			if i > 0 && l.Radius+w[i-1].Radius > 0 && !sharp(ps, bends, l.From) {
				_, a := w[i-1].at(float64(w[i-1].Length))
				_, b := l.at(0)
				if turn(a, b) > 1e-5 {
					t.Fatalf("the way turns by %v where leg %d begins", turn(a, b), i)
				}
			}
			at += l.Length
		}
		for i, s := range Stations(ps, bends) {
			p, _ := w.At(s)
			k := slices.IndexFunc(bends, func(b Bend) bool { return b.Corner == firstOf(ps, i) })
			off := 0.0
			if k >= 0 { // by hand: the middle of an arc is r (1/cos(t/2) - 1) from its corner
				off = float64(bends[k].Radius) * (1/math.Cos(float64(bends[k].Turn)*math.Pi/360) - 1)
			}
			if math.Abs(float64(Between(p, ps[i]))-off) > 1e-5*(1+off) {
				t.Fatalf("corner %d lies %v from its station %v, should be %v", i, Between(p, ps[i]), s, off)
			}
		}
	})
}

// sharp tells that a corner without an arc lies there: the direction may jump.
func sharp(ps []Point, bends []Bend, at Point) bool {
	for i := range ps {
		if !slices.ContainsFunc(bends, func(b Bend) bool { return b.Corner == i }) && Between(at, ps[i]) < 1e-4 {
			return true
		}
	}
	return false
}

// Every corner is as round as asked, or a piece beside it is used up; and the way back is the same.
func TestRoundIsTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		radius := anyRadius(t, len(ps))
		_, bends := Round(ps, radius)
		took := map[int]float64{}
		for _, b := range bends {
			took[b.Corner] = float64(b.Radius) * math.Tan(float64(b.Turn)*math.Pi/360)
		}
		for i := 1; i < len(ps); i++ {
			if took[i-1]+took[i] > float64(Between(ps[i-1], ps[i]))+1e-6 && Between(ps[i-1], ps[i]) > 1e-6 {
				t.Fatalf("the arcs beside piece %d overlap", i)
			}
		}
		for _, b := range bends {
			if b.Radius >= radius(b.Corner)-1e-9 {
				continue
			}
			before, after := b.Corner-1, b.Corner+1
			for before > 0 && same(ps[before], ps[b.Corner]) {
				before--
			}
			for after < len(ps)-1 && same(ps[after], ps[b.Corner]) {
				after++
			}
			if float64(Between(ps[before], ps[b.Corner]))-took[b.Corner]-took[firstOf(ps, before)] > 1e-5 && float64(Between(ps[after], ps[b.Corner]))-took[b.Corner]-took[after] > 1e-5 {
				t.Fatalf("corner %d has %v of %v although there is room", b.Corner, b.Radius, radius(b.Corner))
			}
		}
		back := slices.Clone(ps)
		slices.Reverse(back)
		if len(slices.CompactFunc(slices.Clone(ps), same)) < len(ps) {
			return // which of two corners in one place counts depends on the direction
		}
		w, _ := Round(ps, radius)
		v, _ := Round(back, func(i int) unit.Length { return radius(len(ps) - 1 - i) })
		if !alike(w.Length(), v.Length()) {
			t.Fatalf("%v there, %v back", w.Length(), v.Length())
		}
	})
}

func firstOf(ps []Point, i int) int {
	for i > 0 && same(ps[i-1], ps[i]) {
		i--
	}
	return i
}

func TestRoundShares(t *testing.T) {
	zig := []Point{pt(0, 0, 0), pt(100, 0, 0), pt(100, 60, 0), pt(200, 60, 0)}
	for _, c := range []struct {
		name   string
		ps     []Point
		radius func(int) unit.Length
		want   []float64
	}{
		{"enough", zig, fixed(20), []float64{20, 20}},
		{"shared in halves", zig, fixed(50), []float64{30, 30}},
		{"one wants less", zig, func(i int) unit.Length { return unit.Length([]float64{0, 10, 100, 0}[i]) }, []float64{10, 50}},
		{"one cannot have more", []Point{pt(90, 0, 0), pt(100, 0, 0), pt(100, 60, 0), pt(200, 60, 0)}, fixed(50), []float64{10, 50}},
		{"a piece at an end whole", []Point{pt(0, 0, 0), pt(30, 0, 0), pt(30, 30, 0)}, fixed(50), []float64{30}},
		{"straight on", []Point{pt(0, 0, 0), pt(30, 0, 0), pt(60, 0, 0)}, fixed(50), nil},
		{"turned back", []Point{pt(0, 0, 0), pt(30, 0, 0), pt(10, 0, 0)}, fixed(5), nil},
		{"none asked", zig, fixed(0), nil},
		{"asked for less than nothing", zig, fixed(-3), nil},
		{"asked for no number", zig, fixed(math.NaN()), nil},
		{"without end", zig, fixed(math.Inf(1)), []float64{30, 30}},
		// 60 degrees: radius = 30 / tan 30 deg = 51.96
		{"as sharp as it can", []Point{pt(0, 0, 0), pt(30, 0, 0), pt(45, 15*math.Sqrt(3), 0)}, fixed(1000), []float64{30 * math.Sqrt(3)}},
	} {
		_, bends := Round(c.ps, c.radius)
		var got []float64
		for _, b := range bends {
			got = append(got, float64(b.Radius))
		}
		if !slices.EqualFunc(got, c.want, alike) {
			t.Errorf("%s: radii %v, want %v", c.name, got, c.want)
		}
	}
	if w, bends := Round([]Point{pt(0, 0, 0), pt(math.NaN(), 0, 0)}, fixed(5)); w != nil || bends != nil {
		t.Error("a way through no place")
	}
	if w, _ := Round([]Point{pt(1, 2, 3), pt(1, 2, 3)}, fixed(5)); len(w) != 1 || w.Length() != 0 || w[0].From != pt(1, 2, 3) {
		t.Errorf("a way on the spot: %v", w)
	}
}

// Length and places against sums of chords of dense samples, and arcs against gonum's rotation of r3 about the arc's axis.
func TestArcsFromOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		w, _ := Round(ps, anyRadius(t, len(ps)))
		const n = 2000
		whole := w.Length()
		var sum unit.Length
		last, _ := w.At(0)
		for i := 1; i <= n; i++ {
			p, _ := w.At(whole * unit.Length(i) / n)
			sum += Between(last, p)
			last = p
		}
		// a chord that cuts a corner without an arc loses at most its own step twice
		sharp := unit.Length(0)
		for i := 1; i < len(w); i++ {
			if w[i].Radius == 0 && w[i-1].Radius == 0 {
				sharp += 2 * whole / n
			}
		}
		if d := whole - sum; d < -1e-6 || d > 1e-3*whole+sharp+1e-6 {
			t.Fatalf("length %v, of samples %v", whole, sum)
		}
		for _, l := range w {
			if l.Radius == 0 {
				continue
			}
			u, v := r3.Sub(r3of(l.From), r3of(l.Middle)), r3.Sub(r3of(l.To), r3of(l.Middle))
			share := rapid.Float64Range(0, 1).Draw(t, "share")
			angle := share * math.Acos(max(-1, min(1, r3.Cos(u, v))))
			want := r3.Add(r3of(l.Middle), r3.Rotate(u, angle, r3.Cross(u, v)))
			got, _ := l.at(share * float64(l.Length))
			if d := r3.Norm(r3.Sub(want, r3of(got))); d > 1e-6*(1+float64(l.Radius)) && l.Turn > 0.01 && l.Turn < 179.9 {
				t.Fatalf("the arc's place is %v from the turned one", d)
			}
			if got, want := float64(l.Length), float64(l.Radius)*math.Acos(max(-1, min(1, r3.Cos(u, v)))); math.Abs(got-want) > 1e-4*(1+want) {
				t.Fatalf("arc %v long, want %v", got, want)
			}
		}
	})
}

func TestNearOfAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		w, _ := Round(ps, anyRadius(t, len(ps)))
		s := unit.Length(rapid.Float64Range(0, 1).Draw(t, "share")) * w.Length()
		p, _ := w.At(s)
		back, d := w.Near(p)
		q, _ := w.At(back)
		if d > 1e-6 || !same(p, q) {
			t.Fatalf("%v at %v is %v off at %v", p, s, d, back)
		}
	})
}

func TestPart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		w, _ := Round(ps, anyRadius(t, len(ps)))
		share := rapid.Float64Range(0, 1)
		from, to := unit.Length(share.Draw(t, "from"))*w.Length(), unit.Length(share.Draw(t, "to"))*w.Length()
		if from > to {
			from, to = to, from
		}
		part := w.Part(from, to)
		if math.Abs(float64(part.Length()-(to-from))) > 1e-6 {
			t.Fatalf("a part of %v is %v long", to-from, part.Length())
		}
		s := unit.Length(share.Draw(t, "at")) * (to - from)
		p, _ := part.At(s)
		q, _ := w.At(from + s)
		if Between(p, q) > 1e-5 {
			t.Fatalf("%v along the part is %v, along the whole %v", s, p, q)
		}
	})
}

func TestSplit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := anyCorners(t)
		w, bends := Round(ps, anyRadius(t, len(ps)))
		at := Stations(ps, bends)
		for i, part := range w.Split(at) {
			whole := w.Part(at[i], at[i+1])
			if !alike(part.Length(), at[i+1]-at[i]) {
				t.Fatalf("part %d of %v is %v long", i, at, part.Length())
			}
			s := unit.Length(rapid.Float64Range(0, 1).Draw(t, "share")) * part.Length()
			p, _ := part.At(s)
			q, _ := whole.At(s)
			if Between(p, q) > 1e-5 {
				t.Fatalf("%v along part %d is %v, want %v", s, i, p, q)
			}
		}
	})
	if got := Way(nil).Split([]unit.Length{0, 1}); len(got) != 1 || got[0] != nil {
		t.Errorf("parts of no way: %v", got)
	}
}

func TestTurns(t *testing.T) {
	ps := []Point{pt(0, 0, 0), pt(10, 0, 0), pt(10, 0, 0), pt(10, 10, 0), pt(10, 30, 0), pt(10, 5, 0), pt(15, 0, 0)}
	want := []unit.Angle{0, 90, 0, 0, 180, 45, 0}
	if got := Turns(ps); !slices.EqualFunc(got, want, alike) {
		t.Errorf("turns %v, want %v", got, want)
	}
	if got := Turns([]Point{pt(0, 0, 0), pt(math.NaN(), 0, 0), pt(0, 1, 0)}); !slices.Equal(got, make([]unit.Angle, 3)) {
		t.Errorf("turns at no place %v", got)
	}
}

// A way of very many corners takes no longer for each.
func TestManyCorners(t *testing.T) {
	const n = 100_000
	ps := make([]Point, n)
	for i := range ps {
		ps[i] = pt(float64(i)*10, float64(i%2)*(10+float64(i%977)), float64(i%3)*float64(n-i)/1e3)
	}
	w, bends := Round(ps, func(i int) unit.Length { return unit.Length(i % 1000) })
	if parts := w.Split(Stations(ps, bends)); len(parts) != n-1 || len(bends) < n/2 {
		t.Errorf("%d parts, %d bends", len(parts), len(bends))
	}
}

// Two corners alike and too small for an arc leave both, whichever end the way is read from.
func TestSmallCornersLeaveTogether(t *testing.T) {
	ps := []Point{pt(1, 1, 1), pt(1, 1, 0), pt(1, 0, 0.001953125), pt(1, 0, 0), pt(0, 0, 0)}
	one := func(int) unit.Length { return 1 }
	there, bends := Round(ps, one)
	slices.Reverse(ps)
	back, turned := Round(ps, one)
	if !alike(there.Length(), back.Length()) || len(bends) != len(turned) {
		t.Errorf("%v with %d bends there, %v with %d back", there.Length(), len(bends), back.Length(), len(turned))
	}
}
