package rule_test

import (
	"fmt"
	"strings"
	"testing"
)

const wetWall = `harness "Example" revision B
section body, nose
zone cabin air 40 C
zone bay air 60 C with wet
panel wall thickness 1.5 mm zone cabin, bay {
  corners (400, -300, -300 mm), (400, 300, -300 mm), (400, 300, 300 mm), (400, -300, 300 mm)
}
break P at (400, 0, 0 mm) panel wall housing sealed-24 flange bay {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
run rear from battery to P section body zone cabin
run front from P to lamp section nose zone bay
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-5 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (900, 100, 0 mm) housing sealed-24 {
  draw 0.1 A at 12 V as resistance from 1 to 2
  joins 1, 3, 4, 5, 6, 7, 8
}
circuit back from battery.neg to lamp.2 colour black size 1.5 mm2
case on { supply battery }
`

// feeds are seven wires that only the larger contacts take.
func feeds(n int) string {
	out := ""
	for i := range n {
		out += fmt.Sprintf("circuit f%d from battery.pos to lamp.%s colour red size 1.5 mm2 class signal\n", i, []string{"1", "3", "4", "5", "6", "7", "8"}[i])
	}
	return out
}

func TestSpareOfTheWrongKind(t *testing.T) {
	for n, want := range map[int]int{6: 0, 7: 1} {
		r := compile(t, wetWall+feeds(n))
		if got := codes(r)["spare-few"]; got != want {
			t.Errorf("%d wires on 8 large cavities of 24: %d findings, want %d: %v", n+1, got, want, codes(r))
		}
	}
}

func TestMarkersTellAlike(t *testing.T) {
	for more, want := range map[string]int{
		"":                      0,
		"set markers to none\n": 3, // both halves of P, and the lamp
		"set markers to none\nlabel \"a\" circuit f0 from battery.pos to P\nlabel \"b\" circuit f0 from P to lamp.1\nlabel \"c\" circuit f1 from P to lamp.3\n": 0,
	} {
		if got := codes(compile(t, wetWall+feeds(2)+more))["alike-wires"]; got != want {
			t.Errorf("%q: %d findings, want %d", more, got, want)
		}
	}
}

func TestNoSealInTheWet(t *testing.T) {
	thick := "wire fat heat 125 C { size 1.5 mm2 resistance 13.3 mohm/m outside 12 mm }\ncontact own-fat rating 13 A takes 0.5 mm2, 2 mm2 insulation 1 mm, 14 mm\n"
	job := strings.Replace(wetWall+thick+"set wire to fat\n"+feeds(1), "housing sealed-24 {", "housing own-sealed-24 {", 1) +
		"housing own-sealed-24 { cavity [1..8] takes own-fat }\n"
	got := 0
	for _, f := range compile(t, job).Findings {
		if f.Code == "seal-misfit" && strings.Contains(f.Title, "no seal closes on 12 mm") && strings.Contains(f.Title, "in cavity lamp.") {
			got++
		}
	}
	if got != 2 {
		t.Errorf("%d findings", got)
	}
}

// Where a reading is off by more than its limit, that is told, and the metal that is shared not once more.
func TestSharedEarthIsToldOnce(t *testing.T) {
	for _, c := range []struct {
		size           string
		shared, misses int
	}{{"0.5 mm2", 0, 1}, {"16 mm2", 1, 0}} {
		job := strings.NewReplacer("SIZE", c.size).Replace(sharedJob)
		if got := codes(compile(t, job)); got["earth-shared"] != c.shared || got["reading-off"] != c.misses {
			t.Errorf("back of %s: %v", c.size, got)
		}
	}
}

const sharedJob = `harness "Example" revision B
section body
zone cabin air 40 C
run main from battery to hub to lamp section body zone cabin
point hub at (500, 0, 0 mm)
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-5 from cell to pos
  supply 12.6 V inside 10 mohm most 200 A from cell to neg
}
device lamp at (1000, 0, 0 mm) housing sealed-2 { draw 3 A at 12 V as resistance from 1 to 2 }
device sensor at lamp {
  housing sealed-2 key B
  reads 250 kPa per 1 V from 1 to 2
}
device gauge at hub housing sealed-3 { draw 0.1 A from 1 to 2 }
splice s-back at lamp section body
circuit feed from battery.pos to lamp.1 colour red
circuit back colour black {
  from battery.neg to s-back size SIZE
  from s-back to lamp.2, sensor.2 size 1 mm2
}
circuit gauge-feed from battery.pos to gauge.1 colour brown
circuit gauge-back from battery.neg to gauge.2 colour black
circuit signal from sensor.1 to gauge.3 class signal colour green
case on { supply battery }
`
