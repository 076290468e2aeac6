package heat

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

func (b *bench) thermal(cases ...*solve.CaseResult) *Thermal {
	if len(cases) == 0 {
		cases = []*solve.CaseResult{b.c}
	}
	return NewThermal(b.job, b.nt, b.conds, cases, nil)
}

// somewhere is a bench with currents, air and settings of all kinds, in two cases.
func somewhere(t *rapid.T) (*bench, *Thermal) {
	n := rapid.IntRange(1, 6).Draw(t, "wires")
	var areas []unit.Area
	for range n {
		areas = append(areas, rapid.SampledFrom([]unit.Area{0.35, 0.5, 1, 2.5, 6, 25}).Draw(t, "area"))
	}
	b := newBench(areas...)
	b.job.Zones[0].Air = unit.Temperature(rapid.Float64Range(-40, 60).Draw(t, "cabin"))
	b.job.Zones[1].Air = unit.Temperature(rapid.Float64Range(-40, 160).Draw(t, "bay"))
	if rapid.Bool().Draw(t, "sleeve") {
		b.job.Runs[1].Sleeve = "braid"
	}
	other := &solve.CaseResult{Case: "key-on"}
	for i, a := range areas {
		most := 12 * math.Sqrt(float64(a))
		b.c.WireAmps[i] = unit.Current(rapid.Float64Range(0, most).Draw(t, "amps"))
		other.WireAmps = append(other.WireAmps, unit.Current(rapid.Float64Range(0, most).Draw(t, "amps")))
	}
	return b, b.thermal(b.c, other)
}

var (
	times  = rapid.Float64Range(-3, 5)
	scales = rapid.Float64Range(-1, 3)
)

func TestHotterForMoreAndLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, th := somewhere(t)
		i := rapid.IntRange(0, len(b.conds)-1).Draw(t, "wire")
		amps, d := math.Pow(10, scales.Draw(t, "amps")), math.Pow(10, times.Draw(t, "d"))
		more, longer := amps*(1+rapid.Float64Range(0, 2).Draw(t, "more")), d*(1+rapid.Float64Range(0, 2).Draw(t, "longer"))
		at := func(a, d float64) float64 { return float64(th.After(i, unit.Current(a), unit.Time(d))) }
		base, steady := at(amps, d), float64(th.Steady(i))
		if base < steady || at(0, d) != steady || at(amps, 0) != steady {
			t.Fatalf("from %g C it gets to %g, idle %g", steady, base, at(0, d))
		}
		if at(more, d) < base-1e-9 || at(amps, longer) < base-1e-9 || at(-amps, d) != base {
			t.Fatalf("%g A for %g s: %.12g C; %g A: %.12g; %g s: %.12g", amps, d, base, more, at(more, d), longer, at(amps, longer))
		}
		if end := at(amps, math.Inf(1)); base > end+1e-9 || end > hottest {
			t.Fatalf("%g C after %g s, %g C in the end", base, d, end)
		}
	})
}

func TestThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, th := somewhere(t)
		i := rapid.IntRange(0, len(b.conds)-1).Draw(t, "wire")
		amps := unit.Current(math.Pow(10, scales.Draw(t, "amps")))
		limit := unit.Temperature(rapid.Float64Range(20, 500).Draw(t, "limit"))
		hold := th.Sustained(i, limit)
		d, ok := th.Lasts(i, amps, limit)
		switch {
		case th.Steady(i) >= limit:
			if !ok || d != 0 {
				t.Fatalf("it is there already: %v %v", d, ok)
			}
		case !ok:
			if float64(amps) > float64(hold)*(1+1e-9) {
				t.Fatalf("%v never reaches %v, which %v sustains", amps, limit, hold)
			}
			if end := th.After(i, amps, unit.Time(math.Inf(1))); float64(end) > float64(limit)+1e-6 {
				t.Fatalf("never %v, but %v in the end", limit, end)
			}
		default:
			if float64(amps) < float64(hold)*(1-1e-9) {
				t.Fatalf("%v reaches %v, which takes %v", amps, limit, hold)
			}
			if got := float64(th.After(i, amps, d)); math.Abs(got-float64(limit)) > 1e-5 {
				t.Fatalf("%v lasts %v until %v, after which it is at %.9g C", amps, d, limit, got)
			}
		}
		if th.Steady(i) < limit && limit < 499 {
			if end := float64(th.After(i, hold, unit.Time(math.Inf(1)))); math.Abs(end-float64(limit)) > 1e-3 {
				t.Fatalf("%v sustains %v, but ends at %.9g C", hold, limit, end)
			}
		}
	})
}

// What the balance itself says, case by case and place by place: the same steady state, and the same current for a limit.
func TestAgreesWithTheBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, th := somewhere(t)
		r := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c}, nil)
		one := b.thermal()
		for i := range b.conds {
			top := unit.Temperature(coolest)
			for _, x := range r.Bundles[0].Bundles {
				top = max(top, x.Temps[i])
			}
			if math.Abs(float64(one.Steady(i)-top)) > 1e-6 {
				t.Fatalf("wire %d: steady %v, its bundles say %v", i, one.Steady(i), top)
			}
			if th.Steady(i) < one.Steady(i) {
				t.Fatalf("a case more makes it cooler: %v, then %v", one.Steady(i), th.Steady(i))
			}
			for _, limit := range []float64{90, 115, 160, 250} {
				least, more := math.Inf(1), math.Inf(1) // for the limit, and for 2 mK more: hardly below a limit the current turns on less than is worked out
				for _, edge := range []int{0, 1} {
					p := solver{job: b.job, nt: b.nt, conds: b.conds, set: newSettings(b.job), places: places(b.job, b.nt, b.conds, func(*place) bool { return true })}
					cur := p.currents(b.c)
					_, ta, m, _, sq := p.load(&p.places[edge], "key-on", &cur)
					least = math.Min(least, m.ampacity(ta, limit, sq, i))
					more = math.Min(more, m.ampacity(ta, limit+2e-3, sq, i))
				}
				if got := float64(one.Sustained(i, unit.Temperature(limit))); math.Abs(got-least) > 1e-3*least+3e-3 && (got > more || got < 0.98*least) { // lower by a hundredth or two where bundle and wire alone cross
					t.Fatalf("wire %d to %g C: %g A, the balance allows %g A", i, limit, got, least)
				}
			}
		}
	})
}

// A wire in a room of 70 C that carries nothing, heated to 160 C within 0.1 to 1 s: the factor k = 115 of IEC 60364-5-54 (and its other
// rows), with the resistivity of that standard's copper. The wire takes a little longer, for what leaves its copper; the thinner the more.
func TestShortCircuitFactor(t *testing.T) {
	for _, r := range records(t, "adiabatic_k.csv") {
		if r["conductor"] != "copper" {
			continue
		}
		from, to, k := number64(r["initial_c"]), number64(r["final_c"]), number64(r["k_printed"])
		for _, area := range []float64{0.5, 2.5, 25} {
			b := newBench(unit.Area(area))
			b.job.Zones[0].Air, b.job.Zones[1].Air = -20, unit.Temperature(from)
			b.conds[0].Resistance = unit.LinearResistance(1.7241e-2 / area)
			th := b.thermal()
			for _, sec := range []float64{0.1, 1} {
				amps := k * area / math.Sqrt(sec)
				d, ok := th.Lasts(0, unit.Current(amps), unit.Temperature(to))
				t.Logf("%v mm2, %g to %g C, k = %g: %.0f A last %.4f s, by k %g s", area, from, to, k, amps, float64(d), sec)
				if !ok || float64(d) < 0.985*sec || float64(d) > sec*(1.02+0.06*sec/math.Sqrt(area)) {
					t.Errorf("%g A on %g mm2 last %v, by k %g s", amps, area, d, sec)
				}
			}
		}
	}
}

// Onderdonk's formula (from memory) keeps all heat in the copper up to melting; the law here without what leaves, from 25 C up, takes the
// same time within 3 %.
func TestOnderdonk(t *testing.T) {
	n := 0
	for _, r := range records(t, "onderdonk.csv") {
		if r["id"] != "OND-16" {
			continue
		}
		n++
		amps := number64(r["with_plus_234"][:len(r["with_plus_234"])-2])
		area := float64(data.CircularMils(2581).Area())
		w := warming{t0: 25, temps: []float64{25, 1083}, sq: []float64{0, 0}, rate: 1.7241e-2 / area * slope / (3.45 * area)}
		d := w.lasts(amps*amps, 1083, math.Inf(1))
		t.Logf("16 AWG, %.1f A: %.2f s until copper melts, by Onderdonk 5 s", amps, d)
		near(t, "16 AWG to 1083 C", d, 5, 0.03)
		near(t, "and back", w.after(amps*amps, 0.999*d), 1083, 0.005)
	}
	if n != 1 {
		t.Errorf("%d rows", n)
	}
}

// The differential equation in small steps, with what the bundle's own search says it sheds at each temperature.
func TestAgainstSteps(t *testing.T) {
	b := newBench(0.5, 1, 1)
	b.c.WireAmps = []unit.Current{3, 6, 6}
	th := b.thermal()
	s := solver{job: b.job, nt: b.nt, conds: b.conds, set: newSettings(b.job), places: places(b.job, b.nt, b.conds, func(*place) bool { return true })}
	cur := s.currents(b.c)
	_, ta, m, _, sq := s.load(&s.places[1], "key-on", &cur)
	r20, capacity := float64(b.conds[0].Resistance), 3.45e6*0.5e-6
	for _, amps := range []float64{8, 12, 20, 60} {
		at, h := float64(th.Steady(0)), 0.02
		for k := range 1500 {
			hold := m.ampacity(ta, at, sq, 0)
			at += h * r20 * factor(at) * (amps*amps - hold*hold) / capacity
			if at >= 480 {
				break
			}
			if sec := float64(k+1) * h; (k+1)%250 == 0 {
				got := float64(th.After(0, unit.Current(amps), unit.Time(sec)))
				if math.Abs(got-at) > 0.3+0.01*(at-float64(th.Steady(0))) {
					t.Errorf("%g A for %g s: %.2f C, by steps %.2f C", amps, sec, got, at)
				}
			}
		}
	}
}

// A wire alone, copper and insulation in shells with their heat capacities: what the balance knows of steady state, followed through time.
// It is never hotter than After, and ends where that ends.
func TestNeverCoolerThanShells(t *testing.T) {
	for _, area := range []unit.Area{0.5, 6} {
		b := newBench(area)
		b.job.Zones[0].Air, b.job.Zones[1].Air = 20, 20
		th := b.thermal()
		c := b.conds[0]
		r, inner, outer := float64(c.Resistance), float64(c.Size.Diameter())/2000, float64(c.Outside)/2000
		s := surface{2 * outer, 0.9, pressureAt(0)}
		const shells = 5
		ring := func(k float64) float64 { return inner + (outer-inner)*k/shells }
		var caps, leads [shells + 1]float64 // of the copper and the shells; from each node to the next one out
		caps[0] = 3.45e6 * float64(area) * 1e-6
		for k := 1; k <= shells; k++ {
			caps[k] = plasticCapacity * math.Pi * (square64(ring(float64(k))) - square64(ring(float64(k-1))))
			leads[k-1] = 2 * math.Pi * 0.2 / math.Log(ring(float64(k)-0.5)/ring(math.Max(0, float64(k)-1.5)))
		}
		last := math.Log(outer/ring(shells-0.5)) / (2 * math.Pi * 0.2)
		for _, times := range []float64{1.2, 2, 5} {
			amps := times * float64(th.Sustained(0, 115))
			var at [shells + 1]float64
			for k := range at {
				at[k] = 20
			}
			h, sec, skin := 0.4*caps[1]/(leads[0]+leads[1]), 0.0, 20.0
			for next := 0.05; sec < 600 && at[0] < 450; {
				g := s.conductance(skin, 20)
				skin = (at[shells]/last + g*20) / (1/last + g)
				flow := amps * amps * r * factor(at[0])
				for k := range at {
					out := s.loss(skin, 20)
					if k < shells {
						out = leads[k] * (at[k] - at[k+1])
					}
					at[k] += h * (flow - out) / caps[k]
					flow = out
				}
				if sec += h; sec >= next {
					next *= 1.5
					if got := float64(th.After(0, unit.Current(amps), unit.Time(sec))); got < at[0]-0.1 {
						t.Errorf("%v, %.1f A for %.2f s: %.2f C, by shells %.2f C", area, amps, sec, got, at[0])
					}
				}
			}
			if end := float64(th.After(0, unit.Current(amps), unit.Time(math.Inf(1)))); times < 2 && math.Abs(end-at[0]) > 1 {
				t.Errorf("%v, %.1f A: ends at %.1f C, by shells %.1f C", area, amps, end, at[0])
			}
		}
	}
}

func square64(x float64) float64 { return x * x }

func TestThermalWithoutAnswers(t *testing.T) {
	b := newBench(1, 1, 1)
	b.conds[0].Known = false
	b.conds[1].Resistance = 0
	th := b.thermal()
	for _, i := range []int{0, 1, -1, 3} {
		if d, ok := th.Lasts(i, 50, 100); th.Known(i) || th.Sustained(i, 100) != 0 || ok || d != 0 || th.Steady(i) != 0 || th.After(i, 50, 1) != 0 {
			t.Errorf("wire %d is told of", i)
		}
	}
	if !th.Known(2) {
		t.Error("wire 2 is not known")
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, a := range []float64{0, 5, 1e9, 1e200, nan, inf, -inf} {
		for _, d := range []float64{-1, 0, 1e-9, 1, 1e12, nan, inf} {
			if x := float64(th.After(2, unit.Current(a), unit.Time(d))); !(x >= 80 && x <= hottest) {
				t.Errorf("after %g A for %g s: %g", a, d, x)
			}
			if x, _ := th.Lasts(2, unit.Current(a), unit.Temperature(d)); !(x >= 0) {
				t.Errorf("%g A to %g C: %g", a, d, float64(x))
			}
		}
	}
	// Air past the limit sustains nothing; neighbours that run away leave nothing.
	b.c.WireAmps = []unit.Current{0, 0, 0}
	if a := th.Sustained(2, 79); a != 0 {
		t.Errorf("%v in air of 80 C to 79 C", a)
	}
	b.conds[1].Resistance = b.conds[2].Resistance
	b.c.WireAmps[1] = 1000
	if th := b.thermal(); th.Sustained(2, 160) != 0 || th.Steady(2) != hottest || !th.Known(2) {
		t.Errorf("beside 1000 A: %v at %v", th.Sustained(2, 160), th.Steady(2))
	}
}

// A loose lead has a place of its own, the cases of one name all count, and links without a case say what flows.
func TestThermalPlaces(t *testing.T) {
	b := newBench(1, 1)
	b.nt.Wires[0].Path, b.nt.Wires[0].Loose, b.nt.Wires[0].Zone = nil, true, "cabin"
	th := b.thermal()
	if th.Steady(0) != 30 || th.Steady(1) != 80 || th.Sustained(0, 115) <= th.Sustained(1, 115) {
		t.Errorf("loose %v and %v, in the bay %v and %v", th.Steady(0), th.Sustained(0, 115), th.Steady(1), th.Sustained(1, 115))
	}
	if x := th.Spot(0, 115); x.Edge != -1 || x.Zone != "cabin" || x.Ambient != 30 || x.Count != 1 || x.Case != "key-on" {
		t.Errorf("the loose lead is worst in %+v", x)
	}
	if x := th.Spot(1, 115); x.Edge != 1 || x.Zone != "bay" || x.Steady != th.Steady(1) {
		t.Errorf("the other is worst in %+v", x)
	}
	high := &solve.CaseResult{Case: "key-on", WireAmps: []unit.Current{0, 9}}
	if both := b.thermal(b.c, high); both.Steady(1) != b.thermal(high).Steady(1) || both.Steady(1) <= 81 {
		t.Errorf("steady %v", both.Steady(1))
	}
	b.nt.Wires[1].Carries = 9
	if none := NewThermal(b.job, b.nt, b.conds, nil, nil); math.Abs(float64(none.Steady(1)-b.thermal(high).Steady(1))) > 1e-9 {
		t.Errorf("without a case %v", none.Steady(1))
	}
}

func BenchmarkThermal(b *testing.B) {
	k := car()
	var cases []*solve.CaseResult
	for range 7 {
		cases = append(cases, k.c)
	}
	for b.Loop() {
		th := NewThermal(k.job, k.nt, k.conds, cases, nil)
		for i := range k.conds {
			for m := range 10 {
				th.Lasts(i, unit.Current(10*m), 150)
				th.After(i, unit.Current(10*m), 5)
			}
		}
	}
}

// records reads a table of testdata/reference.
func records(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, row := range all[1:] {
		m := map[string]string{}
		for i, c := range row {
			m[all[0][i]] = c
		}
		out = append(out, m)
	}
	return out
}

func number64(s string) float64 {
	x, err := strconv.ParseFloat(s, 64)
	if err != nil {
		return math.NaN()
	}
	return x
}
