package rule_test

import (
	"strings"
	"testing"
)

const charging = `harness "Example" revision B
section body
zone cabin air 40 C
point hub at (500, 0, 0 mm)
run main from battery, alternator to hub to lamp section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  inner cell
  fuse blade-30 from cell to pos
  supply 12.6 V inside 10 mohm from cell to neg
}
device alternator at (0, 200, 0 mm) {
  pin b, e stud M8
  inner w
  LEAD
  supply 14 V inside 10 mohm most 50 A from w to e
}
device lamp at (1000, 0, 0 mm) {
  pin 1, 2 stud M6
  draw 5 A at 12 V as resistance from 1 to 2
}
circuit lead from alternator.b to battery.pos colour brown
circuit lead-back from alternator.e to battery.neg colour black
circuit feed from battery.pos to lamp.1 SIZE colour red
circuit back from battery.neg to lamp.2 colour black
case on {
  supply battery
  supply alternator
}
`

// A short that a battery's fuse ends but for an alternator's limit: wires that the program sizes carry that, and nothing is told; of one that does not
// it is told what flows on, and not the first surge.
func TestWhatFlowsOnAfterAFuse(t *testing.T) {
	for _, c := range []struct{ lead, size, title string }{
		{"joins w, b", "", ""},
		{"joins w, b", "size 10 mm2", ""},
		{"joins w, b", "size 1 mm2", "50 A flow on from alternator after battery: fuse blade-30 from cell to pos has opened"},
		{"fuse large-blade-60 from w to b", "", ""},
		{"fuse large-blade-60 from w to b", "size 1 mm2", "50 A flow on from alternator and need not blow alternator: fuse large-blade-60 from w to b"},
	} {
		told := 0
		for _, f := range compile(t, strings.NewReplacer("LEAD", c.lead, "SIZE", c.size).Replace(charging)).Findings {
			switch f.Code {
			case "short-too-weak":
				told++
				if c.title == "" || !strings.Contains(f.Title, c.title) || !strings.Contains(f.Detail, "carries 50 A") {
					t.Errorf("%+v: %s %s", c, f.Title, f.Detail)
				}
			case "no-fuse", "fuse-over-wire":
				if c.title == "" {
					t.Errorf("%+v: %s %s", c, f.Title, f.Detail)
				}
			}
		}
		if want := c.title != ""; want != (told == 1) {
			t.Errorf("%+v: told %d times", c, told)
		}
	}
}
