package resolve

import (
	"fmt"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func TestSleevesAndBoots(t *testing.T) {
	job := clean(t, base+`sleeve mine as shrink grows 2 sizes 24 mm, 6 mm, 12 mm wall 0.9 mm, 0.6 mm, 0.7 mm
sleeve net as braid grows 2 sizes 5 mm, 10 mm sizes-are recovered wall 0.5 mm
sleeve hose sizes 5 mm
sleeve old grows 2 sizes 8 mm
boot cap as push-on passes 30 mm bundle 6 mm, 14 mm body 20 mm, 28 mm length 40 mm heat 100 C
housing own-2 back 24 mm boot cap { cavity [1..2] takes size-16 }
device one at (0, 10, 0 mm) housing own-2 boot boot-12
device two at (0, 20, 0 mm) fitted yes {
  housing own-2 as a boot boot-18
  housing own-2 as b
}
`)
	sleeves := map[string]*design.Sleeve{}
	for _, s := range job.Parts.Sleeves {
		sleeves[s.Name] = s
	}
	text := func(s *design.Sleeve) string {
		out := s.Kind()
		for i := range s.Sizes {
			r, e := s.Band(i)
			out += fmt.Sprintf(" %g-%g/%g", float64(r), float64(e), float64(s.Wall(i)))
		}
		return out
	}
	for name, want := range map[string]string{"mine": "shrink 3-6/0.6 6-12/0.7 12-24/0.9", "net": "braid 5-10/0.5 10-20/0.5", "hose": "tube 5-5/0", "old": "shrink 4-8/0"} {
		if got := text(sleeves[name]); got != want {
			t.Errorf("%s is %s, want %s", name, got, want)
		}
	}
	boots := map[string]*design.Boot{}
	for _, b := range job.Parts.Boots {
		boots[b.Name] = b
	}
	if c := boots["cap"]; c == nil || c.Kind() != "push-on" || c.Passes != 30 || c.Bundle != [2]unit.Length{6, 14} || c.Body != [2]unit.Length{20, 28} || c.Length != 40 || c.Heat.Nominal != 100 {
		t.Errorf("%+v", boots["cap"])
	}
	if boots["boot-12"] == nil || boots["boot-18"] == nil || boots["boot-12"].Kind() != "shrink" {
		t.Error("the boots of the library that are named are not there")
	}
	for _, d := range job.Devices {
		switch d.Name {
		case "one":
			if d.Fitted || d.Housings[0].Boot != "boot-12" {
				t.Errorf("%+v", d)
			}
		case "two":
			if !d.Fitted || d.Housings[0].Boot != "boot-18" || d.Housings[1].Boot != "" {
				t.Errorf("%+v", d)
			}
		}
	}
}
