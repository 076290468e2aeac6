package assembly

import (
	"math"
	"slices"
	"testing"

	"loomsheet/harness/unit"

	"pgregory.net/rapid"
)

func TestApart(t *testing.T) {
	for _, c := range []struct {
		width, radius unit.Length
		want          float64
	}{{10, 10, 60}, {10, 5 * math.Sqrt2, 90}, {20, 10, 180}, {30, 10, 180}, {1, 0, 180}} {
		if got := float64(apart(c.width, c.radius)); math.Abs(got-c.want) > 1e-6 {
			t.Errorf("%v at %v: %v, want %v", c.width, c.radius, got, c.want)
		}
	}
}

// Two that leave alike are turned by half each; one that is far off is left.
func TestLoosen(t *testing.T) {
	now := []unit.Angle{10, 10, 200}
	loosen(now, []unit.Angle{40, 30, 30})
	for i, want := range []float64{-10, 30, 200} {
		if math.Abs(float64(now[i])-want) > 0.02 {
			t.Errorf("%v", now)
		}
	}
}

// Where there is room all are clear of one another, and still in their order.
func TestLoosenMakesRoom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 5).Draw(t, "lugs")
		now, need := make([]unit.Angle, n), make([]unit.Angle, n)
		for i := range now {
			now[i] = unit.Angle(rapid.Float64Range(0, 359).Draw(t, "angle"))
			need[i] = unit.Angle(rapid.Float64Range(0, 340/float64(n)).Draw(t, "need"))
		}
		slices.Sort(now)
		loosen(now, need)
		for i := range now {
			gap := now[(i+1)%n] - now[i]
			if i == n-1 {
				gap += 360
			}
			if gap < need[i]-0.5 {
				t.Fatalf("%v for %v", now, need)
			}
		}
	})
}

func TestSpan(t *testing.T) {
	for want, names := range map[string][]string{"1 to 4, 6, 7, 9": {"9", "1", "2", "3", "4", "7", "6"}, "a, b": {"b", "a"}, "2": {"2", "2"}, "9 to 11": {"10", "11", "9"}, "": nil} {
		if got := span(names); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
