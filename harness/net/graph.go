package net

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// A route is sought over states: a node of the geometry seen from one section. Edges join states of one section, a break joins the
// states of its two halves at its node. All orders are natural ones of names, so that the order of a file never shows.
type graph struct {
	geo      *space.Geometry
	sections []string
	states   []state
	index    map[state]int
	arcs     [][]arc
	reached  []bool // an edge ends in it
	doors    []door
	kept     map[keptKey]*design.Break // the first break kept for a class between two sections
	doorOf   map[*design.Break]int
	within   [][]int32 // states by section
	place    []int32   // of a state among those of its section
	parts    map[string][]int32
	desk     desk
}

type keptKey struct {
	a, b  string // sections, the lesser name first
	class string
}

func keptFrom(of *design.Break, class string) keptKey {
	a, b := of.Halves[0].Section, of.Halves[1].Section
	return keptKey{min(a, b), max(a, b), class}
}

type state struct{ node, section int }

// arc is one way out of a state: along an edge, or through a door.
type arc struct {
	to      int
	edge    int // -1 through a door
	reverse bool
	door    int // -1 along an edge
	cost    int64
}

// door is a break as a way from one section to another.
type door struct {
	of     *design.Break
	post   bool
	states [2]int // by half
}

// costs are whole micrometres, so that sums do not depend on their order.
const (
	unknownCost = int64(1e9)  // a way of unknown length is taken only when there is no other
	mostCost    = int64(1e12) // and no single piece can overflow a sum
)

func cost(e *space.Edge) int64 {
	if e.Unknown {
		return unknownCost
	}
	um := math.Round(float64(e.Length+e.Slack) * 1000)
	if !(um > 0) {
		return 0
	}
	return int64(min(um, float64(mostCost)))
}

func newGraph(geo *space.Geometry, breaks []*design.Break, isPost func(*design.Break) bool) *graph {
	g := &graph{geo: geo, index: map[state]int{}, kept: map[keptKey]*design.Break{}, doorOf: map[*design.Break]int{}, parts: map[string][]int32{}}
	for i := range geo.Edges {
		g.sections = append(g.sections, geo.Edges[i].Section)
	}
	for _, b := range breaks {
		g.sections = append(g.sections, b.Halves[0].Section, b.Halves[1].Section)
	}
	slices.SortFunc(g.sections, design.Natural)
	g.sections = slices.Compact(g.sections)

	type leaf struct {
		b    *design.Break
		node int
	}
	var leaves []leaf
	for _, b := range breaks {
		n := geo.Find(placeKey(b.Name, b.Spot))
		if n >= 0 && b.Halves[0].Section != b.Halves[1].Section {
			leaves = append(leaves, leaf{b, n})
			for _, h := range b.Halves {
				g.states = append(g.states, state{n, g.section(h.Section)})
			}
		}
	}
	for i := range geo.Edges {
		e := &geo.Edges[i]
		s := g.section(e.Section)
		g.states = append(g.states, state{e.From, s}, state{e.To, s})
	}
	slices.SortFunc(g.states, func(a, b state) int {
		if a.node != b.node {
			return a.node - b.node
		}
		return a.section - b.section
	})
	g.states = slices.Compact(g.states)
	for i, s := range g.states {
		g.index[s] = i
	}
	g.arcs = make([][]arc, len(g.states))
	g.reached = make([]bool, len(g.states))
	for i := range geo.Edges {
		e := &geo.Edges[i]
		s := g.section(e.Section)
		a, b := g.index[state{e.From, s}], g.index[state{e.To, s}]
		g.reached[a], g.reached[b] = true, true
		g.arcs[a] = append(g.arcs[a], arc{to: b, edge: i, door: -1, cost: cost(e)})
		g.arcs[b] = append(g.arcs[b], arc{to: a, edge: i, reverse: true, door: -1, cost: cost(e)})
	}
	for _, l := range leaves {
		d := door{of: l.b, post: isPost(l.b)}
		for h := range d.states {
			d.states[h] = g.index[state{l.node, g.section(l.b.Halves[h].Section)}]
		}
		for h, s := range d.states {
			g.arcs[s] = append(g.arcs[s], arc{to: d.states[1-h], edge: -1, door: len(g.doors)})
		}
		if _, twice := g.doorOf[d.of]; !twice {
			g.doorOf[d.of] = len(g.doors)
		}
		if k := keptFrom(d.of, d.of.Class); !d.post && g.kept[k] == nil {
			g.kept[k] = d.of
		}
		g.doors = append(g.doors, d)
	}
	g.within, g.place = make([][]int32, len(g.sections)), make([]int32, len(g.states))
	for i, s := range g.states {
		g.place[i] = int32(len(g.within[s.section]))
		g.within[s.section] = append(g.within[s.section], int32(i))
	}
	return g
}

func (g *graph) section(name string) int {
	i, _ := slices.BinarySearchFunc(g.sections, name, design.Natural)
	return i
}

// at lists the states of a node that a run reaches.
func (g *graph) at(node int) []int {
	var out []int
	i, _ := slices.BinarySearchFunc(g.states, node, func(s state, n int) int { return s.node - n })
	for ; i < len(g.states) && g.states[i].node == node; i++ {
		if g.reached[i] {
			out = append(out, i)
		}
	}
	return out
}

func (g *graph) sectionOf(s int) string { return g.sections[g.states[s].section] }
func (g *graph) nodeOf(s int) int       { return g.states[s].node }

// ask is what a route has to do.
type ask struct {
	starts, ends []int
	vias         []design.Via
	class        string
	posts        []string // breaks at which the link ends
	sealed       bool     // may not change its section
	free         bool     // through every break, and from section to section anywhere: to explain why there is no way
}

func (q *ask) names(b *design.Break) bool {
	return slices.Contains(q.posts, b.Name) ||
		slices.ContainsFunc(q.vias, func(v design.Via) bool { return v.Kind == "break" && v.Name == b.Name })
}

// open tells whether a link may pass a door.
func (g *graph) open(d *door, q *ask) bool {
	named := q.names(d.of)
	switch {
	case q.free:
		return true
	case q.sealed, d.post && !named, d.of.Class != "" && d.of.Class != q.class:
		return false
	case d.of.Class != "" || named || q.class == "":
		return true
	}
	return g.keptFor(d, q.class) == nil
}

// keptFor finds a break kept for a class that joins the same two sections as d.
func (g *graph) keptFor(d *door, class string) *design.Break { return g.kept[keptFrom(d.of, class)] }

// route is a way found: the state it starts in and its arcs.
type route struct {
	start int
	arcs  []arc
	cost  int64
}

// reverse is the same way from its other end.
func (g *graph) reverse(r route) route {
	out := route{start: r.start, cost: r.cost}
	if len(r.arcs) > 0 {
		out.start = r.arcs[len(r.arcs)-1].to
	}
	from := r.start
	for _, a := range r.arcs {
		b := a
		b.to = from
		if a.edge >= 0 {
			b.reverse = !a.reverse
		}
		from = a.to
		out.arcs = append(out.arcs, b)
	}
	slices.Reverse(out.arcs)
	return out
}

// length is the centre line of edges, slack included; known is false when a part of it is not known.
func (g *graph) length(steps []Step) (l unit.Length, known bool) {
	known = true
	for _, s := range steps {
		e := &g.geo.Edges[s.Edge]
		l += e.Length + e.Slack
		known = known && !e.Unknown
	}
	return l, known
}

// placeKey is the node key of a thing.
func placeKey(name string, s design.Spot) string {
	if s.Node != "" {
		return s.Node
	}
	return name
}
