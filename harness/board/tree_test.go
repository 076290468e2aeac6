package board

import (
	"fmt"
	"math"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"loomsheet/harness/bundle"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// limbEdge is an edge of an invented tree.
type limbEdge struct {
	from, to int
	length   float64
	outside  float64
}

// layerOf is a layer for invented trees: every node is a joint, every end has a connector.
func layerOf(edges []limbEdge, r rules) (*layer, [][]int) {
	g := &graph{geo: &space.Geometry{}, bundles: &bundle.Bundles{}, joint: map[tip]int{}, ending: map[tip]int{}, joins: map[tip]int{}}
	nodes := 0
	for i, e := range edges {
		g.geo.Edges = append(g.geo.Edges, space.Edge{Run: "r", From: e.from, To: e.to, Length: unit.Length(e.length)})
		g.bundles.Edges = append(g.bundles.Edges, bundle.MakeUp{Most: unit.Length(e.outside)})
		g.edges = append(g.edges, i)
		nodes = max(nodes, e.from+1, e.to+1)
	}
	for n := range nodes {
		g.geo.Nodes = append(g.geo.Nodes, space.Node{Key: fmt.Sprint("n", n)})
		g.node, g.at = append(g.node, n), append(g.at, nil)
	}
	for i, e := range edges {
		g.joint[tipOf(i, false)], g.joint[tipOf(i, true)] = e.from, e.to
		g.at[e.from], g.at[e.to] = append(g.at[e.from], tipOf(i, false)), append(g.at[e.to], tipOf(i, true))
	}
	l := &layer{graph: g, rules: r, endsAt: map[int][]int{}, spliced: map[int]bool{}, bend: func(e int) float64 { return 3.5 * g.outside(e) }}
	for n := range nodes {
		if len(g.at[n]) == 1 {
			l.endsAt[n] = []int{len(l.ends)}
			l.ends = append(l.ends, endAt{joint: n, connector: 0, title: fmt.Sprint("c", n), held: true})
		}
	}
	var limbs [][]int
	for _, t := range g.trees() {
		limbs = append(limbs, l.limbs(t))
	}
	slices.SortStableFunc(limbs, func(a, b []int) int {
		switch x, y := l.all[a[0]].weight, l.all[b[0]].weight; {
		case x > y:
			return -1
		case x < y:
			return 1
		}
		return 0
	})
	return l, limbs
}

var plainRules = rules{w: 2400, h: 1200, edge: 30, gap: 20, peg: 250, stub: 120, holder: 40, holderHalf: 15, tail: 50}

// drawTree is a tree of so many edges, of lengths as in a vehicle.
func drawTree(t *rapid.T, most int, longest float64) []limbEdge {
	n := rapid.IntRange(1, most).Draw(t, "edges")
	var out []limbEdge
	for i := range n {
		from := 0
		if i > 0 {
			from = rapid.IntRange(max(0, i-8), i).Draw(t, "from")
		}
		out = append(out, limbEdge{from, i + 1, float64(rapid.IntRange(20, int(longest)).Draw(t, "length")), float64(rapid.IntRange(2, 25).Draw(t, "outside"))})
	}
	return out
}

// TestRandom lays random trees: whatever is laid lies on the board, keeps its true lengths, keeps its distance and crosses nothing.
func TestRandom(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		edges := drawTree(t, 30, 500)
		if rapid.Bool().Draw(t, "two trees") {
			far := len(edges) + 1
			for _, e := range drawTree(t, 8, 900) {
				edges = append(edges, limbEdge{e.from + far, e.to + far, e.length, e.outside})
			}
		}
		l, trees := layerOf(edges, plainRules)
		sheets, missing := l.layAll(trees)
		judge(t, l, trees, sheets, missing)
	})
}

// TestOdd lays what no vehicle has: nothing hangs, panics or is laid wrong.
func TestOdd(t *testing.T) {
	var star, comb []limbEdge
	for i := range 40 {
		star = append(star, limbEdge{0, i + 1, 150, 5})
	}
	for i := range 30 {
		comb = append(comb, limbEdge{2 * i, 2*i + 2, 12, 20}, limbEdge{2 * i, 2*i + 1, 90, 6})
	}
	for name, edges := range map[string][]limbEdge{
		"star": star, "comb": comb, "point": {{0, 1, 0, 5}}, "points": {{0, 1, 0, 5}, {1, 2, 0, 5}, {1, 3, 0, 0}}, "endless": {{0, 1, 1e11, 5}, {1, 2, 30, 5}}, "long": {{0, 1, 9000, 4}}, "thick": {{0, 1, 700, 900}},
		"rope": {{0, 1, 5000, 30}, {1, 2, 400, 8}, {1, 3, 5000, 30}},
	} {
		for _, r := range []rules{plainRules, {w: 300, h: 200, edge: 10, gap: 10, peg: 100, stub: 40, holder: 30, holderHalf: 10, tail: 30}, {w: 5, h: 5, edge: 30, gap: 20, peg: 100, stub: 40, tail: 5}} {
			l, trees := layerOf(edges, r)
			sheets, missing := l.layAll(trees)
			judge(t, l, trees, sheets, missing)
			if r.w == plainRules.w && name == "long" && (len(missing) > 0 || len(l.at[0].gaps) > 0 || len(l.at[0].line.bends) == 0) {
				t.Errorf("9 m are not folded: %d missing, %v", len(missing), l.at[0])
			}
			if r.w == plainRules.w && name == "endless" && (len(missing) > 0 || len(l.at[0].gaps) != 1) {
				t.Error("what is endless is not broken")
			}
		}
	}
}

type fataler interface {
	Fatalf(string, ...any)
}

// judge holds a layout against what is promised, by sampling, without the code that laid it.
func judge(t fataler, l *layer, trees [][]int, sheets []*sheet, missing []int) {
	lost := map[int]bool{}
	for _, n := range missing {
		lost[n] = true
	}
	seen := 0
	for _, s := range sheets {
		type dot struct {
			p       pt
			limb    int
			station float64
			half    float64
		}
		var dots []dot
		for _, tr := range s.trees {
			for _, n := range trees[tr] {
				seen++
				b, p := l.all[n], l.at[n]
				if (p == nil) != lost[n] {
					t.Fatalf("limb %d: laid %v, lost %v", n, p != nil, lost[n])
				}
				if p == nil || len(b.spans) == 0 {
					continue
				}
				long := 0.0
				for i := 1; i < len(p.line.pts); i++ {
					long += between(p.line.pts[i-1], p.line.pts[i])
				}
				if math.Abs(long+left(p.gaps)-b.length) > 0.01 {
					t.Fatalf("limb %d is %g long, drawn %g with %g left out", n, b.length, long, left(p.gaps))
				}
				if b.parent >= 0 {
					up := l.at[b.parent]
					at, _ := up.line.place(up.drawn(b.hangs))
					if between(at, p.line.pts[0]) > 1e-6 {
						t.Fatalf("limb %d begins %g off its joint", n, between(at, p.line.pts[0]))
					}
				}
				station := 0.0
				for _, sp := range b.spans {
					a, z := p.drawn(station), p.drawn(station+sp.length)
					k := max(1, int((z-a)/5))
					for i := range k + 1 {
						d := a + (z-a)*float64(i)/float64(k)
						x, _ := p.line.place(d)
						if x.x < l.rules.edge+sp.half-1e-3 || x.y < l.rules.edge+sp.half-1e-3 || x.x > l.rules.w-l.rules.edge-sp.half+1e-3 || x.y > l.rules.h-l.rules.edge-sp.half+1e-3 {
							t.Fatalf("limb %d leaves the board at %v", n, x)
						}
						dots = append(dots, dot{x, n, d, sp.half})
					}
					station += sp.length
				}
			}
		}
		for i := range dots {
			for j := range i {
				a, b := &dots[i], &dots[j]
				c := a.half + b.half + l.rules.gap
				d := between(a.p, b.p)
				if d >= c-0.01 {
					continue
				}
				if w := harnessBetween(l, a.limb, a.station, b.limb, b.station); w >= near*c {
					t.Fatalf("limbs %d and %d come %.1f near one another, %.1f asked, %.0f of harness between them", a.limb, b.limb, d, c, w)
				}
			}
		}
		crossings(t, l, trees, s)
	}
	if seen != len(l.all) {
		t.Fatalf("%d limbs on boards, %d there", seen, len(l.all))
	}
}

// harnessBetween is how much drawn harness lies between two places: up from both to where the ways meet.
func harnessBetween(l *layer, a int, sa float64, b int, sb float64) float64 {
	type spot struct{ at, gone float64 }
	up := map[int]spot{}
	for n, s, g := a, sa, 0.0; n >= 0; {
		up[n] = spot{s, g}
		g += s
		if p := l.all[n].parent; p >= 0 {
			s = l.at[p].drawn(l.all[n].hangs)
		}
		n = l.all[n].parent
	}
	for n, s, g := b, sb, 0.0; n >= 0; {
		if o, ok := up[n]; ok {
			return o.gone + g + math.Abs(o.at-s)
		}
		g += s
		if p := l.all[n].parent; p >= 0 {
			s = l.at[p].drawn(l.all[n].hangs)
		}
		n = l.all[n].parent
	}
	return math.Inf(1)
}

// crossings finds two straight pieces of lines that cross, by the signs of areas.
func crossings(t fataler, l *layer, trees [][]int, s *sheet) {
	type bar struct {
		a, b pt
		limb int
		n    int
	}
	var bars []bar
	for _, tr := range s.trees {
		for _, n := range trees[tr] {
			if p := l.at[n]; p != nil {
				for i := 1; i < len(p.line.pts); i++ {
					bars = append(bars, bar{p.line.pts[i-1], p.line.pts[i], n, i})
				}
			}
		}
	}
	side := func(a, b, c pt) float64 { return (b.x-a.x)*(c.y-a.y) - (b.y-a.y)*(c.x-a.x) }
	for i := range bars {
		for j := range i {
			p, q := bars[i], bars[j]
			if side(p.a, p.b, q.a)*side(p.a, p.b, q.b) < -1e-3 && side(q.a, q.b, p.a)*side(q.a, q.b, p.b) < -1e-3 {
				t.Fatalf("limbs %d and %d cross", p.limb, q.limb)
			}
		}
	}
}

// TestLarge bounds the work: 300 bundles in well under the seconds that a build may take.
func TestLarge(t *testing.T) {
	for seed := range 4 {
		edges := rapid.Custom(func(t *rapid.T) []limbEdge {
			var out []limbEdge
			for i := range 300 {
				from := 0
				if i > 0 {
					from = rapid.IntRange(max(0, i-8), i).Draw(t, "from")
				}
				out = append(out, limbEdge{from, i + 1, float64(rapid.IntRange(20, 300).Draw(t, "length")), float64(rapid.IntRange(2, 15).Draw(t, "outside"))})
			}
			return out
		}).Example(seed)
		start := time.Now()
		l, trees := layerOf(edges, plainRules)
		sheets, missing := l.layAll(trees)
		took := time.Since(start)
		judge(t, l, trees, sheets, missing)
		breaks := 0
		for _, p := range l.at {
			if p != nil {
				breaks += len(p.gaps)
			}
		}
		looks := 0
		for _, s := range sheets {
			looks += s.field.looks
		}
		t.Logf("%v, %d boards, %d limbs, %d lost, %d breaks, %d looks", took, len(sheets), len(l.all), len(missing), breaks, looks)
		if looks > 2*mostLooks {
			t.Errorf("%d looks", looks)
		}
	}
}
