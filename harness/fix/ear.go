package fix

import (
	"math"
	"sort"

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
	return m.earing(x, e, most).at(at, heading)
}

// earing is all that the holes of one kind of clip on an edge have in common.
type earing struct {
	sheet  *sheet       // nil: the hole is under the bundle's middle
	apart  bool         // the ear lies beside the bundle
	normal solid.Vector // of the sheet
	known  bool         // the normal
	below  bool
	up     int // axis
	off    unit.Length

	heading solid.Vector // last asked for
	asked   bool
	beside  solid.Vector // what it makes: the way to the hole, and the side
	ok      bool
	side    string
}

func (m *maker) earing(x choice, e *space.Edge, most unit.Length) *earing {
	s := m.sheet[x.panel]
	if s == nil || x.tube != "" || x.kind == "tie" || x.kind == "adhesive" {
		return &earing{}
	}
	part := m.clip[x.clip]
	if part != nil && part.As == "tie" || most <= 0 {
		return &earing{sheet: s}
	}
	g := &earing{sheet: s, apart: true}
	g.normal, g.known = s.plane.Normal().Unit()
	scope := m.edgeScope(e)
	scope.Panel = x.panel
	if m.sideOf == nil || m.sideOf.at != scope {
		m.sideOf = &side{scope, m.job.Settings.Get("clip-side", scope).Value.Name == "below"}
	}
	g.below = m.sideOf.below
	switch m.job.Up {
	case "x":
	case "y":
		g.up = 1
	default:
		g.up = 2
	}
	size := most
	if held := clipSize(part, most); held > 0 {
		size = held
	}
	g.off = size/2 + m.length("clip-ear", scope)
	return g
}

// at is the hole of a clip at a place.
func (g *earing) at(at design.Point3, heading solid.Vector) ear {
	out := ear{hole: at, other: at}
	if g.sheet == nil {
		return out
	}
	f, _ := g.sheet.plane.Flat(at)
	foot := g.sheet.plane.Space(f)
	out.hole, out.other = foot, foot
	if !g.apart {
		return out
	}
	if !g.asked || g.heading != heading {
		g.heading, g.asked = heading, true
		g.beside, g.side, g.ok = g.turned(heading)
	}
	if !g.ok {
		return out
	}
	out.side, out.off = g.side, g.off
	out.hole, out.other = solid.Moved(foot, g.beside), solid.Moved(foot, g.beside.Scale(-1))
	return out
}

// turned is the way from a bundle of that heading to the hole, and its side in words; ok is false where the bundle runs straight at the panel.
func (g *earing) turned(heading solid.Vector) (beside solid.Vector, side string, ok bool) {
	t, okT := heading.Unit()
	v, ok := g.normal.Cross(t).Unit()
	if !g.known || !okT || !ok {
		return beside, "", false
	}
	axes := [3]float64{float64(v.X), float64(v.Y), float64(v.Z)}
	axis := g.up
	if math.Abs(axes[g.up]) < upright {
		axis = -1
		for i := range axes {
			if i != g.up && (axis < 0 || math.Abs(axes[i]) > math.Abs(axes[axis])+tiny) {
				axis = i
			}
		}
	}
	if (axes[axis] < 0) != g.below {
		v = v.Scale(-1)
	}
	switch {
	case axis == g.up && g.below:
		side = "below the bundle"
	case axis == g.up:
		side = "above the bundle"
	case g.below:
		side = "beside the bundle, at smaller " + string("xyz"[axis])
	default:
		side = "beside the bundle, at larger " + string("xyz"[axis])
	}
	return v.Scale(unit.Ratio(g.off)), side, true
}

// earsFrom is where the ears of clips are from a place of a chain on: a place for itself would take as much room as all else of the plan.
type earsFrom struct {
	place  int
	sheet  *sheet       // nil: under the bundle's middle
	beside solid.Vector // the way to the hole
	apart  bool
}

// holes is the hole of a clip at a place, and where it would be with its ear turned to the other side.
func (c *chain) holes(p int) (hole, other design.Point3) { return c.earsAt(p, c.spots()[p].at) }

// earsAt is that of a clip off the grid, whose nearest place is p.
func (c *chain) earsAt(p int, at design.Point3) (hole, other design.Point3) {
	k := sort.Search(len(c.ears), func(k int) bool { return c.ears[k].place > p }) - 1
	if k < 0 || c.ears[k].sheet == nil {
		return at, at
	}
	x := &c.ears[k]
	f, _ := x.sheet.plane.Flat(at)
	foot := x.sheet.plane.Space(f)
	if !x.apart {
		return foot, foot
	}
	return solid.Moved(foot, x.beside), solid.Moved(foot, x.beside.Scale(-1))
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
	spots := c.spots()
	var last *earing
	var over ground
	lastPart, lastPanel := -1, ""
	towards := 0
	for p := range spots {
		if !spots[p].known {
			continue
		}
		at := c.real(p)
		k := c.partAt(at)
		edge := c.parts[k].edge
		e := &m.geo.Edges[edge]
		_, most := m.bundles.Edges[edge].Over()
		run, stretch, station := c.station(k, at)
		if p == 0 || p == len(spots)-1 || math.Abs(float64(at-c.parts[k].at)) < 1 || math.Abs(float64(at-c.parts[k].at-e.Length)) < 1 {
			_, most = m.bandAt(run, stretch, station) // where two parts meet the thicker one counts
		}
		if k != lastPart {
			over = m.ground(e)
		}
		if panel := over.under(spots[p].at); k != lastPart || panel != lastPanel || most != c.most {
			last, lastPart, lastPanel, c.most = m.earing(m.choose(e, nil, nil, most, spots[p].at), e, most), k, panel, most
		}
		for towards+1 < len(c.headings) && c.headings[towards+1].from <= p {
			towards++
		}
		x := last.at(spots[p].at, c.headings[towards].is)
		now := earsFrom{p, last.sheet, last.beside, last.apart && last.ok}
		if n := len(c.ears); n == 0 || c.ears[n-1].sheet != now.sheet || c.ears[n-1].apart != now.apart || now.apart && c.ears[n-1].beside != now.beside {
			c.ears = append(c.ears, now)
		}
		far = max(far, space.Between(x.hole, spots[p].at))
	}
	c.headings, c.far = nil, far
	return far
}

// side is which side of a bundle holes are on, by what rules at a place.
type side struct {
	at    design.Scope
	below bool
}
