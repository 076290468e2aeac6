package margin_test

import (
	"reflect"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/margin"
)

// TestFindTellsTheSame: what a result turns on is the same whether it is sought for all or only for those that are told.
func TestFindTellsTheSame(t *testing.T) {
	r := harness.Compile(example(t, "boat/tern.loom"))
	solved := 0
	for _, n := range []int{1, 4, 10, 16} {
		want := margin.Merge(n, margin.Tightest(r.Job, r.Fit, n), margin.Others(r.Job, r.Fit, r.Protect, r.Contact, r.Charge, n))
		got := margin.Find(r.Job, r.Fit, r.Protect, r.Contact, r.Charge, n)
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("of %d others are told", n)
		}
		for i := range got {
			if got[i].Held.Name != "" || got[i].Limit == margin.Heat {
				if solved++; len(got[i].Room) == 0 {
					t.Errorf("%s has no rooms", got[i].Title)
				}
			}
		}
	}
	if solved == 0 {
		t.Error("none on volts or heat was told")
	}
	if margin.Find(nil, nil, nil, nil, nil, 3) != nil || len(margin.Find(&design.Job{}, nil, nil, nil, nil, 3)) != 0 {
		t.Error("something came of nothing")
	}
}
