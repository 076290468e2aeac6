package route

import (
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

type stretchKey struct {
	run     string
	stretch int
}

// stretches lists the edges of every stretch, in the order of the geometry.
func (f *finder) stretches() [][]int {
	var out [][]int
	last := stretchKey{stretch: -1}
	for i := range f.geo.Edges {
		e := &f.geo.Edges[i]
		if k := (stretchKey{e.Run, e.Stretch}); k != last {
			out = append(out, nil)
			last = k
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// station is that of a length along the way of an edge; where a string was measured the two differ by one factor.
func station(e *space.Edge, way solid.Way, on unit.Length) unit.Length {
	whole := way.Length()
	if !(whole > 0) {
		return e.Station
	}
	return e.Station + min(e.Length, on/whole*e.Length)
}

// node is the place of a node.
func (f *finder) node(n int) (at design.Point3, known bool) {
	if n < 0 || n >= len(f.geo.Nodes) {
		return at, false
	}
	x := &f.geo.Nodes[n]
	return x.At, x.Known && unit.Finite(x.At.X) && unit.Finite(x.At.Y) && unit.Finite(x.At.Z)
}

// away is the straight direction in which an edge leaves a node.
func (f *finder) away(edge, node int) (solid.Vector, bool) {
	a, okA := f.node(node)
	b, okB := f.node(f.geo.Edges[edge].Other(node))
	if !okA || !okB {
		return solid.Vector{}, false
	}
	return solid.Minus(b, a).Unit()
}

func (f *finder) scope(e *space.Edge) design.Scope {
	s := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}
	if r := f.run[e.Run]; r != nil {
		s.Panel = r.Panel
	}
	return s
}

// length is a setting of that dimension; not set, negative or not finite is 0.
func (f *finder) length(name string, at design.Scope) unit.Length {
	return unit.Length(f.number(name, at))
}

func (f *finder) number(name string, at design.Scope) float64 {
	x := f.rulings.Get(name, at).Value.Quantity.Value
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

type bendKey struct {
	stretchKey
	node int
}

// arcs indexes the waypoints that a way rounds.
func (f *finder) arcs() map[bendKey]*space.Bend {
	out := map[bendKey]*space.Bend{}
	for i := range f.geo.Bends {
		b := &f.geo.Bends[i]
		out[bendKey{stretchKey{b.Run, b.Stretch}, b.Node}] = b
	}
	return out
}
