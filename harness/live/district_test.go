package live

import (
	"reflect"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// Looking at what hangs together with a break finds what looking at the whole vehicle does.
func TestDistrictIsWhole(t *testing.T) {
	text := trial.Text(3, 1)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	sizes := size.Initial(job, nt)
	s := attach(job)
	var undo []design.Undo
	for _, b := range job.Breaks {
		undo = append(undo, design.Undo{Kind: "break", Name: b.Name})
	}
	for _, d := range job.Devices {
		if len(d.Coils) > 0 || len(d.Supplies) > 0 {
			undo = append(undo, design.Undo{Kind: "device", Name: d.Name})
		}
	}
	live := 0
	for _, u := range undo {
		part := newWhole(job, nt, sizes, nil)
		whole := newWhole(job, nt, sizes, nil)
		whole.parts = solve.OneDistrict(job, nt, sizes)
		got, want := s.unplug(part, u), s.unplug(whole, u)
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("%s: %+v\nin the whole: %+v", u.Name, got, want)
		}
		live += len(got.Halves[0].Live) + len(got.Halves[1].Live)
	}
	if live < 4 {
		t.Errorf("%d live", live)
	}
}
