package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// A tally is how the mutants of a package ended.
type tally struct {
	name      string
	found     int
	ends      map[string]int
	survivors []Mutant
}

func (t *tally) count(m Mutant, how string) {
	if t.ends == nil {
		t.ends = map[string]int{}
	}
	t.ends[how]++
	if how == survived {
		t.survivors = append(t.survivors, m)
	}
}

func (t *tally) add(o tally) {
	if t.ends == nil {
		t.ends = map[string]int{}
	}
	t.found += o.found
	for _, how := range []string{killed, timedOut, survived, notBuilt} {
		t.ends[how] += o.ends[how]
	}
}

// built is how many count.
func (t tally) built() int { return t.ends[killed] + t.ends[timedOut] + t.ends[survived] }

func (t tally) line() string {
	share := "nothing tried"
	if n := t.built(); n > 0 {
		dead := t.ends[killed] + t.ends[timedOut]
		share = fmt.Sprintf("%d of %d killed, %.0f %%", dead, n, 100*float64(dead)/float64(n))
	}
	return fmt.Sprintf("%s: %s (%d by time); %d survived, %d not built; %d mutants in all",
		t.name, share, t.ends[timedOut], t.ends[survived], t.ends[notBuilt], t.found)
}

// report is the line of the package and its survivors by place.
func (t tally) report() string {
	by := slices.Clone(t.survivors)
	slices.SortStableFunc(by, func(a, b Mutant) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.From, b.From))
	})
	lines := []string{t.line()}
	for _, m := range by {
		lines = append(lines, "  "+m.String())
	}
	return strings.Join(lines, "\n")
}
