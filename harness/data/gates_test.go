package data

import (
	"testing"

	"loomsheet/harness/unit"
)

// TestEachKindHasAUsableGate: each rating of the library's kinds is forced open somewhere, holds somewhere, and a row that was read in a
// datasheet counts before one from memory.
func TestEachKindHasAUsableGate(t *testing.T) {
	for _, c := range []struct {
		kind    string
		ratings []unit.Current
	}{
		{BladeF, []unit.Current{2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30}}, {BladeC, []unit.Current{1, 2, 3, 5, 7.5, 10, 15, 20, 25, 30, 35, 40}},
		{BladeE, []unit.Current{20, 25, 30, 40, 50, 60, 70, 80}}, {BoltIn, []unit.Current{30, 40, 100, 200}}, {Link, []unit.Current{100, 250, 500}},
	} {
		for _, r := range c.ratings {
			gates := FuseGateOf(c.kind, r)
			opens, holds, most := 0, 0, unit.Ratio(0)
			for _, g := range gates {
				if g.Most > 0 {
					opens++
					most = max(most, g.Times)
				}
				if g.Least > 0 {
					holds++
				}
			}
			if opens < 3 || holds < 3 || most < 5 {
				t.Errorf("%s %v: %v", c.kind, r, gates)
			}
		}
	}
	for _, g := range FuseGateOf(BladeE, 40) {
		if g.Basis != Verified {
			t.Errorf("%v is from memory", g)
		}
	}
	for _, g := range FuseGateOf(BladeC, 10) {
		if (g.Times == 1.6 || g.Times == 2) != (g.Basis == Verified) {
			t.Errorf("%v", g)
		}
	}
	if g := FuseGateOf(BladeE, 50); len(g) != 5 || g[0].Basis != FromMemory {
		t.Errorf("%v", g)
	}
}
