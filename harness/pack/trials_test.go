package pack

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// withinAnew is Within with every arrangement made anew.
func withinAnew(diameters []unit.Length, enough unit.Length) unit.Length {
	p, order, unitOf := newPile(diameters)
	n := len(p.r)
	if n == 0 || n < len(order) {
		return unit.Length(math.Inf(1))
	}
	found := unit.Length(math.Inf(1))
	try := func(x []float64) bool {
		found = min(found, unit.Length(2*p.open(x)*unitOf))
		return found <= enough
	}
	if n <= 2 {
		try(p.best())
		return found
	}
	if try(slices.Clone(p.tangent(p.inOrder()))) {
		return found
	}
	seed := dice(n)
	starts, _, steps := effort(n)
	for k := range min(starts, fewStarts) {
		x := p.start(k, &seed)
		p.press(x, roughly[:], steps, nil, nil)
		if try(x) {
			break
		}
	}
	return found
}

// TestTrialsGoOn: what was asked of the same circles before, in whatever order and with whatever aim, changes no answer.
func TestTrialsGoOn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SliceOfN(rapid.Map(rapid.SampledFrom([]float64{1.3, 1.9, 2.4, 4.4}), func(x float64) unit.Length { return unit.Length(x) }), 1, 12).Draw(t, "d")
		_, outside := Circles(d)
		for _, by := range rapid.SliceOfN(rapid.Float64Range(0.9, 1.5), 1, 4).Draw(t, "aims") {
			enough := unit.Length(by * float64(outside))
			if got, want := Within(d, enough), withinAnew(d, enough); got != want {
				t.Fatalf("within %v of %v in place of %v", got, enough, want)
			}
			slices.Reverse(d)
		}
	})
}
