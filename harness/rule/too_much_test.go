package rule_test

import (
	"strings"
	"testing"

	"loomsheet/harness/rule"
)

// TestTooManyVolts: more than a load or the program stands, also where only a spread, a string of supplies or a coil brings it about.
func TestTooManyVolts(t *testing.T) {
	lamp := "draw 2 A at 12 V as resistance from 1 to 2"
	job := strings.Replace(rule.Find("below-least").Silent, lamp+" least 9 V", lamp, 1)
	volts := func(s string) string { return strings.Replace(job, "supply 12.6 V", "supply "+s, 1) }
	one := rule.Find("volts-add-up").Silent
	two := strings.NewReplacer("at 48 V as resistance from 1 to 2", "at 24 V as resistance from 1 to m\n  draw 1 A at 24 V as resistance from m to 2\n", "sealed-2 { draw", "sealed-2 {\n  inner m\n  draw").Replace(one)
	for _, c := range []struct {
		name, code, text string
		want             int
		says             string
	}{
		{"charging", "volts-high", volts("14.4 V high 14.8 V"), 0, ""},
		{"only at the high end", "volts-high", volts("14.4 V high 15.4 V"), 1, "battery set-point 15.4 V"},
		{"twice the volts", "volts-high", volts("25.6 V"), 1, "lamp gets 25.21 V"},
		{"the wrong way round", "volts-high", strings.Replace(volts("25.6 V"), "from 1 to 2", "from 2 to 1", 1), 1, "lamp gets 25.21 V"},
		{"allowed by its maker", "volts-high", volts("25.6 V") + "set most-volts to 32 V device lamp\n", 0, ""},
		{"not even that", "volts-high", volts("25.6 V") + "set most-volts to 24 V device lamp\n", 1, "at most 24 V"},
		{"by volts", "volts-high", volts("14.4 V") + "set volts-over to 2 V\n", 1, "at most 14 V"},
		{"measured nowhere", "volts-high", strings.Replace(volts("25.6 V"), lamp, "draw 2 A from 1 to 2", 1), 0, ""},
		{"two halves in series", "volts-high", two, 0, ""},
		{"24 V each", "volts-add-up", one, 0, ""},
		{"30 V each and a little", "volts-add-up", strings.Replace(one, "supply 24 V", "supply 30 V high 30.1 V", 1), 1, "60.2 V between high.cell and low.neg"},
		{"30 V each", "volts-add-up", strings.Replace(one, "supply 24 V", "supply 30 V", 1), 0, ""},
		{"with nothing fed", "volts-add-up", strings.NewReplacer("supply 24 V", "supply 36 V", "  set key to on\n", "").Replace(one), 1, "72 V"},
	} {
		t.Run(c.name, func(t *testing.T) { told(t, c.text, c.code, c.want, c.says) })
	}
}

// TestStartBelowRun holds a start against what the load says that it runs at, at its least.
func TestStartBelowRun(t *testing.T) {
	lamp := "draw 2 A at 12 V as resistance from 1 to 2"
	job := strings.Replace(rule.Find("below-least").Silent, lamp+" least 9 V", "LAMP for 0.1 s", 1)
	for draw, want := range map[string]int{
		"draw 2 A at 12 V from 1 to 2 start 6 mA":                          1,
		"draw 2 A from 1 to 2 start 1.9 A":                                 1,
		"draw 2 A at 12 V from 1 to 2 start 2 A":                           0,
		"draw 2 A tolerance 10 % at 12 V from 1 to 2 start 1.85 A":         0,
		"draw 2 A tolerance 10 % at 12 V from 1 to 2 start 1.75 A":         1,
		"draw 24 W at 12 V as power from 1 to 2 start 1.9 A":               1,
		"draw 24 W at 12 V as power from 1 to 2 start 2.1 A":               0,
		"draw 24 W as power from 1 to 2 start 1.8 A":                       1, // 1.905 A at the 12.6 V of the supply
		"draw 24 W as power from 1 to 2 start 1.95 A":                      0,
		"draw 6 ohm at 12 V from 1 to 2 start 1.9 A":                       1,
		"draw 6 ohm low 5 ohm high 8 ohm at 12 V from 1 to 2 start 1.55 A": 0,
		"draw 6 ohm low 5 ohm high 8 ohm at 12 V from 1 to 2 start 1.45 A": 1,
	} {
		t.Run(draw, func(t *testing.T) {
			told(t, strings.Replace(job, "LAMP", draw, 1), "start-below-run", want, "lamp starts at")
		})
	}
}

// TestCreepingIsNoReturn: earths that differ by some tenths of a volt push some milliamperes through a unit on a dead bus, and on through the fuse of
// another: that makes it no fuse on a return, unless it is said to be.
func TestCreepingIsNoReturn(t *testing.T) {
	const job = `harness "Example" revision B
section body
set drop to 50 %
zone cabin air 20 C
run main from battery to box to heater to unit to lamp section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-30 from cell to pos
  supply 12.6 V inside 10 mohm from cell to neg
}
device box at (300, 0, 0 mm) housing plain-8 {
  inner bus
  state on joins 1, bus
  fuse blade-3 from bus to 2
  fuse blade-5 from bus to 3
}
device heater at (600, 0, 0 mm) housing sealed-2 { draw 24 ohm from 1 to 2 }
device unit at (1500, 0, 0 mm) housing sealed-2 { draw 0.8 A at 12 V from 1 to 2 }
device lamp at (2500, 0, 0 mm) housing sealed-2 { draw 10 A at 12 V as resistance from 1 to 2 }
splice s at unit
circuit in from battery.pos to box.1 size 1.5 mm2
circuit unit from box.2 to unit.1 size 0.5 mm2
circuit heater from box.3 to heater.1 size 0.5 mm2
circuit heater-back from heater.2 to battery.neg size 0.5 mm2
circuit lamp from battery.pos to lamp.1 size 2.5 mm2
circuit earth size 0.5 mm2 {
  from lamp.2 to s
  from unit.2 to s
  from s to battery.neg
}
case dead { supply battery }
case live { 
  supply battery
  set box to on
}
`
	told(t, job, "fuse-in-return", 0, "")
	told(t, strings.Replace(job, "set drop", "set fuse-stray to 0.1 %\nset drop", 1), "fuse-in-return", 2, "lies on the return of unit")
}

// told demands so many findings of a code, and that one of them says something.
func told(t *testing.T, text, code string, want int, says string) {
	t.Helper()
	n, said := 0, ""
	for _, f := range compile(t, text).Findings {
		if f.Code == code {
			n++
			said += f.Title + ": " + f.Detail + "\n"
		}
	}
	if n != want || want > 0 && !strings.Contains(said, says) {
		t.Errorf("%d of %s, not %d, saying %q:\n%s", n, code, want, says, said)
	}
}
