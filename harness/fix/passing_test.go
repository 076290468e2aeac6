package fix

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Where a chain comes by a hole is found as if every place were looked at closely, its ears to either side.
func TestPassingIsThatOfAll(t *testing.T) {
	square := []solid.Point{{X: -100, Y: -100, Z: 5}, {X: 200, Y: -100, Z: 5}, {X: 200, Y: 200, Z: 5}, {X: -100, Y: 200, Z: 5}}
	plane, _, ok := solid.FlatOf(square, solid.Vector{Z: 1})
	if !ok {
		t.Fatal("no plane")
	}
	rapid.Check(t, func(t *rapid.T) {
		c := &chain{}
		var spots []spot
		at := design.Point3{}
		for k := range rapid.IntRange(1, 4).Draw(t, "legs") {
			turn := rapid.Float64Range(0, 6).Draw(t, "turn")
			x := earsFrom{place: len(spots)}
			if rapid.Bool().Draw(t, "panel") {
				x.sheet = &sheet{plane: plane}
				if x.apart = rapid.Bool().Draw(t, "apart"); x.apart {
					x.beside = solid.Vector{X: -8 * unit.Length(math.Sin(turn)), Y: 8 * unit.Length(math.Cos(turn))}
				}
			}
			if k > 0 || rapid.Bool().Draw(t, "first") {
				c.ears = append(c.ears, x)
			}
			for range rapid.IntRange(1, 30).Draw(t, "places") {
				spots = append(spots, spot{at: at, known: rapid.IntRange(0, 20).Draw(t, "known") > 0})
				at.X, at.Y = at.X+unit.Length(math.Cos(turn)), at.Y+unit.Length(math.Sin(turn))
			}
		}
		defer lie(c, spots)()
		for p := range spots {
			hole, _ := c.holes(p)
			c.far = max(c.far, space.Between(hole, spots[p].at))
		}
		q := design.Point3{X: unit.Length(rapid.IntRange(-20, 40).Draw(t, "x")), Y: unit.Length(rapid.IntRange(-20, 40).Draw(t, "y")), Z: 5}
		reach := unit.Length(rapid.SampledFrom([]float64{1, 4, 12, 40}).Draw(t, "reach"))
		got := c.closest(q, reach)
		c.far = unit.Length(math.Inf(1)) // nothing is passed over
		if want := c.closest(q, reach); !slices.Equal(got, want) {
			t.Fatalf("%v in place of %v", got, want)
		}
	})
}
