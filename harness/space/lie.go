package space

import (
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// Way is the way of a stretch by its coordinates, bends rounded; known is false when a part of it is not. Where the stretch was measured by
// string its stations and those of the way differ by the factor WayScale.
func (g *Geometry) Way(run string, stretch int) (way solid.Way, known bool) {
	if g.index != nil {
		if f, ok := g.index.stretches[stretchKey{run, stretch}]; ok && f.laid >= 0 {
			return g.laid[f.laid].way, true
		}
		return nil, false
	}
	for i := range g.laid {
		if l := &g.laid[i]; l.run == run && l.stretch == stretch {
			return l.way, true
		}
	}
	return nil, false
}

// WayScale is how much of the way by its coordinates lies in a length of the stretch: 1 where no string was measured, or where the way or the
// length is not known.
func (g *Geometry) WayScale(run string, stretch int) unit.Ratio {
	way, known := g.Way(run, stretch)
	length, ok := g.StretchLength(run, stretch)
	if s := unit.Ratio(way.Length() / length); known && ok && length > 0 && unit.Finite(s) && s > 0 {
		return s
	}
	return 1
}

// EdgeWay is the way of an edge by its coordinates, as Way; empty where they are missing.
func (g *Geometry) EdgeWay(edge int) solid.Way {
	if edge < 0 || edge >= len(g.Edges) {
		return nil
	}
	if edge < len(g.parts) {
		return g.parts[edge]
	}
	e := &g.Edges[edge]
	if min(e.From, e.To) < 0 || max(e.From, e.To) >= len(g.Nodes) || !g.Nodes[e.From].Known || !g.Nodes[e.To].Known {
		return nil
	}
	way, _ := solid.Round([]solid.Point{g.Nodes[e.From].At, g.Nodes[e.To].At}, func(int) unit.Length { return 0 })
	return way
}

// Position is the coordinates at a station of a stretch, on its arcs where it bends.
func (g *Geometry) Position(run string, stretch int, station unit.Length) (p design.Point3, known bool) {
	p, _, known = g.lie(run, stretch, station)
	return p, known
}

// Direction is the direction of a stretch at a station, of length 1; known is false where it has none.
func (g *Geometry) Direction(run string, stretch int, station unit.Length) (v solid.Vector, known bool) {
	_, v, known = g.lie(run, stretch, station)
	return v, known && v != solid.Vector{}
}

func (g *Geometry) lie(run string, stretch int, station unit.Length) (p design.Point3, v solid.Vector, known bool) {
	w := g.Walk(run, stretch)
	return w.At(station)
}

// Walk is a stretch of which one place after the other is asked for.
type Walk struct {
	geo   *Geometry
	edges []int
	on    solid.Walk
}

// Walk begins one; a stretch that is not there has no places.
func (g *Geometry) Walk(run string, stretch int) Walk {
	return Walk{geo: g, edges: g.stretch(run, stretch)}
}

// At is the place and the direction at a station, as Position and Direction; a direction that is not known is nothing.
func (w *Walk) At(station unit.Length) (p design.Point3, v solid.Vector, known bool) {
	for k, i := range w.edges {
		e := &w.geo.Edges[i]
		if e.Unknown {
			continue
		}
		last := k+1 == len(w.edges) || w.edges[k+1] != i+1
		if !last && station > e.Station+e.Length {
			continue
		}
		way := w.geo.EdgeWay(i)
		if !(station >= e.Station-near && station <= e.Station+e.Length+near) || len(way) == 0 {
			return p, v, false
		}
		q := piece{length: e.Length, way: way}
		p, v = w.on.At(way, q.on(station-e.Station))
		return p, v, true
	}
	return p, v, false
}

// Off is how far a point is from the way of an edge.
func (g *Geometry) Off(edge int, p design.Point3) (d unit.Length, known bool) {
	_, d = g.EdgeWay(edge).Near(p)
	return d, unit.Finite(d)
}

// Nearest is the edge nearest to a point, and how far off; edge is -1 if no edge has coordinates. Of equals the first counts.
func (g *Geometry) Nearest(p design.Point3) (edge int, off unit.Length) {
	edge = -1
	for i := range g.Edges {
		if d, ok := g.Off(i, p); ok && (edge < 0 || d < off) {
			edge, off = i, d
		}
	}
	return edge, off
}
