package space

import (
	"slices"

	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// Step is an edge that is passed, from its To to its From if Back is set.
type Step struct {
	Edge int
	Back bool
}

// Crossing is a place where edges that follow one another pass from one side of a sheet to the other.
type Crossing struct {
	At    solid.Point
	Edge  int   // in which it is, or at whose end
	Node  int   // at which it is; -1: within the edge
	Edges []int // all that lie, with a part, between the one side and the other
}

// Crossings are the places where edges that follow one another pass through a sheet. A node on the sheet is passed by what comes to it from one
// side and leaves on the other; what comes back, or ends there, touches. What passes at an open node, that is one that is made for it, does not
// count: nor what passes in an edge that ends at one, which may lie a little off the sheet, nor what lies on the sheet on its way to one.
// Coordinates that are missing part the edges.
func (g *Geometry) Crossings(steps []Step, sheet solid.Sheet, open func(node int) bool) []Crossing {
	var out []Crossing
	for from := 0; from < len(steps); {
		c, to := chain{}, from
		for to < len(steps) && c.add(g, steps[to]) {
			to++
		}
		out = append(out, c.crossings(sheet, open)...)
		from = max(to, from+1)
	}
	return out
}

// chain is edges that follow one another, as one way.
type chain struct {
	way   solid.Way
	edges []int
	nodes []int         // at their ends, one more than edges
	ends  []unit.Length // station of each node
}

// add puts one more edge to the chain; false where it does not follow, or its coordinates are missing.
func (c *chain) add(g *Geometry, s Step) bool {
	way := g.EdgeWay(s.Edge)
	if len(way) == 0 {
		return false
	}
	from, to := g.Edges[s.Edge].From, g.Edges[s.Edge].To
	if s.Back {
		from, to, way = to, from, backward(way)
	}
	if len(c.edges) == 0 {
		c.nodes, c.ends = []int{from}, []unit.Length{0}
	}
	n := len(c.nodes) - 1
	if c.nodes[n] != from {
		return false
	}
	c.way = append(c.way, way...)
	c.edges, c.nodes, c.ends = append(c.edges, s.Edge), append(c.nodes, to), append(c.ends, c.ends[n]+way.Length())
	return true
}

func (c *chain) crossings(sheet solid.Sheet, open func(node int) bool) []Crossing {
	var out []Crossing
	for _, x := range c.way.Through(sheet) {
		at := c.at(x.Station)
		if slices.ContainsFunc(c.between(x, at), open) {
			continue
		}
		n := Crossing{At: x.At, Edge: c.edges[at.edge], Node: -1}
		if at.node >= 0 {
			n.Node = c.nodes[at.node]
		}
		for i, e := range c.edges {
			if c.ends[i] < x.To-atNode && c.ends[i+1] > x.From+atNode {
				n.Edges = append(n.Edges, e)
			}
		}
		out = append(out, n)
	}
	return out
}

// lies is where on a chain a station lies: in an edge, and, unless that is -1, at a node.
type lies struct{ edge, node int }

func (c *chain) at(s unit.Length) lies {
	for i := range c.edges {
		switch {
		case s <= c.ends[i]+atNode:
			return lies{i, i}
		case s < c.ends[i+1]-atNode:
			return lies{i, -1}
		}
	}
	return lies{len(c.edges) - 1, len(c.edges)}
}

// atNode is how near a crossing must be to a node to be at it.
const atNode unit.Length = 1e-3

// between are the nodes that may make the way for a crossing: those between its sides, and where it lies within an edge its ends.
func (c *chain) between(x solid.Crossing, at lies) []int {
	var out []int
	for i, n := range c.nodes {
		if c.ends[i] > x.From && c.ends[i] < x.To || at.node == i || at.node < 0 && (i == at.edge || i == at.edge+1) {
			out = append(out, n)
		}
	}
	return out
}

func backward(w solid.Way) solid.Way {
	out := slices.Clone(w)
	slices.Reverse(out)
	for i := range out {
		out[i].From, out[i].To = out[i].To, out[i].From
	}
	return out
}
