package space

import (
	"slices"
	"testing"

	"loomsheet/harness/unit"
	"pgregory.net/rapid"
)

// What is looked up is what going through all edges finds.
func TestIndex(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := Lay(anyJob(t))
		plain := *g
		plain.index = nil
		for n := -1; n <= len(g.Nodes); n++ {
			if a, b := g.Around(n), plain.Around(n); !slices.Equal(a, b) {
				t.Fatalf("node %d: %v, one by one %v", n, a, b)
			}
		}
		runs := []string{"", "nowhere"}
		for i := range g.Edges {
			runs = append(runs, g.Edges[i].Run)
		}
		slices.Sort(runs)
		for _, r := range slices.Compact(runs) {
			for s := -1; s < 4; s++ {
				a, b := g.Stretch(r, s), plain.Stretch(r, s)
				if !slices.Equal(a, b) {
					t.Fatalf("%s %d: %v, one by one %v", r, s, a, b)
				}
				l, okL := g.StretchLength(r, s)
				m, okM := plain.StretchLength(r, s)
				if l != m || okL != okM {
					t.Fatalf("%s %d: %v %v, one by one %v %v", r, s, l, okL, m, okM)
				}
				v, okV := g.Way(r, s)
				w, okW := plain.Way(r, s)
				if okV != okW || !slices.Equal(v, w) || g.WayScale(r, s) != plain.WayScale(r, s) {
					t.Fatalf("%s %d: ways differ", r, s)
				}
				at := unit.Length(rapid.Float64Range(-10, 2000).Draw(t, "at"))
				p, okP := g.Position(r, s, at)
				q, okQ := plain.Position(r, s, at)
				if p != q || okP != okQ {
					t.Fatalf("%s %d at %v: %v, one by one %v", r, s, at, p, q)
				}
			}
		}
	})
}
