package route

import (
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// lay is the way of one stretch. Stations along it are those of the geometry, which where a string was measured are longer or shorter than
// the way by one factor.
type lay struct {
	edges []int
	way   solid.Way // empty: coordinates are missing
	scale unit.Ratio
	bends []solid.Bend
}

type stretchKey struct {
	run     string
	stretch int
}

// stretches lists every stretch with its way, in the order of the geometry.
func (f *finder) stretches() []lay {
	var out []lay
	f.layOf = make([]int, len(f.geo.Edges))
	last := stretchKey{stretch: -1}
	for i := range f.geo.Edges {
		e := &f.geo.Edges[i]
		if k := (stretchKey{e.Run, e.Stretch}); k != last {
			out = append(out, lay{})
			last = k
		}
		l := &out[len(out)-1]
		l.edges = append(l.edges, i)
		f.layOf[i] = len(out) - 1
	}
	for i := range out {
		f.measure(&out[i])
	}
	return out
}

// part is the way of an edge; empty where coordinates are missing.
func (f *finder) part(edge int) solid.Way {
	l, e := &f.lays[f.layOf[edge]], &f.geo.Edges[edge]
	if len(l.way) == 0 || e.Unknown {
		return nil
	}
	return l.way.Part(l.on(e.Station), l.on(e.Station+e.Length))
}

// on is the length along the way at a station, and station the reverse.
func (l *lay) on(station unit.Length) unit.Length { return station * unit.Length(l.scale) }

func (l *lay) station(on unit.Length) unit.Length {
	if l.scale <= 0 {
		return 0
	}
	return on / unit.Length(l.scale)
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
	x := f.ruling(name, at).Value.Quantity.Value
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

// ruling is a setting's, looked up once for each scope.
func (f *finder) ruling(name string, at design.Scope) design.Ruling {
	k := rulingKey{name, at}
	r, ok := f.rulings[k]
	if !ok {
		r = f.job.Settings.Get(name, at)
		f.rulings[k] = r
	}
	return r
}

type rulingKey struct {
	name string
	at   design.Scope
}

// measure lays the way of a stretch.
func (f *finder) measure(l *lay) {
	var ps []solid.Point
	var length unit.Length
	for i, e := range l.edges {
		ed := &f.geo.Edges[e]
		for k, n := range []int{ed.From, ed.To} {
			if k == 0 && i > 0 {
				continue
			}
			at, ok := f.node(n)
			if !ok {
				return
			}
			ps = append(ps, at)
		}
		length += ed.Length
	}
	l.way, l.bends = solid.Round(ps, func(int) unit.Length { return f.asked(l.edges[0], l.edges[0]) })
	if l.scale = unit.Ratio(l.way.Length() / length); !unit.Finite(l.scale) {
		l.scale = 1
	}
}

// arc is the radius of the arc with which a stretch rounds a node.
func (f *finder) arc(edge, node int) (unit.Length, bool) {
	l := &f.lays[f.layOf[edge]]
	for _, b := range l.bends {
		if k := b.Corner; k > 0 && k <= len(l.edges) && f.geo.Edges[l.edges[k-1]].To == node {
			return b.Radius, true
		}
	}
	return 0, false
}
