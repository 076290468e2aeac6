package data

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
)

func TestAdiabatic(t *testing.T) {
	checked := 0
	for _, r := range reference(t, "adiabatic_k.csv") {
		if r["conductor"] != "copper" {
			continue
		}
		checked++
		// printed as a whole number
		k := Copper.Adiabatic(unit.Temperature(num(t, r["initial_c"])), unit.Temperature(num(t, r["final_c"])))
		if want := num(t, r["k_printed"]); math.Abs(float64(k)-want) > 0.5 {
			t.Errorf("%s: %v, printed %v", r["insulation"], k, want)
		}
	}
	if checked < 4 {
		t.Errorf("only %d rows checked", checked)
	}
	k := Copper.Adiabatic(70, 160)
	area, ok := k.Area(1000, 0.25)
	if !ok || math.Abs(float64(area)-500/float64(k)) > 1e-9 {
		t.Errorf("1000 A for 0.25 s: %v", area)
	}
	if back, ok := k.Time(1000, area); !ok || math.Abs(float64(back)-0.25) > 1e-9 {
		t.Errorf("%v stands 1000 A for %v, want 0.25 s", area, back)
	}
	nan := unit.Temperature(math.NaN())
	for _, k := range []Adiabatic{Copper.Adiabatic(160, 160), Copper.Adiabatic(160, 70), Copper.Adiabatic(-300, 70), Copper.Adiabatic(nan, 70), Copper.Adiabatic(20, nan)} {
		if k != 0 {
			t.Errorf("no rise, no factor: %v", k)
		}
		if _, ok := k.Area(10, 1); ok {
			t.Error("no area without a factor")
		}
	}
}
