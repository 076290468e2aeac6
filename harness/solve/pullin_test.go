package solve

import (
	"maps"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"

	"pgregory.net/rapid"
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

// TestPullInBeside: what hangs together with a relay says of it what the whole net says, to the bit.
func TestPullInBeside(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		r := relayNet(rt)
		res := r.solve()
		for i := range res.Relays {
			x := &res.Relays[i]
			if !x.On || x.Stated || x.Hunts {
				continue
			}
			pos := positions{state: maps.Clone(res.again.pos.state), live: res.again.pos.live}
			d := res.again.values().byName[x.Device]
			delete(pos.state, group{x.Device, d.Moves(&d.Coils[x.Coil]).Group})
			want, got := pullIn(res.again.values(), pos, x), res.PullIn(i)
			if (want == nil) != (got == nil) || want != nil && (got.Got != want.Got || got.Load.Amps != want.Load.Amps || len(got.Moved) != len(want.Moved) || len(got.Ends) != len(want.Ends)) {
				rt.Fatalf("%s: %+v, whole %+v", x.Device, got, want)
			}
			for k := range want.ends() {
				if a, b := got.Ends[k], want.Ends[k]; a.What != b.What || a.To != b.To || a.Takes != b.Takes {
					rt.Fatalf("%s: %+v, whole %+v", x.Device, a, b)
				}
			}
		}
	})
}

func (c *Corner) ends() []Moved {
	if c == nil {
		return nil
	}
	return c.Ends
}

// relayNet is a battery or two, lamps, and relays that feed each other's coils and lamps at random.
func relayNet(t *rapid.T) *rig {
	r := newRig(t)
	n := rapid.IntRange(1, 2).Draw(t, "batteries")
	plus := []string{}
	for i := range n {
		name := string(rune('a' + i))
		r.supply("bat"+name, 12, 0.05, 0)
		r.job.Devices[i].Supplies[0].Volts = ranged[unit.Voltage](10, 12, 13)
		plus = append(plus, "bat"+name+".plus")
	}
	earth := func() string { return "bat" + string(rune('a'+rapid.IntRange(0, n-1).Draw(t, "earth"))) + ".minus" }
	feed := func() string { return rapid.SampledFrom(plus).Draw(t, "feed") }
	wire := func(a, b string) {
		r.wires(a, b, rapid.SampledFrom([]float64{0.01, 0.1, 0.5}).Draw(t, "ohms"))
	}
	for i := range rapid.IntRange(1, 4).Draw(t, "relays") {
		name := "k" + string(rune('a'+i))
		r.device(design.Device{Name: name, Coils: []design.Coil{{
			Draw:   design.Draw{Amps: given(unit.Current(0.2)), At: given(unit.Voltage(12)), As: design.ConstantResistance, From: at("s"), To: at("e")},
			PullIn: given(unit.Voltage(7)), DropOut: given(unit.Voltage(1))}},
			States: []design.State{{StateRef: design.StateRef{State: "on"}, Pins: []string{"30", "87"}}, {StateRef: design.StateRef{State: "off"}, Pins: []string{"30", "87a"}}}})
		wire(feed(), name+".s")
		wire(name+".e", earth())
		if rapid.Bool().Draw(t, "contact wired") {
			wire(feed(), name+".30")
		}
		for _, pin := range []string{name + ".87", name + ".87a"} {
			if rapid.Bool().Draw(t, "onward") {
				plus = append(plus, pin)
			}
		}
	}
	for i := range rapid.IntRange(0, 4).Draw(t, "lamps") {
		name := "l" + string(rune('a'+i))
		r.heater(name, 6)
		wire(feed(), name+".plus")
		wire(name+".minus", earth())
	}
	return r
}
