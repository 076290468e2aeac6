package mate

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// What shelves leave out is nothing that fits and reaches: each half is held against each other.
func TestShelvesAgainstAll(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		place := func(name string) design.Point3 {
			n := rapid.SampledFrom([]float64{0, 1, 40, 100, 101, 5000})
			return design.Point3{X: unit.Length(n.Draw(t, name)), Y: unit.Length(n.Draw(t, name)), Z: 0}
		}
		tail := rapid.SampledFrom([]float64{0, 1, 60, 61, 100, 2500})
		names := []string{"one", "two", "three"}
		f := &finder{job: &design.Job{}, housing: map[string]*design.Housing{}, out: &Result{}}
		for _, n := range names[:2] {
			h := &design.Housing{}
			h.Name, h.Mates = n, rapid.SliceOfNDistinct(rapid.SampledFrom(names), 0, 2, rapid.ID).Draw(t, "mates")
			f.job.Parts.Housings, f.housing[n] = append(f.job.Parts.Housings, h), h
		}
		for i := range rapid.IntRange(0, 12).Draw(t, "halves") {
			h := Half{Title: fmt.Sprint(i), Break: fmt.Sprint(i / 2), Part: rapid.SampledFrom(names).Draw(t, "part"), Contacts: rapid.SampledFrom([]string{"pins", "sockets"}).Draw(t, "contacts"),
				Free: rapid.Bool().Draw(t, "free"), Known: rapid.IntRange(0, 5).Draw(t, "known") > 0, At: place("at")}
			for range rapid.IntRange(0, 2).Draw(t, "held") {
				h.Held = append(h.Held, Held{What: "clip", At: place("held"), Tail: unit.Length(tail.Draw(t, "tail"))})
			}
			f.out.Halves = append(f.out.Halves, h)
		}
		hs := f.out.Halves
		all := shelves(hs)
		fitting := f.fitting(all)
		for i := range hs {
			if !hs[i].Free {
				continue
			}
			var near []int
			for _, part := range fitting[hs[i].Part] {
				near = all[part].reachable(near, i, &hs[i])
			}
			for k := range hs {
				_, _, ok := f.reaches(&hs[i], &hs[k])
				if i != k && f.fits(&hs[i], &hs[k]) && ok && !slices.Contains(near, k) {
					t.Fatalf("%d reaches %d, found are %v", i, k, near)
				}
			}
			slices.Sort(near)
			if len(slices.Compact(slices.Clone(near))) != len(near) {
				t.Fatalf("%d: %v holds one twice", i, near)
			}
		}
	})
}
