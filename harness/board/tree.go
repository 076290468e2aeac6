package board

import (
	"cmp"
	"slices"

	"loomsheet/harness/bundle"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
)

// Bundles that meet at a node hang together there only where wires do: one passes from the one into the other, or wires of both end in one
// splice or in one connector. Lugs on a stud, even on one stud, hold nothing together before they are bolted down. So the tips of edges are
// gathered into joints, and joints and edges into pieces.

// tip is one end of an edge: twice the edge, and one more for its To.
type tip int

func tipOf(edge int, to bool) tip {
	if to {
		return tip(2*edge + 1)
	}
	return tip(2 * edge)
}

func (t tip) edge() int { return int(t) / 2 }

// graph is what of a section is laid on the board.
type graph struct {
	geo     *space.Geometry
	bundles *bundle.Bundles
	edges   []int       // laden, of known length, in order
	unknown []int       // laden, of no known length
	joint   map[tip]int // of each tip
	node    []int       // of each joint
	at      [][]tip     // tips by joint
	ending  map[tip]int // wires that end at a tip in a splice or a connector
	joins   map[tip]int // a tip at which a ring lies open, with the joint where it belongs
}

// gathered is the bundles of a section with where they hang together.
func (s *shop) gathered(section string) *graph {
	g := &graph{geo: s.net.Space, bundles: s.bundles, joint: map[tip]int{}, ending: map[tip]int{}, joins: map[tip]int{}}
	in := map[int]bool{}
	for _, i := range s.edges[section] {
		e := &g.geo.Edges[i]
		if len(s.bundles.On(i)) == 0 {
			continue
		}
		if l := e.Length + e.Slack; e.Unknown || !(l >= 0 && l <= most) {
			g.unknown = append(g.unknown, i)
			continue
		}
		in[i], g.edges = true, append(g.edges, i)
	}
	g.gather(s.net, s.passing[section], in)
	g.open()
	return g
}

// most is the longest bundle that is laid, a million kilometres: sums of such are finite.
const most = 1e12

// gather makes the joints of what some wires lie in.
func (g *graph) gather(nt *net.Net, wires []int, in map[int]bool) {
	root := map[tip]tip{}
	var find func(t tip) tip
	find = func(t tip) tip {
		for root[t] != t {
			root[t] = root[root[t]]
			t = root[t]
		}
		return t
	}
	for _, e := range g.edges {
		root[tipOf(e, false)], root[tipOf(e, true)] = tipOf(e, false), tipOf(e, true)
	}
	join := func(a, b tip) {
		if a, b = find(a), find(b); a != b {
			root[max(a, b)] = min(a, b)
		}
	}
	held := map[hold]tip{}
	for _, i := range wires {
		w := &nt.Wires[i]
		for k, s := range w.Path {
			if !in[s.Edge] {
				continue
			}
			if k > 0 && in[w.Path[k-1].Edge] {
				before := w.Path[k-1]
				join(tipOf(before.Edge, !before.Reverse), tipOf(s.Edge, s.Reverse))
			}
		}
		for end := range w.Ends {
			t, ok := endTip(w, end)
			if !ok || !in[t.edge()] {
				continue
			}
			h, ok := holdOf(&w.Ends[end])
			if !ok {
				continue
			}
			g.ending[t]++
			if first, have := held[h]; have {
				join(first, t)
			} else {
				held[h] = t
			}
		}
	}
	number := map[tip]int{}
	for _, e := range g.edges {
		for _, t := range []tip{tipOf(e, false), tipOf(e, true)} {
			r := find(t)
			n, ok := number[r]
			if !ok {
				n = len(g.node)
				number[r] = n
				g.node, g.at = append(g.node, g.nodeOf(t)), append(g.at, nil)
			}
			g.joint[t], g.at[n] = n, append(g.at[n], t)
		}
	}
}

func (g *graph) nodeOf(t tip) int {
	if t%2 == 1 {
		return g.geo.Edges[t.edge()].To
	}
	return g.geo.Edges[t.edge()].From
}

// endTip is the tip at which a wire ends.
func endTip(w *net.Wire, end int) (tip, bool) {
	if len(w.Path) == 0 {
		return 0, false
	}
	if end == 0 {
		s := w.Path[0]
		return tipOf(s.Edge, s.Reverse), true
	}
	s := w.Path[len(w.Path)-1]
	return tipOf(s.Edge, !s.Reverse), true
}

// hold is what holds the wires that end in it together, at a node.
type hold struct {
	kind net.TermKind
	name string
	part int
	node int
}

func holdOf(t *net.Termination) (hold, bool) {
	switch t.Kind {
	case net.InSplice:
		return hold{t.Kind, t.Splice, 0, t.Node}, true
	case net.InCavity:
		return hold{t.Kind, t.Device, t.Housing, t.Node}, true
	case net.InHalf:
		return hold{t.Kind, t.Break, t.Half, t.Node}, true
	}
	return hold{}, false
}

// open cuts the rings: of each ring the bundle with the fewest wires, of equals the longest, is laid open at that of its ends over which
// fewer wires go on.
func (g *graph) open() {
	order := slices.Clone(g.edges)
	slices.SortStableFunc(order, func(a, b int) int {
		return cmp.Or(cmp.Compare(len(g.bundles.On(b)), len(g.bundles.On(a))), cmp.Compare(g.length(a), g.length(b)), cmp.Compare(a, b))
	})
	root := make([]int, len(g.node))
	for i := range root {
		root[i] = i
	}
	find := func(n int) int {
		for root[n] != n {
			root[n] = root[root[n]]
			n = root[n]
		}
		return n
	}
	for _, e := range order {
		a, b := find(g.joint[tipOf(e, false)]), find(g.joint[tipOf(e, true)])
		if a != b {
			root[max(a, b)] = min(a, b)
			continue
		}
		t := tipOf(e, true)
		if f := tipOf(e, false); g.goingOn(f) < g.goingOn(t) {
			t = f
		}
		old := g.joint[t]
		g.at[old] = slices.DeleteFunc(g.at[old], func(x tip) bool { return x == t })
		g.joint[t], g.joins[t] = len(g.node), old
		g.node, g.at = append(g.node, g.node[old]), append(g.at, []tip{t})
		root = append(root, find(g.joint[t^1]))
	}
}

// goingOn is how many wires would have to reach over a ring that is open at a tip: those that go on, and those that end there.
func (g *graph) goingOn(t tip) int {
	n := g.ending[t]
	on := g.bundles.On(t.edge())
	for _, o := range g.at[g.joint[t]] {
		if o == t || o.edge() == t.edge() {
			continue
		}
		for _, w := range g.bundles.On(o.edge()) {
			if _, ok := slices.BinarySearch(on, w); ok {
				n++
			}
		}
	}
	return n
}

// length of an edge as it is laid.
func (g *graph) length(edge int) float64 {
	e := &g.geo.Edges[edge]
	return float64(e.Length) + float64(e.Slack)
}

// outside of the bundle in an edge, 0 not known.
func (g *graph) outside(edge int) float64 {
	m := &g.bundles.Edges[edge]
	if _, top := m.Over(); !m.Unknown && top > 0 && top < 1e6 {
		return float64(top)
	}
	return 0
}

// far is the joint at the other end of the edge of a tip.
func (g *graph) far(t tip) int { return g.joint[t^1] }

// trees lists the edges of each piece, the piece with the first edge first.
func (g *graph) trees() (out [][]int) {
	of := map[int]int{} // tree by joint
	for _, e := range g.edges {
		j := g.joint[tipOf(e, false)]
		if _, ok := of[j]; ok {
			continue
		}
		n := len(out)
		out = append(out, nil)
		of[j] = n
		for stack := []int{j}; len(stack) > 0; {
			j := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, t := range g.at[j] {
				o := g.far(t)
				if _, ok := of[o]; !ok {
					of[o] = n
					stack = append(stack, o)
				}
			}
		}
	}
	for _, e := range g.edges {
		n := of[g.joint[tipOf(e, false)]]
		out[n] = append(out[n], e)
	}
	return out
}
