package solve

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestWhoseSupplyFollows: one that no case lists follows its own draw; one that another case lists only if its volts are at most 0.6 of the job's highest, 12 V;
// one that is off, or has no draw, never.
func TestWhoseSupplyFollows(t *testing.T) {
	for _, c := range []struct {
		name        string
		volts       unit.Voltage
		listed, off bool
		draw        bool
		want        bool
	}{
		{"5 V that nobody lists", 5, false, false, true, true},
		{"14 V that nobody lists", 14, false, false, true, true},
		{"5 V that another case lists", 5, true, false, true, true},
		{"7.1 V that another case lists", 7.1, true, false, true, true},
		{"7.3 V that another case lists", 7.3, true, false, true, false},
		{"5 V without a draw", 5, false, false, false, false},
		{"5 V put off", 5, false, true, true, false},
	} {
		r := newRig(t).supply("bat", 12, 0.01, 0).heater("sensor", 500)
		d := design.Device{Name: "ecu", Supplies: []design.Supply{{Volts: given(c.volts), Inside: given(0.5 * ohm), From: at("v5"), To: at("earth")}}}
		if c.draw {
			d.Draws = []design.Draw{{Amps: given(unit.Current(1)), From: at("live"), To: at("earth")}}
		}
		r.device(d)
		if c.listed {
			r.job.Cases = append(r.job.Cases, &design.Case{Name: "other", Supplies: []design.CaseSupply{{Device: "ecu"}}})
		}
		if c.off {
			r.c.Off = append(r.c.Off, "ecu")
		}
		res := r.wires("bat.plus", "ecu.live", 0.1, "ecu.earth", "bat.minus", 0.01, "ecu.v5", "sensor.plus", 0.1, "sensor.minus", "ecu.earth", 0.1).solve()
		s := supply(t, res, "ecu")
		if s.Follows != c.want || s.Live != c.want || load(t, res, "sensor").Fed != c.want {
			t.Errorf("%s: %+v", c.name, *s)
		}
		for i := range res.Loads {
			l := &res.Loads[i]
			if want := slices.ContainsFunc(res.Supplies, func(s SupplyResult) bool { return s.Device == l.Supply && s.Follows }); res.Follows(l) != want {
				t.Errorf("%s: the supply of %s follows: %t, want %t", c.name, l.Device, !want, want)
			}
		}
	}
}
