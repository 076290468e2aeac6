package fix

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// sheet is a panel in its own plane.
type sheet struct {
	panel    *design.Panel
	plane    solid.Plane
	outline  solid.Outline // of one given by corners; one given by points has no edge that is known
	keepOuts []solid.Outline
	beside   []*sheet // others in the same plane
	things   []thing
	near     *nearby // of its things and those of the sheets beside it
}

// thing is what is on a panel already.
type thing struct {
	name  string
	at    design.Point3
	drill unit.Length // of a hole
	cover unit.Length // radius of a cut-out
	lid   unit.Length // radius of what covers it
}

// findSheets lays every panel into its plane and gathers what is on it.
func (m *maker) findSheets() {
	m.sheet = map[string]*sheet{}
	up := map[string]solid.Vector{"x": {X: 1}, "y": {Y: 1}}[m.job.Up]
	if up == (solid.Vector{}) {
		up.Z = 1
	}
	m.loose = m.things("")
	var all []*sheet
	for _, p := range m.job.Panels {
		if m.panel[p.Name] != p {
			continue
		}
		s := &sheet{panel: p}
		var ok bool
		if len(p.Corners) > 0 {
			s.plane, _, ok = solid.FlatOf(p.Corners, up)
			s.outline = s.flat(p.Corners)
		} else {
			s.plane, _, ok = solid.FitPlane(p.Points, up)
		}
		if !ok {
			continue
		}
		for _, k := range p.KeepOuts {
			s.keepOuts = append(s.keepOuts, s.flat(k))
		}
		s.things = m.things(p.Name)
		m.sheet[p.Name] = s
		all = append(all, s)
	}
	for _, a := range all {
		for _, b := range all {
			if a != b && len(a.outline) > 0 && len(b.outline) > 0 && m.level(a, b) {
				a.beside = append(a.beside, b)
			}
		}
	}
	for _, s := range all {
		s.near = m.nearby(s)
	}
}

func (s *sheet) flat(ps []design.Point3) (o solid.Outline) {
	for _, p := range ps {
		f, _ := s.plane.Flat(p)
		o = append(o, f)
	}
	return o
}

// level tells whether all corners of b lie in the plane of a.
func (m *maker) level(a, b *sheet) bool {
	most := m.length("panel-flat", design.Scope{Panel: a.panel.Name})
	for _, c := range b.panel.Corners {
		if _, off := a.plane.Flat(c); !(off <= most && off >= -most) {
			return false
		}
	}
	return true
}

// things are the stated holes, cut-outs, studs and bushes of a panel; of no panel, those that state none.
func (m *maker) things(panel string) (out []thing) {
	for _, h := range m.job.Holes {
		if h.Panel == panel && h.Known && finite(h.At) {
			x := thing{name: "hole " + h.Name, at: h.At, drill: h.Drill}
			if h.High > 0 {
				x.drill, x.cover = 0, max(h.Drill, h.High)/2
			}
			if f := m.fastener[h.Fastener]; f != nil && x.drill == 0 && x.cover == 0 {
				x.drill = wide(f)
			}
			if h.High <= 0 && m.cutOut(h) {
				x.drill, x.cover = 0, x.drill/2
			}
			out = append(out, x)
		}
	}
	if panel == "" {
		return out
	}
	for _, b := range m.job.Breaks {
		if b.Panel != panel || !b.Known || !finite(b.At) {
			continue
		}
		x := thing{name: "break " + b.Name, at: b.At}
		for _, half := range b.Halves {
			if p := m.housing[half.Housing]; p != nil {
				x.cover = max(x.cover, radius(p.CutOut, p.CutHigh))
				x.lid = max(x.lid, radius(p.Flange[0], p.Flange[1]), p.Nut/2)
				for _, s := range p.Fixings {
					x.lid = max(x.lid, unit.Length(solid.Vector{X: s.At[0], Y: s.At[1]}.Length())+s.Drill/2)
				}
			}
		}
		out = append(out, x)
	}
	for _, d := range m.job.Devices {
		for _, p := range d.Pins {
			at := p.Spot
			if !at.Known {
				at = d.Spot
			}
			if p.Stud == "" || or(p.Panel, d.Panel) != panel || d.Pattern || !at.Known || !finite(at.At) {
				continue
			}
			x := thing{name: "stud " + d.Name + "." + p.Name, at: at.At, drill: diameter(p.Stud)}
			x.lid = m.times("earth-pad", panel, x.drill) / 2
			out = append(out, x)
		}
	}
	for _, p := range m.job.Points {
		if p.Panel == panel && p.Bush > 0 && p.Known && finite(p.At) {
			out = append(out, thing{name: "bush " + p.Name, at: p.At, cover: p.Bush / 2})
		}
	}
	return out
}

// cutOut tells whether a stated hole is that of a break or a bush: held to by the metal beside it, not by diameters.
func (m *maker) cutOut(h *design.Hole) bool {
	at := func(s design.Spot) bool { return s.Known && space.Between(s.At, h.At) <= sameHole }
	return slices.ContainsFunc(m.job.Breaks, func(b *design.Break) bool { return b.Panel == h.Panel && at(b.Spot) }) ||
		slices.ContainsFunc(m.job.Points, func(p *design.Point) bool { return p.Bush > 0 && p.Panel == h.Panel && at(p.Spot) })
}

// radius of the circle round something round, or round a rectangle where both its sides are given and differ.
func radius(wide, high unit.Length) unit.Length {
	if high <= 0 {
		return wide / 2
	}
	return solid.Vector{X: wide, Y: high}.Length() / 2
}

// wide is the hole that a fastener needs, or the thread of one that needs none.
func wide(f *design.Fastener) unit.Length {
	switch {
	case f == nil:
		return 0
	case f.Drill > 0:
		return f.Drill
	}
	return diameter(f.Thread)
}

// over is the panel that lies under a place: the run's own, or one that goes on in the same plane where the place is beyond its outline; nil: it
// lies beside all of them.
func (s *sheet) over(at design.Point3) (*sheet, solid.Flat) {
	for i := -1; i < len(s.beside); i++ {
		x := s
		if i >= 0 {
			x = s.beside[i]
		}
		if f, _ := x.plane.Flat(at); len(x.outline) == 0 || x.outline.Holds(f) {
			return x, f
		}
	}
	return nil, solid.Flat{}
}

// edgeNear is the distance of a place from the nearest true edge of a panel: one that no other panel goes on from in the same plane.
func (s *sheet) edgeNear(f solid.Flat, within unit.Length) bool {
	for i := range s.outline {
		a, b := s.outline[i], s.outline[(i+1)%len(s.outline)]
		if (solid.Outline{a, b}).Beyond(f, within) {
			continue
		}
		d, _, on := solid.Outline{a, b}.Edge(f)
		if d < within-tiny && !s.seam(a, b, on) {
			return true
		}
	}
	return false
}

// seam tells whether a panel goes on to both sides of a place on its outline.
func (s *sheet) seam(a, b, on solid.Flat) bool {
	n, ok := solid.Vector{X: a.V - b.V, Y: b.U - a.U}.Unit()
	if !ok {
		return true
	}
	for _, d := range []unit.Length{-1, 1} {
		p := s.plane.Space(solid.Flat{U: on.U + d*n.X, V: on.V + d*n.Y})
		if x, _ := s.over(p); x == nil {
			return false
		}
	}
	return true
}
