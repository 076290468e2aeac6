package charge_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loomsheet/harness/unit"
)

const clockAt = "device clock at hub housing sealed-2 { draw 20 mA from 1 to 2 }\ncircuit c1 from battery.pos to clock.1\ncircuit c2 from battery.neg to clock.2\n"

// TestParkedByHand: what a battery gives while parked, part by part, and how long its 20 Ah last.
func TestParkedByHand(t *testing.T) {
	for _, c := range []struct {
		name, text string
		amps       float64
		met        bool
	}{
		{"just the limit of 50 mA", strings.Replace(clockAt, "20 mA", "50 mA", 1), 0.05, true},
		{"a little over", strings.Replace(clockAt, "20 mA", "50.001 mA", 1), 0.050001, false},
		{"the other way round", strings.NewReplacer("pos to clock.1", "pos to clock.2", "neg to clock.2", "neg to clock.1").Replace(clockAt), 0.02, true},
		{"works once, for how long of the parking nobody says", strings.Replace(clockAt, "20 mA from 1 to 2", "40 mA from 1 to 2 on 0.5 s", 1), 0.04, true},
		{"starts with more", strings.Replace(clockAt, "20 mA from 1 to 2", "40 mA from 1 to 2 start 4 A for 0.1 s", 1), 0.04, true},
	} {
		r := find(t, plain+c.text+night)
		if len(r.Drains) != 1 {
			t.Fatalf("%s: %+v", c.name, r.Drains)
		}
		d := r.Drains[0]
		if math.Abs(float64(d.Amps)-c.amps) > 1e-9 || d.Met != c.met || d.Most != unit.Current(0.05) || math.Abs(float64(d.Usable)-20) > 1e-9 || math.Abs(float64(d.Lasts)-20/c.amps*3600) > 1 {
			t.Errorf("%s: %+v", c.name, d)
		}
		if len(d.Loads) != 1 || d.Loads[0].Device != "clock" || math.Abs(float64(d.Loads[0].Amps)-c.amps) > 1e-9 {
			t.Errorf("%s: %+v", c.name, d.Loads)
		}
	}
}

// TestTwoBatteriesParked: each has its own loads, the largest first; of a common one the parts are told of both.
func TestTwoBatteriesParked(t *testing.T) {
	second := `device spare at (0, 300, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm stores 100 Ah from pos to neg
}
run other from spare to hub section body zone cabin
circuit minus from spare.neg to battery.neg
device radio at hub housing sealed-2 { draw 6 mA from 1 to 2 }
device alarm at hub housing sealed-2 { draw 9 mA from 1 to 2 }
circuit r1 from spare.pos to radio.1
circuit r2 from battery.neg to radio.2
circuit a1 from spare.pos to alarm.1
circuit a2 from battery.neg to alarm.2
`
	r := find(t, plain+clockAt+second+night)
	var got []string
	for _, d := range r.Drains {
		s := d.Device + ":"
		for _, l := range d.Loads {
			s += fmt.Sprintf(" %s %.0f", l.Device, 1000*float64(l.Amps))
		}
		got = append(got, fmt.Sprintf("%s = %.0f mA", s, 1000*float64(d.Amps)))
	}
	if s := strings.Join(got, "; "); s != "battery: clock 20 = 20 mA; spare: alarm 9 radio 6 = 15 mA" {
		t.Error(s)
	}
}

// TestBatteriesSideBySide: of what two batteries feed together each gives its part, and both are told of all of it.
func TestBatteriesSideBySide(t *testing.T) {
	second := `device spare at (0, 300, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm stores 100 Ah from pos to neg
}
run other from spare to hub section body zone cabin
circuit minus from spare.neg to battery.neg
circuit plus from spare.pos to battery.pos
`
	r := find(t, plain+clockAt+second+night)
	sum := 0.0
	for _, d := range r.Drains {
		sum += float64(d.Amps)
		if d.Amps <= 0 || len(d.Loads) != 1 || d.Loads[0].Device != "clock" || math.Abs(float64(d.Loads[0].Amps)-0.02) > 1e-9 {
			t.Errorf("%s gives %v: %+v", d.Device, d.Amps, d.Loads)
		}
	}
	if len(r.Drains) != 2 || math.Abs(sum-0.02) > 1e-9 {
		t.Errorf("%d batteries give %v", len(r.Drains), sum)
	}
}

// TestFieldThatStarves: an alternator whose field is fed over a resistor runs on while that leaves the field half the volts it was measured at, and stops below.
// The field has 6 ohm and the alternator 14 V.
func TestFieldThatStarves(t *testing.T) {
	for _, c := range []struct {
		ohms int
		want string
	}{{5, "isolator by alternator: alternator coil"}, {9, ""}} {
		text := keeper("circuit charge from alternator.b to isolator.2\n", fmt.Sprintf(`circuit ign from key.2 to coil.1
device dropper at hub housing sealed-2 { state on joins 1, 2 resistance %d ohm }
circuit f1 from key.2 to dropper.1
circuit f2 from dropper.2 to alternator.f
`, c.ohms))
		text = strings.NewReplacer("  pin b, e stud M6\n", "  pin b, e, f stud M6\n  draw 2 A at 12 V as resistance from f to e\n", "set isolator, key to on", "set isolator, key, dropper to on").Replace(text)
		var got []string
		for _, k := range find(t, text).Kept {
			got = append(got, k.Device+" by "+strings.Join(k.By, " ")+": "+strings.Join(k.Loads, " "))
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("over %d ohm: %q, want %q", c.ohms, s, c.want)
		}
	}
}

// TestSwitchTurnedRound: an isolator cuts off whichever way round it is wired, and one that carries nothing is none.
func TestSwitchTurnedRound(t *testing.T) {
	const ignition = "circuit ign from key.2 to coil.1\n"
	spare := "device knob at hub housing sealed-2 { state on joins 1, 2 }\ncircuit k1 from isolator.2 to knob.1\n"
	for _, turned := range []bool{false, true} {
		text := keeper("circuit charge from alternator.b to isolator.2\n", ignition+spare)
		text = strings.Replace(text, "set isolator, key to on", "set isolator, key, knob to on", 1)
		if turned {
			text = strings.NewReplacer("pos to isolator.1", "pos to isolator.2", "from isolator.2 to key.1", "from isolator.1 to key.2", "ign from key.2", "ign from key.1", "alternator.b to isolator.2", "alternator.b to isolator.1", "k1 from isolator.2", "k1 from isolator.1").Replace(text)
		}
		var got []string
		for _, k := range find(t, text).Kept {
			got = append(got, k.Device+" by "+strings.Join(k.By, " ")+": "+strings.Join(k.Loads, " "))
		}
		if s := strings.Join(got, "; "); s != "isolator by alternator: coil" {
			t.Errorf("turned %v: %q", turned, s)
		}
	}
}
