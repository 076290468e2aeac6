package solve

import (
	"math"
	"testing"

	"loomsheet/harness/unit"
	"pgregory.net/rapid"
)

// TestStacks: which supplies add up, and where.
func TestStacks(t *testing.T) {
	two := func() *rig { return newRig(t).supply("a", 48, 0.01, 0).supply("b", 48, 0.01, 0).heater("lamp", 48) }
	for _, c := range []struct {
		name  string
		of    *rig
		want  unit.Voltage // 0: none
		pins  string
		drawn bool // held together by loads alone
	}{
		{"in series", two().wires("a.plus", "b.minus", 0.01, "b.plus", "lamp.plus", 0.1, "lamp.minus", "a.minus", 0.1), 96, "b.plus a.minus", false},
		{"in series with nothing fed", two().wires("a.plus", "b.minus", 0.01), 96, "b.plus a.minus", false},
		{"the other way round", two().wires("b.plus", "a.minus", 0.01, "a.plus", "lamp.plus", 0.1, "lamp.minus", "b.minus", 0.1), 96, "a.plus b.minus", false},
		{"in parallel", two().wires("a.plus", "b.plus", 0.01, "a.minus", "b.minus", 0.01, "b.plus", "lamp.plus", 0.1, "lamp.minus", "a.minus", 0.1), 0, "", false},
		{"minus to minus", two().wires("a.minus", "b.minus", 0.01, "b.plus", "lamp.plus", 0.1, "lamp.minus", "a.plus", 0.1), 0, "", false},
		{"apart", two().wires("b.plus", "lamp.plus", 0.1, "lamp.minus", "b.minus", 0.1), 0, "", false},
		{"behind an open switch", two().switched("sw", 0.01).wires("a.plus", "sw.1", 0.01, "sw.2", "b.minus", 0.01), 0, "", false},
		{"behind a closed switch", two().switched("sw", 0.01).on("sw").wires("a.plus", "sw.1", 0.01, "sw.2", "b.minus", 0.01), 96, "b.plus a.minus", false},
		// 96 V round 48 ohm twice: 1 A, so that the wires of 0.1 ohm and the insides take next to nothing.
		{"through a lamp", two().heater("far", 48).wires("a.plus", "lamp.plus", 1e-6, "lamp.minus", "b.minus", 1e-6, "b.plus", "far.plus", 1e-6, "far.minus", "a.minus", 1e-6), 48, "", true},
		{"as much as is allowed", newRig(t).supply("a", 36, 0.01, 0).supply("b", 24, 0.01, 0).wires("a.plus", "b.minus", 0.01), 0, "", false},
		{"shorted", two().wires("a.plus", "b.minus", 0.01, "b.plus", "a.minus", 0.01), 0, "", false},
	} {
		got := c.of.solve()
		out := got.Stacks(60)
		if c.drawn { // nothing but what is solved: half of what the supplies have together lies across each lamp
			out = got.Stacks(47)
		}
		switch {
		case c.want == 0 && len(out) > 0, c.want > 0 && len(out) != 1:
			t.Errorf("%s: %+v", c.name, out)
		case c.want > 0:
			s := out[0]
			near(t, c.name, float64(s.Volts), float64(c.want), 0.02)
			if pins := got.Net.Nodes[s.High] + " " + got.Net.Nodes[s.Low]; c.pins != "" && pins != c.pins {
				t.Errorf("%s: %s", c.name, pins)
			}
		}
	}
}

// TestStackAtTheHighEnd: 30 V each are as much as is allowed, 31 V at their high ends are not.
func TestStackAtTheHighEnd(t *testing.T) {
	r := newRig(t).supply("a", 30, 0.01, 0).supply("b", 30, 0.01, 0).heater("lamp", 48)
	for _, d := range r.job.Devices[:2] {
		d.Supplies[0].Volts = ranged[unit.Voltage](28, 30, 31)
	}
	res := r.wires("a.plus", "b.minus", 0.01, "b.plus", "lamp.plus", 0.1, "lamp.minus", "a.minus", 0.1).solve()
	if got := res.Stacks(60); got != nil {
		t.Errorf("as stated: %+v", got)
	}
	var most unit.Voltage
	for _, v := range res.Variants() {
		for _, s := range v.Stacks(60) {
			most = max(most, s.Volts)
		}
	}
	near(t, "at their high ends", float64(most), 62, 1e-9)
}

// TestNothingLiesFurtherApart: in any net no two places of a part with current in it lie further apart than its stack, and a stack is never more than
// the set-points of the supplies it names or, as solved, of all of the part.
func TestNothingLiesFurtherApart(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := newRig(t)
		names := []string{"a", "b", "c", "d"}[:rapid.IntRange(1, 4).Draw(t, "supplies")]
		pins := []string{}
		together := 0.0
		for _, n := range names {
			e := rapid.Float64Range(5, 50).Draw(t, "volts")
			together += e
			r.supply(n, unit.Voltage(e), 0.01, 0)
			pins = append(pins, n+".plus", n+".minus")
		}
		for _, n := range []string{"u", "v", "w"} {
			r.heater(n, unit.Resistance(rapid.Float64Range(1, 100).Draw(t, "ohms")))
			pins = append(pins, n+".plus", n+".minus")
		}
		for range rapid.IntRange(3, 12).Draw(t, "wires") {
			from, to := rapid.SampledFrom(pins).Draw(t, "from"), rapid.SampledFrom(pins).Draw(t, "to")
			if from != to {
				r.wire(from, to, 0.05)
			}
		}
		res := Case(r.job, r.nt, r.sizes, nil, r.c)
		if !res.Point.Converged {
			t.Skip("told elsewhere")
		}
		p := res.again.p
		most := map[int32]float64{} // by part, as island and root
		key := func(n int) int32 { return p.islands[p.of[n]].nodes[p.patch(p.of[n]).part[p.at[n]]] }
		all := res.Stacks(0)
		for _, s := range all {
			if float64(s.Volts) > together+1e-9 || !(s.Volts > 0) {
				t.Fatalf("%+v", s)
			}
			most[key(s.High)] = float64(s.Volts)
			if key(s.Low) != key(s.High) {
				t.Fatalf("%s and %s hang apart", res.Net.Nodes[s.High], res.Net.Nodes[s.Low])
			}
			if s.Adds {
				sum := 0.0
				for _, e := range s.Supplies {
					sum += p.branch(e).e
				}
				if math.Abs(sum-float64(s.Volts)) > 1e-9 {
					t.Fatalf("%+v: %g", s, sum)
				}
			}
		}
		flows := map[int32]bool{}
		for i, e := range res.Net.Elements {
			if e.Kind == Supply && res.Point.Amps[i] > 1e-6 {
				flows[key(e.From)] = true
			}
		}
		for i := range res.Net.Nodes {
			for k := range i {
				if key(i) != key(k) || !flows[key(i)] {
					continue
				}
				if apart := math.Abs(float64(res.Point.Volts[i] - res.Point.Volts[k])); apart > most[key(i)]+1e-6 {
					t.Fatalf("%s and %s lie %g V apart, of at most %g", res.Net.Nodes[i], res.Net.Nodes[k], apart, most[key(i)])
				}
			}
		}
	})
}
