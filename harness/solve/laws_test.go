package solve

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// flows is the current of an element as its law is described, from its from to its to.
func flows(l Law, v float64) float64 {
	r, e := float64(l.Resistance), float64(l.Volts)
	switch l.Kind {
	case Ohmic:
		return v / r
	case Source:
		a := math.Max(0, (e-v)/r)
		if l.Limited {
			a = math.Min(a, float64(l.Most))
		}
		return -a
	case OneWay:
		return math.Max(0, (v-e)/r)
	case SteadyCurrent:
		return float64(l.Most) * math.Max(-1, math.Min(1, v/e))
	case SteadyPower:
		if math.Abs(v) < e {
			return v / (e * e / float64(l.Watts))
		}
		return float64(l.Watts) / v
	}
	return 0
}

// TestExportedLawsHold: the volts across each element and its law give its current, in cases and while a device starts.
func TestExportedLawsHold(t *testing.T) {
	met := map[LawKind]int{}
	starts := 0
	check := func(laws []Law, nw *Network, p *Point) {
		t.Helper()
		if len(laws) != len(nw.Elements) {
			t.Fatalf("%d laws of %d elements", len(laws), len(nw.Elements))
		}
		for i, e := range nw.Elements {
			met[laws[i].Kind]++
			got, want := float64(p.Amps[i]), flows(laws[i], float64(p.Volts[e.From]-p.Volts[e.To]))
			if e.Kind == Supply {
				got = -got
			}
			// the volts are good to a part in 1e15 of some 30, which a joint of r ohm makes so many amperes of
			slack := 1e-9 * math.Abs(got)
			if r := float64(laws[i].Resistance); r > 0 {
				slack += 1e-13 / r
			}
			if math.Abs(got-want) > slack+1e-9 {
				t.Errorf("%s carries %g A, by its law %+v %g", e.Name, got, laws[i], want)
			}
		}
	}
	for seed := range uint64(40) {
		pick := seeded(seed)
		r := drawn(t, pick, 4+int(seed%20), seed%2 == 0)
		for _, d := range r.job.Devices {
			for k := range d.Draws {
				if pick(0, 1) < 0.3 {
					d.Draws[k].Start = given(unit.Current(pick(1, 30)))
				}
			}
		}
		res := r.solve()
		check(Laws(res), res.Net, &res.Point)
		for i := range res.Starts {
			starts++
			p := res.Starts[i].Point()
			check(StartLaws(r.job, res, res.Starts[i].Device), res.Starts[i].Net, &p)
		}
	}
	for _, k := range []LawKind{Ohmic, Source, SteadyCurrent, SteadyPower} {
		if met[k] < 10 {
			t.Errorf("law %d was met %d times", k, met[k])
		}
	}
	if starts < 20 {
		t.Errorf("%d starts", starts)
	}
}

// TestStartLaws: which element takes its starting value, and as what.
func TestStartLaws(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).load("pump", design.ConstantPower, 4).load("lamp", design.ConstantCurrent, 2)
	pump := r.job.Devices[1]
	pump.Draws[0].Start = given(unit.Current(8))
	pump.Draws = append(pump.Draws,
		design.Draw{Amps: given(unit.Current(1)), At: given(unit.Voltage(12)), As: design.ConstantCurrent, Start: given(unit.Current(3)), From: at("plus"), To: at("minus")},
		design.Draw{Amps: given(unit.Current(1)), At: given(unit.Voltage(12)), As: design.ConstantCurrent, From: at("plus"), To: at("minus")},
		design.Draw{Amps: given(unit.Current(1)), At: given(unit.Voltage(12)), As: design.ConstantPower, Start: given(unit.Current(5)), From: at("open"), To: at("minus")})
	pump.Coils = []design.Coil{{Draw: design.Draw{Ohms: given(24 * ohm), At: given(unit.Voltage(12)), As: design.ConstantResistance, Start: given(unit.Current(2)), From: at("plus"), To: at("minus")}}}
	r.job.Devices[2].Draws[0].Start = given(unit.Current(9))
	res := r.wires("bat.plus", "pump.plus", 0.1, "pump.minus", "bat.minus", 0.1, "bat.plus", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1).solve()
	steady, laws := Laws(res), StartLaws(r.job, res, "pump")
	for i, e := range res.Net.Elements {
		want := steady[i]
		switch {
		case e.Device == "pump" && e.Kind == Load && e.Index == 0:
			want = Law{Kind: Ohmic, Resistance: 12.0 / 8}
		case e.Device == "pump" && e.Kind == Load && e.Index == 1: // an electronic load starts as one, with its knee at a quarter of 12 V
			want = Law{Kind: SteadyCurrent, Volts: 3, Most: 3}
		case e.Device == "pump" && e.Kind == Coil:
			want = Law{Kind: Ohmic, Resistance: 12.0 / 2}
		}
		got := laws[i]
		if got.Kind == Ohmic && want.Kind == Ohmic && math.Abs(float64(got.Resistance-want.Resistance)) < 1e-12 {
			continue
		}
		if got != want {
			t.Errorf("%s %d: %+v, want %+v", e.Name, e.Index, got, want)
		}
	}
	for _, device := range []string{"bat", "nobody"} {
		for i, l := range StartLaws(r.job, res, device) {
			if l != steady[i] {
				t.Errorf("start of %s: %s has %+v", device, res.Net.Elements[i].Name, l)
			}
		}
	}
}
