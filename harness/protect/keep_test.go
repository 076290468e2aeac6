package protect

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// What is kept of a short tells of the wire that stands it least, and what is told of that wire is what working out every wire finely tells.
func TestWorstKeptIsTheWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		l.count = rapid.IntRange(2, 6).Draw(t, "wires")
		l.carrying = min(l.carrying, l.count)
		g := l.weigher()
		k := newKeeper(g)
		exact := map[string]trial{}
		for n := range rapid.IntRange(1, 6).Draw(t, "shorts") {
			x := trial{Short: Short{At: fmt.Sprint(n), Device: fmt.Sprint(n), Wire: -1, Strong: rapid.Bool().Draw(t, "strong")}}
			for wire := range l.count {
				steps := []Step{{unit.Current(rapid.Float64Range(1, 300).Draw(t, "amps")), unit.Time(rapid.Float64Range(0.01, 100).Draw(t, "time"))}}
				x.heats = append(x.heats, g.bear(wire, steps, false))
			}
			x.sum()
			fine := x
			fine.heats = slices.Clone(x.heats)
			for i := range fine.heats {
				fine.heats[i] = g.bear(fine.heats[i].wire, fine.heats[i].steps, true)
			}
			fine.sum()
			exact[x.At] = fine
			k.add(x)
		}
		k.keep()
		if len(k.res.Shorts) != len(exact) {
			t.Fatalf("%d shorts kept of %d", len(k.res.Shorts), len(exact))
		}
		for _, s := range k.res.Shorts {
			want := exact[s.At]
			if differ(float64(s.Worst.Used), float64(want.Worst.Used)) || differ(float64(s.Worst.Reaches), float64(want.Worst.Reaches)) || s.Met != want.Met {
				t.Fatalf("%s: %+v, worked out finely %+v", s.At, s.Worst, want.Worst)
			}
		}
	})
}
