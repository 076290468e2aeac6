package heat

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// TestConductionByHand: copper of 2 mm across in insulation of 3 mm. Through a shell from r to R of conductivity k heat q per metre falls by
// q ln(R/r) / (2 pi k); from the middle of a round of evenly made heat to its edge by q / (4 pi k).
func TestConductionByHand(t *testing.T) {
	w := strand{0.005, 0.0015, 0.001}
	const k = 0.2 // W/mK of insulation
	shell := func(from, to float64) float64 { return math.Log(to/from) / (2 * math.Pi * k) }
	for _, c := range []struct {
		name           string
		wires          int
		diameter, wall float64
		outside, a, b  float64
	}{
		{"bare of all else", 1, 0.003, 0, 0.003, 0, shell(1, 1.5)},
		{"in a sleeve", 1, 0.003, 0.0005, 0.004, shell(1.5, 2), shell(1, 1.5)},
		{"in a jacket of 5 mm", 1, 0.005, 0, 0.005, 0, shell(1, 2.5)},
		{"jacket smaller than the wire", 1, 0.002, 0, 0.002, 0, shell(1, 1.5)},
		{"two in 6 mm", 2, 0.006, 0, 0.006, 1 / (4 * math.Pi * 0.1), shell(1, 1.5) + math.Log(2)/(2*math.Pi*0.1) - 1/(4*math.Pi*0.1)},
		{"two in 6 mm in a sleeve", 2, 0.006, 0.001, 0.008, shell(3, 4) + 1/(4*math.Pi*0.1), shell(1, 1.5) + math.Log(2)/(2*math.Pi*0.1) - 1/(4*math.Pi*0.1)},
	} {
		var wires []strand
		for range c.wires {
			wires = append(wires, w)
		}
		m := newBundle(wires, c.diameter, c.wall, 0.1, k, 0.9, 101325)
		near(t, c.name+": outside", m.diameter, c.outside, 1e-12)
		if math.Abs(m.a-c.a) > 1e-12 || math.Abs(m.b[0]-c.b) > 1e-12 {
			t.Errorf("%s: a %g and b %g, by hand %g and %g", c.name, m.a, m.b[0], c.a, c.b)
		}
		if len(m.skin) != c.wires && c.wires > 1 || c.wires == 1 && len(m.skin) > 0 {
			t.Errorf("%s: %d alone", c.name, len(m.skin))
		}
	}
	for _, c := range [][3]float64{{2, 1, math.Ln2}, {1, 1, 0}, {1, 2, 0}, {1, 0, 0}, {1, -1, 0}, {0.5e-3, 0.25e-3, math.Ln2}} {
		if got := ratioLog(c[0], c[1]); math.Abs(got-c[2]) > 1e-15 {
			t.Errorf("ln(%g/%g): %g", c[0], c[1], got)
		}
	}
}

// TestBundleByRepeating: the steady state by putting each wire's heat at its temperature into the equations again and again, which settles on what the one
// search finds.
func TestBundleByRepeating(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m, sq := anyBundle(t)
		ta := rapid.Float64Range(-40, 90).Draw(t, "air")
		for i := range sq {
			sq[i] *= rapid.Float64Range(0, 0.5).Draw(t, "part")
		}
		want := m.together(ta, sq)
		if want.runaway {
			t.Skip("runs away")
		}
		temps := make([]float64, len(sq))
		for i := range temps {
			temps[i] = ta
		}
		surface, watts := ta, 0.0
		for range 4000 {
			watts = 0
			for i, w := range m.wires {
				watts += sq[i] * w.r20 * (1 + (temps[i]-20)/(20-float64(data.Copper.ZeroAt)))
			}
			surface = ta
			if watts > 0 { // where the surface loses it
				low, high := ta, 2000.0
				for range 60 {
					if mid := (low + high) / 2; m.loss(mid, ta) < watts {
						low = mid
					} else {
						high = mid
					}
				}
				surface = high
			}
			moved := 0.0
			for i, w := range m.wires {
				own := sq[i] * w.r20 * (1 + (temps[i]-20)/(20-float64(data.Copper.ZeroAt)))
				next := surface + m.a*watts + m.b[i]*own
				moved = max(moved, math.Abs(next-temps[i]))
				temps[i] = next
			}
			if moved < 1e-10 {
				break
			}
			if temps[0] > 480 {
				t.Skip("too near to running away to settle")
			}
		}
		if math.Abs(surface-want.surface) > 1e-4 || math.Abs(watts-want.watts) > 1e-6*(1+watts) {
			t.Fatalf("surface %g, want %g; %g W/m, want %g", want.surface, surface, want.watts, watts)
		}
		for i := range temps {
			if math.Abs(temps[i]-want.temps[i]) > 1e-4 {
				t.Fatalf("wire %d: %g C, settles at %g", i, want.temps[i], temps[i])
			}
		}
	})
}

// TestShedding: the steam pipe of TestPipeExample in its parts, and the law's own formula in powers from the numbers that are told.
func TestShedding(t *testing.T) {
	s := Shed(100, 165, 23, 0.85, 0)
	near(t, "film", float64(s.Film), 94, 1e-9)
	near(t, "conductivity", float64(s.Conductivity), 0.0313, 0.02)
	near(t, "viscosity", float64(s.Viscosity), 22.8e-6, 0.03) // the textbook goes along a straight line between 350 and 400 K
	near(t, "Prandtl number", float64(s.Prandtl), 0.697, 0.02)
	near(t, "Rayleigh number", float64(s.Rayleigh), 5.073e6, 0.05)
	near(t, "Nusselt number", float64(s.Nusselt), 23.3, 0.01)
	near(t, "convection", float64(s.Convection), 325, 0.01)
	near(t, "radiation", float64(s.Radiation), 441, 0.01)
	for _, x := range []Shedding{s, Shed(3, 110, 40, 0.9, 0), Shed(30, 60, 30, 0.3, 5e6), Shed(1, 400, -40, 0, 0)} {
		nu := math.Pow(0.60+0.387*math.Pow(float64(x.Rayleigh), 1.0/6)/math.Pow(1+math.Pow(0.559/float64(x.Prandtl), 9.0/16), 8.0/27), 2)
		near(t, "Nusselt number by the formula", float64(x.Nusselt), nu, 1e-9)
	}
	// Rayleigh's number goes with the cube of the diameter and the square of the pressure; half the pressure is at 5.5 km
	near(t, "twice the diameter", float64(Shed(20, 90, 30, 0.9, 0).Rayleigh/Shed(10, 90, 30, 0.9, 0).Rayleigh), 8, 1e-9)
	thin := pressureAt(5.5e6) / pressureAt(0)
	near(t, "thin air", float64(Shed(10, 90, 30, 0.9, 5.5e6).Rayleigh/Shed(10, 90, 30, 0.9, 0).Rayleigh), thin*thin, 1e-9)
	// radiation of a black round: sigma (T^4 - T0^4) pi d
	near(t, "radiation", float64(Shed(10, 100, 20, 1, 0).Radiation), 5.670374e-8*(math.Pow(373.15, 4)-math.Pow(293.15, 4))*math.Pi*0.01, 1e-6)
	for _, x := range []Shedding{Shed(10, 30, 30, 0.9, 0), Shed(10, 20, 30, 0.9, 0), Shed(0, 90, 30, 0.9, 0)} {
		if x.Convection != 0 || x.Radiation != 0 || x.Nusselt != 0 || x.Rayleigh != 0 {
			t.Errorf("%+v", x)
		}
	}
}

// TestKeptHeat: all heat kept, the factor k of IEC 60364-5-54 between start and end: k S = I sqrt(t), whatever the time, the area and the start.
func TestKeptHeat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		area := rapid.Float64Range(0.2, 100).Draw(t, "area")
		t0 := rapid.Float64Range(-20, 150).Draw(t, "start")
		end := t0 + rapid.Float64Range(1, 200).Draw(t, "rise")
		d := rapid.Float64Range(0.01, 50).Draw(t, "time")
		amps := float64(data.Copper.Adiabatic(unit.Temperature(t0), unit.Temperature(end))) * area / math.Sqrt(d)
		c := copperCapacity * float64(data.Copper.HeatCapacity) * area * 1e-6
		got := after(t0, amps*amps, float64(data.Copper.Resistivity)/area, c, unit.Time(d))
		if math.Abs(got-end) > 1e-9*(1+math.Abs(end)) {
			t.Fatalf("%g C after %g A for %g s in %g mm2, want %g", got, amps, d, area, end)
		}
	})
	if got := after(20, 1e4, 0.01, 0, 1); got != hottest {
		t.Errorf("no copper: %g", got)
	}
	if got := after(70, 1e4, 0.01, 100, 0); math.Abs(got-70) > 1e-9 {
		t.Errorf("no time: %g", got)
	}
}

// TestMeanAir: by length, slack included; what is not of the space is passed over; a loose wire and one without a way have their own air.
func TestMeanAir(t *testing.T) {
	b := newBench(1)
	edges := b.nt.Space.Edges // 1 m at 30, 3 m at 80 C
	for _, c := range []struct {
		name  string
		path  []net.Step
		slack unit.Length
		loose bool
		zone  string
		want  float64
	}{
		{"one metre in the cabin, three in the bay", []net.Step{{Edge: 0}, {Edge: 1}}, 0, false, "", (30 + 3*80) / 4.0},
		{"two metres of slack in the cabin", []net.Step{{Edge: 0}, {Edge: 1}}, 2000, false, "", (3*30 + 3*80) / 6.0},
		{"one only", []net.Step{{Edge: 0}}, 0, false, "bay", 30},
		{"the last edge", []net.Step{{Edge: 1}}, 0, false, "cabin", 80},
		{"edges that are not there", []net.Step{{Edge: -1}, {Edge: 1}, {Edge: 2}, {Edge: 99}}, 0, false, "cabin", 80},
		{"loose", []net.Step{{Edge: 1}}, 0, true, "cabin", 30},
		{"no way", nil, 0, false, "bay", 80},
	} {
		edges[0].Slack = c.slack
		w := net.Wire{Path: c.path, Loose: c.loose, Zone: c.zone}
		if got := MeanAmbient(b.job, b.nt, &w, "key-on"); math.Abs(float64(got)-c.want) > 1e-9 {
			t.Errorf("%s: %v, want %g", c.name, got, c.want)
		}
	}
	w := net.Wire{Path: []net.Step{{Edge: 0}}, Zone: "bay"}
	if got := MeanAmbient(b.job, &net.Net{}, &w, "key-on"); got != 80 {
		t.Errorf("without a space: %v", got)
	}
}

// TestSpotIsTheWorst: of all places alone none leaves less than the spot, and the spot leaves what Sustained says. Each place is tried alone: a bench of that
// one edge.
func TestSpotIsTheWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, _ := somewhere(t)
		limit := unit.Temperature(rapid.Float64Range(60, 200).Draw(t, "limit"))
		th := b.thermal()
		for i := range b.nt.Wires {
			spot := th.Spot(i, limit)
			if spot.Edge < 0 || spot.Edge > 1 {
				t.Fatalf("wire %d: %+v", i, spot)
			}
			least := unit.Current(math.Inf(1))
			for e := range b.nt.Space.Edges {
				one := *b
				one.nt = &net.Net{Space: &space.Geometry{Edges: b.nt.Space.Edges[e : e+1]}}
				for _, w := range b.nt.Wires {
					w.Path = []net.Step{{Edge: 0}}
					one.nt.Wires = append(one.nt.Wires, w)
				}
				alone := one.thermal()
				amps := alone.Sustained(i, limit)
				least = min(least, amps)
				if e == spot.Edge && (math.Abs(float64(amps-th.Sustained(i, limit))) > 1e-6*float64(amps) || math.Abs(float64(alone.Steady(i)-spot.Steady)) > 1e-6) {
					t.Fatalf("wire %d stands %v at its spot %+v and %v alone there at %v", i, th.Sustained(i, limit), spot, amps, alone.Steady(i))
				}
			}
			if got := th.Sustained(i, limit); math.Abs(float64(got-least)) > 1e-6*float64(least) {
				t.Fatalf("wire %d stands %v, at its worst place %v", i, got, least)
			}
			air, _ := Ambient(b.job, design.Scope{Zone: spot.Zone, Case: "key-on"})
			if spot.Ambient != air || spot.Count != len(b.nt.Wires) {
				t.Fatalf("wire %d: %+v, air %v", i, spot, air)
			}
		}
	})
}
