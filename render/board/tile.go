package board

import (
	"math"
	"strconv"

	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// How sheets join: what two neighbours share, and what a sheet keeps for its bar and for the key of labels without room.
const (
	overlap unit.Length = 12
	barRoom page.MM     = 12
	keyRoom page.MM     = 14
	edge    page.MM     = 4
	// mostSheets is the most that a board is split into.
	mostSheets = 400
)

// Tile is one sheet of a board at full size.
type Tile struct {
	Name      string // "C2": column C, row 2 from the top
	Low, High drawing.Place
	Drawing   *drawing.Drawing
}

// Tiles splits a board for printing at full size on sheets with so much room. Neighbours overlap; crosses stand at the same places on both, with
// their coordinates. Sheets with nothing but the edge of the board on them are left out. Nil: it would take too many.
func Tiles(d *drawing.Drawing, width, height unit.Length, w, h page.MM) []Tile {
	roomX, roomY := w-2*edge, h-barRoom-keyRoom-2*edge
	if roomX < 3*overlap || roomY < 3*overlap || !(width > 0) || !(height > 0) {
		return nil
	}
	nx, ny := int(math.Ceil(float64((width-overlap)/(roomX-overlap)))), int(math.Ceil(float64((height-overlap)/(roomY-overlap))))
	nx, ny = max(nx, 1), max(ny, 1)
	if nx*ny > mostSheets {
		return nil
	}
	var out []Tile
	lines := linesOf(d)
	for row := range ny {
		for col := range nx {
			low := drawing.Place{X: unit.Length(float64(roomX-overlap) * float64(col)), Y: height - roomY - unit.Length(float64(roomY-overlap)*float64(row))}
			t := Tile{Name: letters(col) + strconv.Itoa(row+1), Low: low, High: drawing.Place{X: low.X + roomX, Y: low.Y + roomY}}
			if t.cut(d, lines) {
				out = append(out, t)
			}
		}
	}
	for i := range out {
		out[i].join(out)
	}
	return out
}

func letters(n int) string {
	if n >= 26 {
		return letters(n/26-1) + letters(n%26)
	}
	return string(rune('A' + n))
}

func (t *Tile) holds(p drawing.Place) bool {
	return p.X >= t.Low.X && p.X <= t.High.X && p.Y >= t.Low.Y && p.Y <= t.High.Y
}

// line is a stroke, or a circle as a stroke, with its bounds.
type line struct {
	stroke    drawing.Stroke
	ring      bool
	low, high drawing.Place
}

// linesOf is all lines of a drawing, its circles last.
func linesOf(d *drawing.Drawing) []line {
	out := make([]line, 0, len(d.Strokes)+len(d.Rings))
	for _, s := range d.Strokes {
		out = append(out, line{stroke: s})
	}
	for _, r := range d.Rings {
		out = append(out, line{stroke: chords(r), ring: true})
	}
	for i := range out {
		l := &out[i]
		for k, p := range l.stroke.Places {
			if k == 0 {
				l.low, l.high = p, p
			}
			l.low, l.high = drawing.Place{X: min(l.low.X, p.X), Y: min(l.low.Y, p.Y)}, drawing.Place{X: max(l.high.X, p.X), Y: max(l.high.Y, p.Y)}
		}
	}
	return out
}

// away tells whether a line surely does not reach a tile.
func (l *line) away(t *Tile) bool {
	const blur unit.Length = 1e-6 // more than the rounding of places
	return l.high.X < t.Low.X-blur || l.low.X > t.High.X+blur || l.high.Y < t.Low.Y-blur || l.low.Y > t.High.Y+blur
}

// cut takes what of a drawing lies on the tile; false where that is nothing but the board's edge.
func (t *Tile) cut(d *drawing.Drawing, lines []line) bool {
	out := &drawing.Drawing{Title: d.Title + ", sheet " + t.Name, Proof: true}
	some := false
	for i := range lines {
		l := &lines[i]
		if l.away(t) {
			continue
		}
		parts := t.clip(l.stroke)
		out.Strokes = append(out.Strokes, parts...)
		some = some || !l.ring && len(parts) > 0 && l.stroke.Layer != drawing.Outline
	}
	for _, s := range d.Spots {
		if t.holds(s.At) {
			out.Spots, some = append(out.Spots, s), true
		}
	}
	for _, l := range d.Labels {
		if t.holds(l.At) {
			out.Labels = append(out.Labels, l)
		}
	}
	t.Drawing = out
	return some
}

// chords is a whole circle as a closed stroke.
func chords(r drawing.Ring) drawing.Stroke {
	const n = 36
	out := drawing.Stroke{Layer: r.Layer, Closed: true}
	for k := range n {
		s, c := math.Sincos(2 * math.Pi * float64(k) / n)
		out.Places = append(out.Places, drawing.Place{X: r.Middle.X + unit.Length(float64(r.Radius)*c), Y: r.Middle.Y + unit.Length(float64(r.Radius)*s)})
	}
	return out
}

// clip is the pieces of a stroke within the tile.
func (t *Tile) clip(s drawing.Stroke) (out []drawing.Stroke) {
	ps := s.Places
	if s.Closed && len(ps) > 2 {
		ps = append(append([]drawing.Place{}, ps...), ps[0])
	}
	var run []drawing.Place
	flush := func() {
		if len(run) > 1 {
			out = append(out, drawing.Stroke{Layer: s.Layer, Places: run})
		}
		run = nil
	}
	for i := 1; i < len(ps); i++ {
		a, b, ok := t.within(ps[i-1], ps[i])
		if !ok {
			flush()
			continue
		}
		if len(run) == 0 || run[len(run)-1] != a {
			flush()
			run = []drawing.Place{a}
		}
		run = append(run, b)
	}
	flush()
	return out
}

// within is the part of a straight piece inside the tile (Liang and Barsky).
func (t *Tile) within(a, b drawing.Place) (drawing.Place, drawing.Place, bool) {
	from, to := 0.0, 1.0
	for _, e := range [2][4]unit.Length{{a.X, b.X, t.Low.X, t.High.X}, {a.Y, b.Y, t.Low.Y, t.High.Y}} {
		way, lo, hi := float64(e[1]-e[0]), float64(e[2]-e[0]), float64(e[3]-e[0])
		if way == 0 {
			if lo > 0 || hi < 0 {
				return a, b, false
			}
			continue
		}
		lo, hi = lo/way, hi/way
		if lo > hi {
			lo, hi = hi, lo
		}
		from, to = max(from, lo), min(to, hi)
	}
	if from >= to {
		return a, b, false
	}
	at := func(k float64) drawing.Place {
		switch k {
		case 0:
			return a
		case 1:
			return b
		}
		return drawing.Place{X: a.X + unit.Length(k*float64(b.X-a.X)), Y: a.Y + unit.Length(k*float64(b.Y-a.Y))}
	}
	return at(from), at(to), true
}

// join draws the frame that is laid over the neighbours: lines in the middle of what is shared, and crosses with their coordinates.
func (t *Tile) join(all []Tile) {
	d := t.Drawing
	lo, hi := drawing.Place{X: t.Low.X + overlap/2, Y: t.Low.Y + overlap/2}, drawing.Place{X: t.High.X - overlap/2, Y: t.High.Y - overlap/2}
	// The corners of the sheet's room hold it in place on the paper.
	for _, p := range []drawing.Place{t.Low, t.High} {
		d.Spots = append(d.Spots, drawing.Spot{Layer: drawing.Dim, At: p, Sign: drawing.Dot, Size: 0.3})
	}
	near := func(x, y unit.Length) string {
		for i := range all {
			if o := &all[i]; o != t && math.Abs(float64(o.Low.X-t.Low.X-x)) < 1 && math.Abs(float64(o.Low.Y-t.Low.Y-y)) < 1 {
				return o.Name
			}
		}
		return ""
	}
	dx, dy := t.High.X-t.Low.X-overlap, t.High.Y-t.Low.Y-overlap
	for _, e := range []struct {
		a, b drawing.Place
		x, y unit.Length
	}{
		{lo, drawing.Place{X: lo.X, Y: hi.Y}, -dx, 0}, {drawing.Place{X: hi.X, Y: lo.Y}, hi, dx, 0},
		{lo, drawing.Place{X: hi.X, Y: lo.Y}, 0, -dy}, {drawing.Place{X: lo.X, Y: hi.Y}, hi, 0, dy},
	} {
		d.Strokes = append(d.Strokes, drawing.Stroke{Layer: drawing.Dim, Places: []drawing.Place{e.a, e.b}})
		if name := near(e.x, e.y); name != "" {
			d.Labels = append(d.Labels, drawing.Label{At: drawing.Place{X: (e.a.X + e.b.X) / 2, Y: (e.a.Y + e.b.Y) / 2}, Text: "lay on " + name, Free: true, Small: true})
		}
	}
	for _, p := range []drawing.Place{lo, {X: hi.X, Y: lo.Y}, {X: lo.X, Y: hi.Y}, hi} {
		d.Spots = append(d.Spots, drawing.Spot{Layer: drawing.Mark, At: p, Sign: drawing.Cross, Size: 8})
		d.Labels = append(d.Labels, drawing.Label{At: p, Text: "x " + mm(p.X) + ", y " + mm(p.Y), Free: true, Small: true})
	}
	d.Labels = append(d.Labels, drawing.Label{At: drawing.Place{X: lo.X + 4, Y: hi.Y - 7}, Text: "sheet " + t.Name})
}
