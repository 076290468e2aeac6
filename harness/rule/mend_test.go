package rule_test

import (
	"strings"
	"testing"

	"loomsheet/harness"
)

// twoWires is a lamp behind a stud: what leads to the stud, and what leads on.
const twoWires = `harness "Example" revision B
section body
zone cabin air 40 C
point hub at (4000, 0, 0 mm)
run main from battery to stud to hub to lamp section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 5 mohm from pos to neg
}
device stud at (3000, 0, 0 mm) {
  pin in, l, r stud M6
  joins in, l, r
}
device lamp at (6000, 0, 0 mm) housing sealed-2 { draw 6 A at 12 V from 1 to 2 }
device other at (3000, 200, 0 mm) { 
  pin 1, 2 stud M6
  draw 10 A at 12 V from 1 to 2
}
run side from stud to other section body zone cabin
circuit main from battery.pos to stud.in MAIN
circuit other from stud.r to other.1 size 4 mm2
circuit other-back from other.2 to battery.neg size 6 mm2
circuit on from stud.l to lamp.1 ON
circuit back from lamp.2 to battery.neg size 6 mm2
set drop to LIMIT device lamp
set drop to 5 V device other
case on { supply battery }
`

func mended(t *testing.T, main, on, limit string) (*harness.Result, string) {
	t.Helper()
	r := compile(t, strings.NewReplacer("MAIN", main, "ON", on, "LIMIT", limit).Replace(twoWires))
	for _, f := range r.Findings {
		if f.Code == "drop-over" && f.Subject.Name == "lamp" {
			return r, f.Detail
		}
	}
	t.Fatalf("no drop is over: %v", r.Findings)
	return nil, ""
}

// TestStatedSizesStand: where a stated size is what stands in the way, the best that other sizes bring is told as that, beside a larger one
// that does better.
func TestStatedSizesStand(t *testing.T) {
	for _, main := range []string{"size 0.75 mm2", "size 1 mm2", "size 1.5 mm2"} {
		r, detail := mended(t, main, "", "0.3 V")
		if len(r.Fit.Beyond) == 0 {
			t.Fatalf("%s: the case is no test: %s", main, detail)
		}
		if strings.Contains(detail, "Sizes alone do not mend it") {
			t.Errorf("%s: the stated size is passed over: %s", main, detail)
		}
		best := r.Fit.Beyond[0].Best.String()
		if strings.Contains(detail, best) != strings.Contains(detail, "With the stated sizes on its way as they are, sizes alone come to "+best+" at best") {
			t.Errorf("%s: %s", main, detail)
		}
	}
}

// TestOneChangeFirst: where one change does, it is named before the sizes that pass together.
func TestOneChangeFirst(t *testing.T) {
	seen := 0
	for _, limit := range []string{"0.7 V", "0.9 V", "1 V", "1.1 V", "1.3 V", "1.5 V"} {
		for _, main := range []string{"size 1.5 mm2", "size 2.5 mm2", "size 4 mm2"} {
			r := compile(t, strings.NewReplacer("MAIN", main, "ON", "size 1.5 mm2", "LIMIT", limit).Replace(twoWires))
			for _, f := range r.Findings {
				if f.Code != "drop-over" || f.Subject.Name != "lamp" {
					continue
				}
				alone := false
				for _, a := range r.Answers {
					for _, c := range a.Changes {
						alone = alone || c.Meets && a.Device == "lamp"
					}
				}
				if strings.Contains(f.Detail, "smallest sizes that pass") {
					t.Errorf("%s: %s", main, f.Detail)
				}
				if !alone {
					continue
				}
				one, all := strings.Index(f.Detail, "which meets the limit"), strings.Index(f.Detail, "Sizes that pass together, every other wire as small as it may be")
				up := strings.Index(f.Detail, "All wires on its way")
				if one < 0 || up >= 0 && up < one || all >= 0 && all < one {
					t.Errorf("%s, %s: %s", main, limit, f.Detail)
				}
				if all >= 0 {
					seen++
				}
				for _, no := range []string{"Sizes alone do not mend it", "is missed: look at"} {
					if strings.Contains(f.Detail, no) {
						t.Errorf("%s, %s: denied all the same: %s", main, limit, f.Detail)
					}
				}
			}
		}
	}
	if seen < 2 {
		t.Errorf("%d findings tell both: the jobs are no test", seen)
	}
}
