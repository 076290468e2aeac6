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
