package solve

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestSpreadCostsVolts demands that of a spread the value counts that loses most: 3 A of 2 to 3, 80 mohm of 20 to 80, 4 ohm of 6 +- 2.
func TestSpreadCostsVolts(t *testing.T) {
	spread := func(low, x, high float64) (f unit.Spread[unit.Current]) {
		return unit.Spread[unit.Current]{Low: unit.Current(low), Nominal: unit.Current(x), High: unit.Current(high)}
	}
	r := newRig(t).supply("bat", 12, 0.01, 0).load("pump", design.ConstantCurrent, 2).heater("h", 6).switched("sw", 0.02).on("sw")
	r.job.Devices[1].Draws[0].Amps.Spread = spread(1, 2, 3)
	r.job.Devices[2].Draws[0].Ohms.Spread = unit.Within(6*ohm, 1.0/3)
	r.job.Devices[3].States[0].Resistance.Spread = unit.Spread[unit.Resistance]{Low: 0.01, Nominal: 0.02, High: 0.08}
	r.job.Devices[0].Supplies[0].Inside.Spread = unit.Spread[unit.Resistance]{Low: 0.005, Nominal: 0.01, High: 0.02}
	res := r.wires("bat.plus", "sw.1", 0.1, "sw.2", "pump.plus", 0.1, "pump.minus", "bat.minus", 0.1,
		"bat.plus", "h.plus", 0.1, "h.minus", "bat.minus", 0.1).solve()
	near(t, "pump", float64(load(t, res, "pump").Amps), 3, 1e-12)
	lost := 3 * (0.3 + 0.08 + 6*lug)
	near(t, "lost", float64(load(t, res, "pump").FeedDrop+load(t, res, "pump").ReturnDrop), lost, 1e-9)
	h := (12 - 0.02*3) / (4 + 0.2 + 4*lug + 0.02)
	near(t, "heater", float64(load(t, res, "h").Amps), h, 1e-9)
}

// TestCoilPullsInAtItsStart: a solenoid of 4 A that takes 40 A until it has moved must do so at the volts the 40 A leave it. Behind
// 0.2 ohm its 0.3 ohm get 7.2 V of 12, behind 0.1 ohm 9 V; it pulls in at 8. Once in, the 4 A leave it 11.2 V or more.
func TestCoilPullsInAtItsStart(t *testing.T) {
	build := func(wire float64, stated bool) *CaseResult {
		r := newRig(t).supply("bat", 12, 1e-6, 0).device(design.Device{Name: "sol", Coils: []design.Coil{{
			Draw: design.Draw{Amps: given(unit.Current(4)), At: given(unit.Voltage(12)), As: design.ConstantResistance, Start: given(unit.Current(40)), StartFor: 0.1,
				From: at("s"), To: at("e")}, PullIn: given(unit.Voltage(8)), DropOut: given(unit.Voltage(4))}},
			States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}, Resistance: given(0.001 * ohm)}}})
		if stated {
			r.on("sol")
		}
		return r.wires("bat.plus", "sol.s", wire, "sol.e", "bat.minus", 1e-6).solve()
	}
	for _, c := range []struct {
		wire   float64
		stated bool
		on     bool
		volts  float64
	}{{0.2, false, false, 12 * 0.3 / (0.5 + 4*lug)}, {0.1, false, true, 12 * 3 / (3.1 + 4*lug)}, {0.2, true, true, 12 * 3 / (3.2 + 4*lug)}} {
		res := build(c.wire, c.stated)
		if r := res.Relays[0]; r.On != c.on || r.Hunts || r.Against {
			t.Errorf("%v: %+v", c, r)
		} else {
			near(t, "coil", float64(r.Volts), c.volts, 1e-4)
		}
	}
}
