package unit

import (
	"math"
	"slices"
	"testing"
)

// TestEveryUnitsScale: what each unit is in the base unit of its dimension, by the SI's prefixes and the inch of 25.4 mm.
func TestEveryUnitsScale(t *testing.T) {
	milli, kilo := 1.0/1000, 1000.0
	want := map[string]struct {
		dim   Dim
		scale float64
	}{
		"mm": {DimLength, 1}, "cm": {DimLength, 10}, "m": {DimLength, kilo}, "inch": {DimLength, 25.4}, "ft": {DimLength, 12 * 25.4}, "mm2": {DimArea, 1}, "AWG": {DimGauge, 1},
		"A": {DimCurrent, 1}, "mA": {DimCurrent, milli}, "V": {DimVoltage, 1}, "mV": {DimVoltage, milli},
		"ohm": {DimResistance, 1}, "mohm": {DimResistance, milli}, "uohm": {DimResistance, milli * milli}, "kohm": {DimResistance, kilo},
		"ohm/m": {DimLinearResistance, 1}, "mohm/m": {DimLinearResistance, milli}, "ohm/km": {DimLinearResistance, milli},
		"W": {DimPower, 1}, "kW": {DimPower, kilo}, "mW": {DimPower, milli}, "s": {DimTime, 1}, "ms": {DimTime, milli}, "us": {DimTime, milli * milli}, "min": {DimTime, 60}, "h": {DimTime, 60 * 60},
		"C": {DimTemperature, 1}, "K": {DimTempDiff, 1}, "%": {DimRatio, 1.0 / 100}, "N": {DimForce, 1}, "kg": {DimMass, 1}, "g": {DimMass, milli}, "Nm": {DimTorque, 1},
		"Ah": {DimCharge, 1}, "deg": {DimAngle, 1}, "kPa": {DimPressure, 1}, "bar": {DimPressure, 100}, "W/mK": {DimConductivity, 1},
	}
	for _, u := range Units {
		w, ok := want[u.Name]
		if !ok {
			t.Errorf("%s is not in the list", u.Name)
			continue
		}
		delete(want, u.Name)
		for _, name := range append([]string{u.Name}, u.Also...) {
			text := "12 " + name
			q, err := Parse(text)
			if err != nil || q.Dim != w.dim || math.Abs(q.Value-12*w.scale) > 1e-12*12*w.scale {
				t.Errorf("%s: %v of %v (%v), want %g of %v", text, q.Value, q.Dim, err, 12*w.scale, w.dim)
			}
		}
		if !slices.Contains(w.dim.Units(), u.Name) {
			t.Errorf("%s is not among the units of %v", u.Name, w.dim)
		}
	}
	for name := range want {
		t.Errorf("%s is missing", name)
	}
	// the base unit is the first of its dimension, with a scale of 1
	for d := DimLength; d <= DimCharge; d++ {
		for _, name := range d.Units() {
			if u, ok := LookUp(name); !ok || u.Dim != d {
				t.Errorf("%s is listed for %v", name, d)
			}
		}
		if u, _ := LookUp(append(d.Units(), "")[0]); u.Factor != 1 && d != DimRatio {
			t.Errorf("%v begins with %q", d, u.Name)
		}
	}
}

func TestOddNumbers(t *testing.T) {
	for text, want := range map[string]float64{"0 V": 0, ".5 V": 0.5, "9 V": 9, "0.07 V": 0.07, "1e3": math.NaN(), "1e308 kohm": math.NaN(), "-0.5 V": -0.5} {
		q, err := Parse(text)
		if math.IsNaN(want) != (err != nil) || err == nil && q.Value != want {
			t.Errorf("%q: %v, %v", text, q.Value, err)
		}
	}
	huge := "1" + string(slices.Repeat([]byte("0"), 307)) // 1e307 is a number, 1e310 ohm is not
	if _, err := Parse(huge + " ohm"); err != nil {
		t.Errorf("1e307 ohm: %v", err)
	}
	if q, err := Parse(huge + " kohm"); err == nil {
		t.Errorf("1e310 ohm: %v", q.Value)
	}
	for text, ok := range map[string]bool{"30 AWG": true, "31 AWG": false, "0 AWG": true, "05 AWG": false} {
		if _, err := Parse(text); (err == nil) != ok {
			t.Errorf("%s: %v", text, err)
		}
	}
}

func TestSizeOfAQuantity(t *testing.T) {
	for _, c := range []struct {
		text string
		want Size
		ok   bool
	}{
		{"0.5 mm2", Metric(0.5), true}, {"2.5 mm2", Metric(2.5), true}, {"0 mm2", Size{}, false}, {"-1 mm2", Size{MM2: -1}, false},
		{"20 AWG", AWG(20), true}, {"0 AWG", AWG(0), true}, {"0000 AWG", AWG(-3), true}, {"3 mm", Size{}, false}, {"3", Size{}, false},
	} {
		q, err := Parse(c.text)
		if err != nil {
			t.Fatal(err)
		}
		if s, ok := q.Size(); ok != c.ok || ok && s != c.want {
			t.Errorf("%s: %v %v", c.text, s, ok)
		}
	}
}

// TestOrderOfEqualAreas: a metric size of just the area of a gauge stands before it, never both ways round, and nothing stands before itself.
func TestOrderOfEqualAreas(t *testing.T) {
	g := AWG(20)
	m := Metric(g.Area())
	if !m.Less(g) || g.Less(m) || m.Less(m) || g.Less(g) {
		t.Error("sizes of one area")
	}
	for _, s := range []Size{Metric(0.5), AWG(20), AWG(-3), Metric(120)} {
		// the area of the solid round of that diameter
		if d := float64(s.Diameter()); math.Abs(math.Pi*d*d/4-float64(s.Area())) > 1e-12*float64(s.Area()) {
			t.Errorf("%v: %g mm across, %v", s, d, s.Area())
		}
	}
}
