package fix

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// TestPlacesInARow: places that are looked at one after the other, as along a bundle, get the answers that each gets alone.
func TestPlacesInARow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		draw := func(name string, lo, hi int) unit.Length { return unit.Length(rapid.IntRange(lo, hi).Draw(t, name)) }
		corners := func(x, y, wide, high, in unit.Length) []design.Point3 {
			return []design.Point3{at3(x, y, 0), at3(x+wide, y, 0), at3(x+wide-in, y+high/2, 0), at3(x+wide, y+high, 0), at3(x, y+high, 0)}
		}
		a := &design.Panel{Name: "a", Corners: corners(0, 0, 300, 200, draw("in", 0, 250))}
		b := &design.Panel{Name: "b", Corners: corners(300, draw("step", -50, 50), 200, 200, 0)}
		for range rapid.IntRange(0, 2).Draw(t, "keep-outs") {
			a.KeepOuts = append(a.KeepOuts, corners(draw("x", 0, 300), draw("y", 0, 200), draw("wide", 5, 60), draw("high", 5, 60), 0))
		}
		job := &design.Job{Panels: []*design.Panel{a, b}, Parts: library()}
		for k := range rapid.IntRange(0, 6).Draw(t, "holes") {
			h := &design.Hole{Name: string(rune('a' + k)), Panel: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "panel"), Spot: spotAt("", at3(draw("x", 0, 500), draw("y", 0, 200), 0)), Drill: draw("drill", 0, 20)}
			if rapid.Bool().Draw(t, "cut-out") {
				h.High = draw("high", 1, 40)
			}
			job.Holes = append(job.Holes, h)
		}
		nt, bundles := (&rig{job: job}).laid()
		m := newMaker(job, nt, bundles)
		m.findSheets()
		drill := rapid.SampledFrom([]unit.Length{0, 5.5, 7.1, 30}).Draw(t, "size")
		over := ground{panel: "a", sheet: m.sheet["a"]}
		row := shutting{m: m, panel: "a", sheet: m.sheet["a"], drill: drill}
		turn, step := rapid.Float64Range(0, 7).Draw(t, "turn"), rapid.SampledFrom([]float64{0.3, 1, 1, 7}).Draw(t, "step")
		at := at3(draw("x", -20, 520), draw("y", -20, 220), draw("z", 0, 12))
		for k := range 400 {
			x := at
			if k == 200 && rapid.Bool().Draw(t, "odd") {
				x.X = unit.Length(rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), 1e13}).Draw(t, "no place"))
			}
			if got, want := over.under(x), (&ground{panel: "a", sheet: m.sheet["a"]}).under(x); got != want {
				t.Fatalf("%v lies over %s in place of %s", x, got, want)
			}
			if got, want := row.at(x, false), m.shutAt("a", x, drill, false); got != want {
				t.Fatalf("at %v: %q in place of %q", x, got, want)
			}
			at.X, at.Y = at.X+unit.Length(step*math.Cos(turn)), at.Y+unit.Length(step*math.Sin(turn))
		}
	})
}

// TestFacingInARow: what faces the places of a chain, one after the other, is what faces each alone.
func TestFacingInARow(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := beside(unit.Length(rapid.IntRange(1, 60).Draw(t, "gap")))
		for k := range 2 {
			n := &r.job.Runs[1].Stretches[0].Nodes[k].At
			n.Y += unit.Length(rapid.IntRange(-30, 30).Draw(t, "aslant"))
			n.X += unit.Length(rapid.IntRange(-300, 300).Draw(t, "along"))
		}
		nt, bundles := r.laid()
		m := newMaker(r.job, nt, bundles)
		m.findChains()
		a, b := m.chains[0], m.chains[1]
		row := look(a, b)
		for p := range row.spots {
			q, back, ok := m.facing(&row, p)
			first := look(a, b)
			wq, wantBack, want := m.facing(&first, p)
			if ok != want || ok && (q != wq || back != wantBack) {
				t.Fatalf("place %d: %d %v %v in place of %d %v %v", p, q, back, ok, wq, wantBack, want)
			}
		}
	})
}
