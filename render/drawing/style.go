package drawing

import (
	"loomsheet/render/page"
)

// pen is the line style of a layer, told apart in black and white by width and dashes, after the types of line of ISO 128: what is made
// is continuous and wide, outlines of adjacent parts long dashes with two dots, centre marks chains, keep-outs short dashes, dimensions
// continuous and narrow.
type pen struct {
	layer Layer
	width page.MM
	dash  []page.MM
	// colour and line type in DXF, for the screen only
	colour int
	line   string
}

var pens = []pen{
	{Cut, 0.5, nil, 1, "CONTINUOUS"},
	{Outline, 0.25, []page.MM{6, 1, 0.4, 1, 0.4, 1}, 5, "TWODOT"},
	{Run, 0.6, nil, 3, "CONTINUOUS"},
	{Mark, 0.25, []page.MM{4, 0.8, 0.4, 0.8}, 4, "CHAIN"},
	{Dim, 0.13, nil, 8, "CONTINUOUS"},
	{Keep, 0.35, []page.MM{2, 1}, 6, "SHORT"},
	{Words, 0.1, nil, 7, "CONTINUOUS"},
}

// penOf is the pen of a layer; one that is not known draws as an outline.
func penOf(l Layer) pen {
	for _, p := range pens {
		if p.layer == l {
			return p
		}
	}
	return pens[1]
}

// at is the pen for a scale: lines that lie close together on a small drawing are thin, so that they stay apart.
func (p pen) at(s Scale) pen {
	switch {
	case s >= 100:
		p.width = min(p.width, 0.18)
	case s >= 50:
		p.width = min(p.width, 0.25)
	case s >= 20:
		p.width = min(p.width, 0.3)
	case s >= 10:
		p.width = min(p.width, 0.4)
	default:
		return p
	}
	if s >= 20 && (p.layer == Outline || p.layer == Keep) {
		p.width = min(p.width, 0.13)
	}
	return p
}

func (p pen) style() page.Style { return page.Style{Line: page.Black, Width: p.width, Dash: p.dash} }

// solid is the style of a sign: too small for dashes.
func (p pen) solid() page.Style {
	return page.Style{Line: page.Black, Width: max(min(p.width, 0.4), 0.25)}
}

// The voices on a drawing.
var (
	plain = page.Body
	small = page.Body.Sized(8)
)

func voice(isSmall bool) page.Type {
	if isSmall {
		return small
	}
	return plain
}
