package charge

import (
	"errors"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	library "loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// Each spell stands as its case does when solved by itself, and what a battery feeds is what a look at every load of every spell finds.
func TestSpellsArePlain(t *testing.T) {
	load := func(n string) ([]byte, error) {
		if n != "trial.loom" {
			return nil, errors.New("there is no such file")
		}
		return []byte(trial.Text(3, 120)), nil
	}
	job, _, said := resolve.Job("trial.loom", load, library.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	for i, d := range job.Devices { // some that work on and off
		for k := range d.Draws {
			if !d.Pattern && i%3 == 0 {
				d.Draws[k].On, d.Draws[k].Off = unit.Time(2+i%4), 5
			}
		}
	}
	nt := net.Build(job, space.Lay(job), nil)
	w := newWork(job, nt, size.Initial(job, nt), nil)
	spells, fed := 0, 0
	for _, c := range job.Cases {
		s := w.over(c, c.For)
		rest := map[loadKey]bool{}
		for n := range s.points {
			want := solve.Case(without(w.job, rest), nt, w.sizes, nil, c)
			if got := s.points[n]; !reflect.DeepEqual(got.Point, want.Point) || !reflect.DeepEqual(got.Loads, want.Loads) || !reflect.DeepEqual(got.Supplies, want.Supplies) {
				t.Fatalf("%s: spell %d stands otherwise", c.Name, n)
			}
			spells++
			for i := range s.points[0].Loads {
				k := keyOf(&s.points[0].Loads[i])
				if d := w.draw(k); n+1 < len(s.points) && d != nil && slices.Contains(s.rests[n+1], k.device) && d.On > 0 {
					rest[k] = true
				}
			}
		}
		for _, names := range [][]string{w.names(), w.names()[:1]} {
			var want []DrainPart
			for i := range s.points[0].Loads {
				l := &s.points[0].Loads[i]
				if a := s.load(i, func(by string) bool { return slices.Contains(names, by) }); a > 0 {
					want = append(want, DrainPart{Device: l.Device, Index: l.Index, Coil: l.Coil, Amps: a})
				}
			}
			slices.SortStableFunc(want, func(a, b DrainPart) int { return unit.Compare(b.Amps, a.Amps) })
			if got := parts(s, names...); !reflect.DeepEqual(got, want) {
				t.Errorf("%s: %v feed %v, not %v", c.Name, names, got, want)
			}
			fed += len(want)
		}
	}
	if spells < 2*len(job.Cases) || fed == 0 {
		t.Errorf("%d spells, %d parts", spells, fed)
	}
}
