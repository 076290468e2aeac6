package route

import (
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// laden is an edge in which wires lie, with its way and half its thickness. Where the outside of a wire is not known the half is 0: the gap is
// then that of the centre line, more than the true one, and nothing is claimed that is not so.
type laden struct {
	edge     int
	way      solid.Way
	half     unit.Length
	low, top solid.Point // box around the way
}

// ladenEdges lists the edges of a stretch that have wires and coordinates.
func (f *finder) ladenEdges(edges []int) []laden {
	var out []laden
	for _, e := range edges {
		if len(f.bundles.On(e)) == 0 {
			continue
		}
		w := f.geo.EdgeWay(e)
		if len(w) == 0 {
			continue
		}
		_, most := f.bundles.Edges[e].Over()
		x := laden{edge: e, way: w, half: most / 2, low: w[0].From, top: w[0].From}
		for i := range w { // an arc lies within the box of its ends and the corner that it rounds
			x.grow(w[i].From)
			x.grow(w[i].To)
			if w[i].Radius > 0 {
				x.grow(tip(&w[i]))
			}
		}
		out = append(out, x)
	}
	return out
}

// tip is the corner that an arc rounds, where the tangents at its ends meet: on the line from the middle over that of the chord, at
// radius squared over the chord's distance.
func tip(l *solid.Leg) solid.Point {
	chord := solid.Moved(l.From, solid.Minus(l.To, l.From).Scale(0.5))
	out := solid.Minus(chord, l.Middle)
	h := out.Length()
	if !(h > 0) {
		return chord
	}
	return solid.Moved(l.Middle, out.Scale(unit.Ratio(l.Radius*l.Radius/(h*h))))
}

func (x *laden) grow(p solid.Point) {
	x.low = solid.Point{X: min(x.low.X, p.X), Y: min(x.low.Y, p.Y), Z: min(x.low.Z, p.Z)}
	x.top = solid.Point{X: max(x.top.X, p.X), Y: max(x.top.Y, p.Y), Z: max(x.top.Z, p.Z)}
}

// within tells whether something in the box of some points can come so near.
func (x *laden) within(ps []solid.Point, reach unit.Length) bool {
	y := laden{low: ps[0], top: ps[0]}
	for _, p := range ps {
		y.grow(p)
	}
	return x.low.X-reach <= y.top.X && y.low.X <= x.top.X+reach &&
		x.low.Y-reach <= y.top.Y && y.low.Y <= x.top.Y+reach &&
		x.low.Z-reach <= y.top.Z && y.low.Z <= x.top.Z+reach
}

// nears measures from every laden stretch to every hazard in each position, and to every bare edge.
func (f *finder) nears() ([]Near, []Edge) {
	var near []Near
	var edges []Edge
	sides := f.bareSides()
	for _, way := range f.ways {
		xs := f.ladenEdges(way)
		if len(xs) == 0 {
			continue
		}
		for _, h := range f.job.Hazards {
			var found []Near
			for k := range h.Shapes {
				n, ok := f.nearest(xs, h, &h.Shapes[k])
				if !ok {
					continue
				}
				same := -1
				for j := range found {
					if found[j].Position == n.Position {
						same = j
					}
				}
				if same < 0 {
					found = append(found, n)
				} else if n.Gap-n.Needed < found[same].Gap-found[same].Needed {
					found[same] = n
				}
			}
			for _, n := range found {
				switch {
				case n.Gap >= 2*n.Needed:
				case h.Kind != "edge":
					near = append(near, n)
				case n.Sleeve == "":
					edges = append(edges, Edge{Run: n.Run, Stretch: n.Stretch, After: n.After, At: n.At, Of: hazardText(h, n.Position), Gap: n.Gap, Needed: n.Needed, Source: n.Source, Span: n.Span, Other: n.Other})
				}
			}
		}
		edges = append(edges, f.sideEdges(xs, sides)...)
	}
	inOrder(f, near, func(n *Near) (string, int, unit.Length) { return n.Run, n.Stretch, n.After })
	inOrder(f, edges, func(e *Edge) (string, int, unit.Length) { return e.Run, e.Stretch, e.After })
	return near, edges
}

func hazardText(h *design.Hazard, position string) string {
	if position != "" {
		return "hazard " + h.Name + " in position " + position
	}
	return "hazard " + h.Name
}

// nearest is the place of a stretch that has least to spare to a hazard in one position.
func (f *finder) nearest(xs []laden, h *design.Hazard, s *design.Shape) (best Near, ok bool) {
	if len(s.Points) == 0 || s.Box && len(s.Points) < 2 {
		return best, false
	}
	thick := unit.Length(0)
	if h.Outside > 0 && unit.Finite(h.Outside) {
		thick = h.Outside / 2
	}
	for i := range xs {
		x := &xs[i]
		e := &f.geo.Edges[x.edge]
		n := Near{Run: e.Run, Stretch: e.Stretch, Hazard: h.Name, Kind: h.Kind, Position: s.Position, Span: e.Span, Other: h.Span}
		f.clearance(&n, h, e)
		if !(n.Needed > 0) || !x.within(s.Points, 2*n.Needed+x.half+thick) {
			continue
		}
		var g solid.Gap
		if s.Box {
			g = x.way.ToBox(s.Points[0], s.Points[1])
		} else {
			g = x.way.ToPolyline(s.Points)
		}
		if !unit.Finite(g.Distance) {
			continue
		}
		n.Gap = max(0, g.Distance-x.half-thick)
		n.At, n.After = g.On, station(e, x.way, g.Station)
		if !ok || n.Gap-n.Needed < best.Gap-best.Needed {
			best, ok = n, true
		}
	}
	return best, ok
}

// clearance is what a hazard asks of a run, and by what.
func (f *finder) clearance(n *Near, h *design.Hazard, e *space.Edge) {
	at := f.scope(e)
	n.Sleeve = f.sleeveOf(e.Run)
	switch {
	case h.Sleeved > 0 && n.Sleeve != "" && f.standsHeat(n.Sleeve, at):
		n.Needed, n.By, n.Source = h.Sleeved, "hazard "+h.Name+", with a heat sleeve", "stated for hazard "+h.Name
	case h.Clearance > 0:
		n.Needed, n.By, n.Source = h.Clearance, "hazard "+h.Name, "stated for hazard "+h.Name
	default:
		name := "clear-other"
		switch h.Kind {
		case "exhaust", "fuel", "brake", "moving", "edge":
			name = "clear-" + h.Kind
		}
		n.Needed, n.By, n.Source = f.length(name, at), name, f.rulings.Get(name, at).Source()
	}
	if !unit.Finite(n.Needed) {
		n.Needed = 0
	}
}

func (f *finder) sleeveOf(run string) string {
	if r := f.run[run]; r != nil {
		return r.Sleeve
	}
	return ""
}

// standsHeat tells whether a sleeve is one for heat, by what its part stands at the least.
func (f *finder) standsHeat(name string, at design.Scope) bool {
	for _, s := range f.job.Parts.Sleeves {
		if s.Name == name {
			limit := f.rulings.Get("sleeve-heat", at)
			return s.Heat.Given && limit.Known && float64(s.Heat.Low) >= limit.Value.Quantity.Value
		}
	}
	return false
}
