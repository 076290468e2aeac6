package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/unit"
)

var metric = []unit.Area{0.35, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95}

// anyStrand is a wire of a metric size with a common outside.
func anyStrand(t *rapid.T, name string) (strand, int) {
	n := rapid.IntRange(0, len(metric)-1).Draw(t, name)
	return metricStrand(n), n
}

func metricStrand(n int) strand {
	d := float64(unit.Metric(metric[n]).Diameter())
	return strand{r20: 1 / (58 * float64(metric[n])), outside: (1.1*d + 0.7) / 2000, copper: d / 2000}
}

func anyBundle(t *rapid.T) (m *bundle, sq []float64) {
	var wires []strand
	for range rapid.IntRange(1, 12).Draw(t, "wires") {
		s, n := anyStrand(t, "size")
		wires = append(wires, s)
		sq = append(sq, math.Pow(rapid.Float64Range(0, 20).Draw(t, "density")*float64(metric[n]), 2))
	}
	return laid(wires, rapid.SampledFrom([]float64{0, 0.6e-3}).Draw(t, "wall")), sq
}

func laid(wires []strand, wall float64) *bundle {
	sum := 0.0
	for _, w := range wires {
		sum += 4 * w.outside * w.outside
	}
	d := 1.2 * math.Sqrt(sum)
	if len(wires) == 1 {
		d = 2 * wires[0].outside
	}
	return newBundle(wires, d, wall, 0.15, 0.2, 0.9, 101325)
}

const hair = 1e-6 // K: two searches over 650 K end less than this apart

func TestMoreCurrentIsNeverCooler(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, sq := anyBundle(t)
		before := m.solve(40, sq).temps
		k := rapid.IntRange(0, len(sq)-1).Draw(t, "k")
		sq[k] = sq[k]*rapid.Float64Range(1, 2).Draw(t, "more") + 0.1
		for i, x := range m.solve(40, sq).temps {
			if x < before[i]-hair {
				t.Fatalf("wire %d: %g C, with less current %g C", i, x, before[i])
			}
		}
	})
}

func TestMoreAmbientNeverRaisesAmpacity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, sq := anyBundle(t)
		k := rapid.IntRange(0, len(sq)-1).Draw(t, "k")
		ta := rapid.Float64Range(-60, 130).Draw(t, "air")
		cool := m.ampacity(ta, 115, sq, k)
		warm := m.ampacity(ta+rapid.Float64Range(0, 40).Draw(t, "more"), 115, sq, k)
		if warm > cool+1e-6*cool {
			t.Fatalf("%g A in warmer air, %g A before", warm, cool)
		}
	})
}

// Strictly so where the wire's own heat counts. Beside hot neighbours a thicker wire also moves these deeper inside, which warms them
// and, through their resistance, all by a little: there a hundredth of the rise is let pass, up to 250 C, where the best insulation ends.
func TestLargerSizeIsNeverHotter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, sq := anyBundle(t)
		k := rapid.IntRange(0, len(sq)-1).Draw(t, "k")
		slack := 0.01
		if rapid.Bool().Draw(t, "others rest") {
			own := sq[k]
			sq = make([]float64, len(sq))
			sq[k], slack = own, 0
		}
		n := rapid.IntRange(0, len(metric)-2).Draw(t, "size")
		wires := append([]strand(nil), m.wires...)
		wires[k] = metricStrand(n)
		small := laid(wires, 0).solve(40, sq).temps[k]
		if slack > 0 && small > 250 {
			return
		}
		wires[k] = metricStrand(n + 1)
		if large := laid(wires, 0).solve(40, sq).temps[k]; large > small+hair+slack*(small-40) {
			t.Fatalf("%v at %g C, %v at %g C", metric[n], small, metric[n+1], large)
		}
	})
}

// The ampacity is by its meaning the current at which the wire is at its limit.
func TestAmpacityReachesTheLimit(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, sq := anyBundle(t)
		k := rapid.IntRange(0, len(sq)-1).Draw(t, "k")
		amps := m.ampacity(40, 115, sq, k)
		sq[k] = amps * amps
		got := m.solve(40, sq).temps[k]
		if amps > 0 && math.Abs(got-115) > 1e-4 || amps == 0 && got < 115-hair {
			t.Fatalf("at %g A the wire is at %g C", amps, got)
		}
	})
}

// The solution must satisfy the equations it came from: each wire's heat by its own temperature, their sum shed by the surface.
func TestSolutionBalances(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, sq := anyBundle(t)
		s := m.together(40, sq)
		if s.runaway {
			return
		}
		sum := 0.0
		q := make([]float64, len(sq))
		for i, w := range m.wires {
			q[i] = sq[i] * w.r20 * float64(data.Copper.Factor(unit.Temperature(s.temps[i])))
			sum += q[i]
		}
		if math.Abs(sum-s.watts) > 1e-6*sum+1e-9 || math.Abs(sum-m.loss(s.surface, 40)) > 1e-5*sum+1e-6 {
			t.Fatalf("made %g W, counted %g W, shed %g W", sum, s.watts, m.loss(s.surface, 40))
		}
		for i := range q {
			if x := s.surface + m.a*sum + m.b[i]*q[i]; math.Abs(x-s.temps[i]) > 1e-5 {
				t.Fatalf("wire %d: %g C, by its drops %g C", i, s.temps[i], x)
			}
		}
	})
}

func TestRunawayEnds(t *testing.T) {
	m := laid([]strand{metricStrand(1), metricStrand(1)}, 0)
	for _, amps := range []float64{500, 1e9, 1e200, math.Inf(1), math.NaN()} {
		s := m.solve(40, []float64{amps * amps, 0})
		if !s.runaway {
			t.Errorf("%g A: no runaway", amps)
		}
		for _, x := range s.temps {
			if x != hottest {
				t.Errorf("%g A: %g C", amps, x)
			}
		}
	}
}

func TestDutyShare(t *testing.T) {
	for _, c := range []struct {
		on, off unit.Time
		tau     float64
		want    float64
	}{
		{10, 0, 10, 1 - math.Exp(-1)},
		{10, 10, 1e6, 0.5},     // far faster than the wire: the mean
		{100, 100, 0.1, 1},     // far slower: the full current
		{0, 10, 10, 1},         // not said
		{60, 120, 60, 0.66525}, // (1-e^-1)/(1-e^-3)
	} {
		if got := share(c.on, c.off, c.tau); math.Abs(got-c.want) > 1e-4 {
			t.Errorf("on %v off %v, time constant %g s: %g, want %g", c.on, c.off, c.tau, got, c.want)
		}
	}
}

// The peak of the periodic transient, stepped through second by second, is what share says.
func TestDutyShareAgainstStepping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		on, off := rapid.IntRange(1, 60).Draw(t, "on"), rapid.IntRange(1, 60).Draw(t, "off")
		tau := rapid.Float64Range(5, 200).Draw(t, "time constant")
		x, peak := 0.0, 0.0
		for range 2000 {
			x = 1 + (x-1)*math.Exp(-float64(on)/tau)
			peak = x
			x *= math.Exp(-float64(off) / tau)
		}
		if got := share(unit.Time(on), unit.Time(off), tau); math.Abs(got-peak) > 1e-6 {
			t.Fatalf("%g, stepped %g", got, peak)
		}
	})
}

func TestEffective(t *testing.T) {
	steps := []DutyStep{{On: 10, Off: 10, Amps: []unit.Current{8}}, {On: 30, Off: 10, Amps: []unit.Current{3}}}
	f, g := share(10, 10, 20), share(30, 10, 20)
	if got, want := effective(10, steps, 0, 20), 9+g*(64-9)+f*(100-64); math.Abs(got-want) > 1e-9 {
		t.Errorf("got %g, want %g", got, want)
	}
	// A rest that raises the current saves nothing.
	steps[0].Amps[0] = 12
	if got, want := effective(10, steps, 0, 20), 9+g*(100-9); math.Abs(got-want) > 1e-9 {
		t.Errorf("with a rise: got %g, want %g", got, want)
	}
}

// Adiabatic heating against the constant of IEC 60364-5-54: k = 143 A s^0.5/mm2 takes copper from 90 to 250 C.
func TestAdiabaticConstant(t *testing.T) {
	area := 10.0
	c := copperCapacity * float64(data.Copper.HeatCapacity) * area * 1e-6
	r20 := float64(data.Copper.Resistivity) / area
	got := after(90, math.Pow(143*area, 2), r20, c, 1)
	if math.Abs(got-250) > 1 {
		t.Errorf("%g C, want 250", got)
	}
}
