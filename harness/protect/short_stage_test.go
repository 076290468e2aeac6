package protect

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// source adds a second supply on studs pos and neg; most 0 is no limit.
func (r *rig) source(name string, volts unit.Voltage, inside unit.Resistance, most unit.Current) {
	s := design.Supply{Volts: fact(volts), Inside: fact(inside), From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}
	if most > 0 {
		s.Most = fact(most)
	}
	r.job.Devices = append(r.job.Devices, &design.Device{Name: name, Pins: []design.Pin{{Name: "pos", Housing: -1, Stud: "M8"}, {Name: "neg", Housing: -1, Stud: "M8"}}, Supplies: []design.Supply{s}})
	r.job.Cases[0].Supplies = append(r.job.Cases[0].Supplies, design.CaseSupply{Device: name})
}

// charged is a 12.6 V battery of 10 mohm behind 30 A and an alternator that gives 50 A at most, both on a bus that feeds a lamp through wires of one
// area, 20 mohm out and back at 20 C. Its lead has a fuse where one is given.
func charged(area unit.Area, lead unit.Current) (r *rig, a FuseRef, feed, back int) {
	r = newRig(12.6, 0.010)
	r.source("alternator", 14, 0.010, 50)
	a = r.fuse("a", 30, blade10)
	r.load("lamp", 5)
	r.wire("battery.pos", "a.in", 0.001, 16, 0.001)
	by := []FuseRef{a}
	if lead > 0 {
		b := r.fuse("b", lead, blade10)
		r.wire("alternator.pos", "b.in", 0.001, 16, 0.001)
		r.wire("b.out", "a.out", 0.001, 16, 0.001, b)
		by = append(by, b)
	} else {
		r.wire("alternator.pos", "a.out", 0.001, 16, 0.001)
	}
	feed = r.wire("a.out", "lamp.1", 1, area, 0.010, by...)
	back = r.wire("lamp.2", "battery.neg", 1, area, 0.010, by...)
	r.wire("battery.neg", "alternator.neg", 0.001, 16, 0.001)
	return r, a, feed, back
}

// A short fed by a fused battery and a limited alternator: the surge lasts until the battery's fuse has opened, then the limit flows on. Through 20 mohm
// the battery gives (12.6 - 0.02 x 50) / (0.010 + 0.020) besides the 50 A.
func TestAlternatorFlowsOnAfterTheFuse(t *testing.T) {
	for _, c := range []struct {
		area unit.Area
		lead unit.Current // fuse in the alternator's lead
		met  bool
	}{{4, 0, true}, {3, 0, false}, {4, 60, true}, {3, 60, false}} {
		r, a, feed, back := charged(c.area, c.lead)
		r.weigh()
		seen := false
		for i := range r.res.Shorts {
			s := &r.res.Shorts[i]
			if s.Supply {
				continue
			}
			if !s.Strong {
				// The limit is left out where the short is to be weakest: the battery's fuse ends it.
				if s.Clears == Never || !s.Met || s.On != nil {
					t.Errorf("%+v weakest: %+v", c, s)
				}
				continue
			}
			seen = true
			battery := (12.6 - 0.02*50) / 0.030
			if math.Abs(float64(s.Amps)-battery-50) > 0.02*battery {
				t.Errorf("%+v: draws %v, by hand %.0f A", c, s.Amps, battery+50)
			}
			o := s.On
			if s.Clears != Never || o == nil || s.Met != c.met || !s.Limited || s.Fuses[0].Fuse != a {
				t.Fatalf("%+v: %+v", c, s)
			}
			// Beyond 6 times the energy stays: (6 x 30 A)2 x 0.1 s.
			first := 180 * 180 * 0.1 / (battery * battery)
			if math.Abs(float64(o.After)-first) > 0.05*first || o.Met != c.met || o.Source != "alternator" || math.Abs(float64(o.Amps)-50) > 0.01 {
				t.Errorf("%+v: %+v, by hand after %.4f s", c, o, first)
			}
			if fused := c.lead > 0; fused != (len(o.Fuses) == 1) || fused && o.Fuses[0].Latest != Never {
				t.Errorf("%+v: fuses on the way of what is left %+v", c, o.Fuses)
			}
			if s.TooWeak() || s.Unborne() == c.met {
				t.Errorf("%+v: no larger loop blows a fuse with what a limit lets flow", c)
			}
			for _, w := range []int{feed, back} {
				h := r.res.Wires[w].Short
				if h == nil || h.Met != c.met {
					t.Fatalf("%+v: %+v", c, h)
				}
				if len(h.Steps) != 2 || math.Abs(float64(h.Steps[0].Amps/s.Amps)-1) > 1e-3 || h.Steps[0].For != o.After || h.Steps[1].For != Never || math.Abs(float64(h.Steps[1].Amps)-50) > 0.01 {
					t.Errorf("%+v: steps %+v", c, h.Steps)
				}
				if !c.met && (h.Latest != Never || h.Amps != h.Steps[1].Amps) {
					t.Errorf("%+v: the wire is told to bear %v for %v", c, h.Amps, h.Latest)
				}
			}
		}
		if !seen {
			t.Fatalf("%+v: no strongest short is kept", c)
		}
		var grow []int
		for _, n := range r.res.Needs() {
			if n.Why != "overload" {
				grow = append(grow, n.Wire)
				if n.Loop {
					t.Errorf("%+v: the loop is to grow: %v", c, n)
				}
			}
		}
		for _, w := range []int{feed, back} { // an overload stands for both reasons
			o := r.res.Wires[w].Overload
			if told := slices.Contains(grow, w); told == c.met && (o == nil || o.Met) {
				t.Errorf("%+v: to grow are %v", c, grow)
			}
		}
		for _, w := range grow {
			if w != feed && w != back {
				t.Errorf("%+v: wire %d is to grow though it bears all", c, w)
			}
		}
	}
}

// A thin branch on the same bus has a fuse of its own, and that one clears it for both sources.
func TestBranchFuseClearsBothSources(t *testing.T) {
	r, _, _, _ := charged(4, 0)
	r.load("dial", 1)
	f := r.fuse("branch", 5, blade10)
	r.wire("a.out", "branch.in", 0.001, 16, 0.001)
	w := r.wire("branch.out", "dial.1", 2, 0.5, 0.0371, f)
	r.wire("dial.2", "battery.neg", 2, 0.5, 0.0371, f)
	r.weigh()
	n := 0
	for _, s := range r.res.Shorts {
		if s.Device != "dial" {
			continue
		}
		n++
		if s.Clears == Never || !s.Met || s.On != nil || s.Fuses[0].Fuse != f || s.Clears != s.Fuses[0].Latest {
			t.Errorf("%+v", s)
		}
	}
	if h := r.res.Wires[w].Short; n != 2 || h == nil || h.Latest == Never || !h.Met || len(h.Steps) > 1 {
		t.Errorf("%d shorts, the branch bears %+v", n, h)
	}
}

// Of two fused batteries the second clears later, at what it gives alone; the common wire bears the sum of both stages, and no more.
func TestSecondBatteryHeatsOnFromTheFirst(t *testing.T) {
	r := newRig(12.6, 0.010)
	r.source("second", 12.6, 0.100, 0)
	a, b := r.fuse("a", 10, blade10), r.fuse("b", 25, blade10)
	r.load("lamp", 1)
	r.wire("battery.pos", "a.in", 0.001, 16, 0.001)
	r.wire("second.pos", "b.in", 0.001, 16, 0.001)
	r.wire("a.out", "b.out", 0.001, 16, 0.001, a, b)
	feed := r.wire("b.out", "lamp.1", 1, 0.75, 0.050, a, b)
	r.wire("lamp.2", "battery.neg", 1, 4, 0.050, a, b)
	r.wire("battery.neg", "second.neg", 0.001, 16, 0.001)
	r.weigh()
	// Both over 0.1 ohm: sources of 10 and 100 mohm side by side are 9.09 mohm. The first gives 105.0 A, 10.5 times 10 A: (6 x 10)2 x 0.1 / 105.02 s. The
	// second gives 10.5 A then, and 63 A alone, 2.52 times: 5 s.
	both, alone := 12.6/(0.1+1/110.0), 12.6/0.2
	t1, t2 := 360/math.Pow(both*10/11, 2), 5.0
	want := both*both*t1 + alone*alone*t2
	for _, s := range r.res.Shorts {
		if !s.Strong || s.Supply {
			continue
		}
		if s.Clears == Never || math.Abs(float64(s.Clears)-t1-t2) > 0.01*t2 || s.Fuses[0].Fuse != a || s.Fuses[1].Fuse != b || s.On != nil {
			t.Errorf("cleared after %v by %+v, by hand %.3f s", s.Clears, s.Fuses, t1+t2)
		}
		if got := float64(s.Fuses[0].Latest); math.Abs(got-t1) > 0.02*t1 {
			t.Errorf("the first opens after %v s, by hand %.4f", got, t1)
		}
	}
	h := r.res.Wires[feed].Short
	if h == nil || len(h.Steps) != 2 || math.Abs(float64(h.Energy)-want) > 0.02*want {
		t.Fatalf("the common wire bears %+v, by hand %.0f A2s", h, want)
	}
	if ever := both * both * (t1 + t2); float64(h.Energy) > 0.5*ever {
		t.Errorf("bears %v A2s: the surge is counted to the end, %.0f", h.Energy, ever)
	}
}

// A control unit's 5 volts, whose earth comes back through the same wires as all else: its limit is no short that anything need clear.
func TestLimitedSupplyOnACommonReturn(t *testing.T) {
	r, _, _, back := charged(4, 0)
	r.job.Devices = append(r.job.Devices, &design.Device{Name: "unit", Pins: []design.Pin{{Name: "v5", Housing: -1, Stud: "M3"}, {Name: "e5", Housing: -1, Stud: "M3"}},
		Supplies: []design.Supply{{Volts: fact[unit.Voltage](5), Inside: fact[unit.Resistance](0.5), Most: fact[unit.Current](0.2), From: design.PinRef{Pin: "v5"}, To: design.PinRef{Pin: "e5"}}}})
	r.job.Cases[0].Supplies = append(r.job.Cases[0].Supplies, design.CaseSupply{Device: "unit"})
	r.load("sensor", 0.01)
	w := r.wire("unit.v5", "sensor.1", 3, 0.35, 0.052)
	r.wire("sensor.2", "lamp.2", 3, 0.35, 0.052)
	e := r.wire("unit.e5", "lamp.2", 0.5, 0.35, 0.052)
	r.weigh()
	for _, s := range r.res.Shorts {
		if s.Device == "sensor" {
			t.Errorf("a limit of 0.2 A that all wires bear is no short: %+v", s)
		}
		if !s.Met {
			t.Errorf("%+v", s)
		}
	}
	for _, i := range []int{w, e} {
		if h := r.res.Wires[i].Short; h != nil && !h.Met {
			t.Errorf("wire %d: %+v", i, h)
		}
	}
	if h := r.res.Wires[back].Short; h == nil || math.Abs(float64(h.Steps[len(h.Steps)-1].Amps)-50) > 0.3 {
		t.Errorf("the common return bears %+v", h)
	}
}

// A relay's coil that a control unit pulls low: with the output on a short of it is the fuse's to clear, with the output off it is dead and nothing is
// claimed of it.
func TestCoilPulledLow(t *testing.T) {
	for _, on := range []bool{true, false} {
		r, _, _, _ := charged(4, 0)
		pins := func(names ...string) (out []design.Pin) {
			for _, n := range names {
				out = append(out, design.Pin{Name: n, Housing: -1, Stud: "M3"})
			}
			return out
		}
		f := r.fuse("branch", 5, blade10)
		coil := design.Coil{Draw: design.Draw{Amps: fact[unit.Current](0.15), At: fact[unit.Voltage](12), From: design.PinRef{Pin: "86"}, To: design.PinRef{Pin: "85"}}}
		output := &design.Device{Name: "unit", Pins: pins("out", "e"), States: []design.State{{StateRef: design.StateRef{State: "pulls"}, Pins: []string{"out", "e"}}}}
		r.job.Devices = append(r.job.Devices, &design.Device{Name: "relay", Pins: pins("86", "85"), Coils: []design.Coil{coil}}, output)
		if on {
			r.job.Cases[0].States = append(r.job.Cases[0].States, design.CaseState{Device: "unit", State: "pulls"})
		}
		r.wire("a.out", "branch.in", 0.001, 16, 0.001)
		r.wire("branch.out", "relay.86", 2, 0.5, 0.0371, f)
		r.wire("relay.85", "unit.out", 2, 0.5, 0.0371)
		r.wire("unit.e", "battery.neg", 1, 0.5, 0.0371)
		r.weigh()
		n := 0
		for _, s := range r.res.Shorts {
			if !s.Coil {
				continue
			}
			n++
			if s.Clears == Never || !s.Met || s.Fuses[0].Fuse != f || s.On != nil {
				t.Errorf("on %v: %+v", on, s)
			}
		}
		if want := map[bool]int{true: 2}[on]; n != want {
			t.Errorf("on %v: %d shorts of the coil, want %d", on, n, want)
		}
	}
}

// Steps one after the other heat a wire at least as far as each of them alone, never past all their heat kept in the copper, and never past the
// greatest current all the time.
func TestStepsBound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := newRig(12, 0.01)
		r.warm.per = unit.Current(rapid.Float64Range(5, 40).Draw(t, "sustained"))
		r.wire("battery.pos", "battery.neg", 1, 1, 0.018)
		g := r.weigher()
		var steps []Step
		most, sum := unit.Current(0), unit.Time(0)
		for range rapid.IntRange(2, 4).Draw(t, "steps") {
			s := Step{unit.Current(rapid.Float64Range(1, 200).Draw(t, "amps")), unit.Time(rapid.Float64Range(0.001, 20).Draw(t, "time"))}
			steps = append(steps, s)
			most, sum = max(most, s.Amps), sum+s.For
		}
		h, _ := g.surge(0, steps, false)
		for _, s := range steps {
			alone, _ := g.reaches(0, s.Amps, s.For, true)
			if alone = min(alone, r.warm.After(0, s.Amps, s.For)); h.Reaches < alone-1e-6 {
				t.Fatalf("%v after %v, %v alone brings %v", h.Reaches, steps, s, alone)
			}
		}
		if top := g.wires[0].adiabaticEnd(h.Energy); h.Reaches > top+1e-6 {
			t.Fatalf("%v, with all heat kept %v", h.Reaches, top)
		}
		if top := max(r.warm.After(0, most, sum), g.wires[0].start); h.Energy > g.wires[0].stands && h.Reaches > top+1e-6 {
			t.Fatalf("%v, at the greatest current all the time %v", h.Reaches, top)
		}
		// What flows for good in the end must be borne for good besides.
		for _, amps := range []unit.Current{g.sustained(0) * 0.99, g.sustained(0) * 1.01} {
			on := g.bear(0, append(slices.Clone(steps), Step{amps, Never}), false)
			if on.Met != (h.Met && amps < g.sustained(0)) {
				t.Fatalf("%v then %v for good: met %v, before %v", steps, amps, on.Met, h.Met)
			}
		}
	})
}
