package fix

import (
	"math"
	"runtime"
	"slices"
	"testing"
	"weak"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// lie lays a chain where no run is, until what it returns is called.
func lie(c *chain, spots []spot) (end func()) {
	c.lain = &lain{kept: weak.Make(&spots)}
	return func() { runtime.KeepAlive(&spots) }
}

// TestPlacesAreLaidAgain: what was let go of is where it was.
func TestPlacesAreLaidAgain(t *testing.T) {
	r := beside(20)
	nt, bundles := r.laid()
	m := newMaker(r.job, nt, bundles)
	m.findChains()
	for _, c := range m.chains {
		first := c.spots()
		if len(first) == 0 {
			t.Fatal("no places")
		}
		*c.lain = lain{}
		if again := c.spots(); !slices.Equal(again, first) {
			t.Fatalf("%v in place of %v", again, first)
		}
	}
}

// TestNearestPlaceIsThatOfAll: what is passed by is no nearer than what is found, whatever was guessed.
func TestNearestPlaceIsThatOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := &chain{}
		var spots []spot
		at, step := design.Point3{}, 0.0
		for range rapid.IntRange(1, 5).Draw(t, "legs") {
			turn := rapid.SampledFrom([]float64{0, math.Pi / 2, math.Pi, 0.3, 2}).Draw(t, "turn")
			long := rapid.SampledFrom([]float64{1, 1, 0.97, 0}).Draw(t, "step")
			step = max(step, long)
			for range rapid.IntRange(1, 40).Draw(t, "places") {
				spots = append(spots, spot{at: at, known: true})
				at.X, at.Y = at.X+unit.Length(long*math.Cos(turn)), at.Y+unit.Length(long*math.Sin(turn))
			}
		}
		defer lie(c, spots)()
		if step > 0 {
			c.dense = 1 / step
		}
		p := design.Point3{X: unit.Length(rapid.IntRange(-20, 60).Draw(t, "x")), Y: unit.Length(rapid.IntRange(-20, 60).Draw(t, "y")), Z: unit.Length(rapid.SampledFrom([]float64{0, 3.5}).Draw(t, "z"))}
		want, least := -1, unit.Length(0)
		for i := range spots {
			if d := space.Between(p, spots[i].at); want < 0 || d < least {
				want, least = i, d
			}
		}
		for _, guess := range []int{-1, want, rapid.IntRange(0, len(spots)-1).Draw(t, "guess")} {
			if q, d := c.nearestTo(p, guess); q != want || d != least {
				t.Fatalf("guessed %d: place %d at %v in place of %d at %v", guess, q, d, want, least)
			}
		}
	})
	c := &chain{}
	defer lie(c, make([]spot, 3))()
	if q, _ := c.nearestTo(design.Point3{}, 1); q != -1 {
		t.Errorf("place %d of none that is known", q)
	}
}
