package main

import (
	"regexp"
	"strings"
	"testing"
	"time"

	"loomsheet/harness/design"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	words "loomsheet/lang/word"
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

// every is what a hostile or a clumsy hand puts in place of a number, with its unit left where it stands.
var every = []string{"-1", "0", "1e300", "1e-300", "NaN", "inf", "0x1p3", strings.Repeat("9", 309), strings.Repeat("9", 300), "0." + strings.Repeat("0", 300) + "1"}

// Each number in the example of each word of the language, exchanged for each of these, is told of where it stands or gives a sane result: never
// a panic, nor a number that is none. The examples of all words are one job.
func TestNumbersOfEveryWord(t *testing.T) {
	at := regexp.MustCompile(`-?[0-9]+(\.[0-9]+)?`)
	var job strings.Builder
	for _, w := range words.Top() {
		if w.Name != "include" {
			job.WriteString(w.Example + "\n")
		}
	}
	sound(t, job.String(), false)
	changed := 0
	for _, w := range words.All() {
		if w.Example == "" {
			continue
		}
		for n, i := range at.FindAllStringIndex(w.Example, -1) {
			if i[0] > 0 && !strings.Contains(" (", w.Example[i[0]-1:i[0]]) {
				continue // a part of a name
			}
			for k, x := range every {
				if changed++; (n+k)%thinned != 0 {
					continue
				}
				text := w.Example[:i[0]] + x + w.Example[i[1]:]
				whole := strings.Replace(job.String(), w.Example, text, 1)
				sound(t, whole, false)
				named(t, whole, x)
			}
		}
	}
	if changed < 1000 {
		t.Errorf("only %d numbers", changed)
	}
}

// thinned leaves out some of the changes, or the test would take minutes; each word and each change has its turn.
const thinned = 11

// named demands that what no number can be is a mistake in the text, located on a line of its own, in few words.
func named(t *testing.T, text, x string) {
	t.Helper()
	_, sources, said := resolve.Job("job.loom", loadOne("job.loom", text), parts.Files(), nil)
	if !said.HasMistakes() && (x == "NaN" || x == "inf" || x == "1e300" || x == "0x1p3") && !strings.Contains(text, x+",") && !strings.Contains(text, x+"\n") {
		for l := range strings.Lines(text) {
			if i := strings.Index(l, x); i >= 0 && taken.MatchString(l[i+len(x):]) {
				t.Errorf("`%s` is taken for a number in %s", x, l)
			}
		}
	}
	for _, d := range said {
		if _, ok := sources.Text(d.Span.File.String()); !ok || len(d.Title)+len(d.Detail) > 1000 || len(said) > 60 {
			t.Errorf("%s for %.40s: %d bytes at %v among %d messages", d.Code, x, len(d.Title)+len(d.Detail), d.Span, len(said))
		}
	}
}

// taken is a unit behind a number.
var taken = regexp.MustCompile(`^ (mm|mm2|m|A|V|W|C|s|h|ohm|mohm|AWG|K|deg)\b`)

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
tube rail from (600, 100, -20 mm) to (800, 120, -20 mm) to (1000, 100, -20 mm) outside 30 mm
panel roof thickness 1 mm zone open, engine points (0, 0, 60 mm), (400, 0, 62 mm), (400, 200, 60 mm), (0, 200, 58 mm) keep-out (10, 10, 60 mm), (50, 10, 60 mm), (50, 90, 60 mm)
panel roof-left like roof mirror y
hazard rod as moving outside 20 mm {
  position "left" from (700, 200, 0 mm) to (900, 240, 10 mm)
  position "right" between (700, 260, 0 mm), (900, 280, 10 mm)
}
hazard pipe-left like pipe mirror y
housing own-4 cut-out 30 mm, 20 mm flange 44 mm, 34 mm nut 40 mm grips 1 mm, 4 mm behind 20 mm room 60 mm shell metal {
  cavity [1..2] takes size-16 at (0, 0 mm) step (6, 0 mm)
  hole a, b at (-20, 14 mm) step (40, 0 mm) drill 4.3 mm
}
break Q at (500, -200, 80 mm) panel plate housing own-4 flange engine turn 30 deg faces (900, -200, 80 mm) {
  half body contacts sockets mount fixed
  half lid contacts pins
}
run to-q from hub to Q section body zone open panel plate bend 30 mm fastener own-nut clip own-clip
run from-q from Q to (700, -100, 0 mm) to fan section lid zone engine tube rail
fastener own-nut as rivet-nut thread M5 drill 7 mm, 7.2 mm grips 0.5 mm, 3 mm engage 6 mm screws 12 mm, 16 mm
clip own-clip as p-clip holds 5 mm, 10 mm heat 100 C thick 2 mm
hole q1 at (500, 30, 50 mm) panel plate drill 20 mm, 10 mm frozen A
hole q[2..3] at (500, 60, 60 mm) step (0, 40, 0 mm) panel plate fastener own-nut
case hot air 45 C for 1 h {
  supply battery at 12.2 V inside 15 mohm
  supply second at 14 V
  zone engine air 105 C
}
`
