package shellbook

import (
	"slices"

	"loomsheet/render/page"
)

// strips of a run stand side by side where they are short.
type strips struct {
	run  string
	list []*strip
}

// Measures of a strip, from the top of a row.
const (
	nameLines           = 2
	lineY       page.MM = 4    // of the run, below the names, without bends
	turnH       page.MM = 4    // more where there are bends, between the names and the run
	chainY      page.MM = 6    // of the distances, below the run
	markY       page.MM = 10.5 // of the marks, below the run
	rowH        page.MM = 19   // below the run
	bandH       page.MM = 4.5  // more where the diameter changes
	indent      page.MM = 9    // of the strip's name
	leastGap    page.MM = 15   // between two stops
	mostLabel   page.MM = 30   // a longer name is wrapped, then shortened; the list has it whole
	edge        page.MM = 2
	betweenGaps page.MM = 2
)

var (
	nodeType  = page.Tight.Sized(9.5)
	markType  = page.Strong.Sized(9.5)
	chainType = page.Body.Sized(9.5)
	turnType  = page.Tight.Sized(9)
)

// piece is one row of a strip with the room that it asks for.
type piece struct {
	name          string
	row           []stop
	before, after bool // the stretch goes on in another row
	width         page.MM
}

// pieces folds a strip into rows of at most a width.
func (s *strip) pieces(width page.MM) []piece {
	lead := page.MM(0)
	if s.name != "" {
		lead = indent
	}
	var out []piece
	for i := 0; i < len(s.stops)-1; {
		j := s.fill(i, width-lead)
		p := piece{name: s.name, row: s.stops[i : j+1], before: i > 0, after: j < len(s.stops)-1}
		p.width = lead + 2*edge + p.row[0].label()/2 + p.row[len(p.row)-1].label()/2
		for k := range p.row[1:] {
			p.width += need(p.row[k], p.row[k+1])
		}
		if p.before || p.after {
			p.width = width
		}
		out = append(out, p)
		i = j
	}
	return out
}

// Parts makes a part of each line of rows; what room is left over is shared among the rows of a line.
func (s strips) Parts(width, _ page.MM) ([]page.Part, error) {
	var lines [][]piece
	used := width
	for _, one := range s.list {
		for _, p := range one.pieces(width) {
			p.width = min(p.width, width)
			if used += p.width; used > width {
				lines, used = append(lines, nil), p.width
			}
			lines[len(lines)-1] = append(lines[len(lines)-1], p)
		}
	}
	again := page.Part{Height: page.Heading3.Leading() + 2, Draw: func(c *page.Canvas) {
		const more = ", continued"
		c.Text(0, page.Heading3.Baseline(), page.Heading3, page.Heading3.Fit("Run "+s.run, c.W()-page.Heading3.Width(more))+more)
	}}
	var parts []page.Part
	for _, l := range lines {
		sum := page.MM(0)
		var y level
		for _, p := range l {
			sum += p.width
			y.turned = y.turned || slices.ContainsFunc(p.row, func(p stop) bool { return p.turn != "" })
			for _, q := range p.row {
				y.names = max(y.names, min(nameLines, len(nodeType.Wrap(q.above, q.label()))))
			}
			y.banded = y.banded || slices.ContainsFunc(p.row, func(p stop) bool { return p.over != "" })
		}
		parts = append(parts, page.Part{Height: y.height(), Gap: 2, Draw: func(c *page.Canvas) {
			x := page.MM(0)
			for _, p := range l {
				w := p.width + (width-sum)/page.MM(len(l))
				p.draw(c.Sub(page.Box{X: x, Y: 0, W: w, H: c.H()}), y)
				x += w
			}
		}})
	}
	for n := 1; n < len(parts); n++ {
		parts[n].Again = &again
	}
	parts[len(parts)-1].Keep = page.Firmly
	return parts, nil
}

// level is what a line of rows has to make room for.
type level struct {
	names          int // lines
	turned, banded bool
}

// line is where the run lies.
func (y level) line() page.MM {
	h := nodeType.Height(y.names) + lineY
	if y.turned {
		h += turnH
	}
	return h
}

func (y level) height() page.MM {
	h := y.line() + rowH
	if y.banded {
		h += bandH
	}
	return h
}

// draw sets the name and the row beside it.
func (p piece) draw(c *page.Canvas, y level) {
	x := page.MM(0)
	if p.name != "" {
		x = indent
		t := page.Heading3
		c.Text(0, y.line()+t.Baseline()-t.Leading()/2, t, t.Fit(p.name, indent-1))
	}
	p.drawRow(c.Sub(page.Box{X: x, Y: 0, W: c.W() - x, H: c.H()}), y)
}

// drawRow sets one row of stops.
func (p piece) drawRow(c *page.Canvas, y level) {
	xs, line := spread(p.row, c.W()), y.line()
	c.Line(xs[0], line, xs[len(xs)-1], line, page.Style{Line: page.Black, Width: 1})
	dash := page.Style{Line: page.Black, Width: 0.5, Dash: []page.MM{1, 1}}
	if p.before {
		c.Line(0, line, xs[0], line, dash)
	}
	if p.after {
		c.Line(xs[len(xs)-1], line, c.W(), line, dash)
	}
	for i, s := range p.row {
		s.draw(c, xs[i], min(s.label()/2+betweenGaps/2, xs[i], c.W()-xs[i]), y)
		if i > 0 {
			dimension(c, xs[i-1], xs[i], line+chainY, coordinate(s.at-p.row[i-1].at, 0))
		}
	}
	for i := 0; y.banded && i+1 < len(p.row); {
		j := i + 1
		for j+1 < len(p.row) && p.row[j].over == p.row[i].over {
			j++
		}
		if s := p.row[i].over; s != "" {
			band(c, xs[i], xs[j], y.height()-bandH, s)
		}
		i = j
	}
}

// draw sets a stop about x, its names within half to either side.
func (p stop) draw(c *page.Canvas, x, half page.MM, at level) {
	room := func(y, h page.MM) page.Box { return page.Box{X: x - half, Y: y, W: 2 * half, H: h} }
	line := at.line()
	if p.turn != "" {
		h := turnType.Leading()
		c.Lines(room(line-2.6-h, h), turnType, page.Centre, []string{turnType.Fit(p.turn, 2*half)})
		c.Polygon(page.Style{Line: page.Black, Width: 0.4, Fill: page.White}, page.Point{X: x, Y: line - 1.9}, page.Point{X: x + 1.9, Y: line}, page.Point{X: x, Y: line + 1.9}, page.Point{X: x - 1.9, Y: line})
	}
	if p.above != "" {
		lines := capped(nodeType, p.above, 2*half)
		h, top := nodeType.Height(len(lines)), line-3.2
		if at.turned {
			top -= turnH
		}
		c.Lines(room(top-h, h), nodeType, page.Centre, lines)
		if p.turn == "" {
			c.Line(x, line-3, x, line+2, page.Firm)
		}
		if p.leaves {
			c.Line(x, line, x+2.4, line-2.4, page.Style{Line: page.Black, Width: 0.8})
		}
		if p.ends {
			c.Rect(page.Box{X: x - 0.9, Y: line - 2.2, W: 1.8, H: 4.4}, page.Solid)
		}
	}
	c.Line(x, line+2, x, line+chainY+1, page.Hair)
	y := line + markY
	if p.below != "" {
		style := page.Style{Line: page.Black, Width: 0.4, Fill: page.White}
		if p.held {
			style.Fill = page.Black
		}
		c.Rect(page.Box{X: x - 1.4, Y: line - 1.4, W: 2.8, H: 2.8}, style)
		c.Lines(room(y, markType.Leading()), markType, page.Centre, []string{markType.Fit(p.below, 2*half)})
		y += markType.Leading()
	}
	c.Lines(room(y, chainType.Leading()), chainType, page.Centre, []string{chainType.Fit(coordinate(p.at, 0), 2*half)})
}

// dimension draws a distance between two stops with its figure above the line.
func dimension(c *page.Canvas, from, to, y page.MM, s string) {
	c.Line(from, y, to, y, page.Style{Line: page.Black, Width: 0.15})
	for _, x := range []page.MM{from, to} {
		c.Line(x-0.7, y+0.7, x+0.7, y-0.7, page.Style{Line: page.Black, Width: 0.3})
	}
	h := chainType.Leading()
	c.Lines(page.Box{X: from, Y: y - h + 0.3, W: to - from, H: h}, chainType, page.Centre, []string{chainType.Fit(s, to-from)})
}

// band draws how thick the bundle is from one stop to another.
func band(c *page.Canvas, from, to, y page.MM, s string) {
	thin := page.Style{Line: page.Black, Width: 0.15}
	c.Polyline(thin, page.Point{X: from + 0.4, Y: y - 0.8}, page.Point{X: from + 0.4, Y: y}, page.Point{X: to - 0.4, Y: y}, page.Point{X: to - 0.4, Y: y - 0.8})
	h := turnType.Leading()
	c.Lines(page.Box{X: from, Y: y, W: to - from, H: h}, turnType, page.Centre, []string{turnType.Fit(s, to-from)})
}

// capped wraps to the lines that a name may take.
func capped(t page.Type, s string, w page.MM) []string {
	lines := t.Wrap(s, w)
	if len(lines) > nameLines {
		last := lines[nameLines-1] + "…"
		lines = append(lines[:nameLines-1:nameLines-1], t.Fit(last, w))
	}
	return lines
}
