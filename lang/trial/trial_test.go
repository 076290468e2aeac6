package trial_test

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

func read(t *testing.T, text string) *design.Job {
	t.Helper()
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), rule.Keys())
	if len(said) > 0 {
		t.Fatal(said)
	}
	return job
}

// Every trial is understood, is of the size that was asked for, and the same again; another seed is another job.
func TestText(t *testing.T) {
	for _, wires := range []int{1, 300, 2000} {
		for seed := range uint64(3) {
			text := trial.Text(seed, wires)
			if text != trial.Text(seed, wires) || text == trial.Text(seed+1, wires) {
				t.Fatalf("seed %d does not decide", seed)
			}
			links := 0
			for _, c := range read(t, text).Circuits {
				links += len(c.Links)
			}
			// A wire that passes a plug is two; of a bay's links some seven in sixty do.
			if low, high := wires*6/10, max(100, wires*11/10); links < low || links > high {
				t.Errorf("%d wires: %d links", wires, links)
			}
		}
	}
}
