package solve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// tree is a job of about the given count of nodes: feeds from a bar out to loads in twos, returns to the metal of the body, some
// rings, two supplies.
func tree(t tb, nodes int) *rig {
	r := newRig(t).supply("bat", 12.6, 0.005, 0).supply("alt", 14.2, 0.012, 80)
	r.wires("alt.plus", "bar.in", 0.002, "bat.plus", "bar.in", 0.002, "alt.minus", "bat.minus", 0.002, "bat.minus", "body.0", 0.001)
	r.device(design.Device{Name: "bar"}).device(design.Device{Name: "body"})
	last := "bar.in"
	for i := 0; len(r.nt.Wires)*3 < nodes; i++ {
		n := fmt.Sprintf("l%05d", i)
		as := []design.LoadKind{design.ConstantCurrent, design.ConstantPower, design.ConstantResistance}[i%3]
		r.load(n, as, unit.Current(0.02*float64(1+i%3)))
		s := fmt.Sprintf("s%d", i)
		if i%8 == 0 {
			last = "bar.in"
		}
		r.wires(last, s, 0.01, s, n+".plus", 0.05, n+".minus", "body.0", 0.02)
		if i%40 == 39 {
			r.wires(s, "bar.in", 0.05)
		}
		last = s
	}
	return r
}

func BenchmarkCase(b *testing.B) {
	for _, nodes := range []int{1000, 20000} {
		r := tree(b, nodes)
		b.Run(strconv.Itoa(nodes), func(b *testing.B) {
			for b.Loop() {
				if res := Case(r.job, r.nt, r.sizes, nil, r.c); !res.Point.Converged {
					b.Fatal("not converged")
				}
			}
		})
	}
}

// TestLargeTree holds the fill of the factors near that of a tree, which is what keeps the work near-linear.
func TestLargeTree(t *testing.T) {
	r := tree(t, 20000)
	res := r.solve()
	brs := branchesOf(res)
	ends := make([][2]int32, len(brs))
	for i := range ends {
		ends[i] = [2]int32{int32(brs[i].from), int32(brs[i].to)}
	}
	p := newPattern(len(res.Net.Nodes), ends)
	if n := len(res.Net.Nodes); n < 15000 || len(p.next) > 3*n || len(p.targets) > 3*n {
		t.Errorf("%d nodes, %d entries, %d updates", n, len(p.next), len(p.targets))
	}
	for i := range res.Loads {
		if l := &res.Loads[i]; !l.Fed || l.Supply != "alt" && l.Supply != "bat" {
			t.Fatalf("%+v", *l)
		}
	}
}

// TestSenselessInput feeds figures no text should let through: there must still be an answer in finite numbers.
func TestSenselessInput(t *testing.T) {
	odd := []float64{0, -1, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 1e-300}
	for i := range 400 {
		src := rand.New(rand.NewPCG(uint64(i), 2))
		pick := func() float64 { return odd[src.IntN(len(odd))] }
		r := drawn(t, seeded(uint64(i)), 8, false)
		for range 3 {
			switch k := src.IntN(7); k {
			case 0:
				r.nt.Wires[0].Length = unit.Length(pick())
			case 1:
				r.sizes[1].Resistance = unit.LinearResistance(pick())
			case 2:
				find(r, "l0").Draws[0].Amps.Nominal = unit.Current(pick())
			case 3:
				find(r, "l1").Draws[0].At.Nominal = unit.Voltage(pick())
			case 4:
				find(r, "s0").Supplies[0].Volts.Nominal = unit.Voltage(pick())
			case 5:
				find(r, "s0").Supplies[0].Inside.Nominal = unit.Resistance(pick())
			case 6:
				find(r, "s0").Supplies[0].Most = given(unit.Current(pick()))
			}
		}
		r.device(design.Device{Name: "l0"}).device(design.Device{Name: "l2", Coils: make([]design.Coil, 3), Draws: make([]design.Draw, 4), Supplies: make([]design.Supply, 2)})
		r.nt.Crossings = []net.Crossing{{Break: "gone", Wires: [2]int{0, 99}}, {Break: "gone", Wires: [2]int{0, 1}}}
		res := Case(r.job, r.nt, r.sizes, []unit.Temperature{unit.Temperature(pick())}, r.c)
		for n, v := range res.Point.Volts {
			if !unit.Finite(v) {
				t.Fatalf("input %d: %v at %s", i, v, res.Net.Nodes[n])
			}
		}
		for n, a := range res.Point.Amps {
			if !unit.Finite(a) {
				t.Fatalf("input %d: %v in %s", i, a, res.Net.Elements[n].Name)
			}
		}
		if len(problems(res, NotConverged)) > 0 {
			t.Errorf("input %d: not converged, %g A left over", i, float64(res.Point.Residual))
		}
	}
}
