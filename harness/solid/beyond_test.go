package solid

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
	"pgregory.net/rapid"
)

// plainEdge looks at every side closely.
func plainEdge(o Outline, f Flat) (distance unit.Length, side int, nearest Flat) {
	distance, side = far(), -1
	p := Point{X: f.U, Y: f.V}
	if !Known(p) {
		return distance, side, nearest
	}
	for i := range o {
		a, b := o[i], o[(i+1)%len(o)]
		_, _, at := segments(p, p, Point{X: a.U, Y: a.V}, Point{X: b.U, Y: b.V})
		if d := Between(p, at); d < distance {
			distance, side, nearest = d, i, Flat{at.X, at.Y}
		}
	}
	return distance, side, nearest
}

func TestEdgeAsPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]int{3, 20, 1000, 1e6, 1e9}).Draw(t, "size")
		place := func(name string) Flat {
			f := Flat{unit.Length(rapid.IntRange(-size, size).Draw(t, name)), unit.Length(rapid.IntRange(-size, size).Draw(t, name))}
			switch rapid.IntRange(0, 40).Draw(t, "odd") {
			case 0:
				f.U = unit.Length(math.NaN())
			case 1:
				f.V = unit.Length(math.Inf(1))
			case 2:
				f.U += unit.Length(rapid.Float64Range(-1, 1).Draw(t, "part"))
			}
			return f
		}
		var o Outline
		for range rapid.IntRange(0, 7).Draw(t, "corners") {
			o = append(o, place("corner"))
		}
		for range 8 {
			f := place("place")
			d, side, at := o.Edge(f)
			wd, ws, wa := plainEdge(o, f)
			if d != wd || side != ws || at != wa {
				t.Fatalf("%v of %v: %v %d %v, want %v %d %v", f, o, d, side, at, wd, ws, wa)
			}
			within := unit.Length(rapid.Float64Range(0, float64(size)).Draw(t, "within"))
			if o.Beyond(f, within) && !(wd > within) {
				t.Fatalf("%v is not beyond %v of %v: %v", f, within, o, wd)
			}
		}
	})
}

// TestRoomAsPlain: no side is nearer than there is room, and what is within it lies on the same side of the outline.
func TestRoomAsPlain(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		size := rapid.SampledFrom([]int{3, 20, 1000, 1e6}).Draw(t, "size")
		place := func() Flat {
			return Flat{unit.Length(rapid.IntRange(-size, size).Draw(t, "u")), unit.Length(rapid.IntRange(-size, size).Draw(t, "v"))}
		}
		var o Outline
		for range rapid.IntRange(3, 7).Draw(t, "corners") {
			o = append(o, place())
		}
		f := place()
		room := o.Room(f)
		if d, _, _ := plainEdge(o, f); !(room <= d) {
			t.Fatalf("room %v, a side at %v", room, d)
		}
		turn := rapid.Float64Range(0, 7).Draw(t, "turn")
		x := Flat{f.U + unit.Length(float64(room)*math.Cos(turn)), f.V + unit.Length(float64(room)*math.Sin(turn))}
		if room > 0 && o.Holds(x) != o.Holds(f) {
			t.Fatalf("%v and %v lie on two sides of %v", f, x, o)
		}
	})
	if r := (Outline{{0, 0}, {10, 0}, {10, 10}, {0, 10}}).Room(Flat{5, 5}); !(r > 4.9 && r < 5) {
		t.Errorf("room %v in the middle of 10 x 10", r)
	}
	if r := (Outline{{0, 0}, {unit.Length(math.NaN()), 0}}).Room(Flat{5, 5}); r != 0 {
		t.Errorf("room %v beside no place", r)
	}
}

// TestWalkAsAt: places asked for one after the other are those that are asked for alone.
func TestWalkAsAt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var ps []Point
		for range rapid.IntRange(1, 6).Draw(t, "points") {
			n := rapid.IntRange(-200, 200)
			ps = append(ps, Point{X: unit.Length(n.Draw(t, "x")), Y: unit.Length(n.Draw(t, "y")), Z: unit.Length(n.Draw(t, "z"))})
		}
		w, _ := Round(ps, func(int) unit.Length { return 30 })
		var k Walk
		for range 20 {
			s := unit.Length(rapid.Float64Range(-10, 1000).Draw(t, "station"))
			p, v := k.At(w, s)
			if wp, wv := w.At(s); p != wp || v != wv {
				t.Fatalf("at %v: %v %v in place of %v %v", s, p, v, wp, wv)
			}
		}
	})
}
