package layup

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/pack"
	"loomsheet/harness/unit"
)

// overlap is how far the worst two of circles at given angles on a base lie into one another; less than none if none do.
func overlap(base float64, at, r []float64) float64 {
	worst := math.Inf(-1)
	for i := range r {
		for j := range i {
			x := math.Hypot((base+r[i])*math.Cos(at[i])-(base+r[j])*math.Cos(at[j]), (base+r[i])*math.Sin(at[i])-(base+r[j])*math.Sin(at[j]))
			worst = max(worst, r[i]+r[j]-x)
		}
	}
	return worst
}

// TestAngleBetweenNeighbours: equal circles on a base of their own radius stand 60 degrees apart; on a point they stand opposite; a 3-4-5 triangle by hand.
func TestAngleBetweenNeighbours(t *testing.T) {
	for _, c := range []struct{ base, a, b, want float64 }{
		{1, 1, 1, math.Pi / 3}, {0, 1, 1, math.Pi}, {0, 2, 1, math.Pi}, {2, 2, 2, math.Pi / 3},
		{1, 2, 3, math.Pi / 2},              // middles 3 and 4 out, 5 apart
		{math.Sqrt2 - 1, 1, 1, math.Pi / 2}, // four in the square
		{1, 0, 1, 0}, {3, 0, 0, 0},
	} {
		want := c.want
		if c.a == 0 && c.b > 0 { // a point on the base and a circle touch where they meet it
			want = 0
		}
		if got := apart(c.base, c.a, c.b); math.Abs(got-want) > 1e-7 {
			t.Errorf("%+v: %g, want %g", c, got, want)
		}
	}
}

// TestCirclesAround: circles set around a base lie side by side without overlap and without room for more; spread round, none overlap where the need is no more
// than a round; and a base opened for them is the least that holds them.
func TestCirclesAround(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Float64Range(0.2, 8).Draw(t, "base")
		n := rapid.IntRange(1, 9).Draw(t, "circles")
		r := make([]float64, n)
		for i := range r {
			r[i] = rapid.Float64Range(0.2, 3).Draw(t, "radius")
		}
		at, need := around(base, r)
		if need <= full {
			if o := overlap(base, at, r); o > 1e-9*base {
				t.Fatalf("they overlap by %g", o)
			}
			even, _ := spread(base, r)
			if o := overlap(base, even, r); o > 1e-6 {
				t.Fatalf("spread they overlap by %g", o)
			}
			if n > 1 && need < turn && math.Abs(even[n-1]-at[n-1]*turn/need) > 1e-9 {
				t.Fatalf("the gap is not shared out: %v of %v", even, at)
			}
		}
		for i := 1; i < n; i++ { // each touches one before it, as near as it can be
			touches := false
			for j := range i {
				touches = touches || math.Abs(at[i]-at[j]-apart(base, r[j], r[i])) < 1e-9
			}
			if !touches {
				t.Fatalf("circle %d touches none before it: %v", i, at)
			}
		}
		room := rapid.Float64Range(0, 6).Draw(t, "room")
		b, ok := open(base, room, r)
		_, most := around(base+room, r)
		if ok != (need <= full || most <= full && room > 0) {
			t.Fatalf("opened %v: need %g, with all the room %g", ok, need, most)
		}
		if !ok {
			return
		}
		if b < base || b > base+room+1e-9 {
			t.Fatalf("base %g of %g and %g", b, base, room)
		}
		if _, x := around(b, r); x > full*(1+1e-9) {
			t.Fatalf("base %g needs %g", b, x)
		}
		if b > base {
			if _, x := around(b-1e-6, r); x <= turn {
				t.Fatalf("base %g is more than is needed", b)
			}
		}
	})
}

// TestFillersOfALayer: as many fillers as go in, evenly between the wires, and one more would not go; the thickest that fits is a whole tenth across.
func TestFillersOfALayer(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Float64Range(1, 8).Draw(t, "base")
		r := slices.Repeat([]float64{rapid.Float64Range(0.3, 1.5).Draw(t, "radius")}, rapid.IntRange(1, 6).Draw(t, "wires"))
		if _, need := around(base, r); need > full {
			t.Skip("no room for the wires")
		}
		f := rapid.Float64Range(0.2, 1.5).Draw(t, "filler")
		all, filler := filled(base, r, f)
		fillers, gap, most, least := 0, 0, 0, math.MaxInt
		for i, is := range filler {
			if is {
				fillers++
				gap++
				continue
			}
			if i > 0 {
				most, least = max(most, gap), min(least, gap)
			}
			gap = 0
		}
		most, least = max(most, gap), min(least, gap)
		if filler[0] || most-least > 1 || len(all) != len(r)+fillers {
			t.Fatalf("%v: gaps of %d to %d", filler, least, most)
		}
		at, need := around(base, all)
		if need > full || overlap(base, at, all) > 1e-9*base {
			t.Fatalf("%d fillers need %g", fillers, need)
		}
		// equal wires and fillers: how many go in all, by the angle of each
		if f == r[0] {
			if want := int(turn / apart(base, f, f)); len(all) != want {
				t.Fatalf("%d in all, want %d", len(all), want)
			}
		}
		x := fitting(base, r, f)
		if x > f+1e-12 || x > 0 && x < f/3-0.05 || math.Abs(x*20-math.Round(x*20)) > 1e-9 {
			t.Fatalf("filler of %g, at most %g", x, f)
		}
		_, with := around(base, append(slices.Clone(r), x))
		if x > 0 && with > full {
			t.Fatalf("filler of %g does not go in", x)
		}
		if next := x + 0.05; next <= f+1e-9 && (x > 0 || next >= f/3) {
			if _, need := around(base, append(slices.Clone(r), next)); need <= full*(1-1e-9) {
				t.Fatalf("a filler of %g goes in as well as %g", next, x)
			}
		}
	})
}

// TestValleysByHand: between two equal circles of radius 3 in a circle of 6 lie two of radius 2 (Descartes: 1/2 = -1/6 + 2/3), no thicker one; between three of
// radius 1 the one in the middle is 2/sqrt 3 - 1.
func TestValleysByHand(t *testing.T) {
	c := func(x, y, r float64) pack.Circle {
		return pack.Circle{X: unit.Length(x), Y: unit.Length(y), Diameter: unit.Length(2 * r)}
	}
	two := []pack.Circle{c(-3, 0, 3), c(3, 0, 3)}
	h := 2 / math.Sqrt(3)
	three := []pack.Circle{c(0, h, 1), c(-1, -h/2, 1), c(1, -h/2, 1)}
	inner := 2/math.Sqrt(3) - 1
	for _, k := range []struct {
		name    string
		at      []pack.Circle
		outside float64
		thin    []float64
		want    []bool
	}{
		{"two of two", two, 6, []float64{2, 2}, []bool{true, true}}, {"a third", two, 6, []float64{2, 2, 2}, []bool{true, true, false}}, {"too thick", two, 6, []float64{2.001}, []bool{false}},
		{"too thick, then a thin one", two, 6, []float64{2.001, 1.9}, []bool{false, true}}, {"after one that found none, as thick", two, 6, []float64{2.001, 2.001}, []bool{false, false}},
		{"in the middle of three", three, 1 + h, []float64{inner}, []bool{true}},
	} {
		fits, all := inValleys(k.at, k.outside, k.thin)
		if !slices.Equal(fits, k.want) {
			t.Errorf("%s: %v", k.name, fits)
		}
		for i, a := range all {
			if from := math.Hypot(float64(a.X), float64(a.Y)) + float64(a.Diameter)/2; from > k.outside*(1+1e-8) {
				t.Errorf("%s: circle %d sticks out to %g", k.name, i, from)
			}
			for _, b := range all[:i] {
				if d := math.Hypot(float64(a.X-b.X), float64(a.Y-b.Y)); d < float64(a.Diameter+b.Diameter)/2*(1-1e-8) {
					t.Errorf("%s: circles %g apart", k.name, d)
				}
			}
		}
	}
	if _, all := inValleys(three, 1+h, []float64{inner}); math.Hypot(float64(all[3].X), float64(all[3].Y)) > 1e-6 {
		t.Errorf("not in the middle: %+v", all[3])
	}
}

// plainAround is around with every angle worked out where it is wanted.
func plainAround(base float64, r []float64) (at []float64, need float64) {
	most := apart(base, slices.Max(r), slices.Max(r))
	at = make([]float64, len(r))
	for i := range r {
		for j := i - 1; j >= 0 && at[i] < at[j]+most; j-- {
			at[i] = max(at[i], at[j]+apart(base, r[j], r[i]))
		}
	}
	for i := len(r) - 1; i > 0 && at[i]+most > need; i-- {
		for j := 0; j < i && at[i]-at[j]+most > need; j++ {
			need = max(need, at[i]-at[j]+apart(base, r[j], r[i]))
		}
	}
	return at, need
}

// Angles that are remembered are those that are worked out, of few radii and of more than are remembered.
func TestAnglesAreRemembered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Float64Range(0.5, 40).Draw(t, "base")
		some := rapid.SliceOfN(rapid.Float64Range(0.3, 6), 1, mostKinds+4).Draw(t, "radii")
		r := rapid.SliceOfN(rapid.SampledFrom(some), 1, 60).Draw(t, "r")
		at, need := around(base, r)
		if plain, want := plainAround(base, r); need != want || !slices.Equal(at, plain) {
			t.Fatalf("%v needing %v, plainly %v needing %v", at, need, plain, want)
		}
	})
}

// What lies in the valleys of a core adds nothing to it: two of radius 6 and as many thin ones as are tried there.
func TestCoreWithFullValleys(t *testing.T) {
	r := append([]float64{6, 6}, slices.Repeat([]float64{0.5}, mostValley-2)...)
	if c := (cores{}).of(r); c.outside != 12 || len(c.at) != len(r) {
		t.Errorf("%d circles within %v", len(c.at), c.outside)
	}
}

// Of two stacks that which is within the limit comes first, of two beyond it the thinner, of equals that with fewer fillers, then with less built up, then the
// thinner.
func TestBetter(t *testing.T) {
	s := &stacker{limit: 10}
	ranked := []*stack{{radius: 10}, {radius: 9, opened: 1}, {radius: 10, opened: 1}, {radius: 8, fills: 1}, {radius: 11}, {radius: 11, fills: 2}, {radius: 11, fills: 2, opened: 1}, {radius: 12}, {radius: 30}, nil}
	for i, a := range ranked[:len(ranked)-1] {
		for k, b := range ranked {
			if got := s.better(a, b); got != (i < k) {
				t.Errorf("%+v before %+v: %v", a, b, got)
			}
		}
	}
}
