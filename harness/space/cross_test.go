package space

import (
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
)

// wall stands at x = 1000.
func wall(t interface{ Fatal(...any) }) solid.Sheet {
	s, ok := solid.SheetOf([]solid.Point{{X: 1000, Y: -400, Z: 100}, {X: 1000, Y: 400, Z: 100}, {X: 1000, Y: 400, Z: 700}, {X: 1000, Y: -400, Z: 700}}, nil)
	if !ok {
		t.Fatal("no sheet")
	}
	return s
}

func along(g *Geometry, run string) []Step {
	var out []Step
	for _, e := range g.Stretch(run, 0) {
		out = append(out, Step{Edge: e})
	}
	return out
}

func TestCrossings(t *testing.T) {
	a, b := spot("a", 1300, 0, 400), spot("b", 700, 0, 400)
	for _, c := range []struct {
		name string
		way  []design.Spot
		hold []string // stated holes are held corners
		want int
		node string // at which it crosses; empty: within an edge
	}{
		{"a waypoint beyond it", []design.Spot{a, spot("w", 1020, 100, 500), b}, []string{"w"}, 1, ""},
		{"a waypoint on it", []design.Spot{a, spot("w", 1000, 100, 500), b}, []string{"w"}, 1, "w"},
		{"a waypoint on it, rounded", []design.Spot{a, spot("w", 1000, 100, 500), b}, nil, 1, "w"},
		{"a millimetre before it", []design.Spot{a, spot("w", 1001, 100, 500), b}, []string{"w"}, 1, ""},
		{"two on it", []design.Spot{a, spot("v", 1000, 0, 500), spot("w", 1000, 100, 500), b}, []string{"v", "w"}, 1, "v"},
		{"there and back", []design.Spot{a, spot("w", 1000, 100, 500), spot("c", 1300, 200, 400)}, []string{"w"}, 0, ""},
		{"ends on it", []design.Spot{a, spot("w", 1000, 100, 500)}, nil, 0, ""},
		{"beside its outline", []design.Spot{a, spot("w", 1000, 500, 500), b}, []string{"w"}, 0, ""},
		{"open", []design.Spot{a, spot("open", 1000, 100, 500), b}, nil, 0, ""},
		{"open, along the sheet to it", []design.Spot{a, spot("w", 1000, 0, 500), spot("open", 1000, 100, 500), b}, []string{"w"}, 0, ""},
		{"open, a little behind it", []design.Spot{a, spot("open", 998, 100, 500), b}, nil, 0, ""},
		{"open, and back beside it", []design.Spot{a, spot("open", 1000, 100, 500), spot("w", 900, 0, 400), a}, []string{"w"}, 1, ""},
	} {
		var holes []*design.Hole
		for _, h := range append(c.hold, "open") {
			holes = append(holes, &design.Hole{Name: h, Spot: design.Spot{Node: h}})
		}
		g := Lay(&design.Job{Runs: []*design.Run{run("x", stretch(c.way...))}, Holes: holes})
		open := func(n int) bool { return g.Nodes[n].Key == "open" }
		got := g.Crossings(along(g, "x"), wall(t), open)
		if len(got) != c.want {
			t.Errorf("%s: %+v, want %d", c.name, got, c.want)
			continue
		}
		for _, x := range got {
			if name := g.Text(x.Node); name != c.node {
				t.Errorf("%s: at %q, want %q", c.name, name, c.node)
			}
		}
	}
}

// Forward and backward cross at the same places, and what begins on one side and ends on the other crosses an odd number of times.
func TestCrossingsBackward(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.SampledFrom([]float64{700, 990, 999, 1000, 1001, 1020, 1300})
		way := []design.Spot{spot("a", 1300, 0, 400)}
		for range rapid.IntRange(0, 4).Draw(t, "n") {
			way = append(way, spot("", x.Draw(t, "x"), float64(rapid.IntRange(-90, 90).Draw(t, "y")), float64(rapid.IntRange(310, 490).Draw(t, "z"))))
		}
		way = append(way, spot("b", 700, 0, 400))
		g := Lay(&design.Job{Runs: []*design.Run{run("x", stretch(way...))}})
		shut := func(int) bool { return false }
		steps := along(g, "x")
		there := g.Crossings(steps, wall(t), shut)
		var turned []Step
		for i := range steps {
			turned = append(turned, Step{steps[len(steps)-1-i].Edge, true})
		}
		back := g.Crossings(turned, wall(t), shut)
		if len(there)%2 != 1 || len(back) != len(there) {
			t.Fatalf("%d there, %d back", len(there), len(back))
		}
	})
}
