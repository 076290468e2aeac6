package shell

import (
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// misfits lists what does not suit its panel: a sheet outside what a housing or a fastener grips, a flange stated on a side that the panel
// does not have, a thing that is not on its panel, and a frozen hole that is not what sits in it asks for.
func (m *maker) misfits(s *Shell, holes []need) {
	for i := range s.Panels {
		p := &s.Panels[i]
		for j := range holes {
			if h := &holes[j]; h.Panel == p.Name {
				m.misfit(s, p, h)
			}
		}
		m.gripped(s, p, holes)
	}
	m.tooFar(s, holes)
}

// tooFar finds the stated holes that lie out of reach of a clip that is said to use them: further from the middle of its bundle than its ear,
// the bundle and clip-reach together.
func (m *maker) tooFar(s *Shell, holes []need) {
	for i := range holes {
		h := &holes[i]
		if h.stated == nil || !h.Known {
			continue
		}
		for k := range h.clips {
			c := &h.clips[k]
			if !c.Known || !place(c.At) {
				continue
			}
			reach, from := m.length("clip-reach", design.Scope{Panel: h.Panel, Run: c.run.Run, Zone: c.run.Zone, Section: c.run.Section})
			limit := reach + max(0, clean(c.Ear)) + max(0, clean(c.Bundle))
			d := solid.Between(h.At, c.At)
			if !unit.Finite(d) || d <= limit+1e-6 {
				continue
			}
			x := Misfit{Name: c.run.Run, Panel: h.Panel, Kind: "run", What: "far", Where: h.Span, Other: h.Span,
				Text: "hole " + h.stated.Name + " is " + unit.Number(float64(d), 0) + " mm from clip " + c.Mark + " that is said to use it; its ear, its bundle and clip-reach together are " + unit.Number(float64(limit), 0) + " mm (" + from + ")"}
			if p := m.panel(h.Panel); p != nil {
				x.Other = p.Span
			}
			s.Misfits = append(s.Misfits, x)
		}
	}
}

// few names some marks and counts the rest.
func few(marks []string) string {
	text := strings.Join(marks[:min(len(marks), 6)], ", ")
	if len(marks) > 6 {
		text += " and " + unit.Number(float64(len(marks)-6), 0) + " more"
	}
	return text
}

func (m *maker) misfit(s *Shell, p *Panel, h *need) {
	x := Misfit{Name: h.name, Panel: p.Name, Kind: h.kind, Where: h.Span, Other: p.Span}
	add := func(what, text string) {
		y := x
		y.What, y.Text = what, text
		s.Misfits = append(s.Misfits, y)
	}
	if b := h.brk; b != nil && h.main {
		x.Where = b.Span
		half, _ := m.seated(b)
		if part := m.housing[b.Halves[half].Housing]; part != nil && outOf(p.Thickness, part.Grips) {
			add("thickness", part.Name+" grips "+gripText(part.Grips)+", the panel is "+mm(p.Thickness))
		}
		if b.Halves[0].Contacts+b.Halves[1].Contacts != "" && b.Halves[0].Mount != "fixed" && b.Halves[1].Mount != "fixed" {
			add("mount", "neither of its halves is fixed: say `mount fixed` of the one that stays on the panel")
		}
		if b.Flange != "" && !p.has(b.Flange) {
			add("flange", "the flange is said to sit in zone "+b.Flange+"; "+sidesText(p))
		}
	}
	if x := m.overhang(p, h); x != "" {
		add("edge", x)
	}
	if most, _ := m.length("panel-flat", design.Scope{Panel: p.Name}); h.Known && p.Flat && h.Off > max(most, touching) && (h.Kind != "clip" || h.stated != nil && h.stated.Panel != "") {
		add("off", h.What+" is "+mm(h.Off)+" off the panel it is said to be on")
	}
	if h.stated != nil && m.unlike(h) {
		is := " is stated with "
		if !h.New {
			is = " is there with "
		}
		add("drill", "hole "+h.Mark+is+sizeText(h.Part, h.PartHigh)+" mm; "+h.What+" asks for "+sizeText(h.want[0], h.want[1])+" mm")
	}
}

// overhang says that a flange stands over an edge of the sheet.
func (m *maker) overhang(p *Panel, h *need) string {
	if h.brk == nil || !h.main || !h.Known || !p.Flat || !p.Outline.Holds(h.Flat) {
		return ""
	}
	half, _ := m.seated(h.brk)
	part := m.housing[h.brk.Halves[half].Housing]
	if part == nil {
		return ""
	}
	size := positive(part.Flange[0], part.Flange[1])
	a := stand{&Mount{Flat: h.Flat, Flange: size, Turn: h.Turn, Face: h.face}}
	lid, ok := a.lid()
	if !ok {
		return ""
	}
	for _, side := range m.rims(p) {
		if d := lid.toLine(side[0], side[1]); d <= 0 && (lid.corners != nil || fromLine(h.Flat, side[0], side[1]) < lid.across/2-1e-6) {
			return "its flange, " + sizeText(size[0], size[1]) + " mm, stands over the edge of the sheet"
		}
	}
	return ""
}

// gripped finds the fasteners of a panel that do not grip it, one line for each part.
func (m *maker) gripped(s *Shell, p *Panel, holes []need) {
	var names []string
	marks := map[string][]string{}
	first := map[string]*need{}
	for i := range holes {
		h := &holes[i]
		f := m.fastener[h.Fastener]
		if h.Panel != p.Name || f == nil || !outOf(p.Thickness, f.Grips) {
			continue
		}
		if first[f.Name] == nil {
			names, first[f.Name] = append(names, f.Name), h
		}
		marks[f.Name] = append(marks[f.Name], h.Mark)
	}
	slices.SortFunc(names, design.Natural)
	for _, n := range names {
		s.Misfits = append(s.Misfits, Misfit{Name: n, Panel: p.Name, Kind: "fastener", What: "thickness", Text: "it grips " + gripText(m.fastener[n].Grips) + ", the panel is " + mm(p.Thickness) + " (" + few(marks[n]) + ")",
			Where: first[n].Span, Other: p.Span})
	}
}

// outOf tells whether a sheet is thinner or thicker than a part grips, as far as both are known.
func outOf(t unit.Length, grips [2]unit.Length) bool {
	return t > 0 && (grips[0] > 0 && t < grips[0]-1e-6 || grips[1] > 0 && t > grips[1]+1e-6)
}

func gripText(g [2]unit.Length) string {
	switch {
	case !(g[0] > 0):
		return "up to " + mm(g[1])
	case !(g[1] > 0):
		return mm(g[0]) + " and more"
	}
	return unit.Number(float64(g[0]), 2) + " to " + mm(g[1])
}

func sidesText(p *Panel) string {
	a, b := p.Sides[0].Zone, p.Sides[1].Zone
	switch {
	case a == "" && b == "":
		return "the panel names no zones"
	case a == b || b == "":
		return "the panel has " + or(a, b)
	}
	return "the panel lies between " + min(a, b) + " and " + max(a, b)
}

func mm(l unit.Length) string { return unit.Number(float64(l), 2) + " mm" }
