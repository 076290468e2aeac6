package heat

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// TestLeadsBetweenTheSameThings: feed and return of a loose lead warm each other, a lead to another device lies alone.
func TestLeadsBetweenTheSameThings(t *testing.T) {
	b := newBench(1, 1, 1)
	ends := func(from, to string) [2]net.Termination {
		return [2]net.Termination{{Kind: net.OnStud, Device: from}, {Kind: net.OnStud, Device: to}}
	}
	for i, e := range [][2]net.Termination{ends("box", "lamp"), ends("lamp", "box"), ends("box", "horn")} {
		w := &b.nt.Wires[i]
		w.Path, w.Loose, w.LooseLength, w.Ends, w.Zone = nil, true, 500, e, "cabin"
		b.c.WireAmps[i] = 12
	}
	r := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c}, nil)
	if r.Wires[0].Count != 2 || r.Wires[1].Count != 2 || r.Wires[2].Count != 1 {
		t.Fatalf("wires together: %d, %d, %d", r.Wires[0].Count, r.Wires[1].Count, r.Wires[2].Count)
	}
	if pair, alone := r.Wires[0].Hottest, r.Wires[2].Hottest; pair < alone+3 {
		t.Errorf("in a pair %v, alone %v", pair, alone)
	}
	if r.Wires[0].Ampacity >= r.Wires[2].Ampacity {
		t.Errorf("ampacity in a pair %v, alone %v", r.Wires[0].Ampacity, r.Wires[2].Ampacity)
	}
}

// TestIdleWireIsToldWhereItIsHottest: a wire that carries nothing is told in the bay at 80 C, not in the cold case where its
// neighbour adds most.
func TestIdleWireIsToldWhereItIsHottest(t *testing.T) {
	b := newBench(2.5, 0.5)
	b.job.Cases = append(b.job.Cases, &design.Case{Name: "cold", ZoneAir: []design.ZoneAir{{Zone: "cabin", Air: -5}, {Zone: "bay", Air: -5}}})
	cold := &solve.CaseResult{Case: "cold", WireAmps: []unit.Current{6, 0}}
	r := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c, cold}, nil)
	if w := r.Wires[1]; w.Case != "key-on" || w.Zone != "bay" || w.Hottest != 80 {
		t.Errorf("case %s, zone %s, %v", w.Case, w.Zone, w.Hottest)
	}
	// One that uses much of its room is told where it uses most, though the other case is hotter.
	cold.WireAmps[0] = 30
	if w := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c, cold}, nil).Wires[0]; w.Case != "cold" {
		t.Errorf("case %s, %v", w.Case, w.Hottest)
	}
}
