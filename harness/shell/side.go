package shell

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// beside is how far from a panel a run may lie to tell on which side of it its zone is.
const beside unit.Length = 500

// sides finds which of a panel's zones lies along its normal and which against it. Runs of a zone that leave a break or a bush on the
// panel tell; where none does, those that lie beside the panel, over it. Three in four must agree, and the two zones must not claim one side.
func (m *maker) sides(p *Panel, job *design.Panel) {
	seen := func(z string) bool {
		for _, s := range job.Seen {
			if s == z {
				return true
			}
		}
		return false
	}
	zone := func(i int) string {
		if i < len(job.Zones) {
			return job.Zones[i]
		}
		return ""
	}
	a, b := zone(0), zone(1)
	known := a != "" && a == b // one zone on both sides
	if !known && len(p.Outline) > 0 {
		va, vb := m.side(p, a), m.side(p, b)
		if va == 0 {
			va = -vb
		}
		if vb == 0 {
			vb = -va
		}
		known = va != 0 && va == -vb
		if known && va < 0 {
			a, b = b, a
		}
	}
	p.Sides = [2]Side{{a, a != "" && seen(a), known && a != ""}, {b, b != "" && seen(b), known && b != ""}}
}

// side is 1 where a zone lies along the panel's normal, -1 against it, 0 where nothing tells.
func (m *maker) side(p *Panel, zone string) int {
	if zone == "" {
		return 0
	}
	var leave, lie [2]int
	for i := range m.geo.Edges {
		e := &m.geo.Edges[i]
		if e.Zone != zone || e.From < 0 || e.To < 0 || e.From >= len(m.geo.Nodes) || e.To >= len(m.geo.Nodes) {
			continue
		}
		from, to := m.geo.Nodes[e.From], m.geo.Nodes[e.To]
		if !from.Known || !to.Known || !place(from.At) || !place(to.At) {
			continue
		}
		ff, df := p.Plane.Flat(from.At)
		ft, dt := p.Plane.Flat(to.At)
		vote(&leave, &lie, ff, df, dt, p.Outline)
		vote(&leave, &lie, ft, dt, df, p.Outline)
	}
	if s := agreed(leave); s != 0 || leave != [2]int{} {
		return s
	}
	return agreed(lie)
}

// vote counts an end of a piece of run: one that starts on the panel tells by its other end, one beside the panel by itself.
func vote(leave, lie *[2]int, at solid.Flat, off, other unit.Length, o solid.Outline) {
	if !o.Holds(at) {
		return
	}
	switch d := unit.Length(math.Abs(float64(off))); {
	case d <= touching && math.Abs(float64(other)) > float64(touching):
		count(leave, other)
	case d > touching && d <= beside:
		count(lie, off)
	}
}

func count(n *[2]int, off unit.Length) {
	if off > 0 {
		n[0]++
	} else {
		n[1]++
	}
}

func agreed(n [2]int) int {
	all := n[0] + n[1]
	switch {
	case all == 0:
		return 0
	case 4*n[0] >= 3*all:
		return 1
	case 4*n[1] >= 3*all:
		return -1
	}
	return 0
}

// face is the side of a panel on which a zone lies: 1 along its normal, -1 against it, 0 not known.
func (p *Panel) face(zone string) int {
	switch {
	case zone == "" || p.Sides[0].Zone == p.Sides[1].Zone:
		return 0
	case p.Sides[0].Known && p.Sides[0].Zone == zone:
		return 1
	case p.Sides[1].Known && p.Sides[1].Zone == zone:
		return -1
	}
	return 0
}

// faced finds the side of each panel from which most of its holes are drilled.
func (m *maker) faced(s *Shell, holes []need) {
	for i := range s.Panels {
		p := &s.Panels[i]
		n := 0
		for j := range holes {
			if holes[j].Panel == p.Name {
				n += p.face(holes[j].From)
			}
		}
		p.Against = n < 0
	}
}

// zoneAt is the zone on a side of the panel, if that is known.
func (p *Panel) zoneAt(face int) string {
	for i, f := range faces {
		if f == face && p.Sides[i].Known {
			return p.Sides[i].Zone
		}
	}
	return ""
}

// has tells whether a zone is one of the panel's two.
func (p *Panel) has(zone string) bool {
	return zone != "" && (p.Sides[0].Zone == zone || p.Sides[1].Zone == zone)
}

// other is the zone across the panel from one.
func (p *Panel) other(zone string) string {
	switch zone {
	case "":
		return ""
	case p.Sides[0].Zone:
		return p.Sides[1].Zone
	case p.Sides[1].Zone:
		return p.Sides[0].Zone
	}
	return ""
}
