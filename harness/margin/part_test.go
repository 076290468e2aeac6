package margin

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	random "loomsheet/lang/trial"
)

// Solving the districts in which something is changed finds what solving the whole vehicle again does, to the bit. Of one of
// them limits are missed as well.
func TestDistrictsAreWhole(t *testing.T) {
	file := func(name string) func(string) ([]byte, error) {
		return func(n string) ([]byte, error) {
			return os.ReadFile(filepath.Join("..", "..", "examples", filepath.Dir(name), n))
		}
	}
	tried, rooms := 0, 0
	for _, c := range []struct {
		name string
		load func(string) ([]byte, error)
	}{
		{"trial.loom", func(n string) ([]byte, error) {
			if n != "trial.loom" {
				return nil, errors.New("there is no such file")
			}
			return []byte(random.Text(5, 60)), nil
		}},
		{"boat/tern.loom", file("boat/tern.loom")},
	} {
		job, _, said := resolve.Job(filepath.Base(c.name), c.load, parts.Files(), nil)
		if said.HasMistakes() {
			t.Fatal(said)
		}
		at := space.Lay(job)
		o := fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, at, h) })
		thin := *o
		thin.Cases = nil
		thin.Sizes = append(thin.Sizes[:0:0], o.Sizes...)
		for i := range thin.Sizes {
			thin.Sizes[i].Resistance = scale(thin.Sizes[i].Resistance, 8) // so that limits are missed
		}
		for _, k := range job.Cases {
			thin.Cases = append(thin.Cases, solve.Case(job, o.Net, thin.Sizes, o.Heat.Temps[k.Name], k))
		}
		both := []*fit.Outcome{o, &thin}
		if c.name != "trial.loom" { // a large job misses much
			both = both[:1]
		}
		for n, o := range both {
			t.Run(fmt.Sprint(c.name, n), func(t *testing.T) {
				a, b := answers(job, o, missed(job, o), solve.NewDistricts), answers(job, o, missed(job, o), solve.OneDistrict)
				if !reflect.DeepEqual(a, b) {
					for i := range a {
						if !reflect.DeepEqual(a[i], b[i]) {
							t.Errorf("answer %+v\nin the whole %+v", a[i], b[i])
						}
					}
				}
				x, y := tightest(job, o, 6, solve.NewDistricts), tightest(job, o, 6, solve.OneDistrict)
				for i := range x {
					if !reflect.DeepEqual(x[i], y[i]) {
						t.Errorf("result %+v\nin the whole %+v", x[i], y[i])
					}
					rooms += len(x[i].Room)
				}
				for i := range a {
					tried += len(a[i].Changes)
				}
			})
		}
	}
	if tried == 0 || rooms == 0 {
		t.Errorf("%d changes tried, %d rooms sought", tried, rooms)
	}
}
