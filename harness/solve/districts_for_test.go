package solve_test

import (
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// The districts of a net, taken over for other sizes and for other volts of its supplies, are those that the job has by itself; for another net they are found anew.
func TestDistrictsTakenOver(t *testing.T) {
	text := trial.Text(4, 900) // several supplies
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	sizes := size.NewFitter(job, nt).Initial()
	first := solve.NewDistricts(job, nt, sizes)
	other := *job
	other.Devices = slices.Clone(job.Devices)
	for i, d := range other.Devices {
		if len(d.Supplies) > 0 {
			x := *d
			x.Supplies = slices.Clone(d.Supplies)
			for k := range x.Supplies {
				x.Supplies[k].Volts = design.Fact[unit.Voltage]{Spread: unit.Exactly(unit.Voltage(3 + i%7)), Given: true}
			}
			other.Devices[i] = &x
		}
	}
	large := slices.Clone(sizes)
	for i := range large {
		large[i].Resistance /= 2
	}
	for n, got := range []*solve.Districts{first.For(job, nt, sizes), first.For(&other, nt, large), (*solve.Districts)(nil).For(job, nt, sizes)} {
		want := solve.NewDistricts(job, nt, sizes)
		if n == 1 {
			want = solve.NewDistricts(&other, nt, large)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%d: districts taken over are others than those found", n)
		}
	}
	again := net.Build(job, space.Lay(job), nil)
	again.Wires = again.Wires[:len(again.Wires)/2]
	again.Crossings, again.Uses = nil, nil
	if got, want := first.For(job, again, sizes), solve.NewDistricts(job, again, sizes); !reflect.DeepEqual(got, want) {
		t.Error("those of another net are taken over")
	}
}
