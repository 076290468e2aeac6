package shell

import (
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// isPost tells whether a break is a stud post: neither half has contacts.
func isPost(b *design.Break) bool { return b.Halves[0].Contacts == "" && b.Halves[1].Contacts == "" }

// seated is the half whose housing sits in the panel: the fixed one; where both or none is, the one with the larger cut-out, of equals the
// first. stays is false where no half, or both, are fixed.
func (m *maker) seated(b *design.Break) (half int, stays bool) {
	a, z := b.Halves[0].Mount == "fixed", b.Halves[1].Mount == "fixed"
	if a != z {
		if z {
			return 1, true
		}
		return 0, true
	}
	cut := func(i int) unit.Length {
		if h := m.housing[b.Halves[i].Housing]; h != nil {
			return h.CutOut
		}
		return 0
	}
	if cut(1) > cut(0) {
		return 1, false
	}
	return 0, false
}

// zoneOf is the zone in which a half of a break lies: that of the runs of its section that leave the break, if it is one of the panel's.
func (m *maker) zoneOf(b *design.Break, half int) string {
	p := m.panel(b.Panel)
	if p == nil {
		return ""
	}
	own := func(half int) string {
		node := m.geo.Find(or(b.Node, b.Name))
		found := ""
		for _, e := range m.geo.Around(node) {
			ed := &m.geo.Edges[e]
			if ed.Section != b.Halves[half].Section || !p.has(ed.Zone) {
				continue
			}
			if found != "" && found != ed.Zone {
				return "" // it leaves on both sides
			}
			found = ed.Zone
		}
		return found
	}
	if z := own(half); z != "" {
		return z
	}
	return p.other(own(1 - half))
}

// flangeSide is the zone on whose side of its panel a break's flange sits, and why.
func (m *maker) flangeSide(b *design.Break) (zone, why string) {
	if b.Flange != "" {
		return b.Flange, "stated"
	}
	if half, stays := m.seated(b); stays {
		if zone = m.zoneOf(b, half); zone != "" {
			return zone, "the half of section " + b.Halves[half].Section + " is fixed"
		}
	}
	return "", ""
}

// faceOf is the side of its panel on which a half of a break lies: where the runs of its section lead that leave the break, else the side of
// its zone. 0 where nothing tells.
func (m *maker) faceOf(b *design.Break, half int) int {
	p := m.panel(b.Panel)
	if p == nil || len(p.Outline) == 0 {
		return 0
	}
	node := m.geo.Find(or(b.Node, b.Name))
	var n [2]int
	for _, e := range m.geo.Around(node) {
		ed := &m.geo.Edges[e]
		if to := ed.Other(node); ed.Section == b.Halves[half].Section && b.Halves[half].Section != b.Halves[1-half].Section && to >= 0 && m.geo.Nodes[to].Known && place(m.geo.Nodes[to].At) {
			if _, off := p.Plane.Flat(m.geo.Nodes[to].At); abs(off) > float64(touching) {
				count(&n, off)
			}
		}
	}
	switch {
	case n[0] > 0 && n[1] == 0:
		return 1
	case n[1] > 0 && n[0] == 0:
		return -1
	}
	return p.face(m.zoneOf(b, half))
}

// flangeFace is the side of its panel on which a break's flange sits: that of the stated zone, else of the half that is fixed.
func (m *maker) flangeFace(b *design.Break) int {
	p := m.panel(b.Panel)
	half, stays := m.seated(b)
	switch {
	case p == nil:
		return 0
	case b.Flange != "":
		return p.face(b.Flange)
	case !stays:
		return 0
	}
	if f := m.faceOf(b, half); f != 0 {
		return f
	}
	return -m.faceOf(b, 1-half)
}

// breakNeeds is the cut-out of a break on a panel and the holes for its screws.
func (m *maker) breakNeeds(b *design.Break) []need {
	h := need{Hole: Hole{Mark: b.Name, What: "break " + b.Name, Kind: "connector", Panel: b.Panel, Of: b.Name, At: b.At, Known: b.Known, Status: b.Status(), Revision: b.Frozen, Turn: clean(b.Turn), Span: b.Span},
		brk: b, main: true, kind: "break", name: b.Name}
	if isPost(b) {
		h.What, h.Kind = "stud post "+b.Name, "stud post"
	}
	zone, _ := m.flangeSide(b)
	h.From = zone
	half, _ := m.seated(b)
	part := m.housing[b.Halves[half].Housing]
	if part != nil {
		h.Drill, h.High = part.CutOut, part.CutHigh
	}
	if !(h.Drill > 0) {
		h.Drill, h.High, h.Note = 0, 0, "cut-out of the housing not known"
	}
	p := m.panel(b.Panel)
	face := m.flangeFace(b)
	h.face = face
	out := []need{h}
	if part == nil || p == nil || len(p.Outline) == 0 || !b.Known || !place(b.At) {
		return out
	}
	mid, _ := p.Plane.Flat(b.At)
	for i, f := range part.Fixings {
		d := seenAt(clean(f.At[0]), clean(f.At[1]), h.Turn, face)
		name := or(f.Name, strconv.Itoa(i+1))
		s := need{Hole: Hole{Mark: b.Name + "-screw-" + name, What: "screw " + name + " of break " + b.Name, Kind: "connector screw", Panel: b.Panel, Of: b.Name, Known: true,
			At: p.Plane.Space(solid.Flat{U: mid.U + d.U, V: mid.V + d.V}), Drill: f.Drill, From: zone, Status: b.Status(), Revision: b.Frozen, Span: b.Span}, brk: b, face: face, kind: "break", name: b.Name}
		if face == 0 && !mirrored(part.Fixings, h.Turn) {
			s.Note = "the side of its flange is not known: placed as seen from where one looks " + p.look(1)
		}
		out = append(out, s)
	}
	return out
}

// mirrored tells whether a pattern of screws lies on the panel alike from whichever side its flange is put on.
func mirrored(holes []design.HousingHole, turn unit.Angle) bool {
	for _, a := range holes {
		f := seenAt(a.At[0], a.At[1], turn, -1)
		if !slices.ContainsFunc(holes, func(b design.HousingHole) bool {
			return b.Drill == a.Drill && apart(f, seenAt(b.At[0], b.At[1], turn, 1)) < 0.05
		}) {
			return false
		}
	}
	return true
}

// look is which way one looks who sees the panel from a face.
func (p *Panel) look(face int) string {
	n := p.Plane.Across.Cross(p.Plane.Up)
	if face >= 0 {
		n = n.Scale(-1)
	}
	return "towards " + axisName(n)
}
