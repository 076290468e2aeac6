package heat

import (
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// car is a harness the size of a whole car: 300 wires over 100 edges, five each.
func car() *bench {
	k := newBench(make([]unit.Area, 300)...)
	k.nt.Space.Edges = nil
	for range 100 {
		k.nt.Space.Edges = append(k.nt.Space.Edges, space.Edge{Run: "main", Zone: "bay", Length: 500})
	}
	for i := range k.conds {
		k.conds[i] = cond(unit.Metric(1), 125)
		k.nt.Wires[i].Path = nil
		for j := range 5 {
			k.nt.Wires[i].Path = append(k.nt.Wires[i].Path, net.Step{Edge: (i*7 + j*13) % 100})
		}
		k.c.WireAmps[i] = unit.Current(i%7) * 0.5
	}
	return k
}

// A whole car in seven cases.
func BenchmarkCar(b *testing.B) {
	k := car()
	var cases []*solve.CaseResult
	for range 7 {
		cases = append(cases, k.c)
	}
	for b.Loop() {
		Solve(k.job, k.nt, k.conds, cases, nil)
	}
}
