package free

import (
	"errors"
	"os"
	"path/filepath"
	"reflect"
	"testing"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// Solving the districts that a step touches finds what solving the whole vehicle again does.
func TestDistrictsAreWhole(t *testing.T) {
	file := func(name string) func(string) ([]byte, error) {
		return func(n string) ([]byte, error) {
			return os.ReadFile(filepath.Join("..", "..", "examples", filepath.Dir(name), n))
		}
	}
	told := 0
	for _, c := range []struct {
		name string
		load func(string) ([]byte, error)
	}{
		{"trial.loom", func(n string) ([]byte, error) {
			if n != "trial.loom" {
				return nil, errors.New("there is no such file")
			}
			return []byte(trial.Text(5, 150)), nil
		}},
		{"boat/tern.loom", file("boat/tern.loom")},
	} {
		t.Run(c.name, func(t *testing.T) {
			job, _, said := resolve.Job(filepath.Base(c.name), c.load, parts.Files(), nil)
			if said.HasMistakes() {
				t.Fatal(said)
			}
			nt := net.Build(job, space.Lay(job), nil)
			sizes := size.Initial(job, nt)
			held := fix.Find(job, nt, bundle.Find(job, nt, sizes))
			n := 0
			count := func(job *design.Job, nt *net.Net, sizes size.Sizes) *solve.Districts {
				d := solve.NewDistricts(job, nt, sizes)
				seen := map[int]bool{}
				for i := range nt.Wires {
					seen[d.Of(i)] = true
				}
				n = len(seen)
				return d
			}
			got, want := find(job, nt, sizes, nil, held, count), find(job, nt, sizes, nil, held, solve.OneDistrict)
			if !reflect.DeepEqual(got, want) {
				for i := range got.Sections {
					if !reflect.DeepEqual(got.Sections[i], want.Sections[i]) {
						t.Errorf("section %+v\nin the whole %+v", got.Sections[i], want.Sections[i])
					}
				}
				t.Fatal("the districts tell another tale than the whole")
			}
			for _, p := range append(got.Sections, got.Removals...) {
				for i := range p.Steps {
					told += len(p.Steps[i].Losses)
				}
			}
			if n < 2 {
				t.Errorf("%d districts", n)
			}
		})
	}
	if told == 0 {
		t.Error("nothing is lost anywhere")
	}
}
