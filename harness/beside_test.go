package harness

import (
	"slices"
	"strconv"
	"sync"
	"testing"

	"pgregory.net/rapid"

	_ "loomsheet/lang/trial/draws"
)

// Whatever needs what: each stage runs once, after all that it needs.
func TestBesideAfterWhatItNeeds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var stages []Stage
		for i := range rapid.IntRange(0, 12).Draw(t, "stages") {
			s := Stage{Name: strconv.Itoa(i)}
			for k := range i {
				if rapid.IntRange(0, 2).Draw(t, "needs") == 0 {
					s.Needs = append(s.Needs, strconv.Itoa(k))
				}
			}
			stages = append(stages, s)
		}
		var lock sync.Mutex
		var begun, ended []string
		beside(stages, func(s Stage) {
			lock.Lock()
			defer lock.Unlock()
			begun = append(begun, s.Name)
			for _, n := range s.Needs {
				if !slices.Contains(ended, n) {
					t.Errorf("%s ran before %s", s.Name, n)
				}
			}
			lock.Unlock()
			lock.Lock()
			ended = append(ended, s.Name)
		})
		if slices.Sort(begun); len(slices.Compact(slices.Clone(begun))) != len(stages) || len(begun) != len(stages) {
			t.Errorf("of %d stages there ran %v", len(stages), begun)
		}
	})
}

// The longest way goes first: what many wait for is not left to the end.
func TestWaysToEnd(t *testing.T) {
	got := waysToEnd([]Stage{{Name: "a"}, {Name: "b", Needs: []string{"a"}}, {Name: "c", Needs: []string{"a"}}, {Name: "d", Needs: []string{"c"}}, {Name: "e", Needs: []string{"b", "d"}}})
	for name, want := range map[string]int{"a": 4, "b": 2, "c": 3, "d": 2, "e": 1} {
		if got[name] != want {
			t.Errorf("from %s to the end there are %d stages, not %d", name, got[name], want)
		}
	}
}
