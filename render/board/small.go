package board

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"loomsheet/harness/board"
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// small is a board on one page: bundles as thick as they are, the numbers of the pegs of nodes and ends, lengths from node to node, splices,
// connectors. A label that finds no place without meeting another or a line is left out: the tables have all of them.
type small struct {
	b         *board.Board
	scale     float64
	low, high board.At // of what is shown
	whole     bool     // the whole board is
	c         *page.Canvas
	bars      [][2]page.Point // straight pieces that labels keep clear of, with half of their width
	half      []page.MM
	boxes     []page.Box
	leaders   [][2]page.Point
}

var scales = []float64{1, 2, 2.5, 5, 7.5, 10, 12.5, 15, 20, 25, 50}

// margin on paper about what is shown, for labels; barHeight for the bar below.
const (
	margin    page.MM = 7
	barHeight page.MM = 9
)

// newSmall chooses the scale for a room: the whole board, or, where that allows a larger one, the part of it that is used.
func newSmall(b *board.Board, w, h page.MM) *small {
	s := &small{b: b}
	s.low, s.high = b.Extent()
	whole := fitting(b.Width, b.Height, w-2, h-barHeight-2)
	s.scale = fitting(s.high.X-s.low.X, s.high.Y-s.low.Y, w-2*margin, h-barHeight-2*margin)
	if whole <= s.scale {
		s.scale, s.whole = whole, true
		s.low, s.high = board.At{}, board.At{X: b.Width, Y: b.Height}
	}
	return s
}

func fitting(w, h unit.Length, roomW, roomH page.MM) float64 {
	for ten := 1.0; ten < 1e6; ten *= 100 {
		for _, k := range scales {
			if float64(w) <= k*ten*float64(roomW) && float64(h) <= k*ten*float64(roomH) {
				return k * ten
			}
		}
	}
	return 1e8
}

func (s *small) pad() page.MM {
	if s.whole {
		return 1
	}
	return margin
}

// height of the drawing with its bar.
func (s *small) height() page.MM {
	return page.MM(float64(s.high.Y-s.low.Y)/s.scale) + 2*s.pad() + barHeight
}

func (s *small) paper(p board.At) page.Point {
	left := (s.c.W() - page.MM(float64(s.high.X-s.low.X)/s.scale)) / 2
	return page.Point{X: left + page.MM(float64(p.X-s.low.X)/s.scale), Y: s.pad() + page.MM(float64(s.high.Y-p.Y)/s.scale)}
}

var (
	pegType    = page.Strong.Sized(7.5)
	lengthType = page.Tight.Sized(7.5)
	nameType   = page.Small.Sized(7.5)
)

// draw puts the board onto a canvas of its height.
func (s *small) draw(c *page.Canvas) {
	s.c = c
	if s.whole {
		a, z := s.paper(board.At{Y: s.b.Height}), s.paper(board.At{X: s.b.Width})
		c.Rect(page.Box{X: a.X, Y: a.Y, W: z.X - a.X, H: z.Y - a.Y}, page.Style{Line: page.Middle, Width: 0.25, Dash: []page.MM{6, 1, 0.4, 1}})
	}
	for i := range s.b.Pieces {
		for k := range s.b.Pieces[i].Limbs {
			s.limb(&s.b.Pieces[i].Limbs[k])
		}
	}
	for i := range s.b.Ends {
		s.end(&s.b.Ends[i])
	}
	for i := range s.b.Pegs {
		if p := &s.b.Pegs[i]; p.Kind == "node" || p.Kind == "end" {
			at := s.paper(p.At)
			c.Circle(at.X, at.Y, 0.8, page.Style{Line: page.Black, Width: 0.2, Fill: page.White})
			s.boxes = append(s.boxes, page.Box{X: at.X - 0.8, Y: at.Y - 0.8, W: 1.6, H: 1.6})
		}
	}
	s.labels()
	s.bar()
}

// limb draws bundles, dark and as thick as they are but no thinner than a line.
func (s *small) limb(l *board.Limb) {
	for i := range l.Spans {
		sp := &l.Spans[i]
		wide := max(0.35, page.MM(float64(sp.Outside)/s.scale))
		var way []page.Point
		for k := 1; k < len(sp.Line); k++ {
			a, z := s.paper(sp.Line[k-1]), s.paper(sp.Line[k])
			if k == 1 {
				way = append(way, a)
			}
			way = append(way, z)
			s.bars, s.half = append(s.bars, [2]page.Point{a, z}), append(s.half, wide/2)
		}
		if len(way) > 1 {
			s.c.Polyline(page.Style{Line: page.Dark, Width: wide}, way...)
		}
	}
	for _, b := range l.Breaks {
		dx, dy := direction(l.Line, b.At)
		at := s.paper(b.At)
		for _, k := range []float64{-0.6, 0.6} {
			x, y := at.X+page.MM(dx*k), at.Y-page.MM(dy*k)
			ax, ay := page.MM(1.8*(-dy+float64(0.3*dx))), page.MM(1.8*(-dx-float64(0.3*dy)))
			s.c.Line(x-ax, y-ay, x+ax, y+ay, page.Style{Line: page.White, Width: 0.8})
			s.c.Line(x-ax, y-ay, x+ax, y+ay, page.Firm)
		}
	}
}

func (s *small) end(e *board.End) {
	at, node := s.paper(e.At), s.paper(e.Node)
	if at != node {
		s.c.Line(node.X, node.Y, at.X, at.Y, page.Style{Line: page.Black, Width: 0.2, Dash: []page.MM{0.6, 0.6}})
	}
	if e.Connector < 0 || e.Crowded {
		return
	}
	q, c := math.Sincos(float64(e.Facing) * math.Pi / 180)
	w, h := s.b.Holder[0], s.b.Holder[1]
	var ps []page.Point
	for _, k := range [][2]unit.Length{{0, -h / 2}, {w, -h / 2}, {w, h / 2}, {0, h / 2}} {
		ps = append(ps, s.paper(shift(e.At, -c, -q, k[0], k[1])))
	}
	s.c.Polygon(page.Style{Line: page.Black, Width: 0.2}, ps...)
	for i := range ps {
		s.bars, s.half = append(s.bars, [2]page.Point{ps[i], ps[(i+1)%4]}), append(s.half, 0.1)
	}
}

// tag is a label to be placed.
type tag struct {
	at    page.Point
	text  string
	voice page.Type
	far   page.MM // how far off it may stand, with a leader
	rank  int
}

// labels places numbers of pegs first, then lengths, splices and names.
func (s *small) labels() {
	var tags []tag
	for i := range s.b.Pegs {
		if p := &s.b.Pegs[i]; p.Kind == "node" || p.Kind == "end" {
			tags = append(tags, tag{s.paper(p.At), strconv.Itoa(p.Number), pegType, 9, 0})
		}
	}
	for _, p := range s.b.Pieces {
		for _, l := range p.Limbs {
			for i, sp := range l.Spans {
				if sp.Length < 0.5 {
					continue
				}
				text := mm(sp.Length)
				if slices.ContainsFunc(l.Breaks, func(b board.Break) bool { return b.Span == i }) {
					text += " in all"
				}
				tags = append(tags, tag{s.paper(along(sp.Line, sp.Drawn/2)), text, lengthType, 3 + page.MM(float64(sp.Outside)/s.scale)/2, 1})
			}
		}
	}
	for i := range s.b.Marks {
		switch m := &s.b.Marks[i]; m.Kind {
		case "splice", "joins":
			at := s.paper(m.At)
			s.c.Polygon(page.Style{Line: page.Black, Width: 0.25, Fill: page.White}, page.Point{X: at.X, Y: at.Y - 1.5}, page.Point{X: at.X + 1.5, Y: at.Y}, page.Point{X: at.X, Y: at.Y + 1.5}, page.Point{X: at.X - 1.5, Y: at.Y})
			tags = append(tags, tag{at, m.Text, nameType, 22, 2})
		}
	}
	for i := range s.b.Ends {
		e := &s.b.Ends[i]
		q, c := math.Sincos(float64(e.Facing) * math.Pi / 180)
		at := s.paper(e.At)
		if !e.Crowded {
			at = s.paper(shift(e.At, -c, -q, s.b.Holder[0], 0))
		}
		tags = append(tags, tag{at, e.Title, nameType, 22, 3})
	}
	slices.SortStableFunc(tags, func(a, b tag) int { return cmp.Compare(a.rank, b.rank) })
	for _, t := range tags {
		s.place(t)
	}
}

// place sets a label at the nearest of its places that meets nothing.
func (s *small) place(t tag) {
	w, h := t.voice.Width(t.text), t.voice.Leading()-0.3
	for d := page.MM(1.1); d <= t.far; d += 1.2 {
		for k := range 16 {
			q, c := math.Sincos(float64((k*5+2)%16) * math.Pi / 8)
			mid := page.Point{X: t.at.X + page.MM(c*float64(d)) + page.MM(max(-1, min(1, c*1.42))*float64(w)/2), Y: t.at.Y - page.MM(q*float64(d)) - page.MM(max(-1, min(1, q*1.42))*float64(h)/2)}
			b := page.Box{X: mid.X - w/2, Y: mid.Y - h/2, W: w, H: h}
			near := page.Point{X: max(b.X, min(t.at.X, b.Right())), Y: max(b.Y, min(t.at.Y, b.Bottom()))}
			if b.X < 0 || b.Right() > s.c.W() || b.Y < 0.2 || b.Bottom() > s.c.H()-barHeight+2 || !s.free(b, [2]page.Point{t.at, near}, d > 2.4 && t.rank != 1) {
				continue
			}
			if d > 2.4 && t.rank != 1 {
				s.c.Line(t.at.X, t.at.Y, near.X, near.Y, page.Hair)
				s.leaders = append(s.leaders, [2]page.Point{t.at, near})
			}
			s.boxes = append(s.boxes, b)
			s.c.Text(b.X, b.Y-0.15+t.voice.Baseline(), t.voice, t.text)
			return
		}
	}
}

func (s *small) free(b page.Box, leader [2]page.Point, leads bool) bool {
	grown := b.Inset(-0.3)
	for _, o := range s.boxes {
		if grown.Meets(o) || leads && cuts(leader, o) && !holds(o, leader[0]) {
			return false
		}
	}
	for i, l := range s.bars {
		if cuts(l, b.Inset(-0.2-s.half[i])) {
			return false
		}
	}
	for _, l := range s.leaders {
		if cuts(l, grown) || leads && meet(l, leader) {
			return false
		}
	}
	return true
}

func holds(b page.Box, p page.Point) bool {
	return p.X >= b.X && p.X <= b.Right() && p.Y >= b.Y && p.Y <= b.Bottom()
}

// meet tells whether two straight pieces cross.
func meet(l, m [2]page.Point) bool {
	side := func(a, b, c page.Point) float64 {
		return float64(float64(b.X-a.X)*float64(c.Y-a.Y)) - float64(float64(b.Y-a.Y)*float64(c.X-a.X))
	}
	return side(l[0], l[1], m[0])*side(l[0], l[1], m[1]) < 0 && side(m[0], m[1], l[0])*side(m[0], m[1], l[1]) < 0
}

// cuts tells whether a straight piece runs through a box.
func cuts(l [2]page.Point, b page.Box) bool {
	if right, bottom := b.Right(), b.Bottom(); l[0].X < b.X && l[1].X < b.X || l[0].X > right && l[1].X > right || l[0].Y < b.Y && l[1].Y < b.Y || l[0].Y > bottom && l[1].Y > bottom {
		return false
	}
	from, to := 0.0, 1.0
	for _, e := range [2][4]page.MM{{l[0].X, l[1].X, b.X, b.Right()}, {l[0].Y, l[1].Y, b.Y, b.Bottom()}} {
		way, lo, hi := float64(e[1]-e[0]), float64(e[2]-e[0]), float64(e[3]-e[0])
		if way == 0 {
			if lo > 0 || hi < 0 {
				return false
			}
			continue
		}
		lo, hi = lo/way, hi/way
		from, to = max(from, min(lo, hi)), min(to, max(lo, hi))
	}
	return from < to
}

// bar is the scale bar, of 1, 2 or 5 times a power of ten mm and up to 100 mm of paper.
func (s *small) bar() {
	long := math.Pow(10, math.Floor(math.Log10(100*s.scale)))
	for _, k := range []float64{5, 2} {
		if k*long <= 100*s.scale {
			long *= k
			break
		}
	}
	w, y := page.MM(long/s.scale), s.c.H()-barHeight+4
	s.c.Line(1, y, 1+w, y, page.Thin)
	for k := range 6 {
		x := 1 + w*page.MM(k)/5
		s.c.Line(x, y-1.2, x, y, page.Thin)
	}
	s.c.Text(w+4, y, page.Small, unit.Number(long, 1)+" mm, scale 1:"+unit.Number(s.scale, 1))
}
