package route

import (
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// BenchmarkFind is a job of 30,000 wires in 600 trunks of two pieces, each with ten tails, among 20 hazards and 10 panels.
func BenchmarkFind(b *testing.B) {
	job, geo := &design.Job{Zones: []*design.Zone{{Name: "z", With: []string{"wet"}}}}, &space.Geometry{}
	nt, sizes := &net.Net{Space: geo}, size.Sizes{}
	node := func(x, y, z int) int {
		geo.Nodes = append(geo.Nodes, space.Node{Key: "n", At: at(float64(x), float64(y), float64(z)), Known: true})
		return len(geo.Nodes) - 1
	}
	edge := func(run string, stretch, from, to int) int {
		geo.Edges = append(geo.Edges, space.Edge{Run: run, Stretch: stretch, Zone: "z", From: from, To: to, Length: space.Between(geo.Nodes[from].At, geo.Nodes[to].At)})
		return len(geo.Edges) - 1
	}
	var trunks [][2]int
	var hubs []int
	for t := range 600 {
		a, m, z := node(t*10, 0, 0), node(t*10, 300, 50), node(t*10, 400, 300)
		trunks, hubs = append(trunks, [2]int{edge("trunk", t, a, m), edge("trunk", t, m, z)}), append(hubs, z)
	}
	for t := range 600 {
		for k := range 10 {
			end := node(t*10, 500+k*20, 300-k*40)
			tail := edge("tail", 10*t+k, hubs[t], end)
			for range 5 {
				w := net.Wire{Core: -1, Path: []net.Step{{Edge: trunks[t][0]}, {Edge: trunks[t][1]}, {Edge: tail}}}
				w.Ends[1] = net.Termination{Kind: net.InCavity, Device: "d", Node: end}
				nt.Wires = append(nt.Wires, w)
				sizes = append(sizes, size.Conductor{Outside: unit.Length(1.2 + 0.1*float64(k))})
			}
		}
	}
	for i := range 20 {
		job.Hazards = append(job.Hazards, hazard("h", "fuel", line(at(float64(i*300), -100, 40), at(float64(i*300), 400, 90))))
	}
	for i := range 10 {
		x := float64(i * 600)
		job.Panels = append(job.Panels, &design.Panel{Name: "p", Corners: []design.Point3{at(x, 0, 0), at(x, 500, 0), at(x, 500, 400), at(x, 0, 400)}})
	}
	bundles := bundle.Find(job, nt, sizes)
	for b.Loop() {
		Find(job, nt, bundles, nil)
	}
}
