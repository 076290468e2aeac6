package joint

import (
	"math"
	"slices"
	"strings"

	"loomsheet/harness/unit"
)

// mostPairs bounds the edges of which it is kept which are near one another.
const mostPairs = 3000

// reachable tells whether some places of two edges of one section are within reach of one another.
func (g *ground) reachable(a, b int) bool {
	n := len(g.geo.Edges)
	if n > mostPairs {
		return true
	}
	if g.apart == nil {
		g.apart = make([]uint8, n*n)
	}
	c := &g.apart[a*n+b]
	if *c == 0 {
		*c = 2
		x, y := &g.geo.Edges[a], &g.geo.Edges[b]
		for _, p := range [2]int{x.From, x.To} {
			for _, q := range [2]int{y.From, y.To} {
				if a == b || unit.Finite(g.nodeFar(p, q, x.Section)) {
					*c = 1
				}
			}
		}
	}
	return *c == 1
}

// step is a node within reach.
type step struct {
	node int
	far  unit.Length
}

// nodesNear lists the nodes within reach of one, along the ways of a section.
func (g *ground) nodesNear(node int, section string) []step {
	k := nodeIn{node, section}
	if list, ok := g.near[k]; ok {
		return list
	}
	best := map[int]unit.Length{node: 0}
	todo := []step{{node, 0}}
	var out []step
	for len(todo) > 0 {
		i := 0
		for j := range todo {
			if todo[j].far < todo[i].far || todo[j].far == todo[i].far && todo[j].node < todo[i].node {
				i = j
			}
		}
		s := todo[i]
		todo = slices.Delete(todo, i, i+1)
		if s.far > best[s.node] {
			continue
		}
		if !slices.ContainsFunc(out, func(o step) bool { return o.node == s.node }) {
			out = append(out, s)
		}
		for _, e := range g.around[nodeIn{s.node, section}] {
			x := &g.geo.Edges[e]
			if !known(x) {
				continue
			}
			n, far := x.Other(s.node), s.far+x.Length
			if old, seen := best[n]; far <= g.reach && (!seen || far < old) {
				best[n] = far
				todo = append(todo, step{n, far})
			}
		}
	}
	g.near[k] = out
	return out
}

// nodeFar is the way from one node to another, infinite where it is out of reach.
func (g *ground) nodeFar(a, b int, section string) unit.Length {
	for _, s := range g.nodesNear(a, section) {
		if s.node == b {
			return s.far
		}
	}
	return unit.Length(math.Inf(1))
}

// far is the way between two places of one section, infinite where it is out of reach.
func (g *ground) far(a, b loc) unit.Length {
	x, y := &g.geo.Edges[a.edge], &g.geo.Edges[b.edge]
	inf := unit.Length(math.Inf(1))
	if x.Section != y.Section || !g.reachable(a.edge, b.edge) {
		return inf
	}
	best := inf
	if a.edge == b.edge {
		best = max(a.into-b.into, b.into-a.into)
	}
	for _, p := range [2]step{{x.From, a.into}, {x.To, x.Length - a.into}} {
		for _, q := range [2]step{{y.From, b.into}, {y.To, y.Length - b.into}} {
			if p.far+q.far < best {
				best = min(best, p.far+q.far+g.nodeFar(p.node, q.node, x.Section))
			}
		}
	}
	return best
}

// name is how a splice states a place on an edge: the end of its stretch, empty where it counts from the beginning of the run, and how far along
// the run, or the stretch, that of the edge begins; ok is false where it cannot be stated.
func (g *ground) name(edge int) (to string, base unit.Length, ok bool) {
	e := &g.geo.Edges[edge]
	r := g.run[e.Run]
	if r == nil {
		return "", 0, false
	}
	end := func(k, of int) string { // the first or last node of a stretch
		n := r.Stretches[k].Nodes
		if len(n) == 0 {
			return ""
		}
		return n[of*(len(n)-1)].Node
	}
	chain := 1 // how many stretches go on from one another, from the first
	for chain < len(r.Stretches) && end(chain, 0) != "" && end(chain, 0) == end(chain-1, 1) {
		chain++
	}
	to = end(e.Stretch, 1)
	own := to != "" && !strings.ContainsAny(to, "#( ,") // a corner without a name is no end that can be stated
	for k := range r.Stretches {
		own = own && (k == e.Stretch || end(k, 1) != to)
	}
	if own && chain < len(r.Stretches) {
		return to, 0, true
	}
	if e.Stretch >= chain {
		return "", 0, false
	}
	for k := range e.Stretch {
		l, known := g.geo.StretchLength(r.Name, k)
		if !known {
			return "", 0, false
		}
		base += l
	}
	return "", base, true
}
