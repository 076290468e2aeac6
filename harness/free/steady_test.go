package free

import (
	"errors"
	"reflect"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// TestSteadyIsAsItIs: what draws take as they start changes nothing of a case but its starts.
func TestSteadyIsAsItIs(t *testing.T) {
	job, _, said := resolve.Job("trial.loom", func(n string) ([]byte, error) {
		if n != "trial.loom" {
			return nil, errors.New("there is no such file")
		}
		return []byte(trial.Text(3, 200)), nil
	}, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	sizes := size.Initial(job, nt)
	left := 0
	for _, c := range job.Cases {
		want, got := solve.Case(job, nt, sizes, nil, c), solve.Case(steady(job), nt, sizes, nil, c)
		if !reflect.DeepEqual(got.Loads, want.Loads) || !reflect.DeepEqual(got.Supplies, want.Supplies) || !reflect.DeepEqual(got.Relays, want.Relays) ||
			!reflect.DeepEqual(got.Point, want.Point) || !reflect.DeepEqual(got.WireAmps, want.WireAmps) || !reflect.DeepEqual(solve.Laws(got), solve.Laws(want)) {
			t.Errorf("%s stands otherwise", c.Name)
		}
		left += len(want.Starts) - len(got.Starts)
	}
	if left == 0 {
		t.Error("nothing starts in any case")
	}
}
