package rule

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// TestCrossingsNearby: what is found among the edges and wires near a sheet is what is found among all.
func TestCrossingsNearby(t *testing.T) {
	text := trial.Text(3, 250)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	m := &Model{Job: job, Net: net.Build(job, space.Lay(job), nil)}
	g, near := m.Net.Space, newNearby(m.Net)
	some := rand.New(rand.NewSource(1))
	found, between := 0, 0
	for range 200 {
		// A sheet across a place of some edge, turned anyhow.
		way := g.EdgeWay(some.Intn(len(g.Edges)))
		if len(way) == 0 {
			continue
		}
		at, _ := way.At(unit.Length(some.Float64()) * way.Length())
		any := func() unit.Length { return unit.Length(some.NormFloat64() * 150) }
		var corners []solid.Point
		for range 3 + some.Intn(2) {
			corners = append(corners, solid.Point{X: at.X + any(), Y: at.Y + any(), Z: at.Z + any()/4})
		}
		s, ok := solid.SheetOf(corners, nil)
		if some.Intn(3) == 0 {
			s, ok = solid.SheetOf(nil, corners)
		}
		if !ok {
			continue
		}
		holes := map[int]bool{some.Intn(len(g.Nodes)): true}
		open := func(n int) bool { return holes[n] }
		got, want := crossings(m, &s, near, open), plainCrossings(m, &s, open)
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("sheet %v: near it\n%+v\nof all\n%+v", corners, got, want)
		}
		found += len(want)
		for _, x := range want {
			if len(x.Edges) > 1 {
				between++
			}
		}
	}
	if found < 50 || between == 0 {
		t.Fatalf("%d crossings, %d of more than one edge: too few to tell", found, between)
	}
}

// plainCrossings holds the sheet against every edge and every wire.
func plainCrossings(m *Model, sheet *solid.Sheet, open func(int) bool) []space.Crossing {
	g := m.Net.Space
	type stretch struct {
		run string
		n   int
	}
	of := func(e int) stretch { return stretch{g.Edges[e].Run, g.Edges[e].Stretch} }
	var out []space.Crossing
	var steps []space.Step
	for i := range g.Edges {
		if i > 0 && of(i) != of(i-1) {
			out, steps = append(out, g.Crossings(steps, *sheet, open)...), nil
		}
		steps = append(steps, space.Step{Edge: i})
	}
	out = append(out, g.Crossings(steps, *sheet, open)...)
	told := map[[2]int]bool{}
	for i := range m.Net.Wires {
		steps = steps[:0]
		for _, s := range m.Net.Wires[i].Path {
			steps = append(steps, space.Step{Edge: s.Edge, Back: s.Reverse})
		}
		for _, x := range g.Crossings(steps, *sheet, open) {
			one := !slices.ContainsFunc(x.Edges, func(e int) bool { return of(e) != of(x.Edges[0]) })
			if key := [2]int{x.Edge, x.Node}; !one && !told[key] {
				told[key] = true
				out = append(out, x)
			}
		}
	}
	return out
}
