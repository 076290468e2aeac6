package solve

import (
	"fmt"
	"math"
	"strconv"
	"testing"

	"gonum.org/v1/gonum/mat"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// vehicle is a random net as drawn, every kind of element in it, with a body of stretches of milli-ohms that wires return to.
func vehicle(t tb, seed uint64, nodes int) *rig {
	pick := seeded(seed)
	r := drawn(t, pick, nodes, false)
	body := design.Device{Name: "body"}
	studs := 3 + int(seed%5)
	for i := range studs {
		for _, k := range []int{(i + 1) % studs, (i + 2) % studs} {
			body.Joins = append(body.Joins, design.Joins{Pins: []string{strconv.Itoa(i), strconv.Itoa(k)}, Resistance: given(unit.Resistance(math.Pow(10, pick(-4, -2.5))))})
		}
		r.wire(fmt.Sprintf("body.%d", i), fmt.Sprintf("n.%d", int(pick(0, float64(nodes)-1e-6))), unit.Resistance(pick(1e-3, 0.05)))
	}
	// A battery and an alternator in parallel, from the first node to the body.
	for i, s := range []design.Supply{
		{Volts: given(unit.Voltage(12.6)), Inside: given(unit.Resistance(0.01))},
		{Volts: given(unit.Voltage(pick(12, 14.5))), Inside: given(unit.Resistance(0.03)), Most: given(unit.Current(pick(5, 90)))},
	} {
		s.From, s.To = at("n.0"), at("body.0")
		n := fmt.Sprintf("p%d", i)
		r.device(design.Device{Name: n, Supplies: []design.Supply{s}})
		r.c.Supplies = append(r.c.Supplies, design.CaseSupply{Device: n})
	}
	return r.device(body)
}

// regimes solves the tableau of a net by gonum's dense LU with every bent element in the part of its law where the point has it, a load of
// constant power by its own iteration from volts that are off. It fails where the dense answer puts an element into another part. That the laws hold
// there, and that no other part would do, is what makes the point an answer.
func regimes(t tb, res *CaseResult, met map[string]int) (worst float64) {
	brs := branchesOf(res)
	t.Helper()
	nodes, n := len(res.Net.Nodes)-1, len(brs)
	v0 := func(i int) float64 {
		b := &brs[i]
		return float64(res.Point.Volts[b.from] - res.Point.Volts[b.to])
	}
	guess := make([]float64, n)
	for i := range guess {
		guess[i] = 1.03 * v0(i)
	}
	part := make([]string, n)
	top := 0.0
	for i := range brs {
		b, v := &brs[i], v0(i)
		switch b.law {
		case source:
			top = max(top, b.e)
			switch out := b.g * (b.e - v); {
			case out <= 0:
				part[i] = "idle"
			case out >= b.most:
				part[i] = "limited"
			default:
				part[i] = "live"
			}
		case oneWay:
			part[i] = "blocks"
			if v > b.e {
				part[i] = "conducts"
			}
		case steadyCurrent, steadyPower:
			part[i] = "low"
			if math.Abs(v) >= b.e {
				part[i] = "steady current"
				if b.law == steadyPower {
					part[i] = "steady power"
				}
			}
		}
		met[part[i]]++
	}
	var x mat.VecDense
	for round := 0; ; round++ {
		m, rhs := mat.NewDense(nodes+n, nodes+n, nil), mat.NewVecDense(nodes+n, nil)
		for i := range brs {
			b, row := &brs[i], nodes+i
			volts, amps, right := 1.0, 0.0, 0.0 // volts*v + amps*i = right
			switch part[i] {
			case "idle", "blocks":
				volts, amps = 0, 1
			case "limited":
				volts, amps, right = 0, 1, -b.most
			case "live", "conducts":
				amps, right = -1/b.g, b.e
			case "steady current":
				volts, amps, right = 0, 1, math.Copysign(b.most, v0(i))
			case "steady power":
				volts, amps, right = b.most/(guess[i]*guess[i]), 1, 2*b.most/guess[i]
			case "low":
				amps = -b.e / b.most
				if b.law == steadyPower {
					amps = -b.e * b.e / b.most
				}
			default:
				if amps = -1 / b.g; b.law == open {
					volts, amps = 0, 1
				}
			}
			m.Set(row, row, amps)
			for _, e := range []struct {
				node int
				sign float64
			}{{int(b.from), 1}, {int(b.to), -1}} {
				if e.node > 0 {
					m.Set(e.node-1, row, m.At(e.node-1, row)+e.sign)
					m.Set(row, e.node-1, m.At(row, e.node-1)+volts*e.sign)
				}
			}
			rhs.SetVec(row, right)
		}
		var lu mat.LU
		lu.Factorize(m)
		if err := lu.SolveVecTo(&x, false, rhs); err != nil {
			if _, poor := err.(mat.Condition); !poor {
				t.Fatal(err)
			}
		}
		moved := 0.0
		for i := range brs {
			v := dropOf(&x, &brs[i])
			if part[i] == "steady power" {
				moved = max(moved, math.Abs(v-guess[i]))
			}
			guess[i] = v
		}
		if moved < 1e-12*top {
			break
		}
		if round == 60 {
			t.Fatalf("the dense solver does not come to rest: %g V", moved)
		}
	}
	for i := range brs {
		b, v, a := &brs[i], guess[i], x.AtVec(nodes+i)
		slack := 1e-8 * top
		ok := true
		switch part[i] {
		case "idle":
			ok = v >= b.e-slack
		case "limited":
			ok = v <= b.e-b.most/b.g+slack
		case "live":
			ok = a <= slack*b.g && -a <= b.most+slack*b.g
		case "conducts":
			ok = a >= -slack*b.g
		case "blocks":
			ok = v <= b.e+slack
		case "steady current", "steady power":
			ok = math.Abs(v) >= b.e-slack
		case "low":
			ok = math.Abs(v) <= b.e+slack
		}
		if !ok {
			t.Errorf("%s is not %s at %g V, %g A", res.Net.Elements[i].Name, part[i], v, a)
		}
	}
	for i := range nodes {
		worst = max(worst, math.Abs(float64(res.Point.Volts[i+1]-res.Point.Volts[0])-x.AtVec(i))/top)
	}
	return worst
}

func dropOf(x *mat.VecDense, b *branch) float64 {
	v := 0.0
	if b.from > 0 {
		v = x.AtVec(int(b.from) - 1)
	}
	if b.to > 0 {
		v -= x.AtVec(int(b.to) - 1)
	}
	return v
}

// TestVehiclesAgainstDense holds 200 random nets of several supplies in parallel, rings, a body, loads of all kinds, diodes and current limits within
// 1e-9 of the highest supply.
func TestVehiclesAgainstDense(t *testing.T) {
	met := map[string]int{}
	worst, at := 0.0, uint64(0)
	for seed := range uint64(200) {
		res := vehicle(t, seed, 4+int(seed%30)).solve()
		if d := regimes(t, res, met); d > worst {
			worst, at = d, seed
		}
	}
	t.Logf("200 nets, worst difference %.2g of the supply, in net %d; %v", worst, at, met)
	if worst > 1e-9 {
		t.Errorf("net %d is off by %g of the supply", at, worst)
	}
	for _, p := range []string{"live", "idle", "limited", "conducts", "blocks", "steady current", "steady power", "low"} {
		if met[p] < 15 {
			t.Errorf("only %d elements were %s", met[p], p)
		}
	}
}
