package shell

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// stand is a mount as it stands on its panel: what of it is on each side, and the free circle it wants there.
type stand struct{ *Mount }

// Sides of a panel as indices: along its normal, against it. A mount whose flange side is not known stands on both with no more than
// its cut-out.
var faces = [2]int{1, -1}

// body is what of a mount is on a side of the panel: its flange, or its nut where the flange is not; at the least what fills its cut-out.
func (x *stand) body(face int) shape {
	cut := rect(x.Flat, x.CutOut[0], x.CutOut[1], x.Turn, x.Face)
	out := cut
	switch {
	case x.Face == 0:
	case x.Face == face && x.Flange[0] > 0:
		out = rect(x.Flat, x.Flange[0], x.Flange[1], x.Turn, x.Face)
	case x.Face != face && x.Nut > 0:
		out = circle(x.Flat, x.Nut)
	}
	if out.corners == nil && out.across < cut.across && cut.corners == nil {
		out = cut
	}
	return out
}

// want is a free space that something about a mount needs.
type want struct {
	why  string
	face int         // 0: on the side that is not known
	room unit.Length // diameter about the middle; 0: the gap about its flange or nut counts
}

// wants is a hand's room where a connector is mated, a tool's about its flange, and a spanner's about its nut, which is on the side away
// from the flange. A stud post has a spanner about it on both sides; a bush wants nothing.
func (x *stand) wants() []want {
	hand := want{why: "a hand on " + x.Name, room: x.Room}
	nut := want{why: "a spanner on the nut of " + x.Name, room: x.Room, face: -x.Face}
	switch x.Kind {
	case "connector":
		hand.face = x.Mate
		out := []want{hand, {why: "a tool at the flange of " + x.Name, room: x.Room, face: x.Face}}
		if x.Nut > 0 {
			out = append(out, nut)
		}
		return out
	case "stud post":
		a, b := nut, nut
		a.face, b.face, a.why, b.why = 1, -1, "a spanner on "+x.Name, "a spanner on "+x.Name
		return []want{a, b}
	}
	return nil
}

// crowded holds every connector and stud post against its neighbours on its panel and the panels that stand up beside it, on the side
// where each is: flanges must not meet, and about a hand and a nut there must be connector-room, or the room that the housing states.
// Where it is not known on which side something is, only what is true on either side is said.
func (m *maker) crowded(s *Shell, holes []need) {
	part := map[string][2]unit.Length{}
	for i := range holes {
		part[holes[i].Mark] = [2]unit.Length{holes[i].Part, holes[i].PartHigh}
	}
	for i := range s.Mounts {
		a := m.stand(&s.Mounts[i], part)
		if a == nil {
			continue
		}
		for j := i + 1; j < len(s.Mounts) && s.Mounts[j].Panel == a.Panel; j++ {
			b := m.stand(&s.Mounts[j], part)
			if b == nil {
				continue
			}
			if a.Face != 0 && a.Face == b.Face && a.Flange[0] > 0 && b.Flange[0] > 0 {
				if g := gap(a.body(a.Face), b.body(b.Face)); g <= 0 {
					s.Crowded = append(s.Crowded, Crowded{A: a.Name, B: b.Name, Panel: a.Panel, Why: "the flanges meet", Gap: g, Source: "flanges lie side by side", Where: a.Span, Other: b.Span})
					continue
				}
			}
			m.reach(s, a, b)
			m.reach(s, b, a)
		}
		m.covers(s, a, holes)
		m.walls(s, a)
	}
}

// lid is what a flange covers, on whichever side it sits; ok is false where that is not known.
func (x *stand) lid() (out shape, ok bool) {
	out = rect(x.Flat, x.Flange[0], x.Flange[1], x.Turn, x.Face)
	return out, out.across > 0 && (out.corners == nil || x.Face != 0 || math.Mod(float64(x.Turn), 90) == 0)
}

// covers reports holes and studs that lie under the flange of a connector or a stud post and are not its own.
func (m *maker) covers(s *Shell, a *stand, holes []need) {
	lid, ok := a.lid()
	if !ok || a.Kind == "bush" {
		return
	}
	for i := range holes {
		h := &holes[i]
		if h.Panel != a.Panel || !h.Known || h.Of == a.Name || h.Kind == "connector" || h.Kind == "stud post" {
			continue
		}
		if gap(lid, m.rim(h)) <= 0 {
			s.Crowded = append(s.Crowded, Crowded{A: a.Name, B: h.refName(), Panel: a.Panel, Why: h.refName() + " lies under the flange of " + a.Name, Source: "a flange covers its own holes only", Where: a.Span, Other: h.Span})
		}
	}
}

// stand is a mount with what fills its cut-out by the figure of its part; nil where it has no place.
func (m *maker) stand(x *Mount, part map[string][2]unit.Length) *stand {
	p := m.panel(x.Panel)
	if p == nil || len(p.Outline) == 0 || !x.Known {
		return nil
	}
	y := *x
	if y.CutOut = part[x.Hole]; x.Bore > y.CutOut[0] {
		y.CutOut = [2]unit.Length{x.Bore, 0}
	}
	return &stand{&y}
}

// reach reports the want of a that b leaves least room for.
func (m *maker) reach(s *Shell, a, b *stand) {
	room, source := m.length("connector-room", design.Scope{Panel: a.Panel, Break: a.Name})
	var worst *Crowded
	for _, w := range a.wants() {
		c := Crowded{A: a.Name, B: b.Name, Panel: a.Panel, Why: w.why, Where: a.Span, Other: b.Span}
		c.Gap = unit.Length(math.Inf(-1))
		for _, face := range faces {
			if w.face != 0 && face != w.face {
				continue
			}
			// On a side that is not known, the side where there is more room counts.
			g := gap(a.body(face), b.body(face))
			if w.room > 0 {
				g = b.body(face).from(a.Flat)
			}
			c.Gap = max(c.Gap, g)
		}
		c.Needed, c.Source = room, "from rim to rim; "+source
		if w.room > 0 {
			c.Needed, c.Source = w.room/2, "from the middle; room of "+a.Housing
		}
		if c.Gap < c.Needed-1e-6 && (worst == nil || c.Gap-c.Needed < worst.Gap-worst.Needed) {
			worst = &c
		}
	}
	if worst != nil {
		s.Crowded = append(s.Crowded, *worst)
	}
}

// walls reports other panels that stand up within the room that a mount wants, on the side where it wants it.
func (m *maker) walls(s *Shell, a *stand) {
	p := m.panel(a.Panel)
	room, source := m.length("connector-room", design.Scope{Panel: a.Panel, Break: a.Name})
	for i := range m.list {
		q := &m.list[i]
		if q.Name == p.Name || !q.Flat {
			continue
		}
		var worst *Crowded
		for _, w := range a.wants() {
			if w.face == 0 {
				continue
			}
			d, ok := standsUp(p, q, w.face, a.Flat)
			if !ok {
				continue
			}
			c := Crowded{A: a.Name, B: "panel " + q.Name, Panel: a.Panel, Why: w.why, Gap: d, Where: a.Span, Other: q.Span}
			c.Needed, c.Source = w.room/2, "from the middle; room of "+a.Housing
			if w.room <= 0 {
				body := a.body(w.face)
				c.Gap, c.Needed, c.Source = d-body.across/2, room, "from rim to sheet; "+source
				if body.corners != nil {
					continue // how far its rim is from the sheet turns on how it stands
				}
			}
			if c.Gap < c.Needed-1e-6 && (worst == nil || c.Gap-c.Needed < worst.Gap-worst.Needed) {
				worst = &c
			}
		}
		if worst != nil {
			worst.Gap = max(0, worst.Gap)
			s.Crowded = append(s.Crowded, *worst)
		}
	}
}

// standsUp is how far from a place on a panel another panel begins that stands up on one side of it; ok is false where nothing of it
// is there. It is cut off at the first panel's plane, and one that reaches less than a few millimetres out of it is a seam or a lap.
func standsUp(p, q *Panel, face int, from solid.Flat) (d unit.Length, ok bool) {
	var offs []float64
	most := 0.0
	for _, f := range q.Outline {
		_, off := p.Plane.Flat(q.Plane.Space(f))
		o := float64(off) * float64(face)
		offs, most = append(offs, o), max(most, o)
	}
	if most < 5*float64(touching) {
		return 0, false
	}
	var cut solid.Outline
	for i, f := range q.Outline {
		j := (i + 1) % len(q.Outline)
		if offs[i] >= 0 {
			cut = append(cut, f)
		}
		if offs[i]*offs[j] < 0 {
			t := unit.Length(offs[i] / (offs[i] - offs[j]))
			g := q.Outline[j]
			cut = append(cut, solid.Flat{U: f.U + t*(g.U-f.U), V: f.V + t*(g.V-f.V)})
		}
	}
	if len(cut) < 3 {
		return 0, false
	}
	foot, off := q.Plane.Flat(p.Plane.Space(from))
	if cut.Holds(foot) {
		return unit.Length(abs(off)), true
	}
	return unit.Length(math.Hypot(float64(toSides(cut, foot)), float64(off))), true
}
