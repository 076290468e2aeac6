package fix

import (
	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// findShut finds where no new hole may be along every chain, and where a clip needs none.
func (m *maker) findShut() {
	m.halves(len(m.chains), func(m *maker, k int) { m.shutOn(m.chains[k]) })
}

func (m *maker) shutOn(c *chain) {
	for k, p := range c.parts {
		e := &m.geo.Edges[p.edge]
		from, to, ok := c.within(p.at, p.at+e.Length)
		if !ok || c.grid < 0 {
			continue
		}
		if c.partAt(c.real(from)) != k {
			from++ // the place where two parts meet belongs to the earlier one
		}
		last := choice{panel: "\x00"}
		over := m.ground(e)
		var shut shutting
		spots := c.spots()
		for i := from; i <= to; i++ {
			if panel := over.under(spots[i].at); panel != last.panel {
				last = m.choose(e, nil, nil, 0, spots[i].at)
				drill := wide(m.fastener[last.fastener])
				if last.kind != "tie" && last.kind != "adhesive" {
					c.apart = max(c.apart, m.times("hole-apart", last.panel, drill))
				}
				shut = shutting{m: m, panel: last.panel, sheet: m.sheet[last.panel], drill: drill}
			}
			bare := last.kind == "tie" || last.kind == "adhesive"
			why := ""
			if spots[i].known && last.tube == "" {
				at := spots[i].at
				if !bare {
					at, _ = c.holes(i)
				}
				why = shut.at(at, bare)
			}
			if bare && why == "" {
				c.bare = grow(c.bare, i, "")
			}
			if why != "" {
				c.shut = grow(c.shut, i, why)
			}
		}
	}
}

// under is the panel of a run at a place: its own, or the one that goes on from it in the same plane.
func (m *maker) under(e *space.Edge, at design.Point3) string {
	g := m.ground(e)
	return g.under(at)
}

// ground is what a run is clipped to.
type ground struct {
	panel string
	sheet *sheet // nil: it has no plane
	on    string // the panel under the place last asked for
	like  round
}

func (m *maker) ground(e *space.Edge) ground {
	r := m.run[e.Run]
	if r == nil {
		return ground{}
	}
	return ground{panel: r.Panel, sheet: m.sheet[r.Panel]}
}

func (g *ground) under(at design.Point3) string {
	if g.sheet == nil {
		return g.panel
	}
	if !g.like.holds(at) {
		g.on = g.panel
		on, _ := g.sheet.over(at)
		if on != nil {
			g.on = on.panel.Name
		}
		g.like = g.sheet.like(at, on)
	}
	return g.on
}

// grow adds a place to a list of stretches.
func grow(list []stretchOf, p int, why string) []stretchOf {
	if n := len(list) - 1; n >= 0 && list[n].to == p-1 && list[n].why == why {
		list[n].to = p
		return list
	}
	return append(list, stretchOf{p, p, why})
}

// shutAt is why no new hole of that size may be in a panel at a place; empty: nothing forbids it. For what is glued only the panel's outline counts.
func (m *maker) shutAt(panel string, at design.Point3, drill unit.Length, glued bool) string {
	s := shutting{m: m, panel: panel, sheet: m.sheet[panel], drill: drill}
	return s.at(at, glued)
}

// shutting is what forbids holes of one size in a panel.
type shutting struct {
	m     *maker
	panel string
	sheet *sheet
	drill unit.Length
	edge  unit.Length // hole-edge of the panel that lies under the place last asked for
	of    *sheet
	free  round // where nothing forbids a hole
}

func (s *shutting) at(at design.Point3, glued bool) string {
	if s.sheet == nil {
		if glued {
			return ""
		}
		return s.m.tooNear(s.m.loose, s.panel, s.drill, func(x *thing) unit.Length { return space.Between(x.at, at) })
	}
	if !glued && s.free.holds(at) {
		return ""
	}
	on, f := s.sheet.over(at)
	if on == nil {
		return "beyond panel " + s.panel
	}
	if glued {
		return ""
	}
	for _, k := range on.keepOuts {
		if d, _, _ := k.Edge(f); d < s.drill/2-tiny || k.Holds(f) {
			return "keep-out of panel " + on.panel.Name
		}
	}
	if s.of != on {
		s.of, s.edge = on, s.m.times("hole-edge", on.panel.Name, s.drill)
	}
	if on.edgeNear(f, s.edge) {
		return "edge of panel " + on.panel.Name
	}
	why := on.near.tooNear(f, s.drill)
	if why == "" {
		s.free = s.roomAt(at, on, f)
	}
	return why
}

// tooNear is the first thing that a hole would stand too near to.
func (m *maker) tooNear(list []thing, panel string, drill unit.Length, away func(*thing) unit.Length) string {
	for i := range list {
		x := &list[i]
		needed := m.times("hole-apart", panel, max(drill, x.drill))
		if x.cover > 0 {
			needed = drill/2 + x.cover + m.length("cut-out-gap", design.Scope{Panel: panel})
		}
		if x.lid > 0 {
			needed = max(needed, drill/2+x.lid)
		}
		if away(x) < needed-tiny {
			return "too near " + x.name
		}
	}
	return ""
}

// times is a length as often as a setting says.
func (m *maker) times(setting, panel string, l unit.Length) unit.Length {
	// A plain number is read as a length of so many millimetres.
	return unit.Length(float64(m.length(setting, design.Scope{Panel: panel})) * float64(l))
}

// listHoles numbers the holes of the job.
func (m *maker) listHoles() {
	m.holeID = map[*design.Hole]int{}
	for i, h := range m.job.Holes {
		if _, have := m.holeID[h]; !have {
			m.holeID[h] = i
		}
	}
}

func (m *maker) seatID(c *chain, s seat) int {
	if i, ok := m.holeID[s.hole]; ok {
		return i
	}
	return -1
}
