package space

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Find is the node of a key or of a splice that shares it, -1 if no run has it.
func (g *Geometry) Find(key string) int {
	i, ok := slices.BinarySearchFunc(g.Nodes, key, func(n Node, k string) int { return design.Natural(n.Key, k) })
	if ok {
		return i
	}
	j, ok := slices.BinarySearchFunc(g.Aliases, key, func(a Alias, k string) int { return design.Natural(a.Key, k) })
	if ok {
		return g.Aliases[j].Node
	}
	return -1
}

// Around lists the edges that meet at a node, in order.
func (g *Geometry) Around(node int) []int {
	if g.index != nil {
		if node < 0 || node >= len(g.index.around) {
			return nil
		}
		return slices.Clone(g.index.around[node])
	}
	var out []int
	for i := range g.Edges {
		if g.Edges[i].From == node || g.Edges[i].To == node {
			out = append(out, i)
		}
	}
	return out
}

// Other is the far node of an edge.
func (e *Edge) Other(node int) int {
	if e.From == node {
		return e.To
	}
	return e.From
}

// Stretch lists the edges of one stretch of a run by station.
func (g *Geometry) Stretch(run string, stretch int) []int {
	return slices.Clone(g.stretch(run, stretch))
}

// StretchLength is the length of one stretch, slack left out; known is false when a part of it is not.
func (g *Geometry) StretchLength(run string, stretch int) (length unit.Length, known bool) {
	if g.index != nil {
		r := g.index.stretches[stretchKey{run, stretch}]
		return r.length, r.known
	}
	es := g.stretch(run, stretch)
	known = len(es) > 0
	for _, e := range es {
		length += g.Edges[e].Length
		known = known && !g.Edges[e].Unknown
	}
	return length, known
}

// Along finds a place by its length from the beginning of a run, counted on through stretches that go on where the one before
// ended: the stretch, and the station on it.
func (g *Geometry) Along(run string, after unit.Length) (stretch int, station unit.Length, ok bool) {
	end := -1
	for ; ; stretch++ {
		es := g.stretch(run, stretch)
		if len(es) == 0 || stretch > 0 && g.Edges[es[0]].From != end {
			return 0, 0, false
		}
		length, known := g.StretchLength(run, stretch)
		if !known || after < -near || !unit.Finite(after) {
			return 0, 0, false
		}
		if after <= length+near {
			return stretch, max(0, min(after, length)), true
		}
		after -= length
		end = g.Edges[es[len(es)-1]].To
	}
}

// StationOf is the station of a node on a stretch.
func (g *Geometry) StationOf(run string, stretch, node int) (unit.Length, bool) {
	for _, e := range g.stretch(run, stretch) {
		switch ed := &g.Edges[e]; node {
		case ed.From:
			return ed.Station, !ed.Unknown
		case ed.To:
			return ed.Station + ed.Length, !ed.Unknown
		}
	}
	return 0, false
}

// Text names a node as a person knows it; a waypoint without a name is just that.
func (g *Geometry) Text(node int) string {
	if node < 0 || node >= len(g.Nodes) {
		return ""
	}
	if k := g.Nodes[node].Key; !strings.Contains(k, "#") {
		return k
	}
	return "waypoint"
}
