package protect

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

// blade10 is the 10 A blade of type C as its maker prints it.
var blade10 = []data.FuseGate{
	{Times: 1.1, Least: 360000},
	{Times: 1.35, Least: 0.75, Most: 600},
	{Times: 1.6, Least: 0.25, Most: 50},
	{Times: 2, Least: 0.15, Most: 5},
	{Times: 3.5, Least: 0.04, Most: 0.5},
	{Times: 6, Least: 0.02, Most: 0.1},
}

func TestHolds(t *testing.T) {
	for _, c := range []struct {
		amps     unit.Current
		d        unit.Time
		listed   unit.Ratio
		earliest unit.Time
		met      bool
	}{
		{11, 3600, 1.1, 360000, true},
		{11.5, 0.7, 1.35, 0.75, true}, // between 1.1 and 1.35 only the earliest at 1.35 is known
		{11.5, 0.8, 1.35, 0.75, false},
		{13.5, 0.75, 1.35, 0.75, false}, // at the earliest time it may be open
		{21, 0.03, 3.5, 0.04, true},
		{60, 0.019, 6, 0.02, true},
		{120, 0.004, 0, 0.005, true}, // twice the highest listed: a quarter of its time
		{120, 0.006, 0, 0.005, false},
	} {
		h := Holds(blade10, 10, c.amps, c.d)
		if h.Listed != c.listed || math.Abs(float64(h.Earliest-c.earliest)) > 1e-12 || h.Met != c.met || h.ByEnergy != (c.listed == 0) {
			t.Errorf("%v for %v: %+v", c.amps, c.d, h)
		}
	}
	if h := Holds(nil, 10, 5, 1); h.Met || h.Earliest != 0 {
		t.Errorf("without a gate nothing is claimed: %+v", h)
	}
}

func TestClears(t *testing.T) {
	for _, c := range []struct {
		amps   unit.Current
		listed unit.Ratio
		latest unit.Time
		energy data.Energy
	}{
		{8, 0, Never, 0},
		{13.4, 0, Never, 0}, // between 1.1 and 1.35 nothing forces it to open
		{13.5, 1.35, 600, 13.5 * 13.5 * 600},
		{15.9, 1.35, 600, 15.9 * 15.9 * 600},
		{34, 2, 5, 34 * 34 * 5},
		{60, 6, 0.1, 360},
		{600, 6, 0.001, 360}, // beyond the gate the energy stays
	} {
		x := Clears(FuseRef{"box", 0}, blade10, 10, c.amps)
		if x.Listed != c.listed || math.Abs(float64(x.Latest-c.latest)) > 1e-12 || math.Abs(float64(x.Energy-c.energy)) > 1e-6 {
			t.Errorf("%v: %+v", c.amps, x)
		}
	}
}

// A greater current is never cleared later nor held longer, and no gate both holds a current and has opened by then.
func TestGateIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom(data.FuseKinds).Draw(t, "kind")
		rating := unit.Current(rapid.Float64Range(1, 500).Draw(t, "rating"))
		gate := data.FuseGateOf(kind, rating)
		a := rating * unit.Current(rapid.Float64Range(0.1, 50).Draw(t, "times"))
		b := a * unit.Current(rapid.Float64Range(1, 5).Draw(t, "more"))
		f := FuseRef{}
		ca, cb := Clears(f, gate, rating, a), Clears(f, gate, rating, b)
		if ca.Latest != Never && (cb.Latest == Never || cb.Latest > ca.Latest*(1+1e-9)) {
			t.Fatalf("%v cleared by %v, %v by %v", a, ca.Latest, b, cb.Latest)
		}
		ha, hb := Holds(gate, rating, a, 1), Holds(gate, rating, b, 1)
		if hb.Earliest > ha.Earliest*(1+1e-9) {
			t.Fatalf("%v holds %v, %v holds %v", a, ha.Earliest, b, hb.Earliest)
		}
		if ca.Latest != Never && ha.Earliest > ca.Latest*(1+1e-9) {
			t.Fatalf("%v holds %v yet clears by %v", a, ha.Earliest, ca.Latest)
		}
	})
}
