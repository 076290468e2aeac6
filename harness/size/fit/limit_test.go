package fit

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func names(limits []Limit) (out string) {
	for _, l := range limits {
		out += l.Name + " "
	}
	return out
}

// TestFeedLimitsJudgeDraws: a limit on feed or return meant for a starter leaves its solenoid's coil alone; drop judges both.
func TestFeedLimitsJudgeDraws(t *testing.T) {
	s := newShop()
	s.load("starter", 10)
	d := s.job.Devices[1]
	d.Coils = []design.Coil{{Draw: design.Draw{Amps: fact[unit.Current](2), At: fact[unit.Voltage](12), From: design.PinRef{Pin: "1"}, To: design.PinRef{Pin: "2"}}}}
	s.wire("feed", "battery.pos", "starter.1", 1000, "cabin")
	s.wire("back", "starter.2", "battery.neg", 1000, "cabin")
	for _, n := range []string{"drop", "feed-drop", "return-drop", "feed-return-drop"} {
		s.set(n, "5 V", nil)
	}
	o := s.loop()
	for i := range o.Cases[0].Loads {
		l := &o.Cases[0].Loads[i]
		want := "drop feed-drop return-drop feed-return-drop "
		if l.Coil {
			want = "drop "
		}
		if got := names(Limits(s.job, s.nt, o.Cases[0], l)); got != want {
			t.Errorf("coil %v: %s", l.Coil, got)
		}
	}
}

// TestPercentOfAFollowingSupply: ten percent of drop-of is not what a sensor on a control unit's 5 volts may lose.
func TestPercentOfAFollowingSupply(t *testing.T) {
	s := newShop()
	s.load("ecu", 3)
	ecu := s.job.Devices[1]
	ecu.Pins = append(ecu.Pins, design.Pin{Name: "v5", Housing: -1, Stud: "M5"})
	ecu.Supplies = []design.Supply{{Volts: fact[unit.Voltage](5), Inside: fact[unit.Resistance](0.5), From: design.PinRef{Pin: "v5"}, To: design.PinRef{Pin: "2"}}}
	s.load("sensor", 0.1)
	s.wire("feed", "battery.pos", "ecu.1", 1000, "cabin")
	s.wire("back", "ecu.2", "battery.neg", 1000, "cabin")
	s.wire("five", "ecu.v5", "sensor.1", 1000, "cabin")
	s.wire("ground", "sensor.2", "ecu.2", 1000, "cabin")
	s.set("drop", "10 %", nil)
	s.set("drop-of", "13.5 V", nil)
	o := s.loop()
	want := map[string]unit.Voltage{"ecu": 1.35, "sensor": 0.5}
	for i := range o.Cases[0].Loads {
		l := &o.Cases[0].Loads[i]
		v, _ := DropLimit(s.job, s.nt, o.Cases[0], l)
		if d := v - want[l.Device]; d > 1e-12 || d < -1e-12 {
			t.Errorf("%s: at most %v, want %v", l.Device, v, want[l.Device])
		}
		if l.Device == "sensor" && (l.Supply != "ecu" || l.SupplySet != 5) {
			t.Errorf("fed by %s at %v", l.Supply, l.SupplySet)
		}
	}
}
