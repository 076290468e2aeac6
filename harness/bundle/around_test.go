package bundle

import (
	"math"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// TestAroundByHand: two circles side by side, three and four equal ones by their triangle and square, seven by their ring, many by the greatest density of equal
// circles, pi / sqrt 12; at most 1.2 sqrt(sum d2) and never less than the least.
func TestAroundByHand(t *testing.T) {
	same := func(n int, d unit.Length) []unit.Length { return slices.Repeat([]unit.Length{d}, n) }
	for _, c := range []struct {
		ds          []unit.Length
		least, most float64
	}{
		{nil, 0, 0}, {same(1, 3), 3, 3}, {same(1, 0.5), 0.5, 0.5}, {[]unit.Length{3, 0}, 0, 0}, {[]unit.Length{3, -1}, 0, 0}, {[]unit.Length{unit.Length(math.NaN())}, 0, 0}, {[]unit.Length{unit.Length(math.Inf(1)), 2}, 0, 0},
		{same(2, 2), 4, 4}, {[]unit.Length{1, 3}, 4, 4}, {[]unit.Length{3, 1}, 4, 4},
		{same(3, 2), 2 * (1 + 2/math.Sqrt(3)), 2 * (1 + 2/math.Sqrt(3))}, {same(4, 2), 2 * (1 + math.Sqrt2), 2 * (1 + math.Sqrt2)},
		{same(7, 2), 6, 1.2 * math.Sqrt(28)},
		{same(packOne, 1), 0, 1.2 * math.Sqrt(packOne)},
		{same(packOne+1, 1), math.Sqrt((packOne + 1) * math.Sqrt(12) / math.Pi), 1.2 * math.Sqrt(packOne+1)},
		{same(10*packOne, 0.5), 0.5 * math.Sqrt(10*packOne*math.Sqrt(12)/math.Pi), 0.5 * 1.2 * math.Sqrt(10*packOne)},
	} {
		least, most := Around(c.ds)
		if c.least == 0 && len(c.ds) == packOne { // packed, and no closer than by area
			if float64(least) < math.Sqrt(packOne*math.Sqrt(12)/math.Pi)-1e-9 || float64(least) > c.most {
				t.Errorf("%d equal: least %v", len(c.ds), least)
			}
			c.least = float64(least)
		}
		if math.Abs(float64(least)-c.least) > 1e-3*c.least || math.Abs(float64(most)-math.Max(c.most, c.least)) > 1e-3*c.most {
			t.Errorf("%d of %v: %v to %v, want %g to %g", len(c.ds), c.ds[:min(2, len(c.ds))], least, most, c.least, c.most)
		}
	}
	// the order in which they are given is nothing
	a, b := []unit.Length{1, 5, 2, 2, 3, 1, 4}, []unit.Length{4, 1, 3, 2, 5, 1, 2}
	la, ma := Around(a)
	lb, mb := Around(b)
	if la != lb || ma != mb || !slices.Equal(a, []unit.Length{1, 5, 2, 2, 3, 1, 4}) {
		t.Errorf("%v to %v, and %v to %v in another order", la, ma, lb, mb)
	}
	if Trade([]unit.Length{3, 4}) != 7 || math.Abs(float64(Trade(same(9, 1)))-3.6) > 1e-12 {
		t.Errorf("%v, %v", Trade([]unit.Length{3, 4}), Trade(same(9, 1)))
	}
}

// TestRaised: an edge becomes as thick as it is laid, never thinner, and what passes on whole from it with it; the bundles given stay as they are.
func TestRaised(t *testing.T) {
	job, nt, sizes := yard(wire(0, 1), wire(0, 1), wire(0, 2), wire(2))
	for i := range sizes {
		sizes[i].Outside = 2
	}
	b := Find(job, nt, sizes)
	before := []unit.Length{b.Edges[0].Most, b.Edges[1].Most, b.Edges[2].Most}
	whole := b.Shared(0, 1).Most // both wires of edge 1, not all of edge 0
	r := b.Raised(func(edge int) unit.Length { return []unit.Length{9, 7, 1}[edge] })
	if r.Edges[0].Most != 9 || r.Edges[1].Most != 7 || r.Edges[2].Most != before[2] {
		t.Errorf("%v %v %v", r.Edges[0].Most, r.Edges[1].Most, r.Edges[2].Most)
	}
	if got := r.Shared(0, 1).Most; got != 7 {
		t.Errorf("from 0 to 1 %v, was %v", got, whole)
	}
	if got := r.Shared(0, 2).Most; got != b.Shared(0, 2).Most {
		t.Errorf("from 0 to 2 %v: neither edge passes whole", got)
	}
	if b.Edges[0].Most != before[0] || b.Shared(0, 1).Most != whole {
		t.Error("what was given is changed")
	}
	for _, bad := range []unit.Length{unit.Length(math.NaN()), unit.Length(math.Inf(1)), 0, -3} {
		if x := b.Raised(func(int) unit.Length { return bad }); x.Edges[0].Most != before[0] {
			t.Errorf("%v raises it to %v", bad, x.Edges[0].Most)
		}
	}
	if (*Bundles)(nil).Raised(nil) != nil {
		t.Error("of nothing something")
	}
	sizes[3].Outside = 0 // not known: it stays so
	if x := Find(job, nt, sizes).Raised(func(int) unit.Length { return 9 }); x.Edges[2].Most != 0 || !x.Edges[2].Unknown {
		t.Errorf("%+v", x.Edges[2])
	}
}

// TestBendOfABenchCable: a cable made up on the bench bends no tighter than the tightest-limited of its cores; a bend nobody states counts for nothing.
func TestBendOfABenchCable(t *testing.T) {
	core := func(family string, n int) net.Wire {
		w := wire(0)
		w.Cable, w.Core, w.Family = "p", n, family
		return w
	}
	screen := wire(0)
	screen.Cable, screen.Kind = "p", net.Screen
	job, nt, sizes := yard(core("stiff", 0), core("soft", 1), screen)
	job.Cables = []*design.Cable{{Name: "p"}}
	job.Parts.Wires = []*design.Wire{{Part: design.Part{Name: "stiff"}, Bend: 30}, {Part: design.Part{Name: "soft"}, Bend: 12}, {Part: design.Part{Name: "odd"}, Bend: unit.Length(math.NaN())}}
	sizes[0].Outside, sizes[1].Outside = 2, 2
	for _, c := range []struct {
		families [2]string
		want     unit.Length
	}{{[2]string{"stiff", "soft"}, 30}, {[2]string{"soft", "stiff"}, 30}, {[2]string{"soft", "soft"}, 12}, {[2]string{"soft", "gone"}, 12}, {[2]string{"odd", "soft"}, 12}, {[2]string{"odd", "gone"}, 0}} {
		nt.Wires[0].Family, nt.Wires[1].Family = c.families[0], c.families[1]
		m := Find(job, nt, sizes).Edges[0]
		if len(m.Pieces) != 1 || m.Pieces[0].Bend != c.want || m.Pieces[0].Cable != "p" {
			t.Errorf("%v: %+v", c.families, m.Pieces)
		}
	}
}

// TestWaysOutOfTheSpace: steps over edges that the space lacks are passed over, and nothing turns across them.
func TestWaysOutOfTheSpace(t *testing.T) {
	job, nt, sizes := yard(wire(0, 3, 1), wire(-1, 0, 1), wire(0, 0, 1))
	for i := range sizes {
		sizes[i].Outside = 2
	}
	b := Find(job, nt, sizes)
	if !slices.Equal(b.On(0), []int{0, 1, 2}) || !slices.Equal(b.On(1), []int{0, 1, 2}) || len(b.On(2)) > 0 {
		t.Errorf("%v %v %v", b.On(0), b.On(1), b.On(2))
	}
	if ts := b.Turns(); len(ts) != 1 || !slices.Equal(ts[0].Wires, []int{1, 2}) {
		t.Errorf("%+v", ts)
	}
}
