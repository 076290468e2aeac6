package net_test

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// TestPartedIsOpen: whatever is undone of the car, in every case nothing flows any more in a wire that ended there.
func TestPartedIsOpen(t *testing.T) {
	job, n := compiled(t, "rook.loom")
	check := func(u design.Undo, ends func(t *net.Termination) bool) {
		p := net.Parted(n, []design.Undo{u})
		flowed := 0
		for _, c := range job.Cases {
			whole, open := solve.Case(job, n, nil, nil, c), solve.Case(job, p, nil, nil, c)
			if !open.Point.Converged {
				t.Errorf("%s undone, %s: not converged", u.Name, c.Name)
			}
			for i := range n.Wires {
				if !ends(&n.Wires[i].Ends[0]) && !ends(&n.Wires[i].Ends[1]) {
					continue
				}
				if w := whole.WireAmps[i]; math.Abs(float64(w)) > 1e-3 {
					flowed++
				}
				if a := open.WireAmps[i]; math.Abs(float64(a)) > 1e-9 || !unit.Finite(a) {
					t.Errorf("%s undone, %s: %v in %s", u.Name, c.Name, a, n.Wires[i].Name)
				}
			}
		}
		if flowed == 0 {
			t.Errorf("nothing flowed at %s before", u.Name)
		}
	}
	for _, name := range []string{"A", "N", "T"} {
		check(design.Undo{Kind: "break", Name: name}, func(t *net.Termination) bool { return t.Break == name })
	}
	check(design.Undo{Kind: "device", Name: "box"}, func(t *net.Termination) bool { return t.Device == "box" })
	check(design.Undo{Kind: "stud", Name: "battery", Pin: "neg"}, func(t *net.Termination) bool { return t.Device == "battery" && t.Pin == "neg" })

	// The halves of a stud post: what comes in over one lug leaves over the others of the same half.
	p := net.Parted(n, []design.Undo{{Kind: "break", Name: "start-post"}})
	for _, c := range job.Cases {
		res := solve.Case(job, p, nil, nil, c)
		var sum [2]float64
		for i := range n.Wires {
			for k, e := range n.Wires[i].Ends {
				if e.Break == "start-post" {
					sum[e.Half] += float64(1-2*k) * float64(res.WireAmps[i])
				}
			}
		}
		if math.Abs(sum[0]) > 1e-6 || math.Abs(sum[1]) > 1e-6 {
			t.Errorf("post undone, %s: %v A pass between its halves", c.Name, sum)
		}
	}
}
