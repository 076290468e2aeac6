package protect

import (
	"fmt"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/unit"
)

// What is kept of a short tells of the wire that stands it least what working out every wire finely tells, and of each wire the worst of all shorts is kept.
func TestWorstKeptIsTheWorst(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := drawn(t)
		l.count = rapid.IntRange(2, 6).Draw(t, "wires")
		l.carrying = min(l.carrying, l.count)
		g := l.weigher()
		g.res.Wires = nil
		for wire := range l.count {
			g.res.Wires = append(g.res.Wires, WireResult{Wire: wire})
		}
		k := newKeeper(g, 0)
		exact, most := map[string]trial{}, make([]float64, l.count)
		for n := range rapid.IntRange(1, 12).Draw(t, "shorts") {
			where := fmt.Sprint(rapid.IntRange(0, 3).Draw(t, "place"))
			x := trial{Short: Short{Case: fmt.Sprint(n), Device: where, Wire: -1, Strong: rapid.Bool().Draw(t, "strong")}}
			x.Clears = unit.Time(rapid.Float64Range(0.01, 100).Draw(t, "clears"))
			fine := trial{}
			for wire := range l.count {
				steps := []Step{{unit.Current(rapid.Float64Range(1, 300).Draw(t, "amps")), x.Clears}}
				x.heats, fine.heats = append(x.heats, g.bear(wire, steps, false)), append(fine.heats, g.bear(wire, steps, true))
				most[wire] = max(most[wire], fine.heats[wire].used)
			}
			x.sum()
			fine.sum()
			exact[x.Case] = fine
			k.add(x)
		}
		k.keep()
		for _, s := range k.kept {
			want := exact[s.Case]
			if differ(float64(s.Worst.Used), float64(want.Worst.Used)) || differ(float64(s.Worst.Reaches), float64(want.Worst.Reaches)) || s.Met != want.Met {
				t.Fatalf("%s: %+v, worked out finely %+v", s.Case, s.Worst, want.Worst)
			}
		}
		for i := range k.res.Wires {
			used := 0.0
			if h := k.res.Wires[i].Short; h != nil {
				used = float64(h.Used)
				if own := exact[k.kept[h.Short].Case].heats[i]; differ(used, own.used) {
					t.Fatalf("wire %d: %+v, the short it names takes %v", i, h, own.used)
				}
			}
			if differ(used, most[i]) {
				t.Fatalf("wire %d: the worst takes %v of its room, told is %v", i, most[i], used)
			}
		}
	})
}
