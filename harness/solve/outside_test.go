package solve

import (
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/mat"
	"loomsheet/harness/design"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
	"pgregory.net/rapid"
)

const foot = unit.Length(304.8)

// TestPublishedDrops takes published examples of voltage drop through the whole net: a supply, one wire of the printed length
// (it includes the way back), the load. The lugs are taken off the drop by hand.
func TestPublishedDrops(t *testing.T) {
	tests := []struct {
		name     string
		perFoot  float64 // ohm
		feet     float64
		amps     float64
		volts    float64 // of the system
		drop     float64 // recomputed from the printed inputs
		source   string
		withTemp unit.Temperature
	}{
		{"6 AWG, 107 ft, 20 A", 0.00044, 107, 20, 28, 0.9416, "AC 43.13-1B Table 11-7, first row; prints 0.942", 20},
		{"12 AWG, 88 ft, 20 A", 0.00202, 88, 20, 115, 3.5552, "AC 43.13-1B Table 11-7; prints 3.60", 20},
		{"10 AWG, 39 ft, 20 A", 0.00126, 39, 20, 28, 0.9828, "AC 43.13-1B Table 11-8, first row; prints 0.98", 20},
		{"10 AWG, 19.5 ft, 20 A", 0.00126, 19.5, 20, 14, 0.4914, "AC 43.13-1B Table 11-8; prints 0.366, a misprint", 20},
		{"10 AWG, 156 ft, 20 A", 0.00126, 156, 20, 115, 3.9312, "AC 43.13-1B Table 11-8; prints 3.93", 20},
		{"10 AWG, 50 ft, 20 A", 0.00126, 50, 20, 28, 1.26, "AC 43.13-1B 11-68c Example 1: more than the 1 V limit", 20},
		{"8 AWG, 50 ft, 20 A", 0.0007, 50, 20, 28, 0.70, "AC 43.13-1B 11-68c Example 1: No. 8 chosen", 20},
		// L2 = 254.5 L1/(234.5 + T2) is the same drop over less length of hotter wire: 39 ft at 20 C, 33.0 ft at 66 C.
		{"10 AWG, hot", 0.00126, 254.5 * 39 / (234.5 + 66), 20, 28, 0.9828, "AC 43.13-1B 11-66d(4)", 66},
		// Circular mils = 10.75 I L / E, so a wire of 10.75 ohm circular mils per foot loses E. 10 A, 21 ft, 3 % of 12 V.
		{"6271 circular mils, 21 ft, 10 A", 10.75 / 6270.833333333333, 21, 10, 12, 0.36, "marine catalogue's bilge pump, 3 %", 20},
		{"1881 circular mils, 21 ft, 10 A", 10.75 / 1881.25, 21, 10, 12, 1.2, "the same, 10 %", 20},
	}
	for _, c := range tests {
		r := newRig(t).supply("bus", unit.Voltage(c.volts), 0.01, 0).load("load", design.ConstantCurrent, unit.Current(c.amps))
		r.job.Devices[0].Supplies[0].To = at("load.minus")
		r.wire("bus.plus", "load.plus", 0)
		r.nt.Wires[0].Length = unit.Length(c.feet) * foot
		r.sizes = size.Sizes{{Resistance: unit.LinearResistance(c.perFoot / (float64(foot) / 1000))}}
		res := Case(r.job, r.nt, r.sizes, []unit.Temperature{c.withTemp}, r.c)
		near(t, c.name+" ("+c.source+")", float64(load(t, res, "load").FeedDrop)-2*lug*c.amps, c.drop, 1e-4)
	}
}

// drawn is a random net through the public interface: studs joined by wires, loads and supplies between them.
func drawn(t tb, pick func(low, high float64) float64, nodes int, linear bool) *rig {
	r := newRig(t)
	d := design.Device{Name: "n"}
	pin := func(i int) string { return fmt.Sprintf("n.%d", i) }
	other := func(than int) int { return (than + 1 + int(pick(0, float64(nodes-1)-1e-6))) % nodes }
	some := func() int { return int(pick(0, float64(nodes)-1e-6)) }
	ohms := func() unit.Resistance { return unit.Resistance(math.Pow(10, pick(-3, 1))) }
	for i := 1; i < nodes; i++ {
		r.wire(pin(int(pick(0, float64(i)-1e-6))), pin(i), ohms())
	}
	for range nodes / 3 {
		a := some()
		r.wire(pin(a), pin(other(a)), ohms())
	}
	supplies := 1 + int(pick(0, 2.9))
	for i := range supplies {
		s := design.Supply{Volts: given(unit.Voltage(pick(5, 30))), Inside: given(unit.Resistance(math.Pow(10, pick(-3, 0))))}
		if !linear && pick(0, 1) < 0.5 {
			s.Most = given(unit.Current(pick(1, 50)))
		}
		a := some()
		s.From, s.To = at(pin(a)), at(pin(other(a)))
		n := fmt.Sprintf("s%d", i)
		r.device(design.Device{Name: n, Supplies: []design.Supply{s}})
		r.c.Supplies = append(r.c.Supplies, design.CaseSupply{Device: n})
	}
	for i := range 1 + nodes/2 {
		a := some()
		x := design.Draw{Amps: given(unit.Current(math.Pow(10, pick(-1, 1.5)))), At: given(unit.Voltage(pick(5, 30))), As: design.ConstantResistance,
			From: at(pin(a)), To: at(pin(other(a)))}
		if !linear {
			x.As = []design.LoadKind{design.ConstantCurrent, design.ConstantPower, design.ConstantResistance}[int(pick(0, 2.99))]
		}
		r.device(design.Device{Name: fmt.Sprintf("l%d", i), Draws: []design.Draw{x}})
	}
	if !linear {
		for range nodes / 4 {
			a := some()
			d.Diodes = append(d.Diodes, design.Diode{Forward: given(unit.Voltage(pick(0.3, 1))), From: strconv.Itoa(a), To: strconv.Itoa(other(a))})
		}
	}
	return r.device(d)
}

func pickFrom(t *rapid.T) func(low, high float64) float64 {
	return func(low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, "x") }
}

func seeded(seed uint64) func(low, high float64) float64 {
	src := rand.New(rand.NewPCG(seed, 1))
	return func(low, high float64) float64 { return low + (high-low)*src.Float64() }
}

// TestAgainstDenseTableau solves nets of wires, resistive loads and supplies with gonum's dense LU. The matrix is the full tableau:
// unknown are the volts of every node but one and the current of every element, so it shares neither the equations nor the
// method with the solver. Supplies that idle are left out of it, and their volts checked.
func TestAgainstDenseTableau(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawn(t, pickFrom(t), rapid.IntRange(2, 30).Draw(t, "nodes"), true)
		res := r.solve()
		compareDense(t, res)
	})
	for seed := range uint64(3) {
		compareDense(t, drawn(t, seeded(seed), 150, true).solve())
	}
}

func compareDense(t tb, res *CaseResult) {
	brs := branchesOf(res)
	t.Helper()
	var list []source2
	n, top := 0, 0.0
	for i, e := range res.Net.Elements {
		r, v := float64(res.Net.Resistance(i)), 0.0
		if e.Kind == Supply {
			s := res.Supplies[n]
			n++
			v = brs[i].e
			top = max(top, v)
			if s.Amps == 0 {
				if float64(s.Volts) < v*(1-1e-9) {
					t.Fatalf("%s idles at %v", e.Name, s.Volts)
				}
				continue
			}
		}
		list = append(list, source2{e.From, e.To, r, v})
	}
	volts, _ := dense(t, len(res.Net.Nodes), list)
	zero := float64(res.Point.Volts[0])
	for i, want := range volts {
		if got := float64(res.Point.Volts[i]) - zero; math.Abs(got-want) > 1e-9*top {
			t.Fatalf("%s is at %.12g V, by the dense solver %.12g", res.Net.Nodes[i], got, want)
		}
	}
}

// source2 is a resistance between two nodes with volts behind it, or none.
type source2 struct {
	from, to    int
	ohms, volts float64
}

// dense solves the full tableau by gonum's LU; node 0 is at zero.
func dense(t tb, count int, list []source2) (volts, amps []float64) {
	t.Helper()
	nodes := count - 1
	m := mat.NewDense(nodes+len(list), nodes+len(list), nil)
	b := mat.NewVecDense(nodes+len(list), nil)
	for k, e := range list {
		i := nodes + k
		for _, end := range []struct {
			node int
			sign float64
		}{{int(e.from), 1}, {e.to, -1}} {
			if end.node > 0 {
				m.Set(end.node-1, i, m.At(end.node-1, i)+end.sign)
				m.Set(i, end.node-1, m.At(i, end.node-1)+end.sign)
			}
		}
		m.Set(i, i, -e.ohms) // v(from) - v(to) - R i = E
		b.SetVec(i, e.volts)
	}
	var lu mat.LU
	lu.Factorize(m)
	var x mat.VecDense
	if err := lu.SolveVecTo(&x, false, b); err != nil {
		if _, poor := err.(mat.Condition); !poor {
			t.Fatal(err)
		}
	}
	volts = append([]float64{0}, x.RawVector().Data[:nodes]...)
	return volts, x.RawVector().Data[nodes:]
}

// TestLawsHold checks nets of every kind of element: the currents add up (in solve), and every element carries what the job says
// of it at the volts it has. Together that is the definition of the answer.
func TestLawsHold(t *testing.T) {
	check := func(t tb, r *rig) {
		res := r.solve()
		supplies := map[string]SupplyResult{}
		for _, s := range res.Supplies {
			supplies[s.Device] = s
		}
		for i, e := range res.Net.Elements {
			v := float64(res.Point.Volts[e.From] - res.Point.Volts[e.To])
			a := float64(res.Point.Amps[i])
			switch e.Kind {
			case Load:
				checkLoad(t, r, e, v, a)
			case Supply:
				d := find(r, e.Device)
				set, inside := float64(d.Supplies[0].Volts.Nominal), float64(d.Supplies[0].Inside.Nominal)
				want := max(0, (set-v)/inside)
				if m := d.Supplies[0].Most; m.Given {
					want = min(want, float64(m.Nominal))
					if s := supplies[d.Name]; s.Limited != ((set-v)/inside > float64(m.Nominal)*(1+1e-9)+1e-12) {
						t.Errorf("%s limited: %v", d.Name, s.Limited)
					}
				}
				near(t, e.Name, a, want, 1e-9*(1+want+set/inside))
			case Diode:
				want := max(0, (v-float64(find(r, e.Device).Diodes[e.Index].Forward.Nominal))/float64(diodeResistance))
				near(t, e.Name, a, want, 1e-9*(1+want))
			default:
				near(t, e.Name, a*float64(res.Net.Resistance(i)), v, 1e-9)
			}
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		check(t, drawn(t, pickFrom(t), rapid.IntRange(2, 30).Draw(t, "nodes"), false))
	})
	for seed := range uint64(200) {
		check(t, drawn(t, seeded(seed), 2+int(seed)%70, false))
	}
}

func find(r *rig, name string) *design.Device {
	for _, d := range r.job.Devices {
		if d.Name == name {
			return d
		}
	}
	return nil
}

func checkLoad(t tb, r *rig, e Element, v, a float64) {
	t.Helper()
	l := &find(r, e.Device).Draws[e.Index]
	amps, at := float64(l.Amps.Nominal), float64(l.At.Nominal)
	var want float64
	switch l.As {
	case design.ConstantResistance:
		want = v * amps / at
	case design.ConstantCurrent:
		want = math.Copysign(amps*min(1, math.Abs(v)/(at/4)), v)
	case design.ConstantPower:
		want = v * amps * at / (at * at / 4)
		if math.Abs(v) > at/2 {
			want = amps * at / v
		}
	}
	near(t, e.Name, a, want, 1e-8*(1+math.Abs(want)))
}

// TestUpperAnswerIsFound holds nets with two answers, in which Newton's method alone falls to the one that leaves a load of
// constant power below its knee. The other one is what the net does: it is fed when it is switched on.
func TestUpperAnswerIsFound(t *testing.T) {
	for _, c := range []struct {
		seed  uint64
		nodes int
	}{{634, 8}, {2200, 3}, {3709, 8}, {4026, 3}, {4856, 8}, {5241, 3}} {
		res := drawn(t, seeded(c.seed), c.nodes, false).solve()
		n := 0
		for i, s := range res.again.p.all {
			n += starved(res.again.grid().solver(int32(i), s.br).newton(nil))
		}
		if n == 0 {
			t.Errorf("net %d no longer shows it", c.seed)
		}
		if p := problems(res, CannotFeed); len(p) > 0 {
			t.Errorf("net %d: %v", c.seed, p)
		}
	}
}

// TestLessResistanceNeverDrawsLess is Rayleigh's law: in a net of resistances on one supply, taking resistance off any wire
// never makes the supply deliver less.
func TestLessResistanceNeverDrawsLess(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := drawn(t, pickFrom(t), rapid.IntRange(2, 15).Draw(t, "nodes"), true)
		r.c.Supplies = r.c.Supplies[:1]
		before := r.solve()
		w := rapid.IntRange(0, len(r.sizes)-1).Draw(t, "wire")
		r.sizes[w].Resistance *= unit.LinearResistance(rapid.Float64Range(0, 1).Draw(t, "less"))
		after := r.solve()
		a, b := supply(t, before, "s0").Amps, supply(t, after, "s0").Amps
		if float64(b) < float64(a)*(1-1e-12) {
			t.Fatalf("%.15g A before, %.15g A after", float64(a), float64(b))
		}
	})
}

// TestAdjoint holds the sensitivities against solving again with each wire a little longer and a little shorter.
func TestAdjoint(t *testing.T) {
	for seed := range uint64(16) {
		r := drawn(t, seeded(seed), 9, seed%2 == 0)
		res := r.solve()
		for n, l := range res.Loads {
			wires, gained := Adjoint(res, n)
			if !slices.IsSorted(wires) || slices.Contains(gained, 0) {
				t.Fatalf("wires %v make a difference of %v", wires, gained)
			}
			sens := make([]unit.Current, len(r.nt.Wires))
			for k, w := range wires {
				sens[w] = gained[k]
			}
			for w := range sens {
				was := r.sizes[w].Resistance
				by := was * 1e-4
				r.sizes[w].Resistance = was + by
				up := Case(r.job, r.nt, r.sizes, nil, r.c)
				r.sizes[w].Resistance = was - by
				down := Case(r.job, r.nt, r.sizes, nil, r.c)
				r.sizes[w].Resistance = was
				want := float64(up.Loads[n].Volts-down.Loads[n].Volts) / (2 * float64(by))
				if got := float64(sens[w]); math.Abs(got-want) > 1e-4*(1+math.Abs(want)) {
					t.Errorf("net %d, %s, wire %d: %.8g, by trial %.8g", seed, l.Device, w, got, want)
				}
			}
		}
	}
}

// TestAgainstSpice holds random nets of every kind of element against ngspice's operating point at its own tolerance, where it is installed. It
// knows supplies that take current back, so those that idle here are left out there.
func TestAgainstSpice(t *testing.T) {
	program, err := exec.LookPath("ngspice")
	if err != nil {
		if os.Getenv("LOOMSHEET_TOOLS") == "required" {
			t.Fatal("ngspice is not installed")
		}
		t.Skip("ngspice is not installed")
	}
	worst := 0.0
	for seed := range uint64(40) {
		r := drawn(t, seeded(seed), 20, true)
		if seed%2 == 1 {
			r = vehicle(t, seed, 15)
		}
		res := r.solve()
		top := 0.0
		for _, s := range res.Supplies {
			top = max(top, float64(s.Volts))
		}
		text := spiceText(res) + ".options reltol=1e-12 abstol=1e-15 vntol=1e-12 gmin=1e-18 itl1=1000\n.control\nset numdgt=15\nop\n"
		for n := 1; n < len(res.Net.Nodes); n++ {
			text += fmt.Sprintf("print v(%d)\n", n)
		}
		file := filepath.Join(t.TempDir(), "net.cir")
		if err := os.WriteFile(file, []byte(text+".endc\n.end\n"), 0o600); err != nil {
			t.Fatal(err)
		}
		out, err := exec.Command(program, "-b", file).CombinedOutput()
		found := 0
		for line := range strings.Lines(string(out)) {
			name, value, ok := strings.Cut(strings.TrimSpace(line), " = ")
			if !ok || !strings.HasPrefix(name, "v(") {
				continue
			}
			n, _ := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(name, "v("), ")"))
			v, _ := strconv.ParseFloat(strings.TrimSpace(value), 64)
			near(t, fmt.Sprintf("net %d node %d", seed, n), float64(res.Point.Volts[n]-res.Point.Volts[0]), v, 1e-9*top)
			worst = max(worst, math.Abs(float64(res.Point.Volts[n]-res.Point.Volts[0])-v)/top)
			found++
		}
		if found != len(res.Net.Nodes)-1 {
			t.Fatalf("%d of %d nodes in the answer: %v\n%.2000s", found, len(res.Net.Nodes)-1, err, out)
		}
	}
	t.Logf("40 nets, worst difference %.2g of the highest supply", worst)
}
