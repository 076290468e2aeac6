package protect

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/data"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// reaches tells whether b is come to from a along arrows.
func reaches(arrows [][2]int, a, b int) bool {
	in := map[int]bool{a: true}
	for more := true; more; {
		more = false
		for _, x := range arrows {
			if in[x[0]] && !in[x[1]] {
				in[x[1]], more = true, true
			}
		}
	}
	return in[b]
}

// TestFlowAgainstCutting: in a short whose current runs from node 0 up to the last one, over elements written either way round and some that carry next to nothing,
// the short is clear, and each element bears its current, until the first moment at which the fuses that are open by then leave no way.
func TestFlowAgainstCutting(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 7).Draw(t, "nodes")
		nw := &solve.Network{Nodes: make([]string, n)}
		p := &solve.Point{}
		var arrows [][2]int
		opens := map[int]float64{}
		put := func(from, to int) {
			i := len(nw.Elements)
			kind := rapid.SampledFrom([]solve.ElementKind{solve.Wire, solve.Fuse, solve.Fuse, solve.Supply}).Draw(t, "kind")
			e := solve.Element{Item: &solve.Item{Kind: kind, Index: i, Device: "d"}, From: from, To: to}
			a := 1 + float64(rapid.IntRange(0, 9).Draw(t, "amps"))
			if kind == solve.Supply { // delivers out of its plus, From
				e.From, e.To = to, from
			}
			if rapid.Bool().Draw(t, "turned") {
				e.From, e.To, a = e.To, e.From, -a
			}
			if rapid.IntRange(0, 9).Draw(t, "creeps") == 0 {
				a *= 1e-6
				from = -1
			}
			nw.Elements = append(nw.Elements, e)
			p.Amps = append(p.Amps, unit.Current(a))
			arrows = append(arrows, [2]int{from, to})
			if kind == solve.Fuse {
				opens[i] = float64(rapid.IntRange(1, 4).Draw(t, "opens"))
				if opens[i] == 4 {
					opens[i] = math.Inf(1)
				}
			}
		}
		for to := 1; to < n; to++ { // every node but the first is come to, all but the last are left
			put(rapid.IntRange(0, to-1).Draw(t, "from"), to)
			put(to-1, rapid.IntRange(to, n-1).Draw(t, "to"))
		}
		var all []int32
		for i := range nw.Elements {
			all = append(all, int32(i))
		}
		f := newFlow(nw, all, func(i int) unit.Current { return p.Amps[i] }, -1, n-1, 0, 10)
		for k, i := range f.live {
			if arrows[i][0] < 0 {
				t.Fatalf("element %d only creeps", i)
			}
			if f.from[k] != arrows[i][0] || f.to[k] != arrows[i][1] || f.amps[k] != math.Abs(float64(p.Amps[i])) {
				t.Fatalf("element %d goes from %d to %d, want %v", i, f.from[k], f.to[k], arrows[i])
			}
			if o, ok := opens[i]; ok {
				f.opens[k] = o
			}
		}
		// live ways at a moment, and the ends at which they begin and end
		first := func(without int, way func(left [][2]int) bool) float64 {
			for _, at := range []float64{1, 2, 3} {
				var left [][2]int
				for _, i := range f.live {
					if o, ok := opens[i]; !(ok && o <= at) && i != without {
						left = append(left, arrows[i])
					}
				}
				if !way(left) {
					return at
				}
			}
			return math.Inf(1)
		}
		roots := func(back bool) (out []int) {
			for k := range n {
				if !slices.ContainsFunc(f.live, func(i int) bool { return arrows[i][1] == k && !back || arrows[i][0] == k && back }) {
					out = append(out, k)
				}
			}
			return out
		}
		from := func(node int, left [][2]int) bool {
			return slices.ContainsFunc(roots(false), func(r int) bool { return reaches(left, r, node) })
		}
		onto := func(node int, left [][2]int) bool {
			return slices.ContainsFunc(roots(true), func(r int) bool { return reaches(left, node, r) })
		}
		clear := min(first(-1, func(left [][2]int) bool { return from(n-1, left) }), first(-1, func(left [][2]int) bool { return onto(0, left) }))
		if got := f.clears(); got != clear {
			t.Fatalf("clears at %g, want %g: %v opens %v", got, clear, arrows, opens)
		}
		for k, i := range f.live {
			bears := min(first(-1, func(left [][2]int) bool { return from(arrows[i][0], left) }), first(-1, func(left [][2]int) bool { return onto(arrows[i][1], left) }))
			if o, ok := opens[i]; ok {
				bears = min(bears, o)
			}
			if got := f.bears(k); got != bears {
				t.Fatalf("element %d bears it %g, want %g: %v opens %v", i, got, bears, arrows, opens)
			}
		}
	})
}

// TestLaterClearings: of two times for one fuse the sooner; what is new is added with what went before; what never opens stays so.
func TestLaterClearings(t *testing.T) {
	c := func(name string, latest unit.Time) Clearing {
		return Clearing{Fuse: FuseRef{Device: name}, Latest: latest}
	}
	in := []Clearing{c("a", 2), c("b", 5), c("never", Never)}
	got := later(in, []Clearing{c("a", 1), c("b", 1), c("never", 3), c("new", 4), c("not", Never)}, 2)
	want := []Clearing{c("a", 2), c("b", 3), c("never", 5), c("new", 6), c("not", Never)}
	if !slices.Equal(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if !slices.Equal(in, []Clearing{c("a", 2), c("b", 5), c("never", Never)}) {
		t.Errorf("what was given is changed: %+v", in)
	}
}

// TestStretchesAreAsFirmAsTheirRow: below the first row that forces it open the range is as firm as that row, above each as firm as it.
func TestStretchesAreAsFirmAsTheirRow(t *testing.T) {
	const y, n = data.Verified, data.FromMemory
	for _, c := range []struct {
		bases []data.Basis
		want  []bool
	}{{[]data.Basis{y, y}, []bool{true, true, true, true}}, {[]data.Basis{n, y}, []bool{false, false, true, true}}, {[]data.Basis{y, n}, []bool{true, true, false, false}}, {[]data.Basis{n, n}, []bool{false, false, false, false}}} {
		gate := []data.FuseGate{{Times: 1.1, Least: 3600, Basis: y}, {Times: 1.35, Most: 600, Basis: c.bases[0]}, {Times: 2, Most: 5, Basis: c.bases[1]}}
		var got []bool
		for _, s := range stretches(gate) {
			got = append(got, s.verified)
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.bases, got, c.want)
		}
	}
}
