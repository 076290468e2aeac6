package margin

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// TestCross finds roots of straight, bent and broken lines, and says what it found.
func TestCross(t *testing.T) {
	for name, c := range map[string]struct {
		over func(float64) float64
		end  float64
		want crossing
	}{
		"straight":      {func(x float64) float64 { return x - 0.7 }, 2, crossing{at: 0.7}},
		"backward":      {func(x float64) float64 { return -x - 0.7 }, -2, crossing{at: -0.7}},
		"near":          {func(x float64) float64 { return x - 0.003 }, 2, crossing{at: 0.003}},
		"bent":          {func(x float64) float64 { return math.Exp(8*x) - math.Exp(4) }, 1, crossing{at: 0.5}},
		"flat, then up": {func(x float64) float64 { return math.Pow(x, 9) - 0.5 }, 1, crossing{at: math.Pow(0.5, 1.0/9)}},
		"never":         {func(x float64) float64 { return -1 - x }, 2, crossing{at: 2, beyond: true}},
		"at the end":    {func(x float64) float64 { return x - 1.9999 }, 2, crossing{at: 1.9999}},
		"broken":        {func(x float64) float64 { return x - 0.2 }, 1, crossing{at: 0.2}},
		"jump": {func(x float64) float64 {
			if x > 0.4 {
				return 0.5
			}
			return -0.5
		}, 1, crossing{at: 0.4, stops: true}},
		"lost": {func(x float64) float64 {
			if x > 0.4 {
				return math.Inf(1)
			}
			return -0.5
		}, 1, crossing{at: 0.4, stops: true}},
		"missed":        {func(x float64) float64 { return 0.1 }, 1, crossing{missed: true}},
		"not a number":  {func(x float64) float64 { return math.NaN() }, 1, crossing{missed: true}},
		"back far out":  {func(x float64) float64 { return 0.1 - math.Abs(x-0.3) }, 1, crossing{at: 0.2}},
		"no range":      {func(x float64) float64 { return -1 }, 0, crossing{beyond: true}},
		"soon infinite": {func(x float64) float64 { return 1/math.Max(0, 0.5-x) - 4 }, 1, crossing{at: 0.25}},
	} {
		n := 0
		got := cross(func(x float64) float64 { n++; return c.over(x) }, c.end)
		if math.Abs(got.at-c.want.at) > 2e-5*math.Abs(c.end) {
			t.Errorf("%s: at %v, want %v", name, got.at, c.want.at)
		}
		got.at, c.want.at = 0, 0
		if got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
		if n > 45 {
			t.Errorf("%s took %d solutions", name, n)
		}
	}
}

// TestCrossIsTheLimit: of a rising line the limit is met to a hundred-thousandth where it says so.
func TestCrossIsTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		power := rapid.Float64Range(0.3, 6).Draw(t, "power")
		root := rapid.Float64Range(0.001, 0.999).Draw(t, "root")
		over := func(x float64) float64 { return math.Pow(x/root, power) - 1 }
		if got := cross(over, 1); got.beyond || got.stops || got.missed || math.Abs(over(got.at)) > exactly {
			t.Fatalf("%+v is %v off", got, over(got.at))
		}
	})
}
