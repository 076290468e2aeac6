package shellbook

import (
	"cmp"
	"slices"

	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/render/drawing"
	"loomsheet/render/page"
)

// A panel with more holes than these is not tried as one map, and one of no more is not divided further.
const (
	mostNamed  = 150
	fewestHere = 3
)

// mapOf is the map of a panel: one where its names find room on it or in its key, else one of the whole without names and one of each part.
func mapOf(p *shell.Panel, list []shell.Hole, width page.MM) flatMap {
	m := flatMap{text: holdText(p)}
	if len(list) <= mostNamed {
		if m.lay = fitted(panelDrawing(p, list), width); len(m.lay.Rest) <= fewLost {
			return m
		}
	}
	var known []shell.Hole
	for _, h := range list {
		if h.Known {
			known = append(known, h)
		}
	}
	parts := divide(p, known, width)
	if len(parts) < 2 {
		if m.lay == nil {
			m.lay = fitted(panelDrawing(p, list), width)
		}
		return m
	}
	whole := &drawing.Drawing{Title: "Panel " + p.Name}
	whole.Strokes = append(whole.Strokes, drawing.Stroke{Layer: drawing.Outline, Places: flatPlaces(p.Outline), Closed: true})
	for _, k := range p.KeepOuts {
		whole.Strokes = append(whole.Strokes, drawing.Stroke{Layer: drawing.Keep, Places: flatPlaces(k), Closed: true})
	}
	addRefs(whole, p, list)
	m.in = map[string]int{}
	for i, x := range parts {
		m.parts = append(m.parts, x.lay)
		for _, h := range x.holes {
			m.in[h.Mark] = i + 1
			whole.Spots = append(whole.Spots, drawing.Spot{Layer: drawing.Mark, At: drawing.Place{X: h.Flat.U, Y: h.Flat.V}, Sign: drawing.Cross, Size: 1.2})
		}
		whole.Strokes = append(whole.Strokes, x.frame.stroke())
		whole.Labels = append(whole.Labels, drawing.Label{At: drawing.Place{X: x.frame.low.U, Y: x.frame.high.V}, Text: letters(i + 1), Free: true, Small: true})
	}
	m.lay = fitted(whole, width)
	return m
}

// addRefs draws what holes are measured from, but for other holes.
func addRefs(d *drawing.Drawing, p *shell.Panel, list []shell.Hole) {
	told := map[string]bool{}
	for i := range list {
		told["hole "+list[i].Mark] = true
	}
	for i := range list {
		for _, r := range list[i].Refs {
			if told[r.To] {
				continue
			}
			told[r.To] = true
			f, _ := p.Plane.Flat(r.At)
			at := drawing.Place{X: f.U, Y: f.V}
			d.Spots = append(d.Spots, drawing.Spot{Layer: drawing.Dim, At: at, Sign: drawing.Dot, Size: 1.6})
			d.Labels = append(d.Labels, drawing.Label{At: at, Text: r.To, Free: true, Small: true})
		}
	}
}

// partText names a part of a panel.
func partText(n int) string { return "part " + letters(n) }

// letters counts A to Z, AA, AB ..., so that no part is taken for a number of a key.
func letters(n int) (s string) {
	for ; n > 0; n = (n - 1) / 26 {
		s = string(rune('A'+(n-1)%26)) + s
	}
	return s
}

// window is an upright rectangle of a panel.
type window struct{ low, high solid.Flat }

func (w window) holds(p drawing.Place) bool {
	return w.low.U <= p.X && p.X <= w.high.U && w.low.V <= p.Y && p.Y <= w.high.V
}

func (w window) stroke() drawing.Stroke {
	return drawing.Stroke{Layer: drawing.Dim, Closed: true, Places: flatPlaces(solid.Outline{w.low, {U: w.high.U, V: w.low.V}, w.high, {U: w.low.U, V: w.high.V}})}
}

// mapPart is a part of a panel with its holes.
type mapPart struct {
	frame window
	holes []shell.Hole
	lay   *drawing.Layout
}

// divide cuts a panel across where its holes reach furthest, between two holes about half of them, as often as it takes until the names of each part find
// room on its map. The parts come from left to right, or from the top down.
func divide(p *shell.Panel, list []shell.Hole, width page.MM) []mapPart {
	if len(list) == 0 {
		return nil
	}
	x := mapPart{frame: around(list), holes: list}
	if len(list) <= fewestHere {
		x.lay = fitted(partDrawing(p, &x), width)
		return []mapPart{x}
	}
	if len(list) <= fewMarks {
		if x.lay = named(partDrawing(p, &x), width); x.lay != nil {
			return []mapPart{x}
		}
	}
	across := func(f solid.Flat) unit.Length { return f.U }
	if x.frame.high.V-x.frame.low.V > x.frame.high.U-x.frame.low.U {
		across = func(f solid.Flat) unit.Length { return -f.V }
	}
	byPlace := slices.Clone(list)
	slices.SortStableFunc(byPlace, func(a, b shell.Hole) int { return cmp.Compare(across(a.Flat), across(b.Flat)) })
	n := len(byPlace)
	cut := n / 2
	for k := max(1, n*2/5); k <= min(n-1, n*3/5); k++ {
		if gap := across(byPlace[k].Flat) - across(byPlace[k-1].Flat); gap > across(byPlace[cut].Flat)-across(byPlace[cut-1].Flat) {
			cut = k
		}
	}
	var halves [2][]mapPart
	solve.Each(2, func(i int) { halves[i] = divide(p, [2][]shell.Hole{byPlace[:cut], byPlace[cut:]}[i], width) })
	return append(halves[0], halves[1]...)
}

// frameEdge is how far the frame of a part lies from its outermost holes.
const frameEdge unit.Length = 40

// around is the frame about holes.
func around(list []shell.Hole) window {
	w := window{list[0].Flat, list[0].Flat}
	for i := range list {
		h := &list[i]
		half := max(0, max(h.Drill, h.High)/2)
		if !unit.Finite(half) {
			half = 0
		}
		w.low = solid.Flat{U: min(w.low.U, h.Flat.U-half), V: min(w.low.V, h.Flat.V-half)}
		w.high = solid.Flat{U: max(w.high.U, h.Flat.U+half), V: max(w.high.V, h.Flat.V+half)}
	}
	w.low, w.high = solid.Flat{U: w.low.U - frameEdge, V: w.low.V - frameEdge}, solid.Flat{U: w.high.U + frameEdge, V: w.high.V + frameEdge}
	return w
}

// partDrawing is what lies in the frame of a part.
func partDrawing(p *shell.Panel, x *mapPart) *drawing.Drawing {
	d := &drawing.Drawing{Title: "Panel " + p.Name}
	d.Strokes = append(d.Strokes, x.frame.stroke())
	d.Strokes = append(d.Strokes, x.frame.clipped(drawing.Outline, p.Outline)...)
	for _, k := range p.KeepOuts {
		d.Strokes = append(d.Strokes, x.frame.clipped(drawing.Keep, k)...)
		if at, ok := middle(k); ok && x.frame.holds(at) {
			d.Labels = append(d.Labels, drawing.Label{At: at, Text: "keep out", Free: true, Small: true})
		}
	}
	addHoles(d, p, x.holes, x.frame.holds)
	return d
}

// clipped is the sides of an outline as far as they lie within a window.
func (w window) clipped(layer drawing.Layer, o solid.Outline) (out []drawing.Stroke) {
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if from, to, ok := w.within(a, b); ok {
			out = append(out, drawing.Stroke{Layer: layer, Places: flatPlaces(solid.Outline{from, to})})
		}
	}
	return out
}

// within is the piece of a line that lies within a window; ok is false where none does.
func (w window) within(a, b solid.Flat) (from, to solid.Flat, ok bool) {
	low, high := 0.0, 1.0
	for _, side := range [4][2]unit.Length{{w.low.U - a.U, b.U - a.U}, {a.U - w.high.U, a.U - b.U}, {w.low.V - a.V, b.V - a.V}, {a.V - w.high.V, a.V - b.V}} {
		// Within where need <= t * gain.
		switch need, gain := float64(side[0]), float64(side[1]); {
		case gain == 0 && need > 0:
			return a, b, false
		case gain > 0:
			low = max(low, need/gain)
		case gain < 0:
			high = min(high, need/gain)
		}
	}
	if !(low < high) {
		return a, b, false
	}
	at := func(t float64) solid.Flat {
		return solid.Flat{U: a.U + unit.Length(t)*(b.U-a.U), V: a.V + unit.Length(t)*(b.V-a.V)}
	}
	return at(low), at(high), true
}
