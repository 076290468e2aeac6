package drawing

import (
	"math"
	"sync"

	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// Layout is a drawing laid out on a piece of paper: its scale, where each label stands, the key of those that found no place, the bar.
type Layout struct {
	W, H  page.MM
	Scale Scale
	Rest  []Entry // rows of the key for which the paper has no room; the caller prints them

	d       *Drawing
	mid     Place      // of the drawing, at
	centre  page.Point // on paper
	texts   []text
	tags    []page.Box // frames of numbers
	leaders []piece
	key     []keyRow
	bar     *bar
}

// Entry is a row of the key.
type Entry struct {
	Number int // 0: not even its number found room on the drawing
	Text   string
}

type text struct {
	at    page.Point // start of the baseline
	voice page.Type
	s     string
}

func (t text) box() page.Box {
	a := font.Ascent(t.voice.Face, t.voice.Size)
	return page.Box{X: t.at.X, Y: t.at.Y - a, W: t.voice.Width(t.s), H: height(t.voice)}
}

func height(v page.Type) page.MM {
	return font.Ascent(v.Face, v.Size) + font.Descent(v.Face, v.Size)
}

// in is a text set into the lower left corner of a box that is as high as it.
func in(b page.Box, v page.Type, s string) text {
	return text{page.Point{X: b.X + (b.W-v.Width(s))/2, Y: b.Y + (b.H-height(v))/2 + font.Ascent(v.Face, v.Size)}, v, s}
}

var tagVoice = small

// attempts to lay out: each numbers more labels, and the key takes more room.
const attempts = 5

// margins about what is drawn: a least one, and more where there are labels to be placed about it.
const (
	edge   page.MM = 4
	labelX page.MM = 8
	labelY page.MM = 5
	fileX  page.MM = 32
	fileY  page.MM = 16
)

// layer is the work of laying out.
type laying struct {
	l         *Layout
	low, high Place
	fixed     Scale // asked for; 0 none
	grow      bool  // the paper grows downwards with the key
	barH      page.MM
	keyH      page.MM
	numbered  []bool // label by number
	bare      []bool // not even its number has a place
	numbers   []int
	with      []int // of a bare label: 1 + the one beside it whose number it shares, 0 none
	most      Bounded
	useless   bool // found while labels were placed: more rows than the most
	room      *room
}

// room is what one attempt after another is made in.
type room struct {
	pieces      []piece
	field, over field
}

var rooms = sync.Pool{New: func() any { return new(room) }}

// Bounded is what of a layout is of use to the one who asks for it; zeros ask for nothing.
type Bounded struct {
	Scale Scale // not smaller than this
	Rows  int   // no more rows in the key and beyond it, where that is not 0
}

// Lay lays a drawing out on w by h of paper, at the given scale, or, where that is 0 or too large, at the first of 1:1, 1:2, 1:2.5, 1:5, 1:10,
// 1:20, 1:25, 1:50 (and on by tens) at which it fits. Nothing is left out: labels that find no place are numbered and listed in a key below.
func (d *Drawing) Lay(w, h page.MM, scale Scale) *Layout {
	return d.lay(w, h, scale, false, Bounded{})
}

// First is the scale that Lay begins with: that of what is drawn without a key, of which labels can only make it smaller.
func (d *Drawing) First(w, h page.MM) Scale {
	y := &laying{l: &Layout{W: w, H: h, d: d}, barH: barRoom}
	y.low, y.high, _ = d.Bounds()
	y.setScale()
	return y.l.Scale
}

// LayWithin is Lay at the first scale that fits; nil where the layout would not keep within what is asked for, which is often known long before it is done.
func (d *Drawing) LayWithin(w, h page.MM, most Bounded) *Layout { return d.lay(w, h, 0, false, most) }

func (d *Drawing) lay(w, h page.MM, scale Scale, grow bool, most Bounded) *Layout {
	y := &laying{l: &Layout{W: w, H: h, d: d}, most: most, fixed: scale, grow: grow, numbered: make([]bool, len(d.Labels)), bare: make([]bool, len(d.Labels)), numbers: make([]int, len(d.Labels)), with: make([]int, len(d.Labels))}
	y.room = rooms.Get().(*room)
	defer rooms.Put(y.room)
	y.low, y.high, _ = d.Bounds()
	y.barH = barRoom
	for i, s := range d.Labels {
		if s.Text != "" && !s.At.finite() {
			y.numbered[i], y.bare[i] = true, true
		}
	}
	for n := 0; ; n++ {
		lost := y.attempt(n == attempts)
		if y.beyond() {
			return nil
		}
		need := y.keyHeight()
		if n == attempts || !lost && (need <= y.keyH || y.keyH >= y.mostKey()) {
			break
		}
		y.keyH = max(y.keyH, min(need, y.mostKey()))
	}
	y.finish()
	return y.l
}

// beyond tells whether the layout is of no use: from one attempt to the next the key only grows, and with it the scale gets only smaller.
func (y *laying) beyond() bool {
	if y.useless || y.most.Scale > 0 && y.l.Scale > y.most.Scale {
		return true
	}
	if y.most.Rows == 0 {
		return false
	}
	return y.rows() > y.most.Rows
}

// rows is how many labels have a row in the key, or will be beyond it.
func (y *laying) rows() (n int) {
	for i := range y.numbered {
		if y.numbered[i] && y.l.d.Labels[i].Text != "" {
			n++
		}
	}
	return n
}

// anyFree tells whether labels are to be placed about what is drawn.
func (y *laying) anyFree() bool {
	for _, l := range y.l.d.Labels {
		if l.Free && l.Text != "" {
			return true
		}
	}
	return false
}

// pad is the room kept about what is drawn.
func (y *laying) pad() (px, py page.MM) {
	switch {
	case y.grow && y.anyFree():
		return fileX, fileY
	case y.fixed > 0 || y.grow || !y.anyFree():
		return edge, edge
	}
	return edge + min(labelX, y.l.W/10), edge + min(labelY, y.l.H/12)
}

func (y *laying) size() (w, h unit.Length) { return y.high.X - y.low.X, y.high.Y - y.low.Y }

// setScale chooses the scale for the room left by bar and key.
func (y *laying) setScale() {
	w, h := y.size()
	px, py := y.pad()
	room := func() (page.MM, page.MM) { return y.l.W - 2*px, y.field().H - 2*py }
	rx, ry := room()
	if y.grow {
		y.l.Scale = y.fixed
		return
	}
	if y.fixed > 0 {
		if fits(w, h, rx, ry, y.fixed) {
			y.l.Scale = y.fixed
			return
		}
		y.fixed = 0
		px, py = y.pad()
		rx, ry = room()
	}
	y.l.Scale = fitting(w, h, rx, ry)
}

// field is the part of the paper that the drawing and its labels may fill.
func (y *laying) field() page.Box {
	if y.grow {
		_, h := y.size()
		_, py := y.pad()
		return page.Box{W: y.l.W, H: h + 2*py}
	}
	return page.Box{W: y.l.W, H: max(0, y.l.H-y.barH-y.keyH)}
}

// mostKey is how high the key may be: half the paper, and at a scale that was asked for what the drawing leaves.
func (y *laying) mostKey() page.MM {
	if y.grow {
		return page.MM(1e9)
	}
	most := y.l.H / 2
	if y.fixed > 0 {
		_, h := y.size()
		most = min(most, y.l.H-y.barH-2*edge-page.MM(float64(h)/float64(y.fixed)))
	}
	return max(0, most)
}

// attempt lays out once; true where a label lost its place and was numbered, or a number lost its own. The last attempt gives up on those.
func (y *laying) attempt(last bool) (lost bool) {
	l := y.l
	y.setScale()
	if y.beyond() {
		return true
	}
	f := y.field()
	l.mid = Place{(y.low.X + y.high.X) / 2, (y.low.Y + y.high.Y) / 2}
	l.centre = f.Mid()
	l.texts, l.tags, l.leaders = nil, nil, nil
	y.room.pieces = l.pieces(y.room.pieces)
	var boxes []page.Box
	var items []item
	var of []int
	number, before := 0, y.rows()
	for i, s := range l.d.Labels {
		if s.Text == "" || y.bare[i] {
			continue
		}
		v := voice(s.Small)
		if !s.Free && !y.numbered[i] {
			t := text{l.Paper(s.At), v, s.Text}
			switch s.Align {
			case page.Centre:
				t.at.X -= v.Width(s.Text) / 2
			case page.Right:
				t.at.X -= v.Width(s.Text)
			}
			b := t.box()
			if f.Holds(b) && !meetsAny(b, boxes) {
				boxes = append(boxes, b)
				l.texts = append(l.texts, t)
				continue
			}
		}
		it := item{at: l.Paper(s.At), w: v.Width(s.Text), h: height(v)}
		if y.numbered[i] {
			number++
			y.numbers[i] = number
			it.w, it.h = tagVoice.Width(unit.Number(float64(number), 0))+1.6, height(tagVoice)+0.4
		}
		items, of = append(items, it), append(of, i)
	}
	fld := &y.room.field
	fld.begin(f, y.room.pieces, boxes)
	without := 0 // labels that will be numbered after this
	useless := func(n int) bool {
		if !y.numbered[of[n]] {
			without++
		}
		return y.most.Rows > 0 && before+without > y.most.Rows
	}
	if !fld.place(items, useless) {
		y.useless = true
		return true
	}
	for n := range items {
		if items[n].taken < 0 && y.numbered[of[n]] {
			y.overLines(f, items, n, boxes)
		}
	}
	for n := range items {
		i, it := of[n], &items[n]
		if it.taken < 0 {
			lost = true
			if y.numbered[i] || last {
				y.bare[i] = true
				y.with[i] = y.beside(items, of, n)
			}
			y.numbered[i] = true
			continue
		}
		y.set(i, &it.cand[it.taken])
	}
	return lost
}

// set puts a label or its number where it was placed.
func (y *laying) set(i int, c *candidate) {
	l, s := y.l, y.l.d.Labels[i]
	if y.numbered[i] {
		l.tags = append(l.tags, c.box)
		l.texts = append(l.texts, in(c.box, tagVoice, unit.Number(float64(y.numbers[i]), 0)))
	} else {
		l.texts = append(l.texts, in(c.box, voice(s.Small), s.Text))
	}
	if c.leads {
		l.leaders = append(l.leaders, c.leader)
	}
}

// overLines places a number that has no place free of lines: it may cover one, but no label and no leader.
func (y *laying) overLines(f page.Box, items []item, n int, fixed []page.Box) {
	boxes := append([]page.Box(nil), fixed...)
	var leaders []piece
	for i := range items {
		if items[i].taken < 0 {
			continue
		}
		c := &items[i].cand[items[i].taken]
		boxes = append(boxes, c.box)
		if c.leads {
			leaders = append(leaders, c.leader)
		}
	}
	one := []item{items[n]}
	over := &y.room.over
	over.begin(f, leaders, boxes)
	if over.place(one, nil); one[0].taken >= 0 { // what it has is no more when another is tried
		one[0].cand, one[0].taken = []candidate{one[0].cand[one[0].taken]}, 0
	}
	items[n] = one[0]
}

// sharing is how near two things lie on paper that can share a number.
const sharing = 3

// beside is 1 + the nearest label that has a number on the drawing and lies beside item n; 0 none.
func (y *laying) beside(items []item, of []int, n int) int {
	best, least := 0, float64(sharing)
	for k := range items {
		if items[k].taken < 0 || !y.numbered[of[k]] {
			continue
		}
		if d := math.Hypot(float64(items[k].at.X-items[n].at.X), float64(items[k].at.Y-items[n].at.Y)); d < least {
			best, least = 1+of[k], d
		}
	}
	return best
}

func meetsAny(b page.Box, others []page.Box) bool {
	for _, o := range others {
		if b.Meets(o) {
			return true
		}
	}
	return false
}

// Numbered is how many rows the key on the drawing has.
func (l *Layout) Numbered() int { return len(l.key) }

// Paper is where a place of the drawing lies on the paper, from its upper left corner.
func (l *Layout) Paper(p Place) page.Point {
	return page.Point{X: l.centre.X + (p.X-l.mid.X)/unit.Length(l.Scale), Y: l.centre.Y - (p.Y-l.mid.Y)/unit.Length(l.Scale)}
}

// place is the place of the drawing that lies at a point of the paper.
func (l *Layout) place(p page.Point) Place {
	return Place{l.mid.X + page.MM(float64(p.X-l.centre.X)*float64(l.Scale)), l.mid.Y - page.MM(float64(p.Y-l.centre.Y)*float64(l.Scale))}
}

// finish draws up key and bar for the paper as it came out.
func (y *laying) finish() {
	l := y.l
	top := y.field().H
	used := y.layKey(top)
	if y.grow {
		l.H = top + used + y.barH
	}
	l.bar = y.makeBar()
}
