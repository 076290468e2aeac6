package heat

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
)

// TestStandardAtmosphere: the table of the international standard atmosphere, from memory to its four digits; no step at 11 km, and bounds below the sea and above
// 20 km.
func TestStandardAtmosphere(t *testing.T) {
	for km, want := range map[float64]float64{0: 101325, 1: 89875, 2: 79495, 8: 35600, 11: 22632, 15: 12045, 20: 5475} {
		near(t, "pressure", pressureAt(unit.Length(km*1e6)), want, 2e-3)
	}
	const step = 1e3 // 1 m: 1 / 6341.6 of the pressure
	for _, h := range []float64{10.9995e6, 11e6, 11.0005e6} {
		a, b := pressureAt(unit.Length(h-step/2)), pressureAt(unit.Length(h+step/2))
		if fall := (a - b) / a; math.Abs(fall-1/6341.6) > 0.1/6341.6 {
			t.Errorf("at %g mm it falls by %g in a metre", h, fall)
		}
	}
	if pressureAt(-5e5) != pressureAt(0) || pressureAt(30e6) != pressureAt(20e6) || pressureAt(unit.Length(math.NaN())) != pressureAt(20e6) { // what is no altitude is taken for the thinnest air
		t.Error("beyond the bounds")
	}
}
