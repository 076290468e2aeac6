package fix

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// TestNearestPlaceIsThatOfAll: what is passed by is no nearer than what is found, whatever was guessed.
func TestNearestPlaceIsThatOfAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := &chain{}
		at, step := design.Point3{}, 0.0
		for range rapid.IntRange(1, 5).Draw(t, "legs") {
			turn := rapid.SampledFrom([]float64{0, math.Pi / 2, math.Pi, 0.3, 2}).Draw(t, "turn")
			long := rapid.SampledFrom([]float64{1, 1, 0.97, 0}).Draw(t, "step")
			step = max(step, long)
			for range rapid.IntRange(1, 40).Draw(t, "places") {
				c.spots = append(c.spots, spot{at: at, known: true})
				at.X, at.Y = at.X+unit.Length(long*math.Cos(turn)), at.Y+unit.Length(long*math.Sin(turn))
			}
		}
		if step > 0 {
			c.dense = 1 / step
		}
		p := design.Point3{X: unit.Length(rapid.IntRange(-20, 60).Draw(t, "x")), Y: unit.Length(rapid.IntRange(-20, 60).Draw(t, "y")), Z: unit.Length(rapid.SampledFrom([]float64{0, 3.5}).Draw(t, "z"))}
		want, least := -1, unit.Length(0)
		for i := range c.spots {
			if d := space.Between(p, c.spots[i].at); want < 0 || d < least {
				want, least = i, d
			}
		}
		for _, guess := range []int{-1, want, rapid.IntRange(0, len(c.spots)-1).Draw(t, "guess")} {
			if q, d := c.nearestTo(p, guess); q != want || d != least {
				t.Fatalf("guessed %d: place %d at %v in place of %d at %v", guess, q, d, want, least)
			}
		}
	})
	if q, _ := (&chain{spots: make([]spot, 3)}).nearestTo(design.Point3{}, 1); q != -1 {
		t.Errorf("place %d of none that is known", q)
	}
}
