package main

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"loomsheet/harness/design"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// extremes are what a slip of the hand, or malice, puts in place of a number.
var extremes = []string{"0", "0.000001", "99999999", strings.Repeat("9", 60), "-1", "0." + strings.Repeat("0", 60) + "1"}

// Every setting at its ends gives an answer, soon and of numbers only.
func TestSettingsAtTheirEnds(t *testing.T) {
	for i := range design.SettingDefs {
		d := &design.SettingDefs[i]
		for _, dim := range d.Dims {
			for _, x := range extremes {
				unit := ""
				if u := dim.Units(); len(u) > 0 {
					unit = " " + u[0]
				}
				soundSoon(t, "set "+d.Name+" to "+x+unit+"\n"+lampJob)
			}
		}
	}
}

// Every number of a job with a bit of everything at its ends gives an answer, soon and of numbers only.
func TestNumbersAtTheirEnds(t *testing.T) {
	text := lampJob + everyNumber
	sound(t, text, true)
	if _, _, said := resolve.Job("job.loom", loadOne("job.loom", text), parts.Files(), nil); said.HasMistakes() {
		t.Fatal(said)
	}
	at := regexp.MustCompile(` -?[0-9]+(\.[0-9]+)?\b`).FindAllStringIndex(text, -1)
	if len(at) < 60 {
		t.Fatalf("only %d numbers", len(at))
	}
	for n, i := range at {
		for k, x := range extremes {
			if (n+k)%3 == 0 {
				soundSoon(t, text[:i[0]+1]+x+text[i[1]:])
			}
		}
	}
}

// soundSoon also fails on what takes thousands of times as long as it should.
func soundSoon(t *testing.T, text string) {
	t.Helper()
	begin := time.Now()
	sound(t, text, false)
	if took := time.Since(begin); took > 20*time.Second {
		t.Errorf("%v for\n%s", took, text)
	}
}

// everyNumber adds to the lamp's job a line for most of what may hold a number.
const everyNumber = `zone engine air 90 C
section lid
panel plate thickness 2 mm zone open, engine {
  corners (500, -400, -300 mm), (500, 400, -300 mm), (500, 400, 400 mm), (500, -400, 400 mm)
}
hazard pipe between (700, 300, 0 mm), (900, 320, 50 mm) clearance 50 mm sleeved 20 mm
break P at (500, 100, 0 mm) panel plate housing sealed-4 {
  half body contacts sockets mount fixed
  half lid contacts pins mount free
}
point hub at (300, 100, 0 mm)
run trunk section body zone open {
  from battery to hub to P length 700 mm slack 20 mm
  from hub to relay
}
run beyond from P to (800, 50, 20 mm) to fan section lid zone engine sleeve braid
device relay at (300, 200, 0 mm) housing sealed-5 {
  pin 85, 86, 30, 87 cavity [1..4]
  coil 0.15 A at 12 V as resistance from 86 to 85 moves on pull-in 8 V drop-out 2 V
  state on joins 30, 87 resistance 4 mohm rating 30 A
}
device fan at (1000, 100, 0 mm) housing sealed-2 { draw 8 A at 13 V as power from 1 to 2 start 20 A for 2 s least 9 V tolerance 10 % on 30 s off 60 s }
device second at (0, 60, 0 mm) {
  pin plus, minus stud M6
  supply 13.8 V inside 20 mohm most 40 A from plus to minus
}
run short from battery to second section body zone open
circuit charge from second.plus to battery.plus size 6 mm2
circuit charge-back from second.minus to battery.minus size 10 AWG parallel 2
circuit coil from battery.plus to relay.86 carries 1 A
circuit coil-back from battery.minus to relay.85
circuit fan-feed from battery.plus to relay.30
circuit fan from relay.87 to fan.1
circuit fan-back from battery.minus to fan.2
cable pair holds fan, fan-back as pair twist 30 mm
cavity P.3 circuit fan-back
hole h1 at (500, 200, 50 mm) panel plate drill 6 mm
fixing f1 run trunk after 150 mm
case hot air 45 C for 1 h {
  supply battery at 12.2 V inside 15 mohm
  supply second at 14 V
  zone engine air 105 C
}
`
