package solve

import (
	"runtime"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// trialNet is a trial job up to its wires.
func trialNet(t *testing.T, seed uint64, wires int) (*design.Job, *net.Net) {
	text := trial.Text(seed, wires)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	return job, net.Build(job, space.Lay(job), nil)
}

// What a start forgot and works out again is what the solver found, to the bit.
func TestLeanIsWhole(t *testing.T) {
	job, nt := trialNet(t, 7, 150)
	n := 0
	for _, c := range job.Cases {
		res := Case(job, nt, size.Initial(job, nt), nil, c)
		s := res.again
		for i := range res.Starts {
			x := res.Starts[i].again.lean
			want := s.grid().again(s.p, x.changes)
			x.among.last.Store(nil)
			if i%2 == 1 { // what is let go of too
				x.stood.letGo()
			}
			for x.kept.Value() != nil || i%2 == 1 && x.stood.kept.Value() != nil {
				runtime.GC()
			}
			for e := range res.Net.Elements {
				if res.Net.Elements[e].Kind == Wire && x.amps(e) != want.amps(e) {
					t.Fatalf("%s, %s starts: element %d carries %v, want %v", c.Name, res.Starts[i].Device, e, x.amps(e), want.amps(e))
				}
			}
			for k := range res.Net.Nodes {
				if x.volts(k) != want.volts(k) {
					t.Fatalf("%s, %s starts: node %d at %v, want %v", c.Name, res.Starts[i].Device, k, x.volts(k), want.volts(k))
				}
			}
			if x.kept.Value() != nil {
				t.Fatal("what a wire carries wants the whole again")
			}
			got := x.point()
			for e := range res.Net.Elements {
				if x.amps(e) != want.amps(e) {
					t.Fatalf("%s, %s starts: element %d carries %v, want %v", c.Name, res.Starts[i].Device, e, x.amps(e), want.amps(e))
				}
			}
			for k := range want.own {
				a, b := got.own[k], want.own[k]
				if a.island != b.island || !slices.Equal(a.br, b.br) || !slices.Equal(a.part, b.part) || !slices.Equal(a.hi, b.hi) || !slices.Equal(a.lo, b.lo) ||
					!slices.Equal(a.drop, b.drop) || !slices.Equal(a.amps, b.amps) || a.residual != b.residual || a.converged != b.converged {
					t.Fatalf("%s, %s starts: island %d is another", c.Name, res.Starts[i].Device, b.island)
				}
				n++
			}
		}
	}
	if n == 0 {
		t.Error("nothing starts")
	}
}

// Shorts that are worked out in the place of others are the same, to the bit.
func TestStrikesInOnePlace(t *testing.T) {
	job, nt := trialNet(t, 5, 150)
	sizes := size.Initial(job, nt)
	c := job.Cases[1]
	one, apart := NewFaults(job, nt, sizes, nil, c, Weakest), NewFaults(job, nt, sizes, nil, c, Weakest)
	n := 0
	for i := range one.Net.Elements {
		if k := one.Net.Elements[i].Kind; k != Load && k != Coil && k != Supply {
			continue
		}
		a, b := one.StrikeLoad(i), apart.StrikeLoad(i)
		if a.Amps != b.Amps || a.Forward != b.Forward {
			t.Fatalf("%s: %v, apart %v", one.Net.Elements[i].Name, a.Amps, b.Amps)
		}
		for e := range one.Net.Elements {
			if a.Current(e) != b.Current(e) {
				t.Fatalf("%s: element %d carries %v, apart %v", one.Net.Elements[i].Name, e, a.Current(e), b.Current(e))
			}
		}
		for k := range one.Net.Nodes {
			if a.Volts(k) != b.Volts(k) {
				t.Fatalf("%s: node %d at %v, apart %v", one.Net.Elements[i].Name, k, a.Volts(k), b.Volts(k))
			}
		}
		if one.Done(&a); a.island >= 0 && a.core.room.all != nil {
			n++
		}
	}
	if n < 10 {
		t.Fatalf("%d shorts in one place", n)
	}
}

// Cases that are laid together share names, and are each what they are alone.
func TestLaidTogether(t *testing.T) {
	job, nt := trialNet(t, 3, 60)
	sizes := size.Initial(job, nt)
	shared := 0
	var first *Network
	for i, l := range LayAll(job, nt, sizes) {
		f := Figures{Job: job, Net: nt, Sizes: sizes, Case: job.Cases[i]}
		got, want := l.Case(f), Lay(job, nt, sizes, job.Cases[i]).Case(f)
		if !slices.Equal(got.Net.Nodes, want.Net.Nodes) || !slices.Equal(got.Net.Ohms, want.Net.Ohms) || !slices.Equal(got.Point.Amps, want.Point.Amps) {
			t.Fatalf("%s is another", got.Case)
		}
		for e := range want.Net.Elements {
			a, b := got.Net.Elements[e], want.Net.Elements[e]
			if *a.Item != *b.Item || a.From != b.From || a.To != b.To {
				t.Fatalf("%s: element %d is %v, alone %v", got.Case, e, a, b)
			}
			if first != nil && e < len(first.Elements) && first.Elements[e].Item == a.Item {
				shared++
			}
		}
		if first == nil {
			first = got.Net
		}
		weak, alone := l.Faults(f, Weakest), NewFaults(job, nt, sizes, nil, job.Cases[i], Weakest)
		if a, b := weak.point().point(), alone.point().point(); !slices.Equal(a.Amps, b.Amps) || !slices.Equal(a.Volts, b.Volts) {
			t.Fatalf("%s: its faults are others", got.Case)
		}
	}
	if shared < len(nt.Wires) {
		t.Fatalf("%d elements are shared", shared)
	}
}
