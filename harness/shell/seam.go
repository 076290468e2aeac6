package shell

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// seams finds the pieces of each panel's outline that lie against no other panel of the same plane: its edges. A side of which nothing is left
// is a seam.
func (m *maker) seams() {
	m.free = make([][][2]solid.Flat, len(m.list))
	for i := range m.list {
		p := &m.list[i]
		if !p.Flat {
			continue
		}
		var others []solid.Outline
		for j := range m.list {
			if i != j && m.list[j].Flat {
				if o, ok := laidIn(p.Plane, &m.list[j]); ok {
					others = append(others, o)
				}
			}
		}
		for k := range p.Outline {
			a, b := p.Outline[k], p.Outline[(k+1)%len(p.Outline)]
			left := uncovered(a, b, others)
			if len(left) == 0 && apart(a, b) > 0 {
				p.Seams = append(p.Seams, k)
			}
			m.free[i] = append(m.free[i], left...)
		}
	}
}

// rims is the edges of a panel.
func (m *maker) rims(p *Panel) [][2]solid.Flat {
	if i, ok := m.at[p.Name]; ok && i < len(m.free) {
		return m.free[i]
	}
	return nil
}

// laidIn is the outline of another panel in the coordinates of a plane, if it lies in it.
func laidIn(pl solid.Plane, other *Panel) (solid.Outline, bool) {
	var out solid.Outline
	for _, f := range other.Outline {
		g, off := pl.Flat(other.Plane.Space(f))
		if abs(off) > float64(touching) {
			return nil, false
		}
		out = append(out, g)
	}
	return out, true
}

// uncovered is what is left of the line from a to b where the sides of other outlines lie along it.
func uncovered(a, b solid.Flat, others []solid.Outline) [][2]solid.Flat {
	length := float64(apart(a, b))
	if !(length > 0) {
		return nil
	}
	du, dv := float64(b.U-a.U)/length, float64(b.V-a.V)/length
	along := func(f solid.Flat) (t, off float64) {
		x, y := float64(f.U-a.U), float64(f.V-a.V)
		return x*du + y*dv, math.Abs(x*dv - y*du)
	}
	var cover [][2]float64
	for _, o := range others {
		for i := range o {
			s, offS := along(o[i])
			e, offE := along(o[(i+1)%len(o)])
			if offS <= float64(touching) && offE <= float64(touching) {
				cover = append(cover, [2]float64{min(s, e), max(s, e)})
			}
		}
	}
	slices.SortFunc(cover, func(x, y [2]float64) int { return cmp.Or(cmp.Compare(x[0], y[0]), cmp.Compare(x[1], y[1])) })
	at := func(t float64) solid.Flat { return solid.Flat{U: a.U + unit.Length(t*du), V: a.V + unit.Length(t*dv)} }
	var out [][2]solid.Flat
	from := 0.0
	for _, c := range append(cover, [2]float64{length, length}) {
		if c[0]-from > float64(touching) {
			out = append(out, [2]solid.Flat{at(from), at(min(c[0], length))})
		}
		if from = max(from, c[1]); from >= length {
			break
		}
	}
	return out
}
