package unit

import (
	"bytes"
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  Dim
		want float64
	}{
		{"2.5 mm2", DimArea, 2.5}, {"2.5mm²", DimArea, 2.5}, {"20 AWG", DimGauge, 20}, {"0000 AWG", DimGauge, -3}, {"00 AWG", DimGauge, -1}, {"0 AWG", DimGauge, 0},
		{"5 mohm", DimResistance, 0.005}, {"5 mΩ", DimResistance, 0.005}, {"120 Ω", DimResistance, 120}, {"200 µΩ", DimResistance, 2e-4},
		{"12 mohm/m", DimLinearResistance, 0.012}, {"3.08 ohm/km", DimLinearResistance, 0.00308}, {"-5 C", DimTemperature, -5}, {"−5 °C", DimTemperature, -5},
		{"3 %", DimRatio, 0.03}, {"3%", DimRatio, 0.03}, {"1 inch", DimLength, 25.4}, {"2 ft", DimLength, 609.6}, {"1.5 m", DimLength, 1500}, {"40 ms", DimTime, 0.04},
		{"2 h", DimTime, 7200}, {"90 min", DimTime, 5400}, {"15 mA", DimCurrent, 0.015}, {"350 mV", DimVoltage, 0.35}, {"9 Nm", DimTorque, 9}, {"50 N", DimForce, 50}, {"2 kg", DimMass, 2},
		{"10 K", DimTempDiff, 10}, {"4", DimNone, 4}, {"0.15 W/mK", DimConductivity, 0.15},
	} {
		q, err := Parse(c.text)
		if err != nil || q.Dim != c.dim || math.Abs(q.Value-c.want) > 1e-12*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%q: %v %v (%v), want %v of %v", c.text, q.Value, q.Dim, err, c.want, c.dim)
		}
	}
	for _, text := range []string{"", "mm", "2 mm3", "NaN V", "Inf A", "1e999 V", "31 AWG", "2.5 AWG", "-1 AWG", "000000 AWG", "1..2 A", "--1 A", "2 \xff"} {
		if q, err := Parse(text); err == nil {
			t.Errorf("%q reads as %v", text, q)
		}
	}
}

// A quantity printed reads as the same quantity, to the printed decimals.
func TestPrintedReads(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.SampledFrom(Units).Draw(t, "unit")
		x := rapid.Float64Range(-9999, 9999).Draw(t, "value")
		if u.Dim == DimGauge {
			x = float64(rapid.IntRange(-3, 30).Draw(t, "gauge"))
		}
		q := Quantity{Value: x, Dim: u.Dim}
		back, err := Parse(q.String())
		if err != nil || back.Dim != q.Dim || math.Abs(back.Value-q.Value) > 6e-4 {
			t.Fatalf("%v prints %q, which reads %v (%v)", x, q.String(), back.Value, err)
		}
	})
}

func TestEveryDimensionHasAUnitAndAName(t *testing.T) {
	for d := DimLength; d <= DimConductivity; d++ {
		if len(d.Units()) == 0 || d.String() == "" {
			t.Errorf("dimension %d has no unit or no name", d)
		}
	}
	names := Names()
	for i := 1; i < len(names); i++ {
		if len(names[i]) > len(names[i-1]) {
			t.Errorf("%q after %q: longest first", names[i], names[i-1])
		}
	}
}

// AWG sizes against the table of ASTM B258 in testdata/reference (formula verified; columns computed from it).
func TestAWG(t *testing.T) {
	text, err := os.ReadFile(filepath.Join("..", "..", "testdata", "reference", "awg_astm_b258.csv"))
	if err != nil {
		t.Fatal(err)
	}
	r := csv.NewReader(bytes.NewReader(text))
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		n, _ := strconv.Atoi(row[1])
		d, _ := strconv.ParseFloat(row[3], 64)
		a, _ := strconv.ParseFloat(row[5], 64)
		s := AWG(n)
		if math.Abs(float64(s.Diameter())-d) > 1e-4 || math.Abs(float64(s.Area())-a) > 1e-4 {
			t.Errorf("AWG %s: %v, %v; the table says %v mm, %v mm2", row[0], s.Diameter(), s.Area(), d, a)
		}
	}
	if len(rows) < 20 {
		t.Errorf("%d rows", len(rows))
	}
}

// No gauge equals a metric size, and the order is by area.
func TestSizesInOrder(t *testing.T) {
	if Metric(0.5) == AWG(20) || !AWG(20).Less(Metric(0.75)) || !Metric(0.5).Less(AWG(20)) || AWG(16).Less(Metric(1.25)) {
		t.Error("sizes out of order")
	}
	for _, c := range []struct {
		s    Size
		want string
	}{{AWG(-3), "0000 AWG"}, {AWG(-1), "00 AWG"}, {AWG(0), "0 AWG"}, {AWG(20), "20 AWG"}, {Metric(2.5), "2.5 mm2"}, {Size{}, "no size"}} {
		if c.s.String() != c.want {
			t.Errorf("%q, want %q", c.s, c.want)
		}
	}
}

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		x        float64
		decimals int
		want     string
	}{{1.50, 2, "1.5"}, {-0.0001, 2, "0"}, {100, 0, "100"}, {0.125, 2, "0.12"}, {2, 3, "2"}} {
		if got := Number(c.x, c.decimals); got != c.want {
			t.Errorf("%v to %d: %s, want %s", c.x, c.decimals, got, c.want)
		}
	}
	if Fixed(-0.0001, 2) != "0.00" || Fixed(1.5, 2) != "1.50" {
		t.Error("Fixed")
	}
}
