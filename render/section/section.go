// Package section draws the cross-section of a bundle as it is laid up: every wire with its label and the letters of its colour, or, where it is too
// thin for them, with a number that a key below explains. Layers are told apart by their ground, fillers are crossed.
package section

import (
	"strconv"

	"loomsheet/harness/layup"
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// Room on paper, and the voices.
const (
	mostAcross page.MM = 110 // of the drawing
	likeAcross page.MM = 68  // it grows beyond that only for what stands in the circles
	likeCircle page.MM = 5.4 // across, for a number in it
	margin     page.MM = 2
	footRoom   page.MM = 11 // scale bar and its words
	gutter     page.MM = 6
	keyColumn  page.MM = 52
	keyGap     page.MM = 0.8
)

var (
	inside  = page.Type{Face: font.Bold, Size: 9, Ink: page.Black}
	letters = page.Type{Face: font.Narrow, Size: 7.5, Ink: page.Black}
	keyed   = page.Type{Face: font.Narrow, Size: 9, Ink: page.Black}
	keyHead = page.Type{Face: font.NarrowBold, Size: 9, Ink: page.Black}
)

const (
	leastInside  page.Pt = 6.2
	leastLetters page.Pt = 6.2
	ground               = 226 // of every second layer
)

// enlargements that a section may be drawn at: those of ISO 5455, and steps between them.
var enlargements = []float64{0.2, 0.25, 0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 15, 20}

// picture is a lay at a scale.
type picture struct {
	lay     *layup.Lay
	scale   float64 // millimetres on paper for one of the thing
	wide    unit.Length
	high    unit.Length
	numbers bool   // pieces carry numbers, and a key explains them
	stands  []bool // pieces that have theirs, where not all can, since numbers would meet
}

// Block is the cross-section of a lay with its key; nothing where its pieces have no places.
func Block(lay *layup.Lay) page.Block {
	return block(func(width, height page.MM) []page.Part {
		p, ok := look(lay, min(width, mostAcross), height-footRoom-4*margin)
		if !ok {
			return nil
		}
		if p.sparse() { // it wants all the room there is
			p, _ = look(lay, width, height-footRoom-4*margin)
		}
		drawn := p.paper(p.wide) + 2*margin
		k := p.key(width, drawn)
		h := max(p.paper(p.high)+2*margin+footRoom, k.beside.height())
		parts := []page.Part{{Height: h, Gap: 3, Keep: page.Firmly, Draw: func(c *page.Canvas) {
			p.draw(c.Sub(page.Box{W: drawn, H: p.paper(p.high) + 2*margin}))
			p.foot(c.Sub(page.Box{Y: p.paper(p.high) + 2*margin, W: width, H: footRoom}))
			k.beside.draw(c.Sub(page.Box{X: drawn + gutter, W: width - drawn - gutter, H: h}))
		}}}
		for i, r := range k.below {
			gap := keyGap
			if i == 0 {
				gap = 2
			}
			parts = append(parts, page.Part{Height: r.height(), Gap: gap, Keep: page.Firmly, Draw: func(c *page.Canvas) { r.draw(c) }})
		}
		parts[len(parts)-1].Keep = page.Free
		return parts
	})
}

type block func(width, height page.MM) []page.Part

// Parts measures the block.
func (b block) Parts(width, height page.MM) ([]page.Part, error) { return b(width, height), nil }

// look chooses the scale: the labels in the circles where they find room, else numbers.
func look(lay *layup.Lay, width, height page.MM) (p picture, ok bool) {
	if lay == nil || !lay.Placed || len(lay.Pieces) == 0 || !(lay.Outside > 0) || !unit.Finite(lay.Outside) {
		return p, false
	}
	p = picture{lay: lay, wide: lay.Outside, high: lay.Outside}
	if lay.Kind == layup.Flat {
		p.wide, p.high = lay.Width, lay.Height
	}
	room := min(float64(width-2*margin)/float64(p.wide), float64(height)/float64(p.high))
	if !(room > 0) {
		return p, false
	}
	least := lay.Pieces[0].Diameter
	for i := range lay.Pieces {
		least = min(least, lay.Pieces[i].Diameter)
	}
	p.scale = min(room, enlargements[0])
	for _, s := range enlargements {
		if s > room {
			break
		}
		across := s * float64(max(p.wide, p.high))
		p.scale = s
		if p.named(label, 7) && across > float64(likeAcross)/3 {
			return p, true
		}
		if s*float64(least) >= float64(likeCircle) && across >= float64(likeAcross)*0.8 && p.named(number, leastInside) {
			break
		}
	}
	p.numbers = !p.named(label, 7)
	p.thinOut()
	return p, true
}

func (p *picture) paper(l unit.Length) page.MM { return page.MM(float64(l) * p.scale) }

// named tells whether every name finds room in its circle, with the letters of its colour.
func (p *picture) named(name func(lay *layup.Lay, i int) string, least page.Pt) bool {
	for i := range p.lay.Pieces {
		if _, _, ok := p.words(i, name(p.lay, i), least); !ok {
			return false
		}
	}
	return true
}

// words is the sizes at which a name, and below it the letters of the colour, find room in the circle of a piece; false where the name does not in
// the least size. Letters that find none in theirs have size 0: the key holds them.
func (p *picture) words(i int, name string, least page.Pt) (t, l page.Type, ok bool) {
	piece := &p.lay.Pieces[i]
	r := float64(p.paper(piece.Diameter))/2 - 0.25
	t, l = inside, letters
	fits := func(t, l page.Type) bool {
		a, b := float64(t.Width(name))/2, float64(l.Width(piece.Colour))/2
		up, down := p.heights(t, l, piece.Colour)
		return float64(a*a)+float64(up*up) <= float64(r*r) && (piece.Colour == "" || float64(b*b)+float64(down*down) <= float64(r*r))
	}
	for ; t.Size >= least; t.Size -= 0.5 {
		for l.Size = min(letters.Size, t.Size-0.5); l.Size >= leastLetters; l.Size -= 0.5 {
			if fits(t, l) {
				return t, l, true
			}
		}
	}
	return t, l, false
}

// heights is how far above the middle of a circle the name reaches, and how far below it the letters do.
func (p *picture) heights(t, l page.Type, colour string) (up, down float64) {
	high := float64(font.CapHeight(t.Face, t.Size))
	if colour == "" {
		return high / 2, high / 2
	}
	low := float64(font.CapHeight(l.Face, l.Size))
	const between = 0.7
	all := high + low + between
	return all / 2, all / 2
}

// label of a piece, and its number in the key.
func label(lay *layup.Lay, i int) string { return lay.Pieces[i].Label }

func number(_ *layup.Lay, i int) string { return strconv.Itoa(i + 1) }
