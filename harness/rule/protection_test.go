package rule_test

import (
	"strings"
	"testing"
)

const cranking = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to starter section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, aux, neg stud M8
  inner cell
  joins cell, pos resistance 0.01 mohm
  fuse blade-15 from cell to aux
  supply 12.6 V inside 5 mohm from cell to neg
}
device button at battery housing sealed-2 { state on joins 1, 2 }
device starter at (1000, 0, 0 mm) {
  pin b, e stud M10
  pin s stud M5
  inner m
  coil 8 A at 12 V as resistance from s to e moves on
  state on joins b, m resistance 0.5 mohm
  draw 60 mohm from m to e on 8 s off 60 s start 400 A for 0.1 s
}
circuit cable from battery.pos to starter.b size 50 mm2 colour red
circuit earth from starter.e to battery.neg size 50 mm2 colour black
circuit drive from battery.aux to button.1 colour white
circuit pull from button.2 to starter.s colour white
case crank {
  supply battery
  set button to on
}
case standing { supply battery }
`

// TestStarterCable: it is a finding that says what a short there draws and asks for an acceptance, and a named one closes it.
func TestStarterCable(t *testing.T) {
	told := 0
	for _, f := range compile(t, cranking).Findings {
		if f.Code != "no-fuse" {
			continue
		}
		told++
		if f.Subject.Name != "cable" || !strings.Contains(f.Title, "starter") || !strings.Contains(f.Detail, "A dead short at its far end draws 1") || !strings.Contains(f.Detail, "named person") || f.Accepted != nil {
			t.Errorf("%s: %s %s", f.Subject.Name, f.Title, f.Detail)
		}
	}
	if told != 1 {
		t.Errorf("told %d times", told)
	}
	for _, f := range compile(t, cranking+`accept no-fuse circuit cable reason "sheathed, 50 mm clear of metal" by "checker 1" until C`+"\n").Findings {
		if f.Code == "no-fuse" && f.Accepted == nil {
			t.Errorf("still open: %s", f.Title)
		}
	}
}

// TestOwnSupplyStatesNoLimit: the 5 V of a control unit protect their wires by their limit; without one that is a finding of the unit.
func TestOwnSupplyStatesNoLimit(t *testing.T) {
	const job = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to unit to sensor section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-5 from cell to pos
  supply 12.6 V inside 10 mohm from cell to neg
}
device unit at (500, 0, 0 mm) housing sealed-4 {
  pin live, earth, v5, e5 cavity [1..4]
  draw 1 A from live to earth
  supply 5 V inside 1 ohm LIMIT from v5 to e5
  joins earth, e5
}
device sensor at (1000, 0, 0 mm) housing sealed-2 { draw 10 mA at 5 V from 1 to 2 }
circuit feed from battery.pos to unit.live
circuit back from battery.neg to unit.earth
circuit v5 from unit.v5 to sensor.1
circuit e5 from unit.e5 to sensor.2
case on { supply battery }
`
	for limit, want := range map[string]int{"": 1, "most 200 mA": 0, "most 90 A": 1} {
		n := 0
		for _, f := range compile(t, strings.Replace(job, "LIMIT ", limit+" ", 1)).Findings {
			if f.Code == "no-fuse" {
				n++
				if f.Subject.Kind != "device" || f.Subject.Name != "unit" {
					t.Errorf("told of %s %s: %s", f.Subject.Kind, f.Subject.Name, f.Title)
				}
			}
		}
		if n != want {
			t.Errorf("%q: %d findings, want %d", limit, n, want)
		}
	}
}
