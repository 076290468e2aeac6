package protect

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/unit"
)

// wireOf is wires of so much copper with common insulation, of rated temperature 125 C.
func wireOf(area unit.Area) lay {
	s := unit.Metric(area)
	return lay{size: s, per: unit.LinearResistance(1.06 / 58 / float64(area)), outside: unit.Length(1.15*float64(s.Diameter()) + 0.8), rated: 125, air: 40, count: 1, carrying: 1, rating: 20, kind: data.BladeC}
}

// drawn draws such wires, some of them together.
func drawn(t *rapid.T) lay {
	l := wireOf(unit.Area(rapid.Float64Range(0.35, 95).Draw(t, "area")))
	l.air = unit.Temperature(rapid.Float64Range(-20, 80).Draw(t, "air"))
	l.count = rapid.IntRange(1, 9).Draw(t, "wires")
	l.carrying = rapid.IntRange(1, l.count).Draw(t, "carrying")
	l.amps = unit.Current(rapid.Float64Range(0, 3).Draw(t, "steady") * math.Sqrt(float64(l.size.Area())))
	return l
}

// What a fault brings a wire to is no cooler in hotter air, for more amps or for longer, and no hotter in a thicker wire; all heat kept in its copper is hotter
// yet. A curve is drawn by points, so that a thousandth of what it rises is let go.
func TestReachesIsMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		amps := unit.Current(rapid.Float64Range(1, 60).Draw(t, "amps") * math.Sqrt(float64(l.size.Area())))
		d := unit.Time(math.Pow(10, rapid.Float64Range(-2, 5).Draw(t, "log of time")))
		more := rapid.Float64Range(1, 3).Draw(t, "more")
		g := l.weigher()
		base, used := g.reaches(0, amps, d, true)
		slack := 1e-6 + 0.001*max(base-g.wires[0].start, 0)
		if kept, bound := g.reaches(0, amps, d, false); kept < base-1e-6 || bound < used-1e-9 || base < g.wires[0].start-1e-6 {
			t.Fatalf("%v, from %v; with all heat kept %v", base, g.wires[0].start, kept)
		}
		if x, _ := g.reaches(0, amps*unit.Current(more), d, true); x < base-1e-6 {
			t.Fatalf("%v; at %v times the current %v", base, more, x)
		}
		if x, _ := g.reaches(0, amps, d*unit.Time(more), true); x < base-1e-6 {
			t.Fatalf("%v; for %v times as long %v", base, more, x)
		}
		hot := l
		hot.air += unit.Temperature(10 * (more - 1))
		if x, _ := hot.weigher().reaches(0, amps, d, true); x < base-slack {
			t.Fatalf("%v; in air of %v and not %v: %v", base, hot.air, l.air, x)
		}
		thick := wireOf(l.size.Area() * unit.Area(more))
		thick.air, thick.count, thick.carrying, thick.amps = l.air, l.count, l.carrying, l.amps
		if x, _ := thick.weigher().reaches(0, amps, d, true); x > base+slack {
			t.Fatalf("%v; of %v and not %v: %v", base, thick.size, l.size, x)
		}
	})
}

// The overload told is the one that takes most of its room when each is worked out finely.
func TestWorstOverloadIsTheWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		l.rating = rapid.SampledFrom([]unit.Current{5, 10, 20, 40, 60, 100, 200}).Draw(t, "rating")
		l.kind = kindOf(l.rating)
		g := l.weigher()
		w := &g.res.Wires[0]
		o := g.worst(w, true)
		if (o == nil) != (len(g.res.Fuses[0].Gate) == 0) {
			t.Fatalf("%+v", o)
		}
		if o == nil {
			return
		}
		worst, met := 0.0, true
		for _, s := range stretches(g.res.Fuses[0].Gate) {
			x, used, _ := g.overload(0, &g.res.Fuses[0], s, 0)
			if s.latest != Never {
				if used = g.brings(0, &x, true); x.Reaches > g.warm.After(0, x.Amps, x.Latest) {
					t.Fatalf("%v at %v for %v, which ends at %v", x.Reaches, x.Amps, x.Latest, g.warm.After(0, x.Amps, x.Latest))
				}
			}
			worst, met = max(worst, used), met && x.Met
		}
		if differ(float64(o.Used), worst) || o.Met != met {
			t.Fatalf("%+v, the worst takes %v", o, worst)
		}
		if rough := g.worst(w, false); rough.Met != o.Met {
			t.Fatalf("met %v, not worked out finely %v", o.Met, rough.Met)
		}
	})
}

// settle finds what working out every wire finely finds.
func TestSettledIsFine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		g := l.weigher()
		var a, b trial
		for range rapid.IntRange(0, 5).Draw(t, "wires") {
			steps := []Step{{unit.Current(rapid.Float64Range(1, 900).Draw(t, "amps")), unit.Time(rapid.Float64Range(0, 100).Draw(t, "time"))}}
			if rapid.Bool().Draw(t, "second") {
				steps = append(steps, Step{steps[0].Amps / 2, 10})
			}
			wire := rapid.IntRange(0, l.count-1).Draw(t, "wire")
			a.heats, b.heats = append(a.heats, g.bear(wire, steps, false)), append(b.heats, g.bear(wire, steps, true))
		}
		a.sum()
		b.sum()
		g.settle(&a)
		if differ(a.used, b.used) || a.Met != b.Met || differ(float64(a.Worst.Reaches), float64(b.Worst.Reaches)) {
			t.Fatalf("%+v, worked out finely %+v", a.Worst, b.Worst)
		}
	})
}

// One wire by hand: 6 mm2 alone, 3.3 mohm/m, in 40 C air, 10 A until 32 A come. With all heat kept, by the factor of IEC 60364-5-54 (226, b = 234.5), it would be at
// 173 C after 600 s. What leaves a round surface (heat.Shed: radiation and Churchill and Chu's convection) through the insulation is taken off in steps of a second.
func TestOverloadStepByStep(t *testing.T) {
	l := wireOf(6)
	l.per, l.outside, l.amps, l.rating = 3.3e-3, 4.3, 10, 20
	g := l.weigher()
	setting := func(name string) float64 {
		return float64(g.job.Settings.Get(name, design.Scope{Zone: "z"}).Value.Quantity.Value)
	}
	inside := math.Log(4.3/float64(l.size.Diameter())) / (2 * math.Pi * setting("insulation-conductivity"))
	shed := func(copper float64) float64 { // W/m
		low, high := 40.0, copper
		for range 60 {
			ts := (low + high) / 2
			s := heat.Shed(4.3, unit.Temperature(ts), 40, unit.Ratio(setting("emissivity")), 0)
			if float64(s.Radiation+s.Convection)*inside < copper-ts {
				low = ts
			} else {
				high = ts
			}
		}
		return (copper - low) / inside
	}
	made := func(amps, at float64) float64 { return amps * amps * 3.3e-3 * (234.5 + at) / 254.5 }
	start := 40.0
	for made(10, start) > shed(start) {
		start += 0.001
	}
	if got := float64(g.wires[0].start); math.Abs(got-start) > 0.01 {
		t.Errorf("begins at %v C, by hand %v", got, start)
	}
	at := start
	area := math.Sqrt(6 / (58 * 3.3e-3))
	kept := (234.5+start)*math.Exp(32*32*600/math.Pow(226*area, 2)) - 234.5
	if got, _ := g.reaches(0, 32, 600, false); math.Abs(float64(got)-kept) > 1 {
		t.Errorf("with all heat kept %v, by hand %.1f C", got, kept)
	}
	for sec := 1; sec <= 600; sec++ {
		at += (made(32, at) - shed(at)) / (3.45e-3 * 1000 * 6)
		if sec == 10 || sec == 60 || sec == 600 {
			if got, _ := g.reaches(0, 32, unit.Time(sec), true); math.Abs(float64(got)-at) > 0.1 {
				t.Errorf("after %d s at %v, by hand %.2f C", sec, got, at)
			}
		}
	}
	if o := l.overload(); o.Times != 1.6 || o.Latest != 600 || math.Abs(float64(o.Reaches)-at) > 0.1 {
		t.Errorf("%+v, by hand %.2f C", o, at)
	}
}
