package layup

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// filledOneByOne is filled with every number of fillers tried, from one.
func filledOneByOne(base float64, r []float64, f float64) (all []float64, filler []bool) {
	all, filler = r, make([]bool, len(r))
	for n := 1; ; n++ {
		var more []float64
		var is []bool
		for i := range r {
			more, is = append(more, r[i]), append(is, false)
			for range (i+1)*n/len(r) - i*n/len(r) {
				more, is = append(more, f), append(is, true)
			}
		}
		if _, need := around(base, more); need > full {
			return all, filler
		}
		all, filler = more, is
	}
}

// TestFilledAsOneByOne: fillers that surely find room are not tried, and as many are laid.
func TestFilledAsOneByOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		base := rapid.Float64Range(0.3, 20).Draw(t, "base")
		r := rapid.SliceOfN(rapid.OneOf(rapid.SampledFrom([]float64{0.5, 0.65, 0.9, 2.4}), rapid.Float64Range(0.2, 4)), 1, 120).Draw(t, "r")
		for len(r) > 1 {
			if _, need := around(base, r); need <= full {
				break
			}
			r = r[:len(r)/2]
		}
		f := rapid.Float64Range(0.2, 3).Draw(t, "filler")
		all, filler := filled(base, r, f)
		want, wantFiller := filledOneByOne(base, r, f)
		if !slices.Equal(all, want) || !slices.Equal(filler, wantFiller) {
			t.Fatalf("%d with fillers in place of %d", len(all), len(want))
		}
		if _, need := around(base, all); needed(base, all) != need {
			t.Fatalf("%g in place of %g", needed(base, all), need)
		}
	})
}

// TestRingsKept: a layer that is remembered is the one that is worked out.
func TestRingsKept(t *testing.T) {
	kept := rings{}
	rapid.Check(t, func(t *rapid.T) {
		in := rapid.SampledFrom([]float64{1, 1.4, 2.6, 5}).Draw(t, "in")
		r := rapid.SliceOfN(rapid.SampledFrom([]float64{0.5, 0.65}), 1, 20).Draw(t, "r")
		rules := &rules{open: rapid.SampledFrom([]float64{0, 0.3}).Draw(t, "open"), gap: rapid.SampledFrom([]float64{0.1, 0.3}).Draw(t, "gap")}
		want := ringOf(in, r, rules)
		for range 2 {
			if got, ok := kept.of(in, r, rules); ok != (want != nil) || !reflect.DeepEqual(got, want) {
				t.Fatalf("%v in place of %v", got, want)
			}
		}
	})
}
