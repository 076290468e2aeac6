package solve_test

import (
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// TestLaidIsCase: a case laid once and solved with other figures says what the case itself says of them, to the last bit.
func TestLaidIsCase(t *testing.T) {
	job, nt, sizes := laid(t, 120)
	spread := design.Fact[unit.Voltage]{Given: true, Spread: unit.Spread[unit.Voltage]{Low: 12.1, Nominal: 13, High: 14.6}}
	r := rand.New(rand.NewPCG(7, 7))
	for _, c := range job.Cases {
		l := solve.Lay(job, nt, sizes, c)
		for round := range 12 {
			f := solve.Figures{Job: job, Net: nt, Sizes: slices.Clone(sizes), Case: c}
			for i := range f.Sizes {
				f.Temps = append(f.Temps, unit.Temperature(20+60*r.Float64()))
				if up := size.Ladder(job, nt, &nt.Wires[i]); len(up) > 0 && r.IntN(3) == 0 {
					f.Sizes[i] = up[r.IntN(len(up))]
					f.Sizes[i].Contacts, f.Sizes[i].Fits = size.Contacts(job, &nt.Wires[i], &f.Sizes[i])
				}
			}
			if round%3 == 1 { // longer wires
				n := *nt
				n.Wires = slices.Clone(nt.Wires)
				for i := range n.Wires {
					n.Wires[i].Copper *= unit.Length(1 + r.Float64())
				}
				f.Net = &n
			}
			if round%2 == 1 { // other draws and supplies
				j := *job
				j.Devices = slices.Clone(job.Devices)
				for i, d := range j.Devices {
					if r.IntN(3) == 0 && !d.Pattern {
						x := *d
						x.Draws, x.Supplies, x.Coils = slices.Clone(d.Draws), slices.Clone(d.Supplies), slices.Clone(d.Coils)
						for k := range x.Draws {
							x.Draws[k].Amps.Nominal *= 2
							x.Draws[k].Amps.High *= 3
							x.Draws[k].Start.Nominal *= 1.5
						}
						for k := range x.Supplies {
							x.Supplies[k].Volts = spread
						}
						j.Devices[i] = &x
					}
				}
				f.Job = &j
			}
			got, want := l.Case(f), solve.Case(f.Job, f.Net, f.Sizes, f.Temps, c)
			for _, k := range []struct {
				what string
				a, b any
			}{{"point", got.Point, want.Point}, {"loads", got.Loads, want.Loads}, {"supplies", got.Supplies, want.Supplies}, {"relays", got.Relays, want.Relays},
				{"currents", got.WireAmps, want.WireAmps}, {"problems", got.Problems, want.Problems}, {"net", got.Net, want.Net}} {
				if !reflect.DeepEqual(k.a, k.b) {
					t.Fatalf("%s, round %d: %s differ", c.Name, round, k.what)
				}
			}
			if len(got.Starts) != len(want.Starts) {
				t.Fatal("starts")
			}
			for i := range got.Starts {
				if !reflect.DeepEqual(got.Starts[i].Point(), want.Starts[i].Point()) || !reflect.DeepEqual(got.Starts[i].Loads(), want.Starts[i].Loads()) {
					t.Fatalf("%s, round %d: start of %s", c.Name, round, got.Starts[i].Device)
				}
			}
			for i := range got.Loads {
				if i%5 == 0 && !reflect.DeepEqual(got.Corner(i, solve.LeastVolts), want.Corner(i, solve.LeastVolts)) {
					t.Fatalf("%s, round %d: corner of %s", c.Name, round, got.Loads[i].Device)
				}
			}
			if a, b := got.Variants(), want.Variants(); len(a) != len(b) || !reflect.DeepEqual(a[len(a)-1].WireAmps, b[len(b)-1].WireAmps) {
				t.Fatal("variants")
			}
			if len(want.Loads) == 0 {
				continue
			}
			some := want.Loads[r.IntN(len(want.Loads))]
			f.Only = []string{some.Device}
			little := l.Case(f)
			for i := range little.Loads {
				switch x := &little.Loads[i]; {
				case x.Device != want.Loads[i].Device || x.Index != want.Loads[i].Index || x.Coil != want.Loads[i].Coil:
					t.Fatal("loads are not told apart")
				case x.Device == some.Device && !reflect.DeepEqual(*x, want.Loads[i]):
					t.Fatalf("%s by itself", x.Device)
				}
			}
		}
	}
}
