package solve

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func TestRelay(t *testing.T) {
	// A relay of 85 ohm that pulls in at 8 V and drops out at 3, its coil behind wire enough to leave it the volts wanted.
	build := func(coilWire float64, pull, drop float64, was bool) *CaseResult {
		r := newRig(t).supply("bat", 12, 0.01, 0).heater("h", 4)
		d := design.Device{Name: "relay", Coils: []design.Coil{{Draw: design.Draw{Ohms: given(85 * ohm), As: design.ConstantResistance, From: at("86"), To: at("85")}}},
			States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}, Resistance: given(0.003 * ohm)}}}
		if pull > 0 {
			d.Coils[0].PullIn, d.Coils[0].DropOut = given(unit.Voltage(pull)), given(unit.Voltage(drop))
		}
		if was {
			r.c.States = append(r.c.States, design.CaseState{Device: "relay", State: "on"})
		}
		return r.device(d).wires("bat.plus", "relay.30", 0.01, "relay.87", "h.plus", 0.01, "h.minus", "bat.minus", 0.01,
			"bat.plus", "relay.86", coilWire, "relay.85", "bat.minus", 0.01).solve()
	}
	tests := []struct {
		name           string
		wire, pull     float64
		stated         bool
		on, against, a bool
	}{
		{"pulls in", 1, 8, false, true, false, false},
		{"too far off", 60, 8, false, false, false, false}, // 12 x 85/145 = 7.0 V
		{"default 60 % of 12 V", 56, 0, false, true, false, true},
		{"default not met", 57, 0, false, false, false, true},
		{"set on, held", 60, 8, true, true, false, false},
		{"set on against its coil", 300, 8, true, true, true, false}, // 2.6 V
	}
	for _, c := range tests {
		res := build(c.wire, c.pull, 3, c.stated)
		r := res.Relays[0]
		if r.On != c.on || r.Against != c.against || r.Stated != c.stated || r.Hunts || r.Assumed != c.a {
			t.Errorf("%s: %+v", c.name, r)
		}
		if fed := load(t, res, "h").Fed; fed != c.on {
			t.Errorf("%s: load fed %v", c.name, fed)
		}
	}
}

// holder is a relay whose contact feeds its own coil beside a push button.
func holder(t *testing.T, pressed bool) *CaseResult {
	r := newRig(t).supply("bat", 12, 0.01, 0).switched("button", 0.005).
		device(design.Device{Name: "relay", Coils: []design.Coil{{Draw: design.Draw{Ohms: given(85 * ohm), As: design.ConstantResistance, From: at("86"), To: at("85")},
			Moves: design.StateRef{State: "on"}, PullIn: given(unit.Voltage(8)), DropOut: given(unit.Voltage(3))}},
			States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}}}})
	if pressed {
		r.on("button")
	}
	return r.wires("bat.plus", "button.1", 0.1, "button.2", "relay.86", 0.1, "relay.85", "bat.minus", 0.1,
		"bat.plus", "relay.30", 0.1, "relay.87", "relay.86", 0.1).solve()
}

func TestSelfHoldingRelay(t *testing.T) {
	if r := holder(t, true).Relays[0]; !r.On || r.Hunts {
		t.Errorf("pressed: %+v", r)
	}
	// Both ways are steady without the button; the search begins with every relay off and leaves it so.
	if r := holder(t, false).Relays[0]; r.On || r.Hunts {
		t.Errorf("let go: %+v", r)
	}
}

// relay has a contact that closes when it pulls in and, if asked for, one that is closed when it has dropped out.
func relay(name string, normally bool) design.Device {
	d := design.Device{Name: name, Coils: []design.Coil{{Draw: design.Draw{Ohms: given(85 * ohm), As: design.ConstantResistance, From: at("86"), To: at("85")},
		Moves: design.StateRef{State: "on"}, PullIn: given(unit.Voltage(8)), DropOut: given(unit.Voltage(3))}},
		States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}}}}
	if normally {
		d.States = []design.State{{StateRef: design.StateRef{State: "off"}, Pins: []string{"30", "87a"}},
			{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}}}
	}
	return d
}

func TestRelaysInARow(t *testing.T) {
	r := newRig(t).supply("bat", 12, 0.01, 0).heater("h", 4)
	last := "bat.plus"
	for _, n := range []string{"a", "b", "c", "d", "e"} {
		r.device(relay(n, false)).wires(last, n+".86", 0.01, n+".85", "bat.minus", 0.01, "bat.plus", n+".30", 0.01)
		last = n + ".87"
	}
	res := r.wires(last, "h.plus", 0.01, "h.minus", "bat.minus", 0.01).solve()
	for _, x := range res.Relays {
		if !x.On || x.Hunts {
			t.Errorf("%+v", x)
		}
	}
	if !load(t, res, "h").Fed {
		t.Error("load not fed")
	}
}

func TestRelayThatHunts(t *testing.T) {
	// A buzzer: the contact that closes when off feeds its own coil.
	res := newRig(t).supply("bat", 12, 0.01, 0).device(relay("buzzer", true)).
		wires("bat.plus", "buzzer.30", 0.01, "buzzer.87a", "buzzer.86", 0.01, "buzzer.85", "bat.minus", 0.01).solve()
	if !res.Relays[0].Hunts {
		t.Errorf("%+v", res.Relays[0])
	}
}

func TestRelaysThatLockEachOtherOut(t *testing.T) {
	// Each relay's contact that closes when off feeds the other's coil. Moved together they would swing for ever; one is the quicker.
	res := newRig(t).supply("bat", 12, 0.01, 0).device(relay("a", true)).device(relay("b", true)).
		wires("bat.plus", "a.30", 0.01, "a.87a", "b.86", 0.01, "b.85", "bat.minus", 0.01,
			"bat.plus", "b.30", 0.01, "b.87a", "a.86", 0.01, "a.85", "bat.minus", 0.01).solve()
	if res.Relays[0].On == res.Relays[1].On || res.Relays[0].Hunts || res.Relays[1].Hunts {
		t.Errorf("%+v", res.Relays)
	}
}

func TestControlUnitsOwnSupply(t *testing.T) {
	build := func(wire float64) *CaseResult {
		r := newRig(t).supply("bat", 12, 0.01, 0).heater("sensor", 500)
		r.device(design.Device{Name: "ecu", Draws: []design.Draw{{Amps: given(unit.Current(3.5)), Least: given(unit.Voltage(7)), From: at("live"), To: at("earth")}},
			Supplies: []design.Supply{{Volts: given(unit.Voltage(5)), Inside: given(0.5 * ohm), Most: given(unit.Current(0.2)), From: at("v5"), To: at("earth")}}})
		return r.wires("bat.plus", "ecu.live", wire, "ecu.earth", "bat.minus", 0.01, "ecu.v5", "sensor.plus", 0.1, "sensor.minus", "ecu.earth", 0.1).solve()
	}
	res := build(0.1)
	near(t, "sensor", float64(load(t, res, "sensor").Amps), 5/(500.7+4*lug), 1e-12)
	if s := supply(t, res, "ecu"); !s.Live || !s.Follows || load(t, res, "sensor").Supply != "ecu" {
		t.Errorf("%+v", *s)
	}
	// 2 ohm in its feed leave it 5 V, under its least 7.
	if res = build(2); supply(t, res, "ecu").Live || load(t, res, "sensor").Fed {
		t.Errorf("starved: %+v", *supply(t, res, "ecu"))
	}
	// An alternator with a field draw that another case lists stays off where it is not listed.
	r := newRig(t).supply("bat", 12, 0.01, 0).heater("h", 10)
	r.device(design.Device{Name: "alt", Draws: []design.Draw{{Amps: given(unit.Current(3)), From: at("field"), To: at("minus")}},
		Supplies: []design.Supply{{Volts: given(unit.Voltage(14)), From: at("plus"), To: at("minus")}}})
	r.job.Cases = append(r.job.Cases, &design.Case{Name: "idle", Supplies: []design.CaseSupply{{Device: "alt"}}})
	res = r.wires("bat.plus", "h.plus", 0.1, "h.minus", "bat.minus", 0.1, "bat.plus", "alt.plus", 0.1, "bat.plus", "alt.field", 0.1, "alt.minus", "bat.minus", 0.1).solve()
	if supply(t, res, "alt").Live {
		t.Error("a supply no line of the case lists is live")
	}
}
