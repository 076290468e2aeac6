package reviewbook

import (
	"errors"
	"regexp"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/diag"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/render/export"
	"loomsheet/render/page"
)

// An engine with all that the chapter of batteries prints: hours, loads that come and go, a starter, an isolator, a sensor.
const engineJob = `harness "Example" revision B
section body
zone box air 20 C
run main from battery to hub to starter section body zone box
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 10 mohm stores 60 Ah from pos to neg
}
device alternator at hub {
  pin b, e stud M6
  supply 14 V inside 10 mohm most 8 A from b to e
}
device isolator at hub {
  pin 1, 2 stud M8
  state on joins 1, 2
}
device starter at (1000, 0, 0 mm) {
  pin b, e stud M8
  pin s stud M5
  inner m
  coil 9 A at 12 V as resistance from s to e moves on pull-in 8 V drop-out 4 V
  state on joins b, m resistance 0.3 mohm
  draw 60 mohm from m to e on 8 s start 500 A for 0.1 s
}
device button at hub housing sealed-large-2 { state on joins 1, 2 }
device pump at hub housing sealed-2 { draw 12 A from 1 to 2 on 60 s off 120 s }
device clock at hub housing sealed-2 { draw 20 mA from 1 to 2 }
device unit at hub housing sealed-6 {
  draw 2 A from 1 to 2 least 9 V
  supply 5 V inside 1 ohm from 3 to 4
  joins 4, 2 resistance 10 mohm
  unused 6
}
device press at (1000, 0, 0 mm) housing sealed-3 {
  draw 15 mA from 1 to 2
  reads 250 kPa per 0.5 V from 3 to 2
}
run tail from starter to press section body zone box
circuit plus from battery.pos to isolator.1
circuit live from isolator.2 to starter.b size 35 mm2
circuit minus from battery.neg to starter.e size 35 mm2
circuit charge from alternator.b to isolator.2
circuit charge-back from alternator.e to battery.neg
circuit key from isolator.2 to button.1
circuit call from button.2 to starter.s
circuit pump-feed from isolator.2 to pump.1
circuit pump-back from battery.neg to pump.2
circuit clock-feed from battery.pos to clock.1
circuit clock-back from battery.neg to clock.2
circuit unit-feed from isolator.2 to unit.1
circuit unit-back from battery.neg to unit.2
circuit press-feed from unit.3 to press.1 class signal
circuit press-sig from unit.5 to press.3 class signal
circuit press-ref from battery.neg to press.2 class signal
case cranking {
  supply battery at 12.4 V
  set isolator, button to on
}
case run for 3 h {
  supply battery, alternator
  set isolator to on
}
`

func engineBook(t *testing.T) *page.Doc {
	t.Helper()
	load := func(name string) ([]byte, error) {
		if name == "engine.loom" {
			return []byte(engineJob), nil
		}
		return nil, errors.New("there is no such file")
	}
	job, _, msgs := resolve.Job("engine.loom", load, parts.Files(), rule.Keys())
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s. %s", m.Code, m.Title, m.Detail)
		}
	}
	r := harness.Compile(job)
	doc, err := Make(export.Input{Result: r, Messages: r.Findings, Locate: func(diag.Span) string { return "engine.loom" }})
	if err != nil {
		t.Fatal(err)
	}
	return doc
}

func all(t *testing.T, text, pattern string) [][]figure {
	t.Helper()
	var out [][]figure
	for _, m := range regexp.MustCompile(pattern).FindAllStringSubmatch(text, -1) {
		var row []figure
		for _, s := range m[1:] {
			row = append(row, reads(t, s))
		}
		out = append(out, row)
	}
	return out
}

// Every line of the chapter is worked again from what is printed on it.
func TestBatteriesByHand(t *testing.T) {
	text := strings.Join(strings.Fields(strings.Join(chapter(t, engineBook(t), "Batteries, cranking and sensors"), " ")), " ")
	meets := func(what string, got, want figure) {
		t.Helper()
		if !got.meets(want) {
			t.Errorf("%s: %v printed, by hand %v", what, got, want)
		}
	}

	lines := all(t, text, `run `+num+` % x `+num+` `+num+` `+num+` `+num+` `+num+` `+num+` met \+ `+num+` % x `+num+` without pump battery, `+num+` % of `+num+` Ah`)
	if len(lines) != 1 {
		t.Fatalf("no balance in %q", text)
	}
	l := lines[0]
	meets("mean amps", l[2], l[0].times(l[1]).plus(l[7].times(l[8])).over(exact(100)))
	meets("used", l[4], l[2].times(l[3]))
	meets("usable", l[5], l[9].times(l[10]).over(exact(100)))
	meets("lasts", l[6], l[5].over(l[2]))

	sweep := all(t, text, `Volts of battery = `+num+` V of the case \+ `+num+` cells x `+num+` mV/K x \(air - \(`+num+` C\)\)\. Inside mohm = `+num+` of the case`)
	if len(sweep) != 1 {
		t.Fatalf("no formula in %q", text)
	}
	s := sweep[0]
	rows := all(t, text, num+` C, (?:new|worn) `+num+` `+num+` `+num+` `+num+` `+num+` `+num+` as in the case`)
	if len(rows) < 4 {
		t.Fatalf("%d rows in %q", len(rows), text)
	}
	for _, r := range rows {
		meets("volts at rest", r[1], s[0].plus(s[1].times(s[2]).times(r[0].minus(s[3])).times(exact(0.001))))
		meets("inside", r[4], s[4].times(r[2]).times(r[3]))
	}

	way := all(t, text, num+` `+num+` (?:the sensor's own|shared)`)
	total := all(t, text, `Added up `+num+` mV`)
	if len(way) < 3 || len(total) != 1 {
		t.Fatalf("%d on the way, %d totals in %q", len(way), len(total), text)
	}
	sum := exact(0)
	for _, w := range way {
		sum = sum.plus(w[1])
	}
	meets("way of the reference", total[0][0], sum)
	off := all(t, text, num+` `+num+` 250 kPa (-?[\d.]+) kPa`)
	if len(off) != 1 {
		t.Fatalf("no error in %q", text)
	}
	meets("error", off[0][2], off[0][0].times(exact(0.001)).over(exact(0.5)).times(exact(250)))
	for _, want := range []string{"Isolator opened while another supply runs", "clock 0.020", "run isolator alternator"} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not there: %q", want, text)
		}
	}
}
