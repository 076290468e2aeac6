package shell

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// templates draws at full size each connector on a panel, and each group of three or more holes of a panel that hang together within
// template-reach of one another, unless one connector makes the whole group. They are seen from the side they are drilled from; where it is
// not known which zone lies there, from a side that is named by the way one looks.
func (m *maker) templates(s *Shell, holes []need) {
	for i := range s.Panels {
		p := &s.Panels[i]
		if len(p.Outline) == 0 {
			continue
		}
		var on []int
		for j := range holes {
			if h := &holes[j]; h.Panel == p.Name && h.Known {
				on = append(on, j)
			}
		}
		for j := range s.Mounts {
			x := &s.Mounts[j]
			if x.Panel != p.Name || x.Kind != "connector" || !x.Known || !(x.CutOut[0] > 0) {
				continue
			}
			var own []int
			for _, k := range on {
				if holes[k].Of == x.Name {
					own = append(own, k)
				}
			}
			s.Templates = append(s.Templates, m.template(s, p, holes, own))
		}
		for _, g := range m.groups(holes, on, design.Scope{Panel: p.Name}) {
			s.Templates = append(s.Templates, m.template(s, p, holes, g))
		}
	}
}

// groups is the holes of a panel that hang together within template-reach.
func (m *maker) groups(holes []need, on []int, at design.Scope) (out [][]int) {
	reach, _ := m.length("template-reach", at)
	var drilled []int
	for _, i := range on {
		if holes[i].Drill > 0 || holes[i].FastenerKind == "stud" {
			drilled = append(drilled, i)
		}
	}
	done := map[int]bool{}
	for _, first := range drilled {
		if done[first] {
			continue
		}
		done[first] = true
		group := []int{first}
		for k := 0; k < len(group); k++ {
			for _, j := range drilled {
				if !done[j] && apart(holes[group[k]].Flat, holes[j].Flat) < reach {
					done[j] = true
					group = append(group, j)
				}
			}
		}
		slices.Sort(group)
		one := holes[group[0]].Of
		if len(group) >= 3 && (one == "" || slices.ContainsFunc(group, func(i int) bool { return holes[i].Of != one })) {
			out = append(out, group)
		}
	}
	return out
}

// template draws some holes of a panel with what sits in them.
func (m *maker) template(s *Shell, p *Panel, holes []need, on []int) Template {
	t := Template{Panel: p.Name, Low: solid.Flat{U: unit.Length(math.Inf(1)), V: unit.Length(math.Inf(1))}, High: solid.Flat{U: unit.Length(math.Inf(-1)), V: unit.Length(math.Inf(-1))}}
	face, zone := m.drilledFrom(p, holes, on)
	told := face != 0
	if !told {
		face, zone = 1, p.zoneAt(1)
	}
	t.Seen, t.Against, t.Look = zone, face < 0, p.look(face)
	seen := func(f solid.Flat) solid.Flat {
		if t.Against {
			f.U = -f.U
		}
		return f
	}
	// A shape drawn as seen lies mirrored with its place.
	turn := func(of int, a unit.Angle) unit.Angle {
		if of == 0 {
			of = 1
		}
		if of != face {
			return -a
		}
		return a
	}
	var names []string
	add := func(name string) {
		if !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	for _, i := range on {
		h := &holes[i]
		x := TemplateHole{Mark: h.Mark, Flat: seen(h.Flat), Drill: h.Drill, High: h.High, Turn: turn(h.face, h.Turn)}
		t.Holes = append(t.Holes, x)
		rect(x.Flat, x.Drill, x.High, x.Turn, 1).box(&t.Low, &t.High)
		if h.Of != "" {
			add(h.Of)
		} else {
			add(h.Mark)
		}
	}
	for i := range s.Mounts {
		x := &s.Mounts[i]
		if x.Panel != p.Name || !x.Known || !slices.ContainsFunc(on, func(j int) bool { return holes[j].Mark == x.Hole }) {
			continue
		}
		t.Mounts = append(t.Mounts, i)
		seat := Seat{seen(x.Flat), turn(x.Face, x.Turn)}
		t.Seats = append(t.Seats, seat)
		rect(seat.Flat, x.Flange[0], x.Flange[1], seat.Turn, 1).box(&t.Low, &t.High)
	}
	slices.SortStableFunc(t.Holes, func(a, b TemplateHole) int { return design.Natural(a.Mark, b.Mark) })
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(design.Natural(a, b), cmp.Compare(a, b)) })
	t.Name = strings.Join(names, ", ")
	switch {
	case !told && t.Seen == "":
		t.Note = "nothing tells from which side it is drilled, nor which zone lies on which: drawn as seen by one who looks " + t.Look
	case !told:
		t.Note = "nothing tells from which side it is drilled: drawn as seen from " + t.Seen
	case t.Seen == "":
		t.Note = "which zone lies on which side of the panel is not known: drawn as seen by one who looks " + t.Look
	}
	return t
}

// drilledFrom is the side from which a group of holes is drilled: that of the first connector in it, else of the first hole, that has one.
func (m *maker) drilledFrom(p *Panel, holes []need, on []int) (face int, zone string) {
	for _, i := range on {
		if h := &holes[i]; h.main && h.face != 0 {
			return h.face, p.zoneAt(h.face)
		}
	}
	for _, i := range on {
		if f := p.face(holes[i].From); f != 0 {
			return f, p.zoneAt(f)
		}
	}
	return 0, ""
}
