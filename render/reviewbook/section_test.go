package reviewbook

import (
	"math"
	"testing"

	"loomsheet/harness/heat"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// A wire at its limit is in the last step that is met, above it in the one that is not; grey gets darker from step to step.
func TestHeatSteps(t *testing.T) {
	for share, want := range map[float64]int{0: 0, 0.2499: 0, 0.25: 1, 0.6: 2, 0.75: 3, 1: 3, 1.01: 4, math.MaxFloat64: 4} {
		if got := stepOf(share); got != &heatSteps[want] {
			t.Errorf("%v is %q, want %q", share, got.words, heatSteps[want].words)
		}
	}
	grey := func(i page.Ink) float64 { return 0.299*float64(i.R) + 0.587*float64(i.G) + 0.114*float64(i.B) } // ITU-R BT.601
	for i := range heatSteps[1:] {
		if grey(heatSteps[i+1].fill) > grey(heatSteps[i].fill)-15 {
			t.Errorf("%s prints as light as %s", heatSteps[i+1].words, heatSteps[i].words)
		}
	}
}

func TestStrandShares(t *testing.T) {
	in := tractor(same)
	b := &book{in: in}
	r := &heat.BundleResult{Ambient: 40, Amps: []unit.Current{3}, Temps: []unit.Temperature{70}}
	limit := in.Heat.Wires[0].Limit
	in.Heat.Wires[0].Known = true
	if got, want := b.strand(r, 0, 0).share, 30/float64(limit-40); math.Abs(got-want) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	r.Ambient = limit + 5
	r.Temps[0] = limit + 6
	if s := b.strand(r, 0, 0).share; stepOf(s) != &heatSteps[len(heatSteps)-1] {
		t.Errorf("air above the limit is a share of %v", s)
	}
	in.Heat.Wires[0].Known = false
	if s := b.strand(r, 0, 0).share; s >= 0 {
		t.Errorf("an unknown conductor has a share of %v", s)
	}
}

// Each section is of another run, and the hottest of its run over all cases.
func TestSections(t *testing.T) {
	b := &book{in: tractor(same)}
	all := b.bundleSections()
	if len(all) == 0 {
		t.Fatal("no bundle in the fixture")
	}
	for _, s := range all {
		for _, c := range b.in.Heat.Bundles {
			for i := range c.Bundles {
				r := &c.Bundles[i]
				if r.Edge < 0 || len(r.Wires) < 2 || b.in.Space.Edges[r.Edge].Run != s.run {
					continue
				}
				for k, w := range r.Wires {
					if x := b.strand(r, k, w); x.share > s.strands[0].share {
						t.Errorf("run %s: wire %d uses %v in case %s, the drawing shows %v at most", s.run, w, x.share, c.Case, s.strands[0].share)
					}
				}
			}
		}
	}
}
