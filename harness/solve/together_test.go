package solve

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestRelaysMoveTogether: two coils get their volts at the same moment. The second is fed through the first one's contact that opens, and holds itself by its own
// contact that closes: both pull in at once, so it is held by then, whichever of the two is listed first.
func TestRelaysMoveTogether(t *testing.T) {
	for _, order := range [][]string{{"a", "b"}, {"b", "a"}} {
		r := newRig(t).supply("bat", 12, 0.01, 0)
		for _, n := range order {
			r.device(relay(n, true))
		}
		res := r.wires("bat.plus", "a.86", 0.01, "a.85", "bat.minus", 0.01, "bat.plus", "a.30", 0.01, "a.87a", "b.86", 0.01, "b.85", "bat.minus", 0.01,
			"bat.plus", "b.30", 0.01, "b.87", "b.86", 0.01).solve()
		for _, x := range res.Relays {
			if !x.On || x.Hunts {
				t.Errorf("%v: %+v", order, x)
			}
		}
	}
}

// TestControlUnitOnLittle: the least current keeps a control unit alive as well as a large one; none, or volts below its least, does not.
func TestControlUnitOnLittle(t *testing.T) {
	for _, c := range []struct {
		amps unit.Current
		wire float64
		live bool
	}{{20, 0.01, true}, {1, 0.1, true}, {0.4, 0.1, true}, {0.002, 0.1, true}, {0.4, 12, true}, {0.4, 13, false}, {0, 0.1, false}} {
		r := newRig(t).supply("bat", 12, 0.01, 0).heater("sensor", 500)
		r.device(design.Device{Name: "ecu", Draws: []design.Draw{{Amps: given(c.amps), Least: given(unit.Voltage(7)), From: at("live"), To: at("earth")}},
			Supplies: []design.Supply{{Volts: given(unit.Voltage(5)), Inside: given(0.5 * ohm), Most: given(unit.Current(0.2)), From: at("v5"), To: at("earth")}}})
		res := r.wires("bat.plus", "ecu.live", c.wire, "ecu.earth", "bat.minus", 0.01, "ecu.v5", "sensor.plus", 0.1, "sensor.minus", "ecu.earth", 0.1).solve()
		// 0.4 A over 12 and 13 ohm leave 7.2 and 6.8 V
		if got := supply(t, res, "ecu").Live; got != c.live {
			t.Errorf("%v A behind %v ohm: %v", float64(c.amps), c.wire, got)
		}
	}
}

// TestNoSuchLoad: what is asked of a load beyond the list is nothing, the last one of the list is there.
func TestNoSuchLoad(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).heater("h", 4)
	r.job.Devices[0].Supplies[0].Volts = ranged[unit.Voltage](11, 12, 13)
	res := r.wires("bat.plus", "h.plus", 0.1, "h.minus", "bat.minus", 0.1).solve()
	for load, want := range map[int]bool{-1: false, 0: true, 1: false, 2: false} {
		if got := res.Corner(load, LeastVolts) != nil; got != want {
			t.Errorf("corner of load %d: %v", load, got)
		}
		if got := res.Feedable(load).Volts != 0; got != want {
			t.Errorf("what can be fed to load %d: %v", load, got)
		}
		amps := WithoutLoads(res, []int{load})
		if got := amps[0] == 0; got != want {
			t.Errorf("without load %d: %v", load, amps)
		}
	}
}

// TestCoilWithoutVolts: a coil lets go when it has no volts at all, even where its drop-out is given as none: so a buzzer still buzzes, and a coil that is fed
// nothing does not pull in where its pull-in is given as none.
func TestCoilWithoutVolts(t *testing.T) {
	buzzer := relay("buzzer", true)
	buzzer.Coils[0].DropOut = given(unit.Voltage(0))
	res := newRig(t).supply("bat", 12, 0.01, 0).device(buzzer).
		wires("bat.plus", "buzzer.30", 0.01, "buzzer.87a", "buzzer.86", 0.01, "buzzer.85", "bat.minus", 0.01).solve()
	if !res.Relays[0].Hunts {
		t.Errorf("%+v", res.Relays[0])
	}
	idle := relay("idle", false)
	idle.Coils[0].PullIn, idle.Coils[0].DropOut = given(unit.Voltage(0)), given(unit.Voltage(0))
	res = newRig(t).supply("bat", 12, 0.01, 0).heater("h", 4).device(idle).
		wires("bat.plus", "h.plus", 0.01, "h.minus", "bat.minus", 0.01, "idle.86", "bat.minus", 0.01, "idle.85", "bat.minus", 0.01).solve()
	if res.Relays[0].On {
		t.Errorf("%+v", res.Relays[0])
	}
}
