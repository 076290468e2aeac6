package netlist

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/lang/trial"
)

func given[T ~float64](x T) design.Fact[T] {
	return design.Fact[T]{Spread: unit.Exactly(x), Given: true}
}

// random is a harness of studs joined by wires in loops, with supplies that have limits, diodes, and loads of every law, some of which
// start. It is solved in one case.
func random(seed uint64) (*design.Job, *solve.CaseResult) {
	src := rand.New(rand.NewPCG(seed, 9))
	pick := func(low, high float64) float64 { return low + (high-low)*src.Float64() }
	nodes := 3 + src.IntN(40)
	c := &design.Case{Name: "run"}
	job := &design.Job{Title: "random", Cases: []*design.Case{c}}
	nt := &net.Net{}
	var sizes size.Sizes
	stud := design.Device{Name: "n"}
	pin := func(i int) design.PinRef { return design.PinRef{Device: "n", Pin: fmt.Sprint(i)} }
	two := func() (a, b int) {
		a = src.IntN(nodes)
		return a, (a + 1 + src.IntN(nodes-1)) % nodes
	}
	wire := func(a, b int) {
		w := net.Wire{Name: fmt.Sprintf("w%d", len(nt.Wires)), Length: 1000}
		for k, i := range [2]int{a, b} {
			w.Ends[k] = net.Termination{Kind: net.OnStud, Device: "n", Pin: fmt.Sprint(i)}
		}
		nt.Wires = append(nt.Wires, w)
		sizes = append(sizes, size.Conductor{Resistance: unit.LinearResistance(math.Pow(10, pick(-3, 0)) / 1000)})
	}
	for i := 1; i < nodes; i++ {
		wire(src.IntN(i), i)
	}
	for range nodes / 3 {
		wire(two())
	}
	for i := range 1 + src.IntN(2) {
		s := design.Supply{Volts: given(unit.Voltage(pick(11, 15))), Inside: given(unit.Resistance(math.Pow(10, pick(-3, -1))))}
		if pick(0, 1) < 0.5 {
			s.Most = given(unit.Current(pick(5, 100)))
		}
		a, b := two()
		s.From, s.To = pin(a), pin(b)
		name := fmt.Sprintf("s%d", i)
		job.Devices = append(job.Devices, &design.Device{Name: name, Supplies: []design.Supply{s}})
		c.Supplies = append(c.Supplies, design.CaseSupply{Device: name})
	}
	for i := range 1 + nodes/2 {
		a, b := two()
		d := design.Draw{Amps: given(unit.Current(math.Pow(10, pick(-2, 0.5)))), At: given(unit.Voltage(12)), From: pin(a), To: pin(b),
			As: []design.LoadKind{design.ConstantCurrent, design.ConstantPower, design.ConstantResistance}[src.IntN(3)]}
		if i%4 == 0 {
			d.Start = given(4 * d.Amps.Nominal)
		}
		job.Devices = append(job.Devices, &design.Device{Name: fmt.Sprintf("l%d", i), Draws: []design.Draw{d}})
	}
	for range nodes / 8 {
		a, b := two()
		stud.Diodes = append(stud.Diodes, design.Diode{Forward: given(unit.Voltage(pick(0.3, 1))), From: fmt.Sprint(a), To: fmt.Sprint(b)})
	}
	job.Devices = append(job.Devices, &stud)
	return job, solve.Case(job, nt, sizes, nil, c)
}

// TestRandomAgainstSpice holds 200 random harnesses, in every case and every start, against a general circuit simulator: nets of every kind
// of element in loops, and whole jobs from text with relays, splices, plugs and sizes chosen.
func TestRandomAgainstSpice(t *testing.T) {
	const nets, jobs = 180, 20
	points, over, kinds := 0, 0.0, map[solve.LawKind]int{}
	var where string
	hold := func(harness string, in Input) {
		points++
		for _, l := range in.Laws {
			kinds[l.Kind]++
		}
		d, at := worst(t, in)
		at = fmt.Sprintf("%s %s %s: %s", harness, in.Case, in.Start, at)
		if d > over {
			over, where = d, at
		}
		if d > 1e-8 {
			t.Errorf("%s differs by %.3g", at, d)
		}
	}
	for seed := range uint64(nets) {
		job, res := random(seed)
		for _, in := range allPoints(job, res) {
			hold(fmt.Sprintf("net %d", seed), in)
		}
	}
	for seed := range uint64(jobs) {
		r := sized(t, "trial.loom", func(string) ([]byte, error) { return []byte(trial.Text(seed, 90)), nil })
		for _, c := range r.Cases {
			for _, in := range allPoints(r.Job, c) {
				hold(fmt.Sprintf("job %d", seed), in)
			}
		}
	}
	say(t, "%d random harnesses against a circuit simulator: %d operating points, worst relative difference %.2g (%s); elements by law: %v", nets+jobs, points, over, where, kinds)
	for k := solve.Ohmic; k <= solve.SteadyPower; k++ {
		if kinds[k] == 0 {
			t.Errorf("no element of law %d was in it", k)
		}
	}
}

// TestRefereeSees makes one wire a hundredth longer in the netlist alone: the difference must show.
func TestRefereeSees(t *testing.T) {
	job, res := random(1)
	in := allPoints(job, res)[0]
	most := 0
	for i, e := range in.Net.Elements {
		if e.Kind == solve.Wire && math.Abs(float64(res.WireAmps[e.Wire])) > math.Abs(float64(in.Point.Amps[most])) {
			most = i
		}
	}
	in.Laws[most].Resistance *= 1.01
	if d, _ := worst(t, in); d < 1e-6 {
		t.Errorf("a wrong wire makes a difference of %.2g", d)
	}
}

// TestText is what a reviewer reads: the head, a place and an element with what was found beside.
func TestText(t *testing.T) {
	job, res := random(2)
	in := allPoints(job, res)[0]
	in.Job, in.Revision, in.Digest, in.Invented, in.NotForBuild = "Plug\n.end", "C", "3f9ac201d4e7", true, "1 finding is open"
	in.Case = "run"
	text := Text(in)
	for _, want := range []string{"* Plug .end, revision C: case run\n", "* Source 3f9ac201d4e7\n", "INVENTED DEMONSTRATION JOB", "NOT FOR BUILD: 1 finding is open.",
		"competent person's judgement", "reference    n.", "* wire w0: found ", "\n.op\n", "\n.nodeset v(1)="} {
		if !strings.Contains(text, want) {
			t.Errorf("%q is not in it:\n%.3000s", want, text)
		}
	}
	if strings.Count(text, "\n.end") != 1 || !strings.HasSuffix(text, "\n.end\n") {
		t.Error("a name ends the netlist")
	}
	if Text(in) != text {
		t.Error("two texts of one net")
	}
}
