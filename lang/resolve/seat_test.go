package resolve

import (
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

const seatJob = base + `point a1 at (0, 0, 0 mm)
point b1 at (900, 0, 0 mm)
point c1 at (900, 300, 0 mm)
run twig from a1 to b1, c1 section tub
barrel own takes 1 mm2, 16 AWG length 7 mm outside 3 mm strip 8 mm tool "frame 1" heat 105 C
`

// A splice takes the place of its seat line, and is frozen with it; whatever the order of lines.
func TestSeat(t *testing.T) {
	lines := []string{"splice s-one section tub barrel own", "seat s-one along twig to c1 after 120 mm frozen B"}
	for range 2 {
		j := clean(t, seatJob+strings.Join(lines, "\n")+"\n")
		s := find(j.Splices, func(s *design.Splice) bool { return s.Name == "s-one" })
		if s.Along != "twig" || s.To != "c1" || s.After != 120 || s.Node != "s-one" || s.Frozen != "B" || s.Status() != design.Frozen || s.Barrel != "own" || s.Chosen {
			t.Errorf("%+v", s)
		}
		if len(j.Seats) != 1 || j.Seats[0].Lost || j.Seats[0].To != "c1" || j.Seats[0].Frozen != "B" {
			t.Errorf("%+v", j.Seats)
		}
		lines[0], lines[1] = lines[1], lines[0]
	}
	j := clean(t, seatJob+"splice s-one section tub\nseat s-one along twig after 120 mm\n")
	if s := find(j.Splices, func(s *design.Splice) bool { return s.Name == "s-one" }); s.Status() != design.Stated || s.To != "" {
		t.Errorf("%+v", s)
	}
}

// What is frozen outlives its splice and its run.
func TestSeatLost(t *testing.T) {
	j := clean(t, seatJob+"splice s-one section tub\nseat s-gone along twig after 10 mm frozen A\nseat s-one along gone after 20 mm frozen A\n")
	if len(j.Seats) != 2 || !j.Seats[0].Lost || !j.Seats[1].Lost {
		t.Errorf("%+v", j.Seats)
	}
	if s := find(j.Splices, func(s *design.Splice) bool { return s.Name == "s-one" }); s.Along != "" || s.Frozen != "" {
		t.Errorf("%+v", s)
	}
}

func TestSeatMistakes(t *testing.T) {
	for line, want := range map[string]string{
		"seat s-gone along twig after 10 mm":                                                             "no-such-splice",
		"splice s-one section tub\nseat s-one along gone after 10 mm":                                    "no-such-run",
		"splice s-one section tub\nseat s-one along twig":                                                "option-missing",
		"splice s-one section tub\nseat s-one after 10 mm":                                               "option-missing",
		"splice s-one section tub at b1\nseat s-one along twig after 10 mm":                              "place-twice",
		"splice s-one section tub along twig after 9 mm\nseat s-one along twig after 10 mm":              "place-twice",
		"splice s-one section tub\nseat s-one along twig after 10 mm\nseat s-one along twig after 10 mm": "place-twice",
		"splice s-one section tub along twig to d1 after 9 mm":                                           "no-such-place",
		"splice s-one section tub to b1":                                                                 "option-missing",
		"splice s-one section tub barrel none":                                                           "no-such-barrel",
		"barrel x takes 3 mm2, 1 mm2 length 8 mm strip 8 mm":                                             "least-above-most",
		"barrel x takes 3 mm2 length 0 mm strip 8 mm":                                                    "zero",
		"barrel x takes 3 mm2 strip 8 mm":                                                                "option-missing",
	} {
		_, src, ds := text(t, "harness \"Test\"\n"+seatJob+line+"\n")
		if codes(ds) != want {
			t.Errorf("%s: %s", line, show(src, ds))
		}
	}
}

// A job has its own barrels and those of the library, and a sleeve knows whether it is lined.
func TestBarrels(t *testing.T) {
	j := clean(t, seatJob)
	own := find(j.Parts.Barrels, func(b *design.Barrel) bool { return b.Name == "own" })
	if own.Least != 1 || own.Most < 1.3 || own.Most > 1.32 || own.Length != 7 || own.Outside != 3 || own.Strip != 8 || own.Tool != "frame 1" || own.Heat.Nominal != 105 || !own.Own {
		t.Errorf("%+v", own)
	}
	for _, sum := range []unit.Area{0.5, 1, 1.5, 2.6, 6.64, 10.55, 16.8, 26.7, 42.4, 60.5, 96.2, 150} {
		n := 0
		for _, b := range j.Parts.Barrels {
			if !b.Own && b.Takes(sum) {
				n++
			}
		}
		if n == 0 {
			t.Errorf("no barrel of the library takes %s", sum)
		}
	}
	for _, s := range j.Parts.Sleeves {
		if s.Glued != strings.HasPrefix(s.Name, "shrink-glued") {
			t.Errorf("%s: glued %v", s.Name, s.Glued)
		}
	}
}

func find[T any](list []*T, want func(*T) bool) *T {
	for _, x := range list {
		if want(x) {
			return x
		}
	}
	return new(T)
}
