// Package template draws drill templates at full size: what is cut, where its middle is, what will lie over it, and which way up. It
// draws what the shell holds and decides nothing.
package template

import (
	"math"
	"slices"
	"strings"

	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// Template is a drill template.
type Template struct {
	Mark    string // of what is on it, "A" or "A, B, NS", different for each template of a shell
	Title   string
	Drawing *drawing.Drawing // x to the right and y up in the panel's own coordinates, as seen from the side that is drilled
}

// Make draws the templates of a shell, in its order. The layer for cutting holds the holes and cut-outs alone: a circle for a round one, a
// closed rectangle for one with two lengths.
func Make(s *shell.Shell) []Template {
	if s == nil {
		return nil
	}
	var out []Template
	taken := map[string]int{}
	for i := range s.Templates {
		t := &s.Templates[i]
		mark := t.Name
		if taken[mark] > 0 {
			mark += " on " + t.Panel
		}
		for base := mark; taken[mark] > 0; {
			taken[base]++
			mark = base + " " + unit.Number(float64(taken[base]), 0)
		}
		taken[mark]++
		title := "Template " + mark
		if t.Panel != "" {
			title += ", panel " + t.Panel
		}
		d := &sheet{t: t, d: &drawing.Drawing{Title: title, Proof: true}}
		d.draw(s)
		out = append(out, Template{mark, title, d.d})
	}
	return out
}

// Stamped is the template with more lines of words above it: for a file that goes about by itself, what its job, revision and source are and
// whether it may be built from.
func (t Template) Stamped(lines ...string) Template {
	d := *t.Drawing
	low, high, _ := d.Bounds()
	d.Labels = append(slices.Clone(d.Labels), above(low, high, page.Body.Leading(), lines)...)
	t.Drawing = &d
	return t
}

// above sets lines, wrapped, over everything.
func above(low, high drawing.Place, gap unit.Length, lines []string) (out []drawing.Label) {
	var set []string
	for _, l := range lines {
		set = append(set, page.Body.Wrap(l, max(85, high.X-low.X))...)
	}
	for i, l := range set {
		out = append(out, drawing.Label{At: drawing.Place{X: low.X, Y: high.Y + gap + page.Body.Height(len(set)-1-i)}, Text: l})
	}
	return out
}

// sheet is a template being drawn.
type sheet struct {
	t *shell.Template
	d *drawing.Drawing
}

// How far centre marks and arrows stand out, on paper and so in the thing.
const (
	past   unit.Length = 3
	arrow  unit.Length = 14
	head   unit.Length = 2.5
	leastX unit.Length = 4 // half of a centre mark of a small hole
)

func (s *sheet) draw(all *shell.Shell) {
	for i := range s.t.Holes {
		s.hole(&s.t.Holes[i])
	}
	for i, n := range s.t.Mounts {
		if n >= 0 && n < len(all.Mounts) && i < len(s.t.Seats) {
			s.mount(&all.Mounts[n], s.t.Seats[i])
		}
	}
	low, high, ok := s.d.Bounds()
	if !ok {
		return
	}
	low, high = s.upArrow(all, low, high)
	s.words(low, high)
}

// hole draws what is cut, its middle, its mark and its size.
func (s *sheet) hole(h *shell.TemplateHole) {
	mid := place(h.Flat)
	armX, armY := h.Drill/2, h.Drill/2
	said := h.Mark
	switch {
	case !(h.Drill > 0):
		said += ": no drill"
	case h.High > 0:
		armY = h.High / 2
		s.stroke(drawing.Cut, true, box(mid, h.Drill, h.High, h.Turn)...)
		said += ": " + size(h.Drill) + " x " + size(h.High) + " mm"
	default:
		s.d.Rings = append(s.d.Rings, drawing.Ring{Layer: drawing.Cut, Middle: mid, Radius: h.Drill / 2})
		said += ": " + size(h.Drill) + " mm"
	}
	x, y := max(leastX, armX+past), max(leastX, armY+past)
	s.stroke(drawing.Mark, false, turn(mid, -x, 0, h.Turn), turn(mid, x, 0, h.Turn))
	s.stroke(drawing.Mark, false, turn(mid, 0, -y, h.Turn), turn(mid, 0, y, h.Turn))
	s.d.Labels = append(s.d.Labels, drawing.Label{At: mid, Text: said, Free: true})
}

// mount draws the outline of a flange and, of a connector, where its key points.
func (s *sheet) mount(m *shell.Mount, seat shell.Seat) {
	mid := place(seat.Flat)
	w, h := m.Flange[0], m.Flange[1]
	switch {
	case !(w > 0):
	case !(h > 0):
		s.d.Rings = append(s.d.Rings, drawing.Ring{Layer: drawing.Outline, Middle: mid, Radius: w / 2})
	default:
		s.stroke(drawing.Outline, true, box(mid, w, h, seat.Turn)...)
	}
	if m.Kind != "connector" {
		return
	}
	// The arrow starts outside of all that the connector has about its middle.
	cut := m.CutOut[1]
	if !(cut > 0) {
		cut = m.CutOut[0]
	}
	from := max(w, cut)/2 + past
	if w > 0 && h > 0 {
		from = max(h, cut)/2 + past
	}
	tip := turn(mid, 0, from+arrow, seat.Turn)
	s.stroke(drawing.Dim, false, turn(mid, 0, from, seat.Turn), tip)
	s.stroke(drawing.Dim, false, turn(mid, -head/2, from+arrow-head, seat.Turn), tip, turn(mid, head/2, from+arrow-head, seat.Turn))
	said := "key of " + m.Name
	if m.Key != "" {
		said = "key " + m.Key + " of " + m.Name
	}
	if m.Face == 0 {
		said += ", if its flange is on this side"
	}
	s.d.Labels = append(s.d.Labels, drawing.Label{At: turn(mid, 0, from+arrow/2, seat.Turn), Text: said, Free: true})
}

// upArrow draws, left of everything, which way the panel's own up is.
func (s *sheet) upArrow(all *shell.Shell, low, high drawing.Place) (drawing.Place, drawing.Place) {
	x, y := low.X-8, (low.Y+high.Y)/2-arrow/2
	tip := drawing.Place{X: x, Y: y + arrow}
	s.stroke(drawing.Dim, false, drawing.Place{X: x, Y: y}, tip)
	s.stroke(drawing.Dim, false, drawing.Place{X: x - head/2, Y: tip.Y - head}, tip, drawing.Place{X: x + head/2, Y: tip.Y - head})
	said := "up on the panel"
	for i := range all.Panels {
		if p := &all.Panels[i]; p.Name == s.t.Panel {
			said += ": " + towards(p.Plane.Up)
		}
	}
	s.d.Labels = append(s.d.Labels, drawing.Label{At: drawing.Place{X: x, Y: y + arrow/2}, Text: said, Free: true})
	return drawing.Place{X: x - head, Y: min(low.Y, y)}, drawing.Place{X: high.X, Y: max(high.Y, tip.Y)}
}

// towards is the job's axis along which a direction runs; of a slanting one that along which it runs most.
func towards(v solid.Vector) string {
	along := []struct {
		name string
		v    float64
	}{{"x", float64(v.X)}, {"y", float64(v.Y)}, {"z", float64(v.Z)}}
	best, sum := 0, 0.0
	for i, a := range along {
		if math.Abs(a.v) > math.Abs(along[best].v)+1e-9 {
			best = i
		}
		sum += math.Abs(a.v)
	}
	said := "towards greater "
	if along[best].v < 0 {
		said = "towards smaller "
	}
	if sum > math.Abs(along[best].v)+1e-6 {
		said = "mostly " + said
	}
	return said + along[best].name
}

// words sets above everything what the sheet is and from which side it is seen.
func (s *sheet) words(low, high drawing.Place) {
	lines := []string{s.d.Title, s.seen()}
	if s.t.Note != "" {
		lines = append(lines, s.t.Note)
	}
	s.d.Labels = append(s.d.Labels, above(low, high, 9, lines)...)
}

// seen says from which side the sheet is seen.
func (s *sheet) seen() string {
	said := "Full size. Seen"
	if s.t.Seen != "" {
		said += " from zone " + s.t.Seen
	}
	if s.t.Look != "" {
		said += ", looking " + s.t.Look
	}
	return strings.Replace(said, "Seen,", "Seen", 1) + ". Lay it on that side."
}

func (s *sheet) stroke(l drawing.Layer, closed bool, ps ...drawing.Place) {
	s.d.Strokes = append(s.d.Strokes, drawing.Stroke{Layer: l, Places: ps, Closed: closed})
}

func place(f solid.Flat) drawing.Place { return drawing.Place{X: f.U, Y: f.V} }

// turn is the place across and up from a middle, about which it is turned clockwise.
func turn(mid drawing.Place, across, up unit.Length, a unit.Angle) drawing.Place {
	s, c := math.Sincos(float64(a) * math.Pi / 180)
	switch math.Mod(math.Mod(float64(a), 360)+360, 360) {
	case 0:
		s, c = 0, 1
	case 90:
		s, c = 1, 0
	case 180:
		s, c = 0, -1
	case 270:
		s, c = -1, 0
	}
	x, y := float64(across), float64(up)
	return drawing.Place{X: mid.X + unit.Length(float64(x*c)+float64(y*s)), Y: mid.Y + unit.Length(float64(y*c)-float64(x*s))}
}

// box is the corners of a turned rectangle.
func box(mid drawing.Place, w, h unit.Length, a unit.Angle) []drawing.Place {
	return []drawing.Place{turn(mid, -w/2, -h/2, a), turn(mid, w/2, -h/2, a), turn(mid, w/2, h/2, a), turn(mid, -w/2, h/2, a)}
}

func size(l unit.Length) string { return unit.Number(float64(l), 2) }
