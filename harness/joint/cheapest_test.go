package joint

import (
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// TestCheapestIsTheFirst: where an item costs least is the first of its choices, with others placed and with none.
func TestCheapestIsTheFirst(t *testing.T) {
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(trial.Text(2, 150)), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	geo := space.Lay(job)
	nt := net.Build(job, geo, nil)
	s := newSearch(job, geo, nt, net.NewSurvey(job, geo), ladenBy(geo, nt))
	if len(s.items) < 3 {
		t.Fatalf("%d splices are sought", len(s.items))
	}
	all := make([]int, len(s.items))
	for i := range all {
		all[i] = i
	}
	at := s.nowhere()
	for _, i := range all {
		list := s.choices(i, all, at)
		best, ok := s.cheapest(i, all, at)
		if ok != (len(list) > 0) || ok && best != list[0] {
			t.Fatalf("item %d: %v in place of %v", i, best, list)
		}
		for k := 1; k < len(list); k++ {
			if list[k].k == list[k-1].k {
				t.Fatalf("item %d has a choice twice", i)
			}
		}
		if ok {
			at[i] = s.items[i].spot(best.k)
		}
	}
}
