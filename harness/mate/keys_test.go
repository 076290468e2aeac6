package mate

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The search against every choice of keys there is.
func TestFewestKeys(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 6).Draw(t, "connectors")
		locks := make([]lock, n)
		all := []string{"A", "B", "C"}
		for i := range locks {
			own := rapid.SampledFrom(all).Draw(t, "key")
			locks[i].keys = []string{own}
			for _, k := range all[:rapid.IntRange(1, 3).Draw(t, "keys")] {
				if k != own && rapid.Bool().Draw(t, "to be had") {
					locks[i].keys = append(locks[i].keys, k)
				}
			}
			for j := range i {
				if rapid.Bool().Draw(t, "foes") {
					locks[i].foes, locks[j].foes = append(locks[i].foes, j), append(locks[j].foes, i)
				}
			}
		}
		cost := func(chosen []int) int {
			c := 0
			for i, k := range chosen {
				c += min(k, 1)
				for j := range i {
					if slices.Contains(locks[i].foes, j) && locks[i].keys[k] == locks[j].keys[chosen[j]] {
						c += dear
					}
				}
			}
			return c
		}
		best := -1
		chosen := make([]int, n)
		var every func(i int)
		every = func(i int) {
			if i == n {
				if c := cost(chosen); best < 0 || c < best {
					best = c
				}
				return
			}
			for chosen[i] = range locks[i].keys {
				every(i + 1)
			}
			chosen[i] = 0
		}
		every(0)
		got := make([]int, n)
		for _, g := range groups(locks) {
			s := search{locks: locks, group: slices.Clone(g), tries: mostTries, best: -1}
			s.start()
			s.try(0, 0)
			for k, i := range s.group {
				got[i] = s.answer[k]
			}
			if s.tries <= 0 {
				t.Fatal("not whole")
			}
		}
		if c := cost(got); c != best {
			t.Fatalf("%v costs %d, could be %d: %+v", got, c, best, locks)
		}
	})
}

// A clique of more connectors than tries ends all the same, with an answer.
func TestSearchEnds(t *testing.T) {
	locks := make([]lock, 40)
	for i := range locks {
		locks[i].keys = []string{"A", "B", "C", "D"}
		for j := range locks {
			if i != j {
				locks[i].foes = append(locks[i].foes, j)
			}
		}
	}
	for _, g := range groups(locks) {
		s := search{locks: locks, group: g, tries: mostTries, best: -1}
		s.start()
		s.try(0, 0)
		if s.tries > 0 || len(s.answer) != len(locks) {
			t.Errorf("%d tries left, answer %v", s.tries, s.answer)
		}
	}
}
