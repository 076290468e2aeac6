package drawing

import (
	"loomsheet/harness/unit"
	"loomsheet/render/font"
	"loomsheet/render/page"
)

// bar is the scale bar on paper: a line of a true length, ticks below it, its length in words.
type bar struct {
	line  piece
	ticks []piece
	words text
}

const (
	barRoom page.MM = 12
	tick    page.MM = 2
)

// makeBar draws the bar up in the lowest part of the paper. A proof bar has a tick each 10 mm, a scale bar one at each tenth.
func (y *laying) makeBar() *bar {
	l := y.l
	length := barLength(l.Scale, l.W-2)
	said := unit.Number(float64(length), 1) + " mm, scale " + l.Scale.String()
	parts := 10
	if l.d.Proof && l.Scale == 1 {
		length = proofLength(l.W - 2)
		parts = int(length / 10)
		n := unit.Number(float64(length), 0) + " mm"
		said = n + "; measure: must be " + n + "; print at 100 %"
	}
	if !(length > 0) {
		return nil
	}
	x, at := page.MM(1), l.H-barRoom+4
	long := length / unit.Length(l.Scale)
	b := &bar{line: piece{a: page.Point{X: x, Y: at}, b: page.Point{X: x + long, Y: at}}}
	for i := range parts + 1 {
		high := tick / 2
		if i == 0 || i == parts || 2*i == parts {
			high = tick
		}
		tx := x + long*page.MM(i)/page.MM(parts)
		b.ticks = append(b.ticks, piece{a: page.Point{X: tx, Y: at}, b: page.Point{X: tx, Y: at - high}})
	}
	v := small
	for v.Width(said) > l.W-2 && v.Size > 5 {
		v = v.Sized(v.Size - 0.5)
	}
	b.words = text{page.Point{X: x, Y: at + 0.8 + font.Ascent(v.Face, v.Size)}, v, v.Fit(said, l.W-2)}
	return b
}
