package bench

import (
	"errors"
	"strings"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// What is decided of an end reaches the builder: the lug's angle, the nut's torque, what is slid on first. A wire that goes out along a run and
// back has both ways in its sum.
func TestEndsAndWaysBack(t *testing.T) {
	const text = `harness "Ends" revision A
section body
zone open air 35 C
device battery at (0, 0, 0 mm) {
  pin plus, minus stud M6 torque 5 Nm
  supply 12.6 V inside 10 mohm from plus to minus
}
device lamp at (1000, 0, 0 mm) housing sealed-2 { draw 21 W at 12 V as resistance from 1 to 2 }
point out at (400, 0, 0 mm)
run side from battery to out to lamp section body zone open sleeve braid
circuit feed from battery.plus to lamp.1 colour red
circuit back from battery.minus to lamp.2 via out colour black
circuit strap from battery.plus to battery.minus via out carries 1 A
cavity battery.plus circuit feed angle 45 deg slid-on shrink order 1
case lit { supply battery }
`
	job, _, msgs := resolve.Job("ends.loom", func(name string) ([]byte, error) {
		if name == "ends.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}, parts.Files(), nil)
	if msgs.HasMistakes() {
		t.Fatal(msgs)
	}
	nt := net.Build(job, space.Lay(job), nil)
	plan := made(job, nt, size.Initial(job, nt))
	seen := 0
	for _, c := range plan.Sections[0].Cuts {
		switch {
		case strings.HasPrefix(c.Name, "feed"):
			seen++
			if c.Ends[0].Contact != "M6 lug 45 deg" || !strings.Contains(c.Note, "slide on before the end at battery.plus: shrink") {
				t.Errorf("%+v", c)
			}
		case strings.HasPrefix(c.Name, "strap"):
			seen++
			if terms := listed(c.Terms); len(terms) < 2 || terms[0] != (Term{What: "side 0 to 400", Length: 400}) || terms[1] != (Term{What: "side 400 to 0", Length: 400}) {
				t.Errorf("out and back: %+v", terms)
			}
		}
	}
	for _, k := range plan.Sections[0].Connectors {
		for _, r := range k.Rows {
			if r.Label == "feed" && k.Device == "battery" {
				seen++
				if r.Contact != "M6 lug 45 deg, 5 Nm" {
					t.Errorf("%+v", r)
				}
			}
		}
	}
	if s := plan.Sections[0].Sleeves; len(s) != 1 || s[0].Part != "braid" || s[0].Length != 1000 || s[0].From != "battery" || s[0].To != "lamp" || s[0].Over <= 0 {
		t.Errorf("sleeves: %+v", s)
	}
	if seen != 3 {
		t.Errorf("%d of 3 found", seen)
	}
}
