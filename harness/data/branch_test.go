package data

import (
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// By hand from the draft's table: +25 to 0.3 m, +50 to 1.5 m, +100 to 3 m, +150 to 7.5 m, then 5 %.
func TestBranchOver(t *testing.T) {
	for long, want := range map[unit.Length]unit.Length{0: 0, 1: 25, 300: 25, 300.5: 50, 1500: 50, 2500: 100, 3000: 100, 7500: 150, 10000: 500} {
		if got, _ := BranchOver(long); got != want {
			t.Errorf("%s: +%s, want +%s", long, got, want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := unit.Length(rapid.Float64Range(0, 20000).Draw(t, "a"))
		b := a + unit.Length(rapid.Float64Range(0, 20000).Draw(t, "more"))
		x, _ := BranchOver(a)
		if y, _ := BranchOver(b); y < x {
			t.Fatalf("+%s at %s, +%s at %s", x, a, y, b)
		}
	})
}
