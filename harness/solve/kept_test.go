package solve_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// alike tells what two results of a case differ in, everything that can be asked of them; nothing if they do not.
func alike(a, b *solve.CaseResult, r *rand.Rand, variants bool) string {
	for _, k := range []struct {
		what string
		a, b any
	}{{"point", a.Point, b.Point}, {"loads", a.Loads, b.Loads}, {"supplies", a.Supplies, b.Supplies}, {"relays", a.Relays, b.Relays},
		{"currents", a.WireAmps, b.WireAmps}, {"watts", a.WireWatts, b.WireWatts}, {"problems", a.Problems, b.Problems}, {"net", a.Net, b.Net}} {
		if !reflect.DeepEqual(k.a, k.b) {
			return k.what
		}
	}
	if len(a.Starts) != len(b.Starts) {
		return "number of starts"
	}
	quantities := []solve.Quantity{solve.LostBoth, solve.LostFeed, solve.LostReturn, solve.LeastVolts}
	for i := range a.Loads {
		if q := quantities[r.IntN(4)]; r.IntN(4) == 0 && !reflect.DeepEqual(a.Corner(i, q), b.Corner(i, q)) {
			return "corner of " + a.Loads[i].Device
		}
	}
	for i := range a.Starts {
		x, y := &a.Starts[i], &b.Starts[i]
		if x.Device != y.Device || !reflect.DeepEqual(x.Point(), y.Point()) || !reflect.DeepEqual(x.Loads(), y.Loads()) {
			return "start of " + x.Device
		}
		for k := range a.Loads {
			q := quantities[r.IntN(4)]
			if x.Moves(k) != y.Moves(k) {
				return "what moves in the start of " + x.Device
			}
			if r.IntN(1+len(a.Loads)/3) == 0 && !reflect.DeepEqual(x.Corner(k, q), y.Corner(k, q)) {
				return "corner in the start of " + x.Device
			}
		}
	}
	for i := range a.Relays {
		if r.IntN(4) == 0 && !reflect.DeepEqual(a.PullIn(i), b.PullIn(i)) {
			return "pull-in"
		}
	}
	if !variants {
		return ""
	}
	m, n := a.Variants(), b.Variants()
	if len(m) != len(n) {
		return "number of variants"
	}
	for i := range m[1:] {
		if s := alike(m[i+1], n[i+1], r, false); s != "" {
			return fmt.Sprintf("variant %d: %s", i+1, s)
		}
	}
	return ""
}

// altered is figures with some of them changed: sizes and their contacts, temperatures, lengths, now and then draws and supplies.
func altered(r *rand.Rand, f solve.Figures) solve.Figures {
	wires := len(f.Net.Wires)
	f.Sizes, f.Temps = slices.Clone(f.Sizes), slices.Clone(f.Temps)
	for range []int{0, 1, 3, wires}[r.IntN(4)] {
		i := r.IntN(wires)
		f.Temps[i] = unit.Temperature(20 + 60*r.Float64())
	}
	for range r.IntN(3) {
		i := r.IntN(wires)
		if up := size.Ladder(f.Job, f.Net, &f.Net.Wires[i]); len(up) > 0 {
			f.Sizes[i] = up[r.IntN(len(up))]
			f.Sizes[i].Contacts, f.Sizes[i].Fits = size.Contacts(f.Job, &f.Net.Wires[i], &f.Sizes[i])
		}
	}
	if r.IntN(5) == 0 {
		n := *f.Net
		n.Wires = slices.Clone(n.Wires)
		n.Wires[r.IntN(wires)].Copper *= unit.Length(1 + r.Float64())
		f.Net = &n
	}
	if r.IntN(5) == 0 {
		j := *f.Job
		j.Devices = slices.Clone(j.Devices)
		i := r.IntN(len(j.Devices))
		d := *j.Devices[i]
		d.Draws, d.Supplies = slices.Clone(d.Draws), slices.Clone(d.Supplies)
		for k := range d.Draws {
			d.Draws[k].Amps.Nominal *= 1.5
			d.Draws[k].Amps.High *= 2
		}
		for k := range d.Supplies {
			d.Supplies[k].Volts = design.Fact[unit.Voltage]{Given: true, Spread: unit.Spread[unit.Voltage]{Low: 12.1, Nominal: unit.Voltage(13 + r.Float64()), High: 14.6}}
		}
		if j.Devices[i] = &d; !d.Pattern {
			f.Job = &j
		}
	}
	return f
}

// heldAgain solves a case again and again, each time from what it was, and holds it against the case by itself.
func heldAgain(t *testing.T, r *rand.Rand, job *design.Job, nt *net.Net, sizes size.Sizes, rounds int) {
	for _, c := range job.Cases {
		l := solve.Lay(job, nt, sizes, c)
		f := solve.Figures{Job: job, Net: nt, Sizes: sizes, Case: c, Temps: make([]unit.Temperature, len(nt.Wires))}
		var before *solve.CaseResult
		for round := range rounds {
			got := l.Again(before, f)
			want := solve.Case(f.Job, f.Net, f.Sizes, f.Temps, c)
			if s := alike(got, want, r, r.IntN(3) > 0); s != "" {
				t.Fatalf("%s, round %d: %s", c.Name, round, s)
			}
			if before = got; r.IntN(6) == 0 {
				before = nil
			}
			f = altered(r, f)
		}
	}
}

// TestAgainIsCase: what is taken over from the case as it was is what the case itself says, to the last bit.
func TestAgainIsCase(t *testing.T) {
	job, nt, sizes := laid(t, 100)
	heldAgain(t, rand.New(rand.NewPCG(3, 5)), job, nt, sizes, 12)
}
