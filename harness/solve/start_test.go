package solve

import (
	"fmt"
	"reflect"
	"runtime"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func TestStart(t *testing.T) {
	// A pump of 12 A power that starts at 32 A: while it starts it is 12/32 ohm; the lamp beside it dims.
	r := newRig(t).supply("bat", 12, 0.01, 0).load("pump", design.ConstantPower, 12).heater("lamp", 4).load("quiet", design.ConstantPower, 1).switched("sw", 0)
	r.job.Devices[1].Draws[0].Start = given(unit.Current(32))
	r.job.Devices[3].Draws[0].Start = given(unit.Current(9)) // its feed is open
	res := r.device(design.Device{Name: "bar"}).wires("bat.plus", "bar.1", 0.05, "bar.1", "pump.plus", 0.02, "pump.minus", "bat.minus", 0.02,
		"bar.1", "lamp.plus", 0.02, "lamp.minus", "bat.minus", 0.02, "bar.1", "sw.1", 0.01, "sw.2", "quiet.plus", 0.01, "quiet.minus", "bat.minus", 0.01).solve()
	if len(res.Starts) != 1 || res.Starts[0].Device != "pump" {
		t.Fatalf("%d starts", len(res.Starts))
	}
	rp, rl := 12.0/32+0.04+4*lug, 4+0.04+4*lug
	bar := 1 / (1/rp + 1/rl)
	bar = 12 * bar / (bar + 0.06 + 2*lug)
	for _, l := range res.Starts[0].Loads() {
		switch l.Device {
		case "pump":
			near(t, "pump", float64(l.Volts), bar/rp*12/32, 1e-9)
			if l.Feed == nil {
				t.Error("no way for the load that starts")
			}
		case "lamp":
			near(t, "lamp", float64(l.Volts), bar/rl*4, 1e-9)
		}
	}
}

func TestWithout(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).load("a", design.ConstantCurrent, 3).load("b", design.ConstantCurrent, 5).
		wires("bat.plus", "a.plus", 0.1, "a.plus", "b.plus", 0.1, "b.minus", "a.minus", 0.1, "a.minus", "bat.minus", 0.1)
	res := r.solve()
	for _, c := range []struct {
		rest        []string
		near0, far1 float64
	}{{nil, 8, 5}, {[]string{"a"}, 5, 5}, {[]string{"b"}, 3, 0}, {[]string{"a", "b"}, 0, 0}} {
		amps := Without(res, c.rest)
		near(t, "near wire", float64(amps[0]), c.near0, 1e-9)
		near(t, "far wire", float64(amps[1]), c.far1, 1e-9)
	}
	near(t, "result is not touched", float64(res.WireAmps[0]), 8, 1e-9)
}

func TestWithoutSomeLoadsOfADevice(t *testing.T) {
	// Two draws of one control unit, 3 and 0.5 A, and its own 5 volts on 50 ohm. Its supply rests when both draws do.
	r := newRig(t).supply("bat", 12, 0.01, 0).heater("sensor", 50)
	r.device(design.Device{Name: "ecu", Draws: []design.Draw{
		{Amps: given(unit.Current(3)), From: at("live"), To: at("earth")},
		{Amps: given(unit.Current(0.5)), From: at("live"), To: at("earth")}},
		Supplies: []design.Supply{{Volts: given(unit.Voltage(5)), Inside: given(0.5 * ohm), From: at("v5"), To: at("earth")}}})
	res := r.wires("bat.plus", "ecu.live", 0.1, "ecu.earth", "bat.minus", 0.01, "ecu.v5", "sensor.plus", 0.1, "sensor.minus", "ecu.earth", 0.1).solve()
	sensor := 5 / (50.7 + 4*lug)
	for _, c := range []struct {
		rest       []string // device and index
		feed, five float64
	}{{nil, 3.5, sensor}, {[]string{"ecu0"}, 0.5, sensor}, {[]string{"ecu0", "ecu1"}, 0, 0}, {[]string{"sensor0"}, 3.5, 0}} {
		var rest []int
		for i, l := range res.Loads {
			for _, n := range c.rest {
				if fmt.Sprint(l.Device, l.Index) == n {
					rest = append(rest, i)
				}
			}
		}
		amps := WithoutLoads(res, append(rest, -1, 99))
		near(t, fmt.Sprint("feed without ", c.rest), float64(amps[0]), c.feed, 1e-9)
		near(t, fmt.Sprint("5 V without ", c.rest), float64(amps[2]), c.five, 1e-9)
	}
}

func TestSettingsRuleByScope(t *testing.T) {
	// The narrower line rules: 1 mohm a lug for the job, 3 for one device, 4 there in this case; the supply's inside and the volts
	// of a load that states none by their settings.
	r := newRig(t)
	r.device(design.Device{Name: "bat", Supplies: []design.Supply{{Volts: given(unit.Voltage(12)), From: at("plus"), To: at("minus")}}})
	r.device(design.Device{Name: "a", Draws: []design.Draw{{Amps: given(unit.Current(6)), As: design.ConstantResistance, From: at("plus"), To: at("minus")}}})
	r.c.Supplies = []design.CaseSupply{{Device: "bat"}}
	res := r.wires("bat.plus", "a.plus", 0.1, "a.minus", "bat.minus", 0.1).solve()
	near(t, "unset", float64(load(t, res, "a").Amps), 12/(2+0.01+0.2+4*lug), 1e-12)
	if at := load(t, res, "a").At; at != 12 {
		t.Errorf("measured at %v, want the highest live supply", at)
	}
	r.set("lug-resistance", "1 mohm").set("lug-resistance", "3 mohm").set("lug-resistance", "4 mohm").set("supply-inside", "20 mohm").set("drop-of", "18 V")
	r.job.Settings.Lines[1].Scope = map[string]string{"device": "a"}
	r.job.Settings.Lines[2].Scope = map[string]string{"device": "a", "case": "run"}
	res = r.solve()
	near(t, "set", float64(load(t, res, "a").Amps), 12/(18.0/6+0.02+0.2+2*0.001+2*0.004), 1e-12)
}

// TestInputsStay demands that nothing handed in is changed and that the same input gives the same answer to the last digit.
func TestInputsStay(t *testing.T) {
	r := drawn(t, seeded(7), 25, false)
	print := func(x ...any) string {
		var b strings.Builder
		for _, d := range r.job.Devices {
			fmt.Fprintf(&b, "%#v", *d)
		}
		fmt.Fprintf(&b, "%#v %#v %#v %#v", r.job.Settings, *r.nt, r.sizes, *r.c)
		for _, y := range x {
			fmt.Fprintf(&b, "%#v", y)
		}
		return b.String()
	}
	before := print()
	one := r.solve()
	kept := print(one.Point, one.Loads, one.WireAmps)
	Without(one, []string{"l0", "l1"})
	Adjoint(one, 0)
	if print() != before {
		t.Error("the input was changed")
	}
	two := r.solve()
	if print(two.Point, two.Loads, two.WireAmps) != kept {
		t.Error("the second answer differs from the first")
	}
}

// TestStartTellsTheSameLoad: who still has a load of a start is told the very same one when he asks again.
func TestStartTellsTheSameLoad(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.05, 0).heater("lamp", 6)
	r.device(design.Device{Name: "motor", Draws: []design.Draw{{Amps: given(unit.Current(5)), At: given(unit.Voltage(12)), Start: given(unit.Current(50)), StartFor: 1, From: at("plus"), To: at("minus")}}})
	r.wires("bat.plus", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1, "bat.plus", "motor.plus", 0.01, "motor.minus", "bat.minus", 0.01)
	res := r.solve()
	s := &res.Starts[0]
	for i := range res.Loads {
		l := s.Load(i)
		before := *l
		runtime.GC()
		if got := s.Load(i); got != l || !reflect.DeepEqual(before, *got) || !s.Moves(i) {
			t.Errorf("%s is told anew", l.Device)
		}
	}
}

// TestCornerOfAStartAddsUp: at its corner too a load gets what is left of its supply's volts, whichever device starts and whatever is remembered.
func TestCornerOfAStartAddsUp(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.05, 0).heater("lamp", 6).switched("sw", 0.02).on("sw").set("joint-age", "3")
	r.device(design.Device{Name: "motor", Draws: []design.Draw{{Amps: given(unit.Current(5)), At: given(unit.Voltage(12)), Start: given(unit.Current(50)), StartFor: 1, From: at("plus"), To: at("minus")}}})
	r.wires("bat.plus", "sw.1", 0.1, "sw.2", "lamp.plus", 0.1, "lamp.minus", "bat.minus", 0.1, "sw.2", "motor.plus", 0.01, "motor.minus", "bat.minus", 0.01)
	res := r.solve()
	s := &res.Starts[0]
	for i := range res.Loads {
		k := s.Corner(i, LeastVolts)
		if k == nil || len(k.Moved) == 0 {
			t.Fatalf("%s has no corner", res.Loads[i].Device)
		}
		l := &k.Load
		if !(l.FeedDrop > 0.1 && l.ReturnDrop > 0) || abs(float64(l.SupplyVolts-l.FeedDrop-l.ReturnDrop-l.Volts)) > 1e-9 || l.Volts >= s.Load(i).Volts {
			t.Errorf("%s: %v - %v - %v = %v, %v without the corner", l.Device, l.SupplyVolts, l.FeedDrop, l.ReturnDrop, l.Volts, s.Load(i).Volts)
		}
		if own := l.Device == "motor"; own != (len(l.Feed) > 0) {
			t.Errorf("%s: %d steps of the feed are told", l.Device, len(l.Feed))
		}
		if s.Corner(i, LeastVolts) != k {
			t.Errorf("%s: sought twice", l.Device)
		}
	}
}
