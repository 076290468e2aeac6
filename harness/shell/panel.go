package shell

import (
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
)

// panels gives every panel its own flat coordinates: those of the plane through its corners, or of the plane nearest to the points measured
// on a sheet that is not flat, whose outline is the hull of those points. Corners further out of their plane than panel-flat are
// reported; the panel is used as if they were in it, since nobody knows which corner is wrong.
func (m *maker) panels(s *Shell) {
	up, _, _ := upAxis(m.job)
	seen := map[string]bool{}
	for _, j := range m.job.Panels {
		if seen[j.Name] {
			continue
		}
		seen[j.Name] = true
		p := Panel{Name: j.Name, Thickness: max(0, clean(j.Thickness)), Span: j.Span}
		switch {
		case len(j.Corners) > 0:
			pl, off, ok := solid.FlatOf(j.Corners, up)
			if !ok {
				break
			}
			p.Plane, p.Flat, p.Outline = pl, true, laid(pl, j.Corners)
			if most, source := m.length("panel-flat", design.Scope{Panel: j.Name}); off > most {
				s.Unflat = append(s.Unflat, Unflat{Panel: j.Name, Off: off, Most: most, Source: source, Where: j.Span})
			}
		case len(j.Points) > 0:
			pl, off, ok := solid.FitPlane(j.Points, up)
			if hull := solid.Hull(laid(pl, j.Points)); ok && len(hull) > 2 {
				p.Plane, p.Curved, p.Outline = pl, max(off, 1e-3), hull
				m.measured[p.Name] = measure(pl, j.Points)
			}
		}
		if len(p.Outline) > 0 {
			for _, k := range j.KeepOuts {
				if len(k) > 2 && !slices.ContainsFunc(k, func(q design.Point3) bool { return !place(q) }) {
					p.KeepOuts = append(p.KeepOuts, laid(p.Plane, k))
				}
			}
		}
		m.sides(&p, j)
		m.list = append(m.list, p)
	}
	slices.SortStableFunc(s.Unflat, func(a, b Unflat) int { return design.Natural(a.Panel, b.Panel) })
	walkRound(m.job, m.list)
	for i := range m.list {
		m.at[m.list[i].Name] = i
	}
	m.seams()
	s.Panels = slices.Clone(m.list)
}

// laid is places in the coordinates of a plane, as if they lay in it.
func laid(pl solid.Plane, places []design.Point3) (out solid.Outline) {
	for _, q := range places {
		f, _ := pl.Flat(q)
		out = append(out, f)
	}
	return out
}

// statedPanel is the line of a panel.
func (m *maker) statedPanel(name string) *design.Panel {
	for _, p := range m.job.Panels {
		if p.Name == name {
			return p
		}
	}
	return nil
}

// corners is what a person finds on a panel by its own line: its corners in the order written, or the places measured on it.
func (m *maker) corners(name string) (out []mark) {
	j := m.statedPanel(name)
	if j == nil {
		return nil
	}
	for i, c := range j.Corners {
		out = append(out, mark{text: "corner " + strconv.Itoa(i+1), at: c})
	}
	if len(j.Corners) == 0 {
		for i, c := range j.Points {
			out = append(out, mark{text: "measured place " + strconv.Itoa(i+1), at: c, rank: 1})
		}
	}
	return out
}
