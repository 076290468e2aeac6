package protect

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestFarEndShortSense holds the shorts against the trade's check of sense: a 12 V source with 30 mohm, copper at 60 C, out and back: 0.35 mm2 of
// 6 m on 7.5 A gives 2.0 times the rating, 0.5 mm2 of 9 m on 10 A 1.5 times (minutes), 0.35 mm2 of 12 m on 10 A 0.8 times: that never blows.
// Resistances: ISO 6722-1, 52 and 37.1 mohm/m at 20 C. "6 m" there is one way.
func TestFarEndShortSense(t *testing.T) {
	for _, c := range []struct {
		area   unit.Area
		per    unit.LinearResistance
		metres float64
		rating unit.Current
		times  float64
		never  bool
	}{
		{0.35, 0.052, 6, 7.5, 2.0, false},
		{0.5, 0.0371, 9, 10, 1.5, false},
		{0.35, 0.052, 12, 10, 0.8, true},
	} {
		r := newRig(12, 0.030)
		f := r.fuse("box", c.rating, blade10)
		r.load("lamp", 1)
		r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
		r.wire("box.out", "lamp.1", c.metres, c.area, c.per, f)
		r.wire("lamp.2", "battery.neg", c.metres, c.area, c.per, f)
		for i := range r.sizes {
			r.sizes[i].Heat = 60 // the copper of the weakest short is at the rating
		}
		res := r.weigh()
		var weak *Short
		for i := range res.Shorts {
			if s := &res.Shorts[i]; !s.Strong {
				weak = s
			}
		}
		if weak == nil || len(weak.Fuses) != 1 {
			t.Fatalf("%v: no short with one fuse: %+v", c.area, res.Shorts)
		}
		x := weak.Fuses[0]
		if math.Abs(float64(x.Times)-c.times) > 0.07*c.times {
			t.Errorf("%v of %v m on %v: %.2f times the rating, want %v", c.area, c.metres, c.rating, float64(x.Times), c.times)
		}
		if (weak.Clears == Never) != c.never {
			t.Errorf("%v of %v m on %v: cleared after %v", c.area, c.metres, c.rating, weak.Clears)
		}
		// The same by hand: volts over inside, out and back at 60 C.
		hand := 12 / (0.030 + 2*c.metres*float64(c.per)*(234.5+60)/254.5)
		if math.Abs(float64(weak.Amps)-hand) > 0.005*hand {
			t.Errorf("short of %v, by hand %.3f A", weak.Amps, hand)
		}
	}
}

// A strong short lets its energy through by the gate, and the wire stands k2 S2 (IEC 60364-5-54, k = 226 sqrt(ln(1 + (t2 - t1)/(234.5 + t1)))).
func TestStrongShortAgainstAdiabaticLimit(t *testing.T) {
	r := newRig(12, 0.02)
	f := r.fuse("box", 10, blade10)
	r.load("lamp", 1)
	r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
	w := r.wire("box.out", "lamp.1", 1, 1, 0.0172, f)
	r.wire("lamp.2", "battery.neg", 1, 2.5, 0.0069, f)
	res := r.weigh()
	h := res.Wires[w].Short
	if h == nil {
		t.Fatal("the wire has no short")
	}
	s := res.Shorts[h.Short]
	if !s.Met || !h.Met {
		t.Errorf("the short is not met: %+v", s)
	}
	if math.Abs(float64(h.Energy)-360) > 1e-6 { // beyond 6 times the energy stays (6 x 10 A)2 x 0.1 s
		t.Errorf("lets through %v A2s, want 360", h.Energy)
	}
	k := 226 * math.Sqrt(math.Log(1+(155.0-60)/(234.5+60)))
	if want := k * k; math.Abs(float64(h.Stands)-want) > 0.01*want {
		t.Errorf("stands %v A2s, by hand %.0f", h.Stands, want)
	}
	reach := (234.5+60)*math.Exp(360/(226.0*226.0)) - 234.5
	if math.Abs(float64(h.Reaches)-reach) > 0.2 {
		t.Errorf("reaches %v, by hand %.2f", h.Reaches, reach)
	}
}

// A wire behind two sources bears its current until both fuses have opened; each leg only until its own has.
func TestTwoSourcesClearBoth(t *testing.T) {
	r := newRig(12, 0.01)
	r.job.Devices = append(r.job.Devices, &design.Device{Name: "second", Pins: []design.Pin{{Name: "pos", Housing: -1, Stud: "M8"}, {Name: "neg", Housing: -1, Stud: "M8"}},
		Supplies: []design.Supply{{Volts: fact[unit.Voltage](12), Inside: fact[unit.Resistance](0.01), From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}}})
	r.job.Cases[0].Supplies = append(r.job.Cases[0].Supplies, design.CaseSupply{Device: "second"})
	a, b := r.fuse("a", 10, blade10), r.fuse("b", 40, blade10)
	r.load("lamp", 1)
	legA := r.wire("battery.pos", "a.in", 1, 2.5, 0.007)
	legB := r.wire("second.pos", "b.in", 1, 2.5, 0.007)
	r.wire("a.out", "b.out", 0.1, 6, 0.003, a, b)
	far := r.wire("b.out", "lamp.1", 1, 1, 0.018, a, b)
	r.wire("lamp.2", "battery.neg", 1, 6, 0.003, a, b)
	r.wire("battery.neg", "second.neg", 0.1, 16, 0.001)
	res := r.weigh()
	la, lb, lf := res.Wires[legA].Short, res.Wires[legB].Short, res.Wires[far].Short
	if la == nil || lb == nil || lf == nil {
		t.Fatal("a wire has no short")
	}
	if !(la.Latest < lb.Latest) {
		t.Errorf("the leg of 10 A bears for %v, that of 40 A for %v", la.Latest, lb.Latest)
	}
	if lf.Latest < lb.Latest {
		t.Errorf("the common wire bears for %v, less than the slower leg's %v", lf.Latest, lb.Latest)
	}
	for _, s := range res.Shorts {
		if s.Supply {
			continue
		}
		if len(s.Fuses) != 2 || s.Clears != s.Fuses[1].Latest {
			t.Errorf("cleared after %v by %v", s.Clears, s.Fuses)
		}
	}
}

// A wire that leads to no load is shorted at its far end, its return counted as long as its feed when weak.
func TestDeadEnd(t *testing.T) {
	r := newRig(12, 0.02)
	f := r.fuse("box", 10, blade10)
	r.load("lamp", 1)
	r.job.Devices = append(r.job.Devices, &design.Device{Name: "switch", Pins: []design.Pin{{Name: "1", Housing: -1, Stud: "M5"}}})
	r.wire("battery.pos", "box.in", 0.001, 6, 0.003)
	r.wire("box.out", "lamp.1", 1, 1, 0.018, f)
	r.wire("lamp.2", "battery.neg", 1, 1, 0.018)
	w := r.wire("box.out", "switch.1", 10, 1, 0.018, f)
	res := r.weigh()
	seen := 0
	for _, s := range res.Shorts {
		if s.Wire != w {
			continue
		}
		seen++
		loop, factor := 0.18, (234.5+105)/254.5
		hand := 12 / (0.02 + loop)
		if !s.Strong {
			hand = 12 / (0.02 + 2*loop*factor)
		}
		if math.Abs(float64(s.Amps)-hand) > 0.01*hand {
			t.Errorf("strong %v: %v, by hand %.2f A", s.Strong, s.Amps, hand)
		}
	}
	if seen != 2 {
		t.Errorf("%d shorts at the dead end, want the weakest and the strongest", seen)
	}
}

// What nothing clears is no finding where every wire on the way bears it for good, and one where a wire does not.
func TestWeakShortForGood(t *testing.T) {
	for _, per := range []unit.Current{5, 40} {
		r := newRig(12, 0.03)
		r.warm.per = per
		f := r.fuse("box", 10, blade10)
		r.load("lamp", 1)
		r.wire("battery.pos", "box.in", 0.001, 16, 0.001)
		r.wire("box.out", "lamp.1", 12, 0.35, 0.052, f)
		r.wire("lamp.2", "battery.neg", 12, 0.35, 0.052, f)
		res := r.weigh()
		for _, s := range res.Shorts {
			if s.Strong {
				continue
			}
			if s.Clears != Never || s.Met != (per == 40) {
				t.Errorf("%v for each mm2: %+v", per, s)
			}
		}
		needs := map[int]bool{}
		for _, n := range res.Needs() {
			needs[n.Wire] = true
		}
		if per == 5 && !(needs[1] && needs[2]) {
			t.Errorf("the whole loop is to be grown: %v", res.Needs())
		}
	}
}

// Of two sources the stronger blows its fuse first; only then does the other give enough to blow its own.
func TestSecondSourceClearsAfterTheFirst(t *testing.T) {
	r := newRig(12.6, 0.01)
	r.job.Devices = append(r.job.Devices, &design.Device{Name: "second", Pins: []design.Pin{{Name: "pos", Housing: -1, Stud: "M8"}, {Name: "neg", Housing: -1, Stud: "M8"}},
		Supplies: []design.Supply{{Volts: fact[unit.Voltage](12.6), Inside: fact[unit.Resistance](0.2), From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}}})
	r.job.Cases[0].Supplies = append(r.job.Cases[0].Supplies, design.CaseSupply{Device: "second"})
	a, b := r.fuse("a", 10, blade10), r.fuse("b", 10, blade10)
	r.load("lamp", 1)
	r.wire("battery.pos", "a.in", 0.1, 6, 0.003)
	r.wire("second.pos", "b.in", 0.1, 6, 0.003)
	r.wire("a.out", "b.out", 0.1, 6, 0.003, a, b)
	far := r.wire("b.out", "lamp.1", 4, 2.5, 0.0075, a, b)
	r.wire("lamp.2", "battery.neg", 4, 2.5, 0.0075, a, b)
	r.wire("battery.neg", "second.neg", 0.1, 16, 0.001)
	for i := range r.sizes {
		r.sizes[i].Heat = 20
	}
	r.weigh()
	for _, s := range r.res.Shorts {
		if s.Supply {
			continue
		}
		if len(s.Fuses) != 2 || s.Fuses[0].Fuse != a || s.Fuses[1].Fuse != b {
			t.Fatalf("fuses %+v", s.Fuses)
		}
		alone := 12.6 / (0.2 + 2*4*0.0075) // the second alone, but for the short leads
		if got := float64(s.Fuses[1].Amps); math.Abs(got-alone) > 0.03*alone {
			t.Errorf("the second gives %v A alone, by hand %.1f", got, alone)
		}
		if s.Clears == Never || s.Clears != s.Fuses[1].Latest || s.Clears <= s.Fuses[0].Latest {
			t.Errorf("cleared after %v by %+v", s.Clears, s.Fuses)
		}
	}
	if h := r.res.Wires[far].Short; h == nil || h.Latest == Never || h.Latest <= r.res.Shorts[h.Short].Fuses[0].Latest {
		t.Errorf("the common wire bears %+v", h)
	}
}
