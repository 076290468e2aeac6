package pack

import (
	"math"
	"slices"
	"testing"

	"loomsheet/harness/unit"
)

// What is remembered of equal circles is what the search comes to, to the last digit, and it is of those alone that need more than the trade's figure.
func TestEquals(t *testing.T) {
	for n := 3; n <= 61; n++ {
		p := &pile{r: slices.Repeat([]float64{1}, n)}
		x := equals[n]
		if wide := !(equal(n) <= 1.2*math.Sqrt(float64(n))); wide != (x != nil) {
			t.Errorf("%d equal circles: wider than the trade's figure %v, remembered %v", n, wide, x != nil)
		}
		if x == nil {
			continue
		}
		want := p.best()
		if p.open(want); !slices.Equal(x, want) {
			t.Errorf("%d equal circles: remembered\n%v, found\n%v", n, x, want)
		}
		for _, d := range []unit.Length{1, 1.6, 1.7, 2.05, 9.9, 1e-3, 1e7 / 3} {
			q, _, _ := newPile(slices.Repeat([]unit.Length{d}, n))
			if q.known() == nil {
				t.Errorf("%d circles of %v are not known", n, d)
			}
		}
	}
	if p, _, _ := newPile([]unit.Length{1, 1, 1.01}); p.known() != nil {
		t.Error("unlike circles are taken for equal ones")
	}
}

// equal is the least radius that holds n equal circles of radius 1, to some digits.
func equal(n int) float64 { return known[n-1] }
