package shellbook

import (
	"strconv"
	"strings"

	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// Heights of a panel's map.
const (
	leastMap page.MM = 40
	mostMap  page.MM = 105
	mapStep  page.MM = 5 // how near the least height is sought
)

// flatMap is the map of a panel laid out for the width of a page.
type flatMap struct {
	lay   *drawing.Layout
	text  string            // how to hold it
	parts []*drawing.Layout // of a panel of more holes than one map can name; the map of the whole then shows where they lie
	in    map[string]int    // the part of each hole by its mark, from 1
}

// maps lays out the map of each panel that has an outline and holes, by name.
func maps(plan *body, width page.MM) map[string]flatMap {
	out := map[string]flatMap{}
	byPanel := map[string][]shell.Hole{}
	for _, h := range plan.Shell.Holes {
		byPanel[h.Panel] = append(byPanel[h.Panel], h)
	}
	for i := range plan.Shell.Panels {
		p := &plan.Shell.Panels[i]
		if _, ok := out[p.Name]; !ok && len(p.Outline) > 2 && len(byPanel[p.Name]) > 0 {
			p, list := asSeen(p, byPanel[p.Name])
			out[p.Name] = mapOf(p, list, width)
		}
	}
	return out
}

// asSeen is a panel with its holes in the coordinates of one who stands where most of them are drilled.
func asSeen(p *shell.Panel, list []shell.Hole) (*shell.Panel, []shell.Hole) {
	if !p.Against {
		return p, list
	}
	turned := *p
	turned.Against = false
	turned.Plane.Across = p.Plane.Across.Scale(-1)
	turned.Sides[0], turned.Sides[1] = p.Sides[1], p.Sides[0]
	turned.Outline, turned.KeepOuts = mirrored(p.Outline), nil
	for _, k := range p.KeepOuts {
		turned.KeepOuts = append(turned.KeepOuts, mirrored(k))
	}
	var holes []shell.Hole
	for _, h := range list {
		h.Flat.U = -h.Flat.U
		holes = append(holes, h)
	}
	return &turned, holes
}

func mirrored(o solid.Outline) (out solid.Outline) {
	for _, f := range o {
		out = append(out, solid.Flat{U: -f.U, V: f.V})
	}
	return out
}

// fitted lays a drawing out at the largest scale that the most height allows, on the least paper that does not change it.
func fitted(d *drawing.Drawing, width page.MM) *drawing.Layout {
	return shrunk(d, width, d.Lay(width, mostMap, 0))
}

// named is fitted; nil where with all the height there is a name finds no room, or more than a few only in the key.
func named(d *drawing.Drawing, width page.MM) *drawing.Layout {
	l := d.LayWithin(width, mostMap, drawing.Bounded{Rows: fewNumbered})
	if l == nil || len(l.Rest) > 0 {
		return nil
	}
	if l = shrunk(d, width, l); len(l.Rest) > 0 || l.Numbered() > fewNumbered {
		return nil
	}
	return l
}

// shrunk is a drawing that was laid out at the most height on the least paper that does not change it.
func shrunk(d *drawing.Drawing, width page.MM, best *drawing.Layout) *drawing.Layout {
	if len(d.Labels) > fewMarks { // it wants all the room there is
		return best
	}
	scale, lost := best.Scale, len(best.Rest)
	for low, high := leastMap, mostMap; high-low > mapStep; {
		mid := (low + high) / 2
		if l := d.LayWithin(width, mid, drawing.Bounded{Scale: scale}); l != nil && len(l.Rest) <= lost {
			best, high = l, mid
			continue
		}
		low = mid
	}
	return best
}

// add puts the map of a panel into the book.
func (m flatMap) add(fl *page.Flow, name string) {
	if m.lay == nil {
		return
	}
	if len(m.parts) > 0 {
		common.Intro(fl, "Map "+m.lay.Scale.String()+", "+m.text+". A cross is a hole, a dot what tapes are laid to; dashes enclose areas in which nothing may be drilled. The names are too many for one map: each frame with a letter is a part with a map of its own, held alike; the table tells the part of each hole.")
		fl.Add(kept{m.lay})
		rest(fl, m.lay)
		for i, l := range m.parts {
			fl.Heading(3, name+", "+partText(i+1)+", map "+l.Scale.String())
			fl.Figure(l.H, l.Draw)
			rest(fl, l)
		}
		return
	}
	common.Intro(fl, "Map "+m.lay.Scale.String()+", "+m.text+". A cross is a hole, a dot what tapes are laid to; dashes enclose areas in which nothing may be drilled.")
	fl.Add(kept{m.lay})
	rest(fl, m.lay)
}

// holdText says how the map of a panel is held: which way its right and its up run, and from which zone one looks where that is known.
func holdText(p *shell.Panel) string {
	s := "right is " + axisText(p.Plane.Across) + ", up is " + axisText(p.Plane.Up)
	if p.Sides[0].Known && p.Sides[0].Zone != "" {
		s += ", seen from " + p.Sides[0].Zone
	}
	return s
}

// axisText is the way a direction runs along the axes: exactly, or mostly.
func axisText(v solid.Vector) string {
	best, name := unit.Length(0), "nowhere"
	sum := unit.Length(0)
	for _, a := range []struct {
		l    unit.Length
		axis string
	}{{v.X, "x"}, {v.Y, "y"}, {v.Z, "z"}} {
		sum += abs(a.l)
		if abs(a.l) <= abs(best)+slant {
			continue
		}
		best = a.l
		if name = "greater " + a.axis; a.l < 0 {
			name = "smaller " + a.axis
		}
	}
	if sum > abs(best)+slant {
		return "mostly " + name
	}
	return name
}

// slant is the part of a direction of length 1 that counts as none.
const slant unit.Length = 1e-6

// kept is a drawing that stays with what follows it.
type kept struct{ lay *drawing.Layout }

// Parts is the drawing as one part.
func (k kept) Parts(_, _ page.MM) ([]page.Part, error) {
	return []page.Part{{Height: k.lay.H, Gap: 3, Keep: page.Firmly, Draw: k.lay.Draw}}, nil
}

// rest prints the rows of a key that found no room on the drawing.
func rest(fl *page.Flow, l *drawing.Layout) {
	if text := restText(l); text != "" {
		fl.Para(text)
	}
}

func restText(l *drawing.Layout) string {
	var out []string
	for _, e := range l.Rest {
		s := e.Text
		if e.Number > 0 {
			s = strconv.Itoa(e.Number) + ": " + s
		}
		out = append(out, s)
	}
	if len(out) == 0 {
		return ""
	}
	return "Without room on the drawing: " + strings.Join(out, "; ") + "."
}

// panelDrawing is a panel laid flat with its holes, what they are measured from, and the areas that are kept free.
func panelDrawing(p *shell.Panel, list []shell.Hole) *drawing.Drawing {
	d := &drawing.Drawing{Title: "Panel " + p.Name}
	d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Outline, Places: flatPlaces(p.Outline), Closed: true})
	for _, k := range p.KeepOuts {
		d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Keep, Places: flatPlaces(k), Closed: true})
		if at, ok := middle(k); ok {
			d.Labels = append(d.Labels, drawing.Label{At: at, Text: "keep out", Free: true, Small: true})
		}
	}
	addHoles(d, p, list, func(drawing.Place) bool { return true })
	return d
}

// addHoles draws holes, and of what they are measured from that which is seen.
func addHoles(d *drawing.Drawing, p *shell.Panel, list []shell.Hole, seen func(drawing.Place) bool) {
	told := map[string]bool{}
	here := map[string]bool{}
	for i := range list {
		here["hole "+list[i].Mark] = true
	}
	for i := range list {
		h := &list[i]
		if !h.Known {
			continue
		}
		at := drawing.Place{X: h.Flat.U, Y: h.Flat.V}
		if h.High > 0 && unit.Finite(h.High) && unit.Finite(h.Drill) {
			d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Cut, Places: upright(at, h.Drill/2, h.High/2), Closed: true})
		} else if h.Drill > 0 && unit.Finite(h.Drill) {
			d.Rings = append(d.Rings, drawing.Ring{Layer: drawing.Cut, Middle: at, Radius: h.Drill / 2})
		}
		d.Spots = append(d.Spots, drawing.Spot{Layer: drawing.Mark, At: at, Sign: drawing.Cross})
		d.Labels = append(d.Labels, drawing.Label{At: at, Text: h.Mark, Free: true})
		for _, r := range h.Refs {
			if told[r.To] {
				continue
			}
			told[r.To] = true
			f, _ := p.Plane.Flat(r.At)
			ref := drawing.Place{X: f.U, Y: f.V}
			if !seen(ref) {
				continue
			}
			d.Spots = append(d.Spots, drawing.Spot{Layer: drawing.Dim, At: ref, Sign: drawing.Dot, Size: 1.6})
			if !here[r.To] {
				d.Labels = append(d.Labels, drawing.Label{At: ref, Text: r.To, Free: true, Small: true})
			}
		}
	}
}

func flatPlaces(o solid.Outline) []drawing.Place {
	out := make([]drawing.Place, 0, len(o))
	for _, f := range o {
		out = append(out, drawing.Place{X: f.U, Y: f.V})
	}
	return out
}

func upright(at drawing.Place, w, h unit.Length) []drawing.Place {
	return []drawing.Place{{X: at.X - w, Y: at.Y - h}, {X: at.X + w, Y: at.Y - h}, {X: at.X + w, Y: at.Y + h}, {X: at.X - w, Y: at.Y + h}}
}

// middle of the corners of an outline.
func middle(o solid.Outline) (at drawing.Place, ok bool) {
	for _, f := range o {
		at.X, at.Y = at.X+f.U, at.Y+f.V
	}
	n := unit.Length(len(o))
	return drawing.Place{X: at.X / n, Y: at.Y / n}, len(o) > 0
}
