package route

import (
	"cmp"
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// seam is how near the side of a panel lies to another sheet where the two are joined and no edge is bare, mm.
const seam unit.Length = 1

// bareSide is a piece of a panel's outline that is no seam.
type bareSide struct {
	panel *design.Panel
	of    string
	a, b  design.Point3
}

// sheet is a panel with a plane.
type sheet struct {
	panel   *design.Panel
	plane   solid.Plane
	outline solid.Outline
}

// bareSides lists what is left of the sides of all panels after the seams: pieces that lie on another panel, flush with it as its outline or
// standing on it, are joined there. Panels that are not flat have no known outline.
func (f *finder) bareSides() []bareSide {
	var sheets []sheet
	for _, p := range f.job.Panels {
		plane, _, ok := solid.FlatOf(p.Corners, f.up())
		if !ok {
			continue
		}
		s := sheet{panel: p, plane: plane}
		for _, c := range p.Corners {
			at, _ := plane.Flat(c)
			s.outline = append(s.outline, at)
		}
		sheets = append(sheets, s)
	}
	var out []bareSide
	for i := range sheets {
		p := sheets[i].panel
		for k, a := range p.Corners {
			b := p.Corners[(k+1)%len(p.Corners)]
			length := solid.Between(a, b)
			if !(length > seam) || !unit.Finite(length) {
				continue
			}
			var on [][2]float64
			for j := range sheets {
				if j != i {
					on = append(on, sheets[j].covers(a, b)...)
				}
			}
			of := fmt.Sprintf("panel %s, corner %d to corner %d", p.Name, k+1, (k+1)%len(p.Corners)+1)
			for _, free := range rest(on, float64(seam/length)) {
				side := bareSide{panel: p, of: of, a: between(a, b, free[0]), b: between(a, b, free[1])}
				out = append(out, side)
			}
		}
	}
	return out
}

func between(a, b design.Point3, share float64) design.Point3 {
	return solid.Moved(a, solid.Minus(b, a).Scale(unit.Ratio(share)))
}

// covers is the shares of a straight line that lie on a sheet. Between the places where it comes to the plane, or crosses the outline, it is
// on the sheet or off it, and its middle tells which.
func (s *sheet) covers(a, b design.Point3) [][2]float64 {
	pa, da := s.plane.Flat(a)
	pb, db := s.plane.Flat(b)
	cuts := []float64{0, 1}
	if da != db {
		for _, at := range []unit.Length{seam, -seam} {
			cuts = append(cuts, float64((at-da)/(db-da)))
		}
	}
	length := solid.Between(a, b)
	for i, p := range s.outline {
		q := s.outline[(i+1)%len(s.outline)]
		du, dv, eu, ev := pb.U-pa.U, pb.V-pa.V, q.U-p.U, q.V-p.V
		if cross := float64(du*ev) - float64(dv*eu); cross != 0 {
			cuts = append(cuts, (float64((p.U-pa.U)*ev)-float64((p.V-pa.V)*eu))/cross)
		}
		for _, c := range []solid.Flat{p, q} { // a corner beside the line
			if square := float64(du*du) + float64(dv*dv); square > 0 {
				cuts = append(cuts, (float64((c.U-pa.U)*du)+float64((c.V-pa.V)*dv))/square)
			}
		}
	}
	cuts = slices.DeleteFunc(cuts, func(x float64) bool { return !(x >= 0 && x <= 1) })
	slices.Sort(cuts)
	var out [][2]float64
	for i := 1; i < len(cuts); i++ {
		if (cuts[i]-cuts[i-1])*float64(length) < 1e-6 {
			continue
		}
		at, off := s.plane.Flat(between(a, b, (cuts[i]+cuts[i-1])/2))
		d, _, _ := s.outline.Edge(at)
		if max(off, -off) <= seam && (d <= seam || s.outline.Holds(at)) {
			out = append(out, [2]float64{cuts[i-1], cuts[i]})
		}
	}
	return out
}

// rest is what ranges leave of 0 to 1, pieces up to a share left out.
func rest(taken [][2]float64, least float64) [][2]float64 {
	slices.SortFunc(taken, func(a, b [2]float64) int { return cmp.Or(cmp.Compare(a[0], b[0]), cmp.Compare(a[1], b[1])) })
	var out [][2]float64
	from := 0.0
	for _, t := range append(taken, [2]float64{1, 1}) {
		if t[0]-from > least {
			out = append(out, [2]float64{from, t[0]})
		}
		from = max(from, t[1])
	}
	return out
}

// sideEdges is the place of a stretch nearest to each bare side of a panel. A run with a sleeve is protected. What passes a panel in a break or
// a bush is no edge: so far as the edge of that very panel goes, the way beside the break is left out.
func (f *finder) sideEdges(xs []laden, sides []bareSide) []Edge {
	first := &f.geo.Edges[xs[0].edge]
	if len(sides) == 0 || f.sleeveOf(first.Run) != "" {
		return nil
	}
	at := f.scope(first)
	needed, source := f.length("clear-edge", at), f.rulings.Get("clear-edge", at).Source()
	if needed <= 0 {
		return nil
	}
	var out []Edge
	for k := range sides {
		s := &sides[k]
		best, found := Edge{}, false
		for i := range xs {
			x := &xs[i]
			if !x.within([]solid.Point{s.a, s.b}, 2*needed+x.half) {
				continue
			}
			e := &f.geo.Edges[x.edge]
			way, from := f.clearOf(x, s.panel, needed)
			g := way.ToSegment(s.a, s.b)
			gap := max(0, g.Distance-x.half)
			if !unit.Finite(g.Distance) || gap >= 2*needed || found && gap >= best.Gap {
				continue
			}
			found = true
			best = Edge{Run: e.Run, Stretch: e.Stretch, After: station(e, x.way, from+g.Station), At: g.On, Of: s.of, Gap: gap, Needed: needed, Source: source,
				Span: e.Span, Other: s.panel.Span}
		}
		if found {
			out = append(out, best)
		}
	}
	return out
}

// clearOf is the way of an edge without its ends that lie in a break or a bush of a panel, and where it begins.
func (f *finder) clearOf(x *laden, p *design.Panel, needed unit.Length) (way solid.Way, from unit.Length) {
	e := &f.geo.Edges[x.edge]
	to := x.way.Length()
	off := x.half + needed
	if f.passes(p.Name, e.From) {
		from = off
	}
	if f.passes(p.Name, e.To) {
		to -= off
	}
	if from >= to {
		return nil, 0
	}
	if from == 0 && to == x.way.Length() {
		return x.way, 0
	}
	return x.way.Part(from, to), from
}

// passes tells whether a node is a break or a bush of a panel.
func (f *finder) passes(panel string, node int) bool {
	key := f.geo.Nodes[node].Key
	for _, b := range f.job.Breaks {
		if b.Panel == panel && (b.Name == key || b.Node == key) {
			return true
		}
	}
	for _, p := range f.job.Points {
		if p.Panel == panel && p.Bush > 0 && (p.Name == key || p.Node == key) {
			return true
		}
	}
	return false
}
