package layup_test

import (
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"

	"pgregory.net/rapid"
)

// check holds a lay to what is true of any: every piece once, nothing overlaps, nothing stands out, layers lie around one another.
func check(t interface{ Fatalf(string, ...any) }, l *layup.Lay) {
	type circle struct{ x, y, r float64 }
	var all []circle
	for _, p := range l.Pieces {
		all = append(all, circle{float64(p.X), float64(p.Y), float64(p.Diameter) / 2})
	}
	seen := make([]bool, len(l.Pieces))
	inside := unit.Length(0)
	for n, y := range l.Layers {
		for _, f := range y.Fillers {
			all = append(all, circle{float64(f.X), float64(f.Y), float64(f.Diameter) / 2})
			if n > 0 && math.Hypot(float64(f.X), float64(f.Y))-float64(f.Diameter)/2 < float64(inside)/2-1e-6 {
				t.Fatalf("a filler of layer %d sinks into what is within", n+1)
			}
		}
		for _, i := range y.Pieces {
			if seen[i] {
				t.Fatalf("piece %d lies in two layers", i)
			}
			seen[i] = true
			p := &l.Pieces[i]
			from := math.Hypot(float64(p.X), float64(p.Y))
			if p.Layer != y.Number || p.TakeUp != y.TakeUp {
				t.Fatalf("piece %d says layer %d and %v", i, p.Layer, p.TakeUp)
			}
			if n > 0 && from-float64(p.Diameter)/2 < float64(inside)/2-1e-6 || from+float64(p.Diameter)/2 > float64(y.Outside)/2+1e-6 || 2*from > float64(y.Pitch)+1e-6 {
				t.Fatalf("piece %d does not lie in layer %d", i, n+1)
			}
		}
		if y.Inside != inside || y.Built != 0 && y.Built < y.Inside || y.Outside < y.Inside {
			t.Fatalf("layer %d lies around %v, within it is %v, built up to %v", n+1, y.Inside, inside, y.Built)
		}
		if y.Pitch > 0 && y.TakeUp != unit.Ratio(math.Hypot(1, math.Pi*float64(y.Pitch/y.Lay))-1) {
			t.Fatalf("layer %d takes up %v", n+1, y.TakeUp)
		}
		inside = y.Outside
	}
	if l.Kind == layup.Layers && (slices.Contains(seen, false) || inside != l.Outside) {
		t.Fatalf("%v of %v laid, %v of %v", seen, len(l.Pieces), inside, l.Outside)
	}
	if !l.Placed {
		return
	}
	if l.Kind == layup.Flat {
		for _, p := range l.Pieces {
			if math.Abs(float64(p.X))+float64(p.Diameter)/2 > float64(l.Width)/2+1e-6 || math.Abs(float64(p.Y))+float64(p.Diameter)/2 > float64(l.Height)/2+1e-6 {
				t.Fatalf("%s at %v, %v is not in %v by %v", p.Label, p.X, p.Y, l.Width, l.Height)
			}
		}
	}
	for i, a := range all {
		if !(math.Abs(a.x) < 1e9) || !(math.Abs(a.y) < 1e9) {
			t.Fatalf("circle %d is nowhere", i)
		}
		if out := math.Hypot(a.x, a.y) + a.r - float64(l.Outside)/2; l.Kind != layup.Flat && out > 1e-6 {
			t.Fatalf("circle %d stands out by %g", i, out)
		}
		for k, b := range all[:i] {
			if over := a.r + b.r - math.Hypot(a.x-b.x, a.y-b.y); over > 1e-6 {
				t.Fatalf("circles %d and %d overlap by %g mm", k, i, over)
			}
		}
	}
}

var anyMember = rapid.Custom(func(t *rapid.T) member {
	m := member{d: unit.Length(rapid.SampledFrom([]float64{1.3, 1.6, 1.9, 2.4, 3.0, 4.4, 6, 9.5}).Draw(t, "d")), from: rapid.IntRange(0, 3).Draw(t, "from"), spare: rapid.IntRange(0, 9).Draw(t, "spare") == 0}
	m.until = rapid.IntRange(m.from, 3).Draw(t, "until")
	if rapid.IntRange(0, 7).Draw(t, "paired") == 0 {
		m.cable = rapid.SampledFrom([]string{"p", "q"}).Draw(t, "cable")
		m.from, m.until = 0, 3
	}
	return m
})

// Any wires, in any lay: nothing overlaps or stands out, every wire lies once, no layer takes up more than the bound that resistances rest on, and the
// order in which wires are given does not matter to what is thick.
func TestAnyTrunk(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		members := rapid.SliceOfN(anyMember, 1, 30).Draw(t, "members")
		how := rapid.SampledFrom([]string{"auto", "layers", "hand", "flat"}).Draw(t, "lay")
		ratio := rapid.SampledFrom([]string{"8", "10", "16"}).Draw(t, "ratio")
		r := rig(unit.Length(rapid.SampledFrom([]float64{30, 200, 900}).Draw(t, "each")), 4, members, set("lay", how), set("lay-ratio", ratio))
		for e := range 4 {
			l := r.plan.Drawn(e)
			check(t, l)
			var wires []int
			for _, p := range l.Pieces {
				wires = append(wires, p.Wires...)
			}
			slices.Sort(wires)
			if !slices.Equal(wires, r.bundles.On(e)) {
				t.Fatalf("edge %d holds %v, laid are %v", e, r.bundles.On(e), wires)
			}
			at := net.EdgeScopes(r.job, r.net.Space)[e]
			for _, w := range wires {
				most := net.TakeUpAt(r.job, &r.net.Wires[w], at)
				if kind, _ := net.LayOf(r.job, at, 4*r.net.Space.Edges[e].Length, len(wires)); kind == net.InLayers {
					most = max(most, net.MostTakeUp(net.LayRatio(r.job, at)))
				}
				if got := r.plan.TakeUp(w, e); got > most {
					t.Fatalf("wire %d in edge %d takes up %v, resistances count %v", w, e, got, most)
				}
			}
			if how == "layers" && len(l.Pieces) > 1 && l.Kind != layup.Layers || l.Kind == layup.Layers && how != "layers" && how != "auto" {
				t.Fatalf("told %s, laid %v", how, l.Kind)
			}
			if m := r.plan.Widen(r.bundles).Edges[e]; len(l.Pieces) > 0 && (m.Most < l.Most-1e-9 || m.Most < r.bundles.Edges[e].Most) {
				t.Fatalf("widened to %v, laid %v", m.Most, l.Most)
			}
		}
		again := layup.Find(r.job, r.net, r.sizes, r.bundles)
		if !reflect.DeepEqual(again, r.plan) {
			t.Fatalf("two plans of one job")
		}
	})
}

// The lay of two examples: no wire takes up more than its resistance counts.
func TestNoMoreThanResistancesCount(t *testing.T) {
	for _, file := range []string{"boat/tern.loom", "painted/plover.loom"} {
		r := compiled(t, filepath.Join("..", "..", "examples", file))
		for w := range r.net.Wires {
			for _, s := range r.net.Wires[w].Path {
				if got := r.plan.TakeUp(w, s.Edge); got > s.TakeUp || r.plan.Piece(w, s.Edge) == nil {
					t.Errorf("%s: %s takes up %v, resistances count %v", file, r.net.Wires[w].Name, got, s.TakeUp)
				}
			}
		}
		for e := range r.net.Space.Edges {
			check(t, r.plan.Drawn(e))
		}
	}
}

// Seven wires go all the way, twelve leave at n2, eighteen at n1: what leaves first lies outermost, and what goes on keeps its layer and its hand.
func TestLeavesFirstOutermost(t *testing.T) {
	var members []member
	for i := range 37 {
		members = append(members, member{d: 2, until: map[bool]int{true: 0, false: 1}[i < 18]})
		if i >= 30 {
			members[i].until = 2
		}
	}
	r := rig(400, 3, members)
	first := r.plan.Drawn(0)
	if len(first.Layers) != 4 {
		t.Fatalf("%d layers of %d wires", len(first.Layers), len(members))
	}
	for _, p := range first.Pieces {
		m := members[p.Wires[0]]
		if ok := m.until == 2 && p.Layer <= 2 || m.until == 1 && p.Layer == 3 || m.until == 0 && p.Layer == 4; !ok {
			t.Errorf("a wire that lies until %d is in layer %d", m.until, p.Layer)
		}
	}
	for e := 1; e < 3; e++ {
		l := r.plan.Drawn(e)
		for _, p := range l.Pieces {
			if was := r.plan.Piece(p.Wires[0], e-1); was.Layer != p.Layer {
				t.Errorf("wire %s goes from layer %d to %d", p.Label, was.Layer, p.Layer)
			}
		}
		for n, y := range l.Layers {
			if y.Hand != first.Layers[n].Hand {
				t.Errorf("layer %d turns %v and then %v", n+1, first.Layers[n].Hand, y.Hand)
			}
		}
	}
	tr := r.plan.Trunks
	if len(tr) != 1 || len(tr[0].Changes) != 2 || tr[0].Changes[0].Place != "n1" || len(tr[0].Changes[0].Leave) != 18 || tr[0].Changes[0].Relaid || !strings.Contains(tr[0].Changes[1].Leave[0], "from layer 3") {
		t.Errorf("trunks %+v", tr)
	}
}

// Round a layer lies side by side what leaves at one place, though the labels run from one to the other.
func TestLeavesTogetherSideBySide(t *testing.T) {
	members := []member{{d: 2, until: 2}}
	for i := range 12 {
		members = append(members, member{d: 2, from: i % 2, until: 1 + i%2})
	}
	l := rig(1000, 3, members, set("lay", "layers")).plan.Drawn(1)
	mixed := 0
	for _, y := range l.Layers {
		var leaves []string
		for _, i := range y.Pieces {
			leaves = append(leaves, l.Pieces[i].Leaves)
		}
		changes := 0
		for k := range leaves {
			if leaves[k] != leaves[(k+1)%len(leaves)] {
				changes++
			}
		}
		if changes > 2 {
			t.Errorf("round layer %d leave at %v", y.Number, leaves)
		}
		mixed += changes
	}
	if mixed == 0 {
		t.Error("no layer holds what leaves at two places")
	}
}

// Where all of a layer leaves, what goes on is laid anew and no layer stays empty: one thick wire goes on within six that leave, and thirty thin ones around.
func TestLayerLeavesFromWithin(t *testing.T) {
	members := append(append([]member{{d: 6, until: 1}}, slices.Repeat([]member{{d: 6}}, 6)...), slices.Repeat([]member{{d: 2, until: 1}}, 30)...)
	r := rig(2000, 2, members, set("lay", "layers"))
	count := func(e int) (out []int) {
		check(t, r.plan.Drawn(e))
		for _, y := range r.plan.Drawn(e).Layers {
			out = append(out, len(y.Pieces))
		}
		return out
	}
	if got := count(0); !slices.Equal(got, []int{1, 6, 30}) {
		t.Fatalf("layers of %v", got)
	}
	if got := count(1); slices.Contains(got, 0) || got[0] != 1 {
		t.Errorf("layers of %v go on", got)
	}
	if c := r.plan.Trunks[0].Changes; len(c) != 1 || !c[0].Relaid || len(c[0].Leave) != 6 {
		t.Errorf("%+v", c)
	}
}

// Pairs, cables and heavy wires lie in the core, spares outermost, and a pair is one piece as thick as two wires.
func TestByRule(t *testing.T) {
	members := append(equal(14, 1.6), member{d: 1.6, cable: "p"}, member{d: 1.6, cable: "p"}, member{d: 3.2}, member{d: 1.6, spare: true}, member{d: 1.6, spare: true})
	l := rig(1500, 1, members).plan.Drawn(0)
	if l.Kind != layup.Layers || len(l.Pieces) != 18 {
		t.Fatalf("%v of %d: %v", l.Kind, len(l.Pieces), l.Band)
	}
	last := l.Layers[len(l.Layers)-1].Number
	for _, p := range l.Pieces {
		switch {
		case p.Cable == "p":
			if p.Layer != 1 || len(p.Wires) != 2 || math.Abs(float64(p.Diameter)-3.2) > 1e-6 || p.Twist != 25 || p.Why != "pair" {
				t.Errorf("the pair: %+v", p)
			}
		case p.Diameter > 3:
			if p.Layer != 1 || p.Why != "heavy" {
				t.Errorf("the heavy wire: %+v", p)
			}
		case p.Spare:
			if p.Layer != last {
				t.Errorf("a spare in layer %d of %d", p.Layer, last)
			}
		}
	}
}

// Beside two thick wires, whose circle leaves a valley of two thirds of a wire on either side (Descartes), thin ones lie in the valleys, and the whole
// is as thick as the two.
func TestValleys(t *testing.T) {
	r := rig(2000, 1, append(equal(2, 12), equal(6, 2.4)...))
	l := r.plan.Drawn(0)
	if l.Kind != layup.Layers || len(l.Layers) != 1 || math.Abs(float64(l.Outside)-24) > 1e-6 || len(l.Layers[0].Pieces) != 8 {
		t.Fatalf("%v: %v", r.plan.Trunks[0].Why, says(l))
	}
	check(t, l)
	if l := rig(2000, 1, append(equal(2, 12), member{d: 7.99}, member{d: 7.99}), set("lay", "layers")).plan.Drawn(0); math.Abs(float64(l.Outside)-24) > 1e-6 {
		t.Errorf("two of 12 and two of 7.99 are %v", l.Outside)
	}
	if l := rig(2000, 1, append(equal(2, 12), member{d: 8.01}, member{d: 8.01}), set("lay", "layers")).plan.Drawn(0); l.Outside < 24.0001 {
		t.Errorf("two of 12 and two of 8.01 are %v", l.Outside)
	}
}

// Where a layer is short, cords as thick as its wires close the gap, and between them no place for another is left.
func TestFillers(t *testing.T) {
	l := rig(1000, 1, equal(16, 2), set("lay", "layers"), set("lay-open", "0 %")).plan.Drawn(0)
	fillers := 0
	for _, y := range l.Layers {
		fillers += len(y.Fillers)
		for _, f := range y.Fillers {
			if f.Diameter != 2 || y.Diameter != 2 {
				t.Errorf("a filler of %v", f.Diameter)
			}
		}
		if y.Gap > 0.1+1e-9 && y.Number > 1 {
			t.Errorf("layer %d: %v is left open", y.Number, y.Gap)
		}
	}
	// 16 are 5 and 11, which is full; 17 are 1, 6 and 10 of 12, or 2, 9 and 6 of 15.
	if fillers != 0 {
		t.Errorf("16 wires take %d fillers", fillers)
	}
	l = rig(1000, 1, equal(17, 2), set("lay", "layers"), set("lay-open", "0 %")).plan.Drawn(0)
	if n := len(l.Layers[len(l.Layers)-1].Fillers); n == 0 || n > 2 {
		t.Errorf("17 wires take %d fillers: %v", n, says(l))
	}
	check(t, l)
}

// How a bundle lies by what is set, and where nothing is.
func TestKinds(t *testing.T) {
	for _, c := range []struct {
		each    unit.Length
		members []member
		how     string
		want    layup.Kind
		why     string
	}{
		{1000, equal(7, 2), "auto", layup.Layers, "long, and of many"},
		{1000, equal(3, 2), "auto", layup.ByHand, "fewer than 4 wires, pairs and cables"},
		{300, equal(7, 2), "auto", layup.ByHand, "300 mm is too short for layers"},
		{100, equal(7, 2), "auto", layup.Flat, "100 mm is short"},
		{100, equal(7, 2), "layers", layup.Layers, "set for job"},
		{1000, equal(7, 2), "hand", layup.ByHand, "set for job"},
		{1000, equal(7, 2), "flat", layup.Flat, "set for job"},
		{1000, equal(1, 2), "layers", layup.Alone, ""},
		{1000, nil, "auto", layup.Empty, ""},
		{450, equal(37, 8), "auto", layup.ByHand, "its 450 mm are less than a turn of its outermost layer, 560 mm"},
	} {
		r := rig(c.each, 1, c.members, set("lay", c.how))
		l := r.plan.Drawn(0)
		if l.Kind != c.want {
			t.Errorf("%d of %v, %s: %v", len(c.members), c.each, c.how, l.Kind)
		}
		if len(c.members) > 0 && !strings.HasPrefix(r.plan.Trunks[0].Why, c.why) {
			t.Errorf("%d of %v, %s: %q", len(c.members), c.each, c.how, r.plan.Trunks[0].Why)
		}
		if c.want != layup.Empty && (len(says(l)) == 0 || l.Band == "") {
			t.Errorf("%d of %v, %s: nothing said", len(c.members), c.each, c.how)
		}
		check(t, l)
	}
	// Ten equal wires are 2 and 8, four wires across; their closest packing, 3.813, is more than 1.2 sqrt(10) = 3.795.
	thick := rig(1000, 1, equal(10, 2), set("lay-over", "4 %"))
	if l, why := thick.plan.Drawn(0), thick.plan.Trunks[0].Why; l.Kind != layup.ByHand || why != "in layers it would be 8 mm thick, 4.9 % more than by hand" {
		t.Errorf("ten wires: %v, %s", l.Kind, why)
	}
	// Rows of 20 mm at most, thickest first, about equally full.
	for _, c := range []struct {
		members       []member
		rows          int
		width, height unit.Length
	}{
		{equal(10, 2), 1, 20, 2}, {equal(11, 2), 2, 12, 4}, {equal(20, 2), 2, 20, 4}, {equal(21, 2), 3, 14, 6}, {equal(3, 12), 3, 12, 36}, {equal(2, 30), 2, 30, 60},
		{append(equal(2, 6), equal(12, 1)...), 2, 12, 7}, {append(equal(1, 14), equal(7, 1)...), 2, 14, 15},
	} {
		l := rig(100, 1, c.members, set("lay", "flat")).plan.Drawn(0)
		if l.Rows != c.rows || l.Width != c.width || l.Height != c.height {
			t.Errorf("%d wires, the thickest of %v: %d rows, %v by %v", len(c.members), l.Pieces[0].Diameter, l.Rows, l.Width, l.Height)
		}
		check(t, l)
	}
	wide := rig(100, 1, equal(12, 2), set("lay", "flat")).plan.Drawn(0)
	if wide.Rows != 2 || wide.Width != 12 || wide.Height != 4 {
		t.Errorf("twelve wires of 2 mm: %d rows, %v by %v", wide.Rows, wide.Width, wide.Height)
	}
	if a, b := wide.Pieces[0], wide.Pieces[11]; a.X != -5 || a.Y != -1 || b.X != 5 || b.Y != 1 {
		t.Errorf("the first lies at %v, %v, the last at %v, %v", a.X, a.Y, b.X, b.Y)
	}
}

// A plan that was never made, and wires that lie nowhere.
func TestNoPlan(t *testing.T) {
	var p *layup.Plan
	if p.Of(0) != nil || p.TakeUp(0, 0) != 0 || p.Piece(1, 2) != nil || p.Widen(nil) != nil {
		t.Error("a nil plan answers")
	}
	r := rig(1000, 1, equal(5, 2))
	if r.plan.Drawn(7) != nil || r.plan.Drawn(-1) != nil || r.plan.TakeUp(99, 0) != 0 {
		t.Error("an edge that is not there")
	}
	if l := rig(1000, 1, []member{{d: 2}, {d: 0}, {d: 2}, {d: 2}, {d: 2}}).plan.Drawn(0); !l.Unknown || l.Placed || l.Kind != layup.ByHand || l.Most != 0 {
		t.Errorf("a wire of no known outside: %+v", l)
	}
}
