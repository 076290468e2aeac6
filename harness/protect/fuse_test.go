package protect_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// fuseJob is a lamp behind a fuse in a zone at 65 C, where the datasheet leaves 34 of 40 A.
const fuseJob = `zone bay air 65 C
device bat at spot section body {
  pin pos, neg stud M8
  supply 12 V inside 1 mohm from pos to neg
}
device f at spot section body zone bay {
  pin in, out stud M6
  fuse large-blade-40 from in to out
}
device lamp at spot section body {
  pin 1, 2 stud M6
  draw 20 A from 1 to 2 START
}
circuit a from bat.pos to f.in length 100 mm
circuit b from f.out to lamp.1 length 500 mm
circuit c from lamp.2 to bat.neg length 500 mm
case low { supply bat at 11 V }
case on {
  supply bat
  zone bay air 85 C
}
`

// replace exchanges pieces of a text, old and new in turn.
func replace(text string, pairs ...string) string { return strings.NewReplacer(pairs...).Replace(text) }

func only(t *testing.T, f found) *protect.FuseResult {
	t.Helper()
	if len(f.Fuses) != 1 {
		t.Fatalf("%d fuses", len(f.Fuses))
	}
	return &f.Fuses[0]
}

// TestFuseLoad: at 85 C 30 of 40 A are left, so 20 A ask for 20 x 1.25 x 40/30 = 33.3 A.
func TestFuseLoad(t *testing.T) {
	r := only(t, find(t, replace(fuseJob, "START", "")))
	if r.Ambient != 85 || math.Abs(float64(r.Factor)-0.75) > 1e-12 || math.Abs(float64(r.Need)-100./3) > 1e-9 || !r.LoadMet || math.Abs(float64(r.Steady)-20) > 1e-9 || !r.Verified {
		t.Errorf("%+v", r)
	}
	if !slices.Equal(r.Loads, []string{"lamp"}) || len(r.Wires) != 2 || len(r.Ahead) != 0 {
		t.Errorf("loads %v, wires %v, ahead %v", r.Loads, r.Wires, r.Ahead)
	}
	for text, want := range map[string]bool{"24 A": true, "24.1 A": false} {
		if r := only(t, find(t, replace(fuseJob, "START", "", "draw 20 A", "draw "+text))); r.LoadMet != want {
			t.Errorf("%s: needs %v, met %v", text, r.Need, r.LoadMet)
		}
	}
	if r := only(t, find(t, replace(fuseJob, "START", "", "bay air 85 C", "bay air 130 C"))); r.LoadMet || r.Factor != 0 {
		t.Errorf("above the datasheet: %+v", r)
	}
	if r := only(t, find(t, replace(fuseJob, "START", "", "large-blade-40", "blade-35"))); r.Verified || r.LoadMet != (35 >= float64(r.Need)) {
		t.Errorf("the datasheet is of another kind: %+v", r)
	}
}

// TestFuseStart: 90 A on 40 A is 225 %, held 0.2 s as at the listed 350 %.
func TestFuseStart(t *testing.T) {
	for _, c := range []struct {
		start    string
		listed   unit.Ratio
		earliest unit.Time
		met      bool
	}{
		{"start 90 A for 0.19 s", 3.5, 0.2, true},
		{"start 90 A for 0.2 s", 3.5, 0.2, false},
		{"start 80 A for 1.9 s", 2, 2, true},
		{"start 38 A for 100 s", 1, 360000, true},
		{"start 100 A for 0.1 s", 3.5, 0.2, true},
	} {
		r := only(t, find(t, replace(fuseJob, "START", c.start)))
		if len(r.Starts) != 2 {
			t.Fatalf("%s: %d starts", c.start, len(r.Starts))
		}
		for _, h := range r.Starts {
			if h.Device != "lamp" || h.Listed != c.listed || h.Earliest != c.earliest || h.Met != c.met {
				t.Errorf("%s: %+v", c.start, h)
			}
		}
	}
}

// TestLeadOfACharger: the fuse in an alternator's lead is held against its limit, though a case shows less; one that branches off is not.
func TestLeadOfACharger(t *testing.T) {
	f := find(t, battery+lamp+`device alt at spot section body {
  pin b, e stud M8
  supply 14.4 V inside 20 mohm most 70 A from b to e
}
device lead at spot section body {
  pin in, out stud M8
  fuse bolt-100 from in to out
}
device off at spot section body {
  pin in, out stud M8
  fuse blade-10 from in to out
}
circuit a from alt.b to lead.in length 500 mm
circuit b from lead.out to bat.pos length 100 mm
circuit c from bat.pos to off.in length 100 mm
circuit d from off.out to lamp.1 length 500 mm
circuit e from alt.e to bat.neg length 500 mm
circuit back from lamp.2 to bat.neg length 500 mm
case run { supply bat, alt }
`)
	for i := range f.Fuses {
		r := &f.Fuses[i]
		if want := r.Device == "lead"; r.Lead != want || want && r.Steady != 70 || !want && r.Steady > 3 {
			t.Errorf("%s: lead %v, %v", r.Device, r.Lead, r.Steady)
		}
		if r.Device == "off" && !slices.Equal(r.Ahead, []protect.FuseRef{{Device: "lead"}}) {
			t.Errorf("ahead of it %v", r.Ahead)
		}
	}
}

// TestFuseOnTheMinus: in the feed it is not, between the lamp and the battery's minus it is, behind a switch that no case closes as well.
func TestFuseOnTheMinus(t *testing.T) {
	for text, want := range map[string]bool{
		"circuit a from bat.pos to f.in length 500 mm\ncircuit b from f.out to lamp.1 length 500 mm\ncircuit c from lamp.2 to bat.neg length 500 mm\n":                                                                                                                            false,
		"circuit a from bat.pos to lamp.1 length 500 mm\ncircuit b from lamp.2 to f.in length 500 mm\ncircuit c from f.out to bat.neg length 500 mm\n":                                                                                                                            true,
		"device sw at spot section body {\n  pin 1, 2 stud M6\n  state on joins 1, 2\n}\ncircuit a from bat.pos to lamp.1 length 500 mm\ncircuit b from lamp.2 to f.in length 500 mm\ncircuit c from f.out to sw.1 length 500 mm\ncircuit d from sw.2 to bat.neg length 500 mm\n": true,
	} {
		if r := only(t, find(t, battery+lamp+fused+text+"case on { supply bat }\n")); r.Return != want {
			t.Errorf("%v, want %v: %s", r.Return, want, text)
		}
	}
}

// TestFuseAtHighVolts: a heater of 3 A at 12 V draws 3.5 A at the high end of its battery, 14 V behind next to nothing.
func TestFuseAtHighVolts(t *testing.T) {
	r := only(t, find(t, replace(fuseJob, "START", "start 6 A for 1 s", "supply 12 V inside 1 mohm from pos to neg", "supply 12 V inside 1 mohm from pos to neg low 11 V high 14 V",
		"draw 20 A", "draw 3 A at 12 V as resistance", "case low { supply bat at 11 V }\n", "")))
	if r.Steady < 3.4 || r.Steady > 3.5 || len(r.Starts) != 1 || r.Starts[0].Amps < 6.8 {
		t.Errorf("steady %v, starts %+v", r.Steady, r.Starts)
	}
}
