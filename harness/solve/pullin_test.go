package solve

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestPullInBeforeItMoves: a solenoid must pull in at the battery's low volts with the current of its start, and before its own contact
// loads the battery. 12 V: 40 A through 0.3 ohm behind 0.1 ohm of wire and 0.05 inside.
func TestPullInBeforeItMoves(t *testing.T) {
	build := func(low unit.Voltage) *CaseResult {
		r := newRig(t).supply("bat", 12, 0.05, 0).heater("motor", 0.1).device(design.Device{Name: "sol", Coils: []design.Coil{{
			Draw: design.Draw{Amps: given(unit.Current(4)), At: given(unit.Voltage(12)), As: design.ConstantResistance, Start: given(unit.Current(40)), StartFor: 0.1,
				From: at("s"), To: at("e")}, PullIn: given(unit.Voltage(7)), DropOut: given(unit.Voltage(1))}},
			States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}, Resistance: given(0.001 * ohm)}}})
		r.job.Devices[0].Supplies[0].Volts = ranged(low, 12, 12)
		r.set("drop-of", "12 V")
		return r.wires("bat.plus", "sol.s", 0.1, "sol.e", "bat.minus", 1e-6, "bat.plus", "sol.30", 0.1, "sol.87", "motor.plus", 0.1, "motor.minus", "bat.minus", 0.1).solve()
	}
	volts := func(e float64) float64 { return e * 0.3 / (0.45 + 1e-6 + 4*lug) }
	for _, c := range []struct{ low, want float64 }{{12, volts(12)}, {10, volts(10)}} {
		res := build(unit.Voltage(c.low))
		k := res.PullIn(0)
		if k == nil || !res.Relays[0].On {
			t.Fatalf("%v: %+v", c, res.Relays)
		}
		near(t, "pull-in", float64(k.Got), c.want, 1e-9)
		if res.PullIn(1) != nil || res.PullIn(-1) != nil {
			t.Error("a relay that is not there")
		}
	}
}
