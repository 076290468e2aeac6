package section

import (
	"loomsheet/harness/layup"
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

var (
	outline = page.Style{Line: page.Black, Width: 0.3, Fill: page.White}
	ringed  = page.Style{Line: page.Dark, Width: 0.15, Dash: []page.MM{1.2, 0.8}}
	cord    = page.Style{Line: page.Dark, Width: 0.2, Fill: page.White}
	double  = page.Style{Line: page.Black, Width: 0.2}
	shaded  = page.Style{Line: page.Dark, Width: 0.15, Dash: []page.MM{1.2, 0.8}, Fill: page.RGB(ground, ground, ground)}
	plain   = page.Style{Line: page.Dark, Width: 0.15, Dash: []page.MM{1.2, 0.8}, Fill: page.White}
	spared  = page.Style{Line: page.Black, Width: 0.3, Dash: []page.MM{0.8, 0.5}, Fill: page.White}
)

// draw draws the section into the middle of a canvas.
func (p *picture) draw(c *page.Canvas) {
	mx, my := c.W()/2, c.H()/2
	at := func(x, y unit.Length) (page.MM, page.MM) { return mx + p.paper(x), my - p.paper(y) }
	for n := len(p.lay.Layers) - 1; n >= 0; n-- {
		y := &p.lay.Layers[n]
		st := plain
		if y.Number%2 == 0 {
			st = shaded
		}
		c.Circle(mx, my, p.paper(y.Outside)/2, st)
		if y.Built > 0 {
			c.Circle(mx, my, p.paper(y.Built)/2, ringed)
		}
		for _, f := range y.Fillers {
			x, yy := at(f.X, f.Y)
			r := p.paper(f.Diameter) / 2
			c.Circle(x, yy, r, cord)
			d := page.MM(0.7 * float64(r))
			c.Line(x-d, yy-d, x+d, yy+d, cord)
			c.Line(x-d, yy+d, x+d, yy-d, cord)
		}
	}
	for i := range p.lay.Pieces {
		piece := &p.lay.Pieces[i]
		x, y := at(piece.X, piece.Y)
		r := p.paper(piece.Diameter) / 2
		st := outline
		if piece.Spare {
			st = spared
		}
		c.Circle(x, y, r, st)
		if piece.Cable != "" && r > 1 {
			c.Circle(x, y, r-0.5, double)
		}
		if p.stands == nil {
			p.name(c, i, x, y)
		}
	}
	if p.stands != nil { // those that lie over other circles, above them all
		for i := range p.lay.Pieces {
			if x, y := at(p.lay.Pieces[i].X, p.lay.Pieces[i].Y); p.stands[i] {
				p.name(c, i, x, y)
			}
		}
	}
}

// name sets the label of a piece, or its number, and the letters of its colour about a place.
func (p *picture) name(c *page.Canvas, i int, x, y page.MM) {
	name, colour, t, l, ok := p.voices(i)
	if half := t.Width(name) / 2; !ok { // wider than its circle at the rim, it stays on the picture
		x = max(half, min(x, c.W()-half))
	}
	up, down := p.heights(t, l, colour)
	if p.stands != nil && !ok {
		w, h := t.Width(name)+apart/2, font.CapHeight(t.Face, t.Size)+apart/2
		c.Rect(page.Box{X: x - w/2, Y: y - h/2, W: w, H: h}, page.Style{Fill: page.White})
	}
	c.TextAt(x, y-page.MM(up)+font.CapHeight(t.Face, t.Size), t, page.Centre, name)
	if colour != "" {
		c.TextAt(x, y+page.MM(down), l, page.Centre, colour)
	}
}

// voices is what stands in the circle of a piece and how; fits tells whether the circle has room for it.
func (p *picture) voices(i int) (name, colour string, t, l page.Type, fits bool) {
	piece := &p.lay.Pieces[i]
	name, least := piece.Label, page.Pt(7)
	if p.numbers {
		name, least = number(p.lay, i), leastInside
	}
	t, l, fits = p.words(i, name, least)
	colour = piece.Colour
	if !fits { // the key holds its colour; the number alone, never too small to read
		colour = ""
		t = inside
		for r := p.paper(piece.Diameter) / 2; t.Size-0.5 >= leastInside; t.Size -= 0.5 {
			if a, h := t.Width(name)/2, font.CapHeight(t.Face, t.Size)/2; page.MM(a*a)+page.MM(h*h) <= page.MM(r*r) {
				break
			}
		}
	}
	return name, colour, t, l, fits
}

// foot is the scale: a bar of a true length, and in words.
func (p *picture) foot(c *page.Canvas) {
	long := unit.Length(10)
	for _, l := range []unit.Length{1, 2, 5, 10, 20, 50, 100} {
		if p.paper(l) >= 12 {
			long = l
			break
		}
	}
	w := p.paper(long)
	const x, y page.MM = 1, 4
	c.Line(x, y, x+w, y, page.Thin)
	c.Line(x, y-1.2, x, y+1.2, page.Thin)
	c.Line(x+w, y-1.2, x+w, y+1.2, page.Thin)
	said := unit.Number(float64(long), 0) + " mm, scale " + unit.Number(p.scale, 2) + ":1"
	if p.scale < 1 {
		said = unit.Number(float64(long), 0) + " mm, scale 1:" + unit.Number(1/p.scale, 1)
	}
	said += ", " + unit.Number(float64(p.wide), 1) + " mm across"
	if p.lay.Kind == layup.Flat {
		said += ", " + unit.Number(float64(p.high), 1) + " mm high"
	}
	if from := p.lay.From; from != "" {
		said += "; seen from " + from
	}
	c.Text(x, y+1+page.Small.Baseline(), page.Small, page.Small.Fit(said, c.W()-x))
}
