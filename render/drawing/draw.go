package drawing

import (
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// Put draws onto a canvas at a true scale: the one asked for, or, where that is 0 or too large, the first of the ladder (see Lay) at which
// the drawing fits. It returns the scale and the rows of the key for which the canvas has no room, which the caller prints.
func (d *Drawing) Put(c *page.Canvas, scale Scale) (Scale, []Entry) {
	l := d.Lay(c.W(), c.H(), scale)
	l.Draw(c)
	return l.Scale, l.Rest
}

// Add puts a drawing into a book: a figure of height h, and after it the rows of the key that found no room in it.
func (d *Drawing) Add(fl *page.Flow, w, h page.MM, scale Scale) Scale {
	l := d.Lay(w, h, scale)
	fl.Figure(h, l.Draw)
	for _, e := range l.Rest {
		if e.Number > 0 {
			fl.Para(mark(e.Number) + "   " + e.Text)
		} else {
			fl.Para(e.Text)
		}
	}
	return l.Scale
}

// Draw draws the layout onto a canvas of its size.
func (l *Layout) Draw(c *page.Canvas) {
	for _, s := range l.d.Strokes {
		ps := l.points(nil, s)
		st := penOf(s.Layer).at(l.Scale).style()
		switch {
		case len(ps) < 2:
		case len(ps) == 2:
			c.Line(ps[0].X, ps[0].Y, ps[1].X, ps[1].Y, st)
		case s.Closed:
			c.Polygon(st, ps...)
		default:
			c.Polyline(st, ps...)
		}
	}
	for _, r := range l.d.Rings {
		if !r.drawn() {
			continue
		}
		st, radius := penOf(r.Layer).at(l.Scale).style(), r.Radius/unit.Length(l.Scale)
		if r.whole() {
			m := l.Paper(r.Middle)
			c.Circle(m.X, m.Y, radius, st)
			continue
		}
		// An arc of a large circle may lie on the paper while the circle does not: it is drawn as chords.
		c.Polyline(st, l.arc(r)...)
	}
	for _, s := range l.d.Spots {
		if s.At.finite() {
			s.draw(c, l.Paper(s.At))
		}
	}
	for _, p := range l.leaders {
		c.Line(p.a.X, p.a.Y, p.b.X, p.b.Y, penOf(Words).style())
	}
	for _, b := range l.tags {
		st := penOf(Dim).style()
		st.Fill = page.White // a number may have to stand on a line
		c.Rect(b, st)
	}
	for _, t := range l.texts {
		t.draw(c)
	}
	for _, r := range l.key {
		c.Rect(r.tag, penOf(Dim).style())
		for _, t := range r.lines {
			t.draw(c)
		}
	}
	if b := l.bar; b != nil {
		c.Line(b.line.a.X, b.line.a.Y, b.line.b.X, b.line.b.Y, page.Thin)
		for _, t := range b.ticks {
			c.Line(t.a.X, t.a.Y, t.b.X, t.b.Y, page.Thin)
		}
		b.words.draw(c)
	}
}

func (t text) draw(c *page.Canvas) { c.Text(t.at.X, t.at.Y, t.voice, t.s) }

func (s Spot) draw(c *page.Canvas, at page.Point) {
	st := penOf(s.Layer).solid()
	switch s.Sign {
	case Circle:
		c.Circle(at.X, at.Y, s.half(), st)
		return
	case Dot:
		c.Circle(at.X, at.Y, s.half(), page.Solid)
		return
	}
	for _, o := range s.shape(at) {
		c.Polyline(st, o...)
	}
}
