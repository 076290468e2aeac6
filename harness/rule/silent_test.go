package rule_test

import (
	"strings"
	"testing"
)

// TestSilentFaults writes faults that still leave every load with its volts, or look like another load's way, and demands the rule
// that names each, and no more of it once mended.
func TestSilentFaults(t *testing.T) {
	const job = `harness "Example" revision B
section body
zone cabin air 40 C
point hub at (500, 0, 0 mm)
run main from battery to hub to lamp to lamp2 section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device sw at hub housing sealed-2 { state on joins 1, 2 }
device lamp at (1000, 0, 0 mm) housing sealed-2 { draw 2 A at 12 V as resistance from 1 to 2 }
device lamp2 at (1200, 0, 0 mm) housing sealed-3 {
  draw 2 A at 12 V as resistance from 1 to 2
  draw 3 A at 12 V as resistance from 3 to 2
}
splice s at lamp
circuit feed from battery.pos to lamp.1
circuit sw-feed from battery.pos to sw.1
circuit feed2 from sw.2 to lamp2.1
circuit feed3 from battery.neg to lamp2.3
circuit back from lamp.2 to s
circuit back from lamp2.2 to s
case on {
  supply battery
  set sw to on
}
`
	mended := strings.Replace(strings.Replace(job, "circuit back from lamp.2 to s\ncircuit back from lamp2.2 to s", "circuit back from lamp.2, lamp2.2 to s to battery.neg", 1),
		"feed3 from battery.neg", "feed3 from battery.pos", 1)
	lost := strings.Replace(job, "circuit back from lamp.2 to s\ncircuit back from lamp2.2 to s", "circuit back from lamp.2, lamp2.2 to s", 1)
	for _, c := range []struct {
		code, text string
		want       bool
	}{
		{"cut-off", lost, true}, // all burn through the second lamp's other filament
		{"cut-off", mended, false},
		{"never-fed", lost, false},
		{"never-fed", mended, false},
		{"contact-over-rating", strings.Replace(mended, "to lamp.1\n", "to lamp.1 size 1.5 mm2 carries 14 A\n", 1), true},
		{"contact-over-rating", strings.Replace(mended, "to lamp.1\n", "to lamp.1 size 1.5 mm2 carries 12 A\n", 1), false},
	} {
		if got := codes(compile(t, c.text)); (got[c.code] > 0) != c.want {
			t.Errorf("%s: %v, want %v", c.code, got, c.want)
		}
	}
}

// TestSleeveRating: a bundle in air of 121 C that 7 A in each of its wires lift past what a braid stands.
func TestSleeveRating(t *testing.T) {
	const job = `harness "Example" revision B
section body
set wire to aero-200
zone bay air 121 C
run main from battery to lamp section body zone bay sleeve braid
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm from pos to neg
}
device lamp at (1000, 0, 0 mm) housing round-3 { draw 7 A at 12 V as resistance from 1 to 2 }
circuit feed from battery.pos to lamp.1 size 20 AWG
circuit back from battery.neg to lamp.2 size 20 AWG
case on { supply battery }
`
	for text, want := range map[string]int{job: 1, strings.Replace(job, "sleeve braid", "sleeve heat-sleeve", 1): 0} {
		if got := codes(compile(t, text)); got["part-too-hot"] != want {
			t.Errorf("%v, want %d", got, want)
		}
	}
}
