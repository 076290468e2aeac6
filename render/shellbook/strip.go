package shellbook

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// strip draws a stretch laid straight, folded into rows where it does not fit in one.
type strip struct {
	name  string // beside the first row; empty: none
	stops []stop
}

// strips of a run stand side by side where they are short.
type strips struct {
	run  string
	list []*strip
}

// stop is a place on the strip: a node, a clip, or both.
type stop struct {
	at    unit.Length
	above string // node
	below string // clip
	held  bool   // by hand or frozen
}

// sameStop is how near two stations are that stand as one on the strip.
const sameStop unit.Length = 0.5

// newStrip gathers nodes and clips by station; nil when there are fewer than two stops to draw.
func newStrip(r *fix.RunPlan) *strip {
	var stops []stop
	for _, n := range r.Nodes {
		if unit.Finite(n.After) && n.After >= 0 {
			stops = append(stops, stop{at: n.After, above: nodeName(&n)})
		}
	}
	for i := range r.Clips {
		if c := &r.Clips[i]; onRun(c) {
			stops = append(stops, stop{at: c.After, below: c.Mark, held: c.Status != design.Computed})
		}
	}
	slices.SortStableFunc(stops, func(a, b stop) int { return cmp.Compare(a.at, b.at) })
	s := &strip{}
	for _, p := range stops {
		if n := len(s.stops); n > 0 && p.at-s.stops[n-1].at < sameStop {
			q := &s.stops[n-1]
			if q.above == "" && p.above != "" || q.below == "" && p.below != "" {
				q.above, q.below, q.held = q.above+p.above, q.below+p.below, q.held || p.held
				continue
			}
		}
		s.stops = append(s.stops, p)
	}
	if len(s.stops) < 2 || !(s.stops[len(s.stops)-1].at > s.stops[0].at) {
		return nil
	}
	return s
}

// Measures of a strip, from the top of a row.
const (
	nameLines           = 2
	lineY       page.MM = 12.5
	chainY      page.MM = 18.5
	markY       page.MM = 23
	rowH        page.MM = 31.5
	indent      page.MM = 9  // of the strip's name
	leastGap    page.MM = 15 // between two stops
	mostLabel   page.MM = 30 // a longer name is wrapped, then shortened; the list has it whole
	edge        page.MM = 2
	betweenGaps page.MM = 2
)

var (
	nodeType  = page.Tight.Sized(9.5)
	markType  = page.Strong.Sized(9.5)
	chainType = page.Body.Sized(9.5)
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
		for _, p := range l {
			sum += p.width
		}
		parts = append(parts, page.Part{Height: rowH, Gap: 2, Draw: func(c *page.Canvas) {
			x := page.MM(0)
			for _, p := range l {
				w := p.width + (width-sum)/page.MM(len(l))
				p.draw(c.Sub(page.Box{X: x, Y: 0, W: w, H: rowH}))
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

// draw sets the name and the row beside it.
func (p piece) draw(c *page.Canvas) {
	x := page.MM(0)
	if p.name != "" {
		x = indent
		t := page.Heading3
		c.Text(0, lineY+t.Baseline()-t.Leading()/2, t, t.Fit(p.name, indent-1))
	}
	draw(c.Sub(page.Box{X: x, Y: 0, W: c.W() - x, H: c.H()}), p.row, p.before, p.after)
}

// label is the width that the names of a stop take.
func (p stop) label() page.MM {
	w := max(nodeType.Width(p.above), markType.Width(p.below), nodeType.Width(coordinate(p.at, 0)))
	return min(w, mostLabel)
}

// need is the least distance on paper between two neighbours: their names and the figure between them have room.
func need(a, b stop) page.MM {
	return max(leastGap, (a.label()+b.label())/2+betweenGaps, chainType.Width(coordinate(b.at-a.at, 0))+betweenGaps)
}

// fill is the last stop of the row that begins with stop i; at least the next one.
func (s *strip) fill(i int, width page.MM) int {
	used := s.stops[i].label() / 2
	j := i
	for j+1 < len(s.stops) {
		used += need(s.stops[j], s.stops[j+1])
		if j > i && used+s.stops[j+1].label()/2 > width-2*edge {
			break
		}
		j++
	}
	return j
}

// spread places the stops of a row: what room is left over goes to the gaps by their true lengths.
func spread(row []stop, width page.MM) []page.MM {
	first, last := row[0].label()/2, row[len(row)-1].label()/2
	sum := page.MM(0)
	for i := range row[1:] {
		sum += need(row[i], row[i+1])
	}
	rest := max(0, width-2*edge-first-last-sum)
	total := row[len(row)-1].at - row[0].at
	xs := []page.MM{edge + first}
	for i := range row[1:] {
		x := xs[i] + need(row[i], row[i+1])
		if total > 0 {
			x += page.MM(float64(rest) * (float64(row[i+1].at-row[i].at) / float64(total)))
		}
		xs = append(xs, x)
	}
	return xs
}

// draw sets one row; before and after tell that the stretch goes on in another.
func draw(c *page.Canvas, row []stop, before, after bool) {
	xs := spread(row, c.W())
	c.Line(xs[0], lineY, xs[len(xs)-1], lineY, page.Style{Line: page.Black, Width: 1})
	dash := page.Style{Line: page.Black, Width: 0.5, Dash: []page.MM{1, 1}}
	if before {
		c.Line(0, lineY, xs[0], lineY, dash)
	}
	if after {
		c.Line(xs[len(xs)-1], lineY, c.W(), lineY, dash)
	}
	for i, p := range row {
		p.draw(c, xs[i], min(p.label()/2+betweenGaps/2, xs[i], c.W()-xs[i]))
		if i > 0 {
			dimension(c, xs[i-1], xs[i], coordinate(p.at-row[i-1].at, 0))
		}
	}
}

// draw sets a stop about x, its names within half to either side.
func (p stop) draw(c *page.Canvas, x, half page.MM) {
	room := func(y, h page.MM) page.Box { return page.Box{X: x - half, Y: y, W: 2 * half, H: h} }
	if p.above != "" {
		lines := capped(nodeType, p.above, 2*half)
		h := nodeType.Height(len(lines))
		c.Lines(room(lineY-3.2-h, h), nodeType, page.Centre, lines)
		c.Line(x, lineY-3, x, lineY+2, page.Firm)
	}
	c.Line(x, lineY+2, x, chainY+1, page.Hair)
	y := markY
	if p.below != "" {
		style := page.Style{Line: page.Black, Width: 0.4, Fill: page.White}
		if p.held {
			style.Fill = page.Black
		}
		c.Rect(page.Box{X: x - 1.4, Y: lineY - 1.4, W: 2.8, H: 2.8}, style)
		c.Lines(room(y, markType.Leading()), markType, page.Centre, []string{markType.Fit(p.below, 2*half)})
		y += markType.Leading()
	}
	c.Lines(room(y, chainType.Leading()), chainType, page.Centre, []string{chainType.Fit(coordinate(p.at, 0), 2*half)})
}

// dimension draws a distance between two stops with its figure above the line.
func dimension(c *page.Canvas, from, to page.MM, s string) {
	c.Line(from, chainY, to, chainY, page.Style{Line: page.Black, Width: 0.15})
	for _, x := range []page.MM{from, to} {
		c.Line(x-0.7, chainY+0.7, x+0.7, chainY-0.7, page.Style{Line: page.Black, Width: 0.3})
	}
	h := chainType.Leading()
	c.Lines(page.Box{X: from, Y: chainY - h + 0.3, W: to - from, H: h}, chainType, page.Centre, []string{chainType.Fit(s, to-from)})
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
