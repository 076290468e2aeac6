package unit

import (
	"fmt"
	"math"
	"testing"
)

// TestOnPaper: how each quantity is printed, to its own decimals: a digit less matters to a workshop, a digit more to nobody.
func TestOnPaper(t *testing.T) {
	for _, c := range []struct {
		x    fmt.Stringer
		want string
	}{
		{Length(12.345), "12.3 mm"}, {Length(-0.01), "0 mm"}, {Area(0.51234), "0.512 mm2"}, {Current(1.23456), "1.235 A"}, {Voltage(13.98765), "13.988 V"}, {Power(21.987), "21.99 W"},
		{Time(0.12345), "0.123 s"}, {Time(3599), "3599 s"}, {Time(3600), "1 h"}, {Time(3599.9), "3599.9 s"}, {Time(5432.1), "1.51 h"}, {Temperature(-40.26), "-40.3 C"}, {TempDiff(29.96), "30 K"},
		{Ratio(0.12345), "12.35 %"}, {Ratio(1), "100 %"}, {Force(66.66), "66.7 N"}, {Mass(1.23456), "1.235 kg"}, {Torque(2.26), "2.3 Nm"}, {Angle(12.26), "12.3 deg"}, {Charge(40.126), "40.13 Ah"},
		{Conductivity(0.12345), "0.123 W/mK"},
		{Resistance(0.9994), "999.4 mohm"}, {Resistance(0.00123456), "1.235 mohm"}, {Resistance(1), "1 ohm"}, {Resistance(1.5), "1.5 ohm"}, {Resistance(47.12345), "47.123 ohm"}, {Resistance(-0.002), "-2 mohm"}, {Resistance(-2), "-2 ohm"},
		{LinearResistance(0.01234567), "12.3457 mohm/m"},
		{AWG(0), "0 AWG"}, {AWG(1), "1 AWG"}, {AWG(30), "30 AWG"}, {AWG(-1), "00 AWG"}, {AWG(-2), "000 AWG"}, {AWG(-3), "0000 AWG"}, {Metric(0.35), "0.35 mm2"},
	} {
		if got := c.x.String(); got != c.want {
			t.Errorf("%T %v: %s, want %s", c.x, c.x, got, c.want)
		}
	}
	for q, want := range map[Quantity]string{
		{Value: 1.23456789, Dim: DimNone}: "1.234568", {Value: 1.23456789, Dim: DimVoltage}: "1.234568 V", {Value: 0.1234567891, Dim: DimRatio}: "12.345679 %", {Value: 20, Dim: DimGauge}: "20 AWG",
		{Value: -1, Dim: DimGauge}: "00 AWG", {Value: 0.005, Dim: DimResistance}: "5 mohm", {Value: 0.012, Dim: DimLinearResistance}: "12 mohm/m", {Value: 2.5, Dim: DimArea}: "2.5 mm2", {Value: 3, Dim: Dim(200)}: "3",
	} {
		if got := q.String(); got != want {
			t.Errorf("%v of %v: %s, want %s", q.Value, q.Dim, got, want)
		}
	}
	for _, c := range []struct {
		x        float64
		decimals int
		number   string
		fixed    string
	}{{100, 0, "100", "100"}, {1000, 2, "1000", "1000.00"}, {0.5, 1, "0.5", "0.5"}, {-0.04, 1, "0", "0.0"}, {-0.06, 1, "-0.1", "-0.1"}, {1.05, 2, "1.05", "1.05"}, {10.50, 2, "10.5", "10.50"}, {0, 0, "0", "0"}, {-0.4, 0, "0", "0"}, {-3, 0, "-3", "-3"}} {
		if got := Number(c.x, c.decimals); got != c.number {
			t.Errorf("%v to %d: %s, want %s", c.x, c.decimals, got, c.number)
		}
		if got := Fixed(c.x, c.decimals); got != c.fixed {
			t.Errorf("%v to just %d: %s, want %s", c.x, c.decimals, got, c.fixed)
		}
	}
}

// TestLaws: Ohm's law, charge as current over time, resistance as resistance per length over length, by hand.
func TestLaws(t *testing.T) {
	for _, c := range []struct {
		what      string
		got, want float64
	}{
		{"2 A over 30 min in Ah", float64(Current(2).Over(1800)), 1}, {"5 A over 10 h", float64(Current(5).Over(36000)), 50},
		{"18 mohm/m over 2.5 m", float64(LinearResistance(0.018).Over(2500)), 0.045}, {"7 mohm/m over 50 cm", float64(LinearResistance(0.007).Over(500)), 0.0035},
		{"20 A over 5 mohm", float64(Resistance(0.005).Drop(20)), 0.1}, {"0.5 A over 4 ohm", float64(Resistance(4).Drop(0.5)), 2},
		{"3 % of 14 V", float64(Ratio(0.03).Of(14)), 0.42}, {"half of 0.5 V", float64(Ratio(0.5).Of(0.5)), 0.25},
	} {
		if math.Abs(c.got-c.want) > 1e-12 {
			t.Errorf("%s: %g, want %g", c.what, c.got, c.want)
		}
	}
	for x, want := range map[float64]bool{0: true, -1e300: true, math.Inf(1): false, math.Inf(-1): false} {
		if Finite(x) != want {
			t.Errorf("%g is finite: %v", x, !want)
		}
	}
	if Finite(math.NaN()) {
		t.Error("what is no number is finite")
	}
	if s := Within(Current(-2), 0.25); s != (Spread[Current]{-2.5, -2, -1.5}) {
		t.Errorf("%+v", s)
	}
	if s := Within(Current(4), 0.25); s != (Spread[Current]{3, 4, 5}) {
		t.Errorf("%+v", s)
	}
	if s := Exactly(Voltage(12)); s != (Spread[Voltage]{12, 12, 12}) {
		t.Errorf("%+v", s)
	}
}

// TestGauges: every gauge from 0000 to 30 reads as itself, and nothing else does.
func TestGauges(t *testing.T) {
	for n := -3; n <= 30; n++ {
		q, err := Parse(AWG(n).String())
		if s, ok := q.Size(); err != nil || !ok || s != AWG(n) {
			t.Errorf("%v: %v %v", AWG(n), s, err)
		}
	}
	for _, text := range []string{"00000 AWG", "31 AWG", "-1 AWG", "1.0 AWG", "01 AWG"} {
		if q, err := Parse(text); err == nil {
			t.Errorf("%s: %v", text, q)
		}
	}
}
