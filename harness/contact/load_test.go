package contact

import (
	"math"
	"strings"
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// area is a gauge's area over that of 18 AWG, by the gauge's own law: six gauges halve the diameter, 39 make 92.
func area(gauge int) unit.Ratio {
	return unit.Ratio(math.Pow(92, -2*float64(gauge-18)/39))
}

// TestLoadByHand: the printed factors of the pattern (18 AWG 1, 22 AWG 0.647, 28 AWG 0.384 alone; 0.618 and 0.4 at 0.26 of the cavities), the root where it leaves
// more, and what lies below the thinnest.
func TestLoadByHand(t *testing.T) {
	root2 := 1 / math.Sqrt2
	for _, c := range []struct {
		name     string
		equal    float64
		cavities int
		wired    unit.Ratio
		want     float64
		spread   bool // the root ruled
		known    bool
	}{
		{"alone on its wire", 1, 100, 1, 1, false, true},
		{"less than one counts as one", 0.2, 100, 1, 1, false, true},
		{"on a thicker wire", 1, 100, 3, 1, false, true},
		{"on 22 AWG", 1, 100, area(22), 0.647, false, true},
		{"on 28 AWG, the thinnest", 1, 100, area(28), 0.384, false, true},
		{"on just the thinnest", 1, 100, unit.Ratio(data.ContactLoads[0].Size.Area() / base.Area()), 0.384, false, true},
		{"on half of the thinnest", 1, 100, area(28) / 2, 0.384 / 2, false, false},
		{"on a tenth of the thinnest", 1, 100, area(28) / 10, 0.384 / 10, false, false},
		{"wire not known", 1, 100, 0, 1, false, false},
		{"26 of 100", 26, 100, 1, 0.618, false, true},
		{"26 of 100 on 22 AWG", 26, 100, area(22), 0.4, false, true},
		{"two of two", 2, 2, 1, root2, true, true},
		{"two of two on 22 AWG", 2, 2, area(22), 0.647 * root2, true, true},
		{"two of a housing that is not known", 2, 0, 1, root2, true, true},
		{"four of four", 4, 4, 1, 0.5, true, true},
	} {
		f, by, known := load(c.equal, c.cavities, c.wired)
		if math.Abs(float64(f)-c.want) > 1e-9 || known != c.known || strings.Contains(by, "no more heat") != c.spread {
			t.Errorf("%s: %v by %q, known %v", c.name, f, by, known)
		}
	}
	// beyond all cavities it is a full connector
	full, _, _ := data.ContactLoad(1, unit.AWG(18))
	for _, cavities := range []int{0, 100} {
		if f, _, _ := load(1e6, cavities, 1); f != full {
			t.Errorf("of %d cavities: %v, full %v", cavities, f, full)
		}
	}
}

// TestWarmByHand: the rise goes with the square of the current: a quarter of the rise left is half of the current.
func TestWarmByHand(t *testing.T) {
	for _, c := range []struct {
		heat, air unit.Temperature
		rise      unit.TempDiff
		want      float64
	}{
		{0, 500, 30, 1}, {125, 20, 30, 1}, {125, 95, 30, 1}, {125, 117.5, 30, 0.5}, {125, 124.7, 30, 0.1}, {125, 125, 30, 0}, {125, 126, 30, 0},
		{125, 124.5, 0, 1}, {125, 124.5, -3, 1}, {125, 130, 0, 0}, {1, 0.5, 2, 0.5}, {125, 124.5, 2, 0.5}, {125, 124.5, 0.5, 1}, {-10, -40, 120, 0.5},
	} {
		if got := float64(warm(c.heat, c.air, c.rise)); math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%+v: %g", c, got)
		}
	}
}

// TestWorseResult: a greater share of what is allowed, then more current, then less allowed.
func TestWorseResult(t *testing.T) {
	in := []EndResult{{Shared: 5, Allowed: 0}, {Shared: 9, Allowed: 10}, {Shared: 4, Allowed: 5}, {Shared: 2, Allowed: 2.5}, {Shared: 1, Allowed: 10}, {Shared: 0, Allowed: 3}, {Shared: 0, Allowed: 7}}
	for i := range in {
		for j := range in {
			if got := in[i].over(&in[j]); got != (i < j) {
				t.Errorf("%d over %d: %v", i, j, got)
			}
		}
	}
}
