// Package board draws sections as they lie on the forming board: one page to scale, sheets at full size that join, and a file for a plotter. It
// draws what harness/board holds and decides nothing.
package board

import (
	"math"
	"slices"
	"strconv"

	"loomsheet/harness/bench"
	"loomsheet/harness/board"
	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// Title of a lay: "tub" or "tub, board 2 of 3".
func Title(b *board.Board) string {
	if b.Of < 2 {
		return b.Section
	}
	return b.Section + ", board " + strconv.Itoa(b.Number) + " of " + strconv.Itoa(b.Of)
}

// Full is a board at full size: every bundle on its true line, one stroke of the layer for bundles for each from node to node; pegs with their
// numbers, lengths, splices, sleeves, connectors with their faces from the wire side. x and y run from the board's lower left corner.
func Full(b *board.Board, sec *bench.SectionPlan) *drawing.Drawing {
	s := &sheet{b: b, sec: sec, d: &drawing.Drawing{Title: "Board of " + Title(b), Proof: true}}
	s.draw()
	return s.d
}

// sheet is a board being drawn.
type sheet struct {
	b   *board.Board
	sec *bench.SectionPlan
	d   *drawing.Drawing
}

func (s *sheet) draw() {
	s.outline()
	for i := range s.b.Pieces {
		for k := range s.b.Pieces[i].Limbs {
			s.limb(&s.b.Pieces[i].Limbs[k])
		}
	}
	for i := range s.b.Ends {
		s.end(&s.b.Ends[i])
	}
	for i := range s.b.Pegs {
		s.peg(&s.b.Pegs[i])
	}
	s.marks()
}

// outline is the edge of the board.
func (s *sheet) outline() {
	w, h := s.b.Width, s.b.Height
	s.stroke(drawing.Outline, true, board.At{}, board.At{X: w}, board.At{X: w, Y: h}, board.At{Y: h})
}

// limb draws its bundles, and the length of each from node to node.
func (s *sheet) limb(l *board.Limb) {
	for i := range l.Spans {
		sp := &l.Spans[i]
		if len(sp.Line) > 1 {
			s.stroke(drawing.Run, false, sp.Line...)
		}
		if sp.Length < 0.5 {
			continue
		}
		at := along(sp.Line, sp.Drawn/2)
		text := mm(sp.Length) + " mm"
		if slices.ContainsFunc(l.Breaks, func(b board.Break) bool { return b.Span == i }) {
			text += " in all"
		}
		s.label(at, text, true)
	}
	for _, b := range l.Breaks {
		s.broken(b.At, l)
	}
}

// broken is the sign of a bundle that is drawn shorter than it is: two strokes across it.
func (s *sheet) broken(at board.At, l *board.Limb) {
	dx, dy := direction(l.Line, at)
	const size unit.Length = 6
	for _, k := range []unit.Length{-1, 1} {
		off := k * size / 4
		s.stroke(drawing.Dim, false, shift(at, dx, dy, off-size/4, -size), shift(at, dx, dy, off+size/4, size))
	}
}

func (s *sheet) peg(p *board.Peg) {
	sign := drawing.Circle
	switch p.Kind {
	case "along", "bend":
		sign = drawing.Dot
	}
	s.d.Spots = append(s.d.Spots, drawing.Spot{Layer: drawing.Mark, At: place(p.At), Sign: sign})
	s.label(p.At, "p"+strconv.Itoa(p.Number), false)
}

// end draws a connector: the room it takes, its tails, its name, and at full size its face.
func (s *sheet) end(e *board.End) {
	if e.Node != e.At {
		s.stroke(drawing.Keep, false, e.Node, e.At)
	}
	if e.Connector < 0 || e.Crowded {
		s.label(e.At, e.Title, false)
		return
	}
	c, q := math.Cos(float64(e.Facing)*math.Pi/180), math.Sin(float64(e.Facing)*math.Pi/180)
	out := func(x, y unit.Length) board.At { return shift(e.At, -c, -q, x, y) }
	w, h := s.b.Holder[0], s.b.Holder[1]
	s.stroke(drawing.Dim, true, out(0, -h/2), out(w, -h/2), out(w, h/2), out(0, h/2))
	mid := out(w/2, 0)
	if !s.face(e, mid, min(w, h)) {
		s.label(mid, e.Title, false)
		return
	}
	s.label(out(w, 0), e.Title+", WIRE SIDE", false)
}

// leastLetter is the least pitch of cavities that are numbered, on paper.
const leastLetter unit.Length = 4.2

// face draws the cavities of a connector from the wire side, upright, within a square; false where its part states no places.
func (s *sheet) face(e *board.End, mid board.At, room unit.Length) bool {
	if s.sec == nil || e.Connector >= len(s.sec.Connectors) {
		return false
	}
	f := &s.sec.Connectors[e.Connector].Wire
	if len(f.Cavities) == 0 || !(f.Outline.W > 0) || !(f.Outline.H > 0) {
		return false
	}
	scale := min(1, float64(room-2)/float64(max(f.Outline.W, f.Outline.H)))
	at := func(x, y unit.Length) board.At {
		return board.At{X: mid.X + unit.Length(float64(x-f.Outline.X)*scale), Y: mid.Y + unit.Length(float64(y-f.Outline.Y)*scale)}
	}
	w, h := f.Outline.W/2, f.Outline.H/2
	if f.Outline.Round {
		s.d.Rings = append(s.d.Rings, drawing.Ring{Layer: drawing.Dim, Middle: place(mid), Radius: unit.Length(float64(w) * scale)})
	} else {
		o := f.Outline
		s.stroke(drawing.Dim, true, at(o.X-w, o.Y-h), at(o.X+w, o.Y-h), at(o.X+w, o.Y+h), at(o.X-w, o.Y+h))
	}
	if f.Key.Known {
		s.d.Spots = append(s.d.Spots, drawing.Spot{Layer: drawing.Dim, At: place(at(f.Key.X, f.Key.Y)), Sign: drawing.Triangle, Size: 2})
	}
	for _, c := range f.Cavities {
		r := unit.Length(float64(c.Diameter) / 2 * scale)
		s.d.Rings = append(s.d.Rings, drawing.Ring{Layer: drawing.Dim, Middle: place(at(c.X, c.Y)), Radius: r})
		if wide := page.Body.Sized(8).Width(c.Name); 2*r >= leastLetter && wide < 2*r {
			p := at(c.X, c.Y)
			s.d.Labels = append(s.d.Labels, drawing.Label{At: drawing.Place{X: p.X, Y: p.Y - 1}, Text: c.Name, Small: true, Align: page.Centre})
		}
	}
	return true
}

// marks draws splices, the beginnings and ends of sleeves, and where rings are open.
func (s *sheet) marks() {
	for i := range s.b.Marks {
		m := &s.b.Marks[i]
		sign := drawing.Diamond
		switch m.Kind {
		case "splice":
		case "joins":
			sign = drawing.Triangle
		case "break":
			s.label(m.At, m.Text, true)
			continue
		case "sleeve starts", "sleeve ends":
			s.sleeve(m)
			continue
		default:
			continue
		}
		s.d.Spots = append(s.d.Spots, drawing.Spot{Layer: drawing.Mark, At: place(m.At), Sign: sign, Size: 3.5})
		s.label(m.At, m.Text, true)
	}
}

// sleeve draws a stroke across the bundle where a sleeve begins or ends.
func (s *sheet) sleeve(m *board.Mark) {
	for i := range s.b.Pieces {
		for k := range s.b.Pieces[i].Limbs {
			l := &s.b.Pieces[i].Limbs[k]
			if i != m.Piece || l.Name != m.Limb || len(l.Line) < 2 {
				continue
			}
			dx, dy := direction(l.Line, m.At)
			s.stroke(drawing.Mark, false, shift(m.At, dx, dy, 0, -8), shift(m.At, dx, dy, 0, 8))
			s.label(m.At, m.Text, true)
			return
		}
	}
}

func (s *sheet) stroke(l drawing.Layer, closed bool, ps ...board.At) {
	out := drawing.Stroke{Layer: l, Closed: closed}
	for _, p := range ps {
		out.Places = append(out.Places, place(p))
	}
	s.d.Strokes = append(s.d.Strokes, out)
}

func (s *sheet) label(at board.At, text string, small bool) {
	s.d.Labels = append(s.d.Labels, drawing.Label{At: place(at), Text: text, Free: true, Small: small})
}

func place(p board.At) drawing.Place { return drawing.Place{X: p.X, Y: p.Y} }

// shift is a place so far along a direction and to its left.
func shift(p board.At, dx, dy float64, along, across unit.Length) board.At {
	return board.At{X: p.X + unit.Length(float64(dx*float64(along))-float64(dy*float64(across))), Y: p.Y + unit.Length(float64(dy*float64(along))+float64(dx*float64(across)))}
}

// direction of a line at the place on it that is nearest.
func direction(line []board.At, at board.At) (dx, dy float64) {
	best := math.Inf(1)
	dx = 1
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		x, y := float64(b.X-a.X), float64(b.Y-a.Y)
		long := math.Hypot(x, y)
		if long == 0 {
			continue
		}
		k := max(0, min(1, (float64(float64(at.X-a.X)*x)+float64(float64(at.Y-a.Y)*y))/long/long))
		if d := math.Hypot(float64(at.X-a.X)-float64(k*x), float64(at.Y-a.Y)-float64(k*y)); d < best-1e-9 {
			best, dx, dy = d, x/long, y/long
		}
	}
	return dx, dy
}

// along is the place so far along a line.
func along(line []board.At, by unit.Length) board.At {
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		long := unit.Length(math.Hypot(float64(b.X-a.X), float64(b.Y-a.Y)))
		if by <= long && long > 0 {
			k := float64(by / long)
			return board.At{X: a.X + unit.Length(float64(b.X-a.X)*k), Y: a.Y + unit.Length(float64(b.Y-a.Y)*k)}
		}
		by -= long
	}
	if len(line) == 0 {
		return board.At{}
	}
	return line[len(line)-1]
}

func mm(l unit.Length) string { return unit.Number(float64(l), 0) }
