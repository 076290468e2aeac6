package shell

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// measured is a place on a sheet that is not flat: where it lies in the fitted plane, and how far it stands off that.
type measured struct {
	flat solid.Flat
	off  unit.Length
}

// mostMeasured bounds the measured places looked at for one place on the sheet: the nearest.
const mostMeasured = 40

// measure keeps the places measured on a sheet, the first of those that lie at one.
func measure(pl solid.Plane, points []design.Point3) (out []measured) {
	for _, q := range points {
		if place(q) {
			f, off := pl.Flat(q)
			out = append(out, measured{f, off})
		}
	}
	return out
}

// onSheet is a place of a panel's plane on the sheet itself: of one given by points, as it was measured.
func (m *maker) onSheet(p *Panel, at solid.Flat) design.Point3 {
	foot := p.Plane.Space(at)
	n, ok := p.Plane.Normal().Unit()
	if p.Curved <= 0 || !ok {
		return foot
	}
	return solid.Moved(foot, n.Scale(unit.Ratio(m.lift(p, at))))
}

// offSheet is how far a place stands off a panel, along the normal of its plane.
func (m *maker) offSheet(p *Panel, q design.Point3) unit.Length {
	f, off := p.Plane.Flat(q)
	if p.Curved > 0 {
		off -= m.lift(p, f)
	}
	return unit.Length(abs(off))
}

// lift is how far a sheet stands off its plane at a place: straight between the three measured places about it of which the nearest triangle
// is made (for places in general that of Delaunay, as the least mean square of the distances picks it); beyond their hull as at the nearest place of it.
func (m *maker) lift(p *Panel, at solid.Flat) unit.Length {
	near := nearPlaces(m.measured[p.Name], at)
	if !p.Outline.Holds(at) {
		if _, _, foot := p.Outline.Edge(at); !math.IsNaN(float64(foot.U + foot.V)) {
			at = foot
			near = nearPlaces(m.measured[p.Name], at)
		}
	}
	best, off := math.Inf(1), unit.Length(0)
	if len(near) > 0 {
		off = near[0].off
	}
	if len(near) > 0 && apart(near[0].flat, at) < 1e-6 {
		return off
	}
	for i := range near {
		for j := i + 1; j < len(near); j++ {
			for k := j + 1; k < len(near); k++ {
				w, ok := shares(at, near[i].flat, near[j].flat, near[k].flat)
				if !ok {
					continue
				}
				square := func(x int) float64 { d := float64(apart(near[x].flat, at)); return d * d }
				if cost := w[0]*square(i) + w[1]*square(j) + w[2]*square(k); cost < best-1e-6 {
					best, off = cost, unit.Length(w[0]*float64(near[i].off)+w[1]*float64(near[j].off)+w[2]*float64(near[k].off))
				}
			}
		}
	}
	return off
}

// shares is what each corner of a triangle has in a place; ok is false where it lies outside, or the triangle is none.
func shares(at, a, b, c solid.Flat) (w [3]float64, ok bool) {
	cross := func(p, q, r solid.Flat) float64 {
		return float64(q.U-p.U)*float64(r.V-p.V) - float64(q.V-p.V)*float64(r.U-p.U)
	}
	all := cross(a, b, c)
	if !(math.Abs(all) > 1e-3) {
		return w, false
	}
	w = [3]float64{cross(at, b, c) / all, cross(a, at, c) / all, cross(a, b, at) / all}
	return w, min(w[0], w[1], w[2]) >= -1e-6
}

// nearPlaces is the measured places nearest to one, the nearest first.
func nearPlaces(all []measured, at solid.Flat) []measured {
	out := append([]measured(nil), all...)
	slices.SortStableFunc(out, func(a, b measured) int { return cmp.Compare(apart(a.flat, at), apart(b.flat, at)) })
	return out[:min(len(out), mostMeasured)]
}
