package data

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

func TestBatteryInside(t *testing.T) {
	for _, c := range []struct {
		air  unit.Temperature
		want float64
	}{{25, 1}, {-18, 2}, {0, 1.4}, {12.5, 1.2}, {-60, 2.7}, {90, 0.85}, {unit.Temperature(math.NaN()), 2.7}} {
		if got, info := BatteryInsideAt(c.air); math.Abs(float64(got)-c.want) > 1e-12 || info.Basis != FromMemory {
			t.Errorf("at %v: %v %v, want %v", c.air, got, info, c.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		a := unit.Temperature(rapid.Float64Range(-80, 120).Draw(t, "a"))
		b := unit.Temperature(rapid.Float64Range(-80, 120).Draw(t, "b"))
		x, _ := BatteryInsideAt(min(a, b))
		y, _ := BatteryInsideAt(max(a, b))
		if x < y {
			t.Fatalf("colder %v has less than %v", x, y)
		}
	})
}

func TestBatteryCells(t *testing.T) {
	for _, c := range []struct {
		volts unit.Voltage
		want  int
	}{{6.3, 3}, {12, 6}, {12.7, 6}, {13.2, 6}, {24, 12}, {25.4, 12}, {26.4, 12}, {48, 24}, {0.1, 3}, {-5, 3}} {
		if got := BatteryCells(c.volts); got != c.want {
			t.Errorf("%v: %d cells, want %d", c.volts, got, c.want)
		}
	}
}
