package fix

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// ear is where the screw of a clip stands in its panel: the ear of a P-clip lies beside the bundle, flat on the panel.
type ear struct {
	hole  design.Point3 // in the panel
	other design.Point3 // where it would stand with the clip turned round
	off   unit.Length   // from the bundle's middle, along the panel
	side  string        // of the bundle, in words
}

// upright is how much of a direction of length 1 must point up for its side to be called above.
const upright = 0.2

// earAt works out the hole of a clip that holds a bundle at a place. What is glued or tied sits under the bundle's middle. On an upright panel the
// hole is above the bundle (setting clip-side), so that the bundle's weight closes the clip; where the bundle itself runs up, or the panel is level,
// it is on the side of the larger coordinate.
func (m *maker) earAt(x choice, e *space.Edge, at design.Point3, heading solid.Vector, most unit.Length) ear {
	out := ear{hole: at, other: at}
	s := m.sheet[x.panel]
	if s == nil || x.tube != "" || x.kind == "tie" || x.kind == "adhesive" {
		return out
	}
	f, _ := s.plane.Flat(at)
	foot := s.plane.Space(f)
	out.hole, out.other = foot, foot
	part := m.clip[x.clip]
	if part != nil && part.As == "tie" || most <= 0 {
		return out
	}
	n, okN := s.plane.Normal().Unit()
	t, okT := heading.Unit()
	v, ok := n.Cross(t).Unit()
	if !okN || !okT || !ok {
		return out
	}
	scope := m.edgeScope(e)
	scope.Panel = x.panel
	if m.sideOf == nil || m.sideOf.at != scope {
		m.sideOf = &side{scope, m.job.Settings.Get("clip-side", scope).Value.Name == "below"}
	}
	below := m.sideOf.below
	axes := [3]float64{float64(v.X), float64(v.Y), float64(v.Z)}
	up := map[string]int{"x": 0, "y": 1}[m.job.Up]
	if m.job.Up != "x" && m.job.Up != "y" {
		up = 2
	}
	axis := up
	if math.Abs(axes[up]) < upright {
		axis = -1
		for i := range axes {
			if i != up && (axis < 0 || math.Abs(axes[i]) > math.Abs(axes[axis])+tiny) {
				axis = i
			}
		}
	}
	if (axes[axis] < 0) != below {
		v = v.Scale(-1)
	}
	switch {
	case axis == up && below:
		out.side = "below the bundle"
	case axis == up:
		out.side = "above the bundle"
	case below:
		out.side = "beside the bundle, at smaller " + string("xyz"[axis])
	default:
		out.side = "beside the bundle, at larger " + string("xyz"[axis])
	}
	size := most
	if held := clipSize(part, most); held > 0 {
		size = held
	}
	out.off = size/2 + m.length("clip-ear", scope)
	step := v.Scale(unit.Ratio(out.off))
	out.hole, out.other = solid.Moved(foot, step), solid.Moved(foot, step.Scale(-1))
	return out
}

// findEars works out, for every place of the grid, where the hole of a clip there would be.
func (m *maker) findEars() {
	most := make([]unit.Length, len(m.chains))
	m.halves(len(m.chains), func(m *maker, k int) { most[k] = m.earsOf(m.chains[k]) })
	for _, x := range most {
		m.earMost = max(m.earMost, x)
	}
}

// earsOf does so for a chain, and tells how far off a hole is at most.
func (m *maker) earsOf(c *chain) (far unit.Length) {
	last, lastPart, lastPanel := choice{}, -1, ""
	for p := range c.spots {
		if !c.spots[p].known {
			continue
		}
		at := c.real(p)
		k := c.partAt(at)
		edge := c.parts[k].edge
		e := &m.geo.Edges[edge]
		_, most := m.bundles.Edges[edge].Over()
		run, stretch, station := m.station(c, k, at)
		if p == 0 || p == len(c.spots)-1 || math.Abs(float64(at-c.parts[k].at)) < 1 || math.Abs(float64(at-c.parts[k].at-e.Length)) < 1 {
			_, most = m.bandAt(run, stretch, station) // where two parts meet the thicker one counts
		}
		if panel := m.under(e, c.spots[p].at); k != lastPart || panel != lastPanel || most != c.most {
			last, lastPart, lastPanel, c.most = m.choose(e, nil, nil, most, c.spots[p].at), k, panel, most
		}
		v, _ := m.geo.Direction(run, stretch, station)
		x := m.earAt(last, e, c.spots[p].at, v, most)
		c.spots[p].hole, c.spots[p].other = x.hole, x.other
		far = max(far, space.Between(x.hole, c.spots[p].at))
	}
	return far
}

// side is which side of a bundle holes are on, by what rules at a place.
type side struct {
	at    design.Scope
	below bool
}
