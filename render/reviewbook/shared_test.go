package reviewbook

import (
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// What ladders share is what looking through all earlier ones finds.
func TestSharedIsWhatAPlainSearchFinds(t *testing.T) {
	cases := []*solve.CaseResult{{Case: "a"}, {Case: "b"}}
	twins, references := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		b := &book{}
		way := func(name string) (out []solve.Step) {
			volts := unit.Voltage(12 + 0.5*float64(rapid.IntRange(0, 1).Draw(t, name+" volts")))
			for k := range rapid.IntRange(1, 8).Draw(t, name) {
				// Few joints at each place, so that ways part late; a little off, or much.
				at := 10*k + rapid.SampledFrom([]int{0, 0, 0, 0, 1}).Draw(t, name+" joint")
				off := rapid.SampledFrom([]float64{0, 0, 0, 0.4 * nearly, 1.5 * nearly}).Draw(t, name+" off")
				out = append(out, solve.Step{Element: at, Volts: volts - unit.Voltage(k) + unit.Voltage(off), Amps: 2})
			}
			return out
		}
		for range rapid.IntRange(0, 14).Draw(t, "ladders") {
			l := ladder{held: held{c: rapid.SampledFrom(cases).Draw(t, "case"), load: &solve.LoadResult{Feed: way("feed"), Return: way("return")}}}
			b.ladders = append(b.ladders, l)
		}
		b.share()
		for n := range b.ladders {
			want := b.plainShared(n)
			if got := b.ladders[n].own; got != want {
				t.Fatalf("ladder %d: %+v, a plain search finds %+v", n, got, want)
			}
			if want.twin {
				twins++
			}
			if want.feed.joints > 0 || want.back.joints > 0 {
				references++
			}
		}
	})
	if twins == 0 || references == 0 {
		t.Errorf("%d twins, %d references", twins, references)
	}
}

// plainShared looks through all earlier ladders.
func (b *book) plainShared(n int) (out shared) {
	l := &b.ladders[n]
	best := func(r *reference, i int, x, y []solve.Step, back bool) {
		k := 0
		for k < len(x) && k < len(y) {
			p, q := x[k], y[k]
			if back {
				p, q = x[len(x)-1-k], y[len(y)-1-k]
			}
			if !alike(p, q) {
				break
			}
			k++
		}
		if k > r.joints {
			*r = reference{i, k}
		}
	}
	for i := range n {
		o := &b.ladders[i]
		if o.c != l.c || o.start != l.start {
			continue
		}
		on := map[int]bool{}
		for _, s := range o.steps() {
			on[s.Element] = true
		}
		both := 0
		for _, s := range l.steps() {
			if on[s.Element] {
				both++
			}
		}
		out.twin = out.twin || float64(both) >= sameWay*float64(len(l.steps()))
		best(&out.feed, i, o.load.Feed, l.load.Feed, false)
		best(&out.back, i, o.load.Return, l.load.Return, true)
	}
	if out.feed.joints < leastShared {
		out.feed = reference{}
	}
	if out.back.joints < leastShared {
		out.back = reference{}
	}
	return out
}
