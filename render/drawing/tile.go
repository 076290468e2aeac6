package drawing

import (
	"math"
	"slices"

	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// How tiles join: overlap of two neighbours, room left on each for labels moved and for the key, tiles at most.
const (
	overlap  unit.Length = 14
	tileRoom page.MM     = 18
	mostTile             = 60
)

// Tiles splits a drawing for printing at full size on sheets of w by h: itself alone where it fits, else pieces that overlap, with a letter
// each, joining lines and crosses at the same places on both neighbours. Pieces with nothing on them are left out. It is nil where that
// takes more than 60 sheets.
func (d *Drawing) Tiles(w, h page.MM) []*Drawing {
	low, high, ok := d.Bounds()
	if !ok {
		return nil
	}
	wide, tall := high.X-low.X, high.Y-low.Y
	roomX, roomY := w-2*edge, h-barRoom-2*edge
	if fits(wide, tall, roomX, roomY, 1) {
		return []*Drawing{d}
	}
	nx, ny := tileCount(wide, roomX-tileRoom), tileCount(tall, roomY-tileRoom)
	if nx == 0 || ny == 0 || nx*ny > mostTile {
		return nil
	}
	tw, th := (wide+times(overlap, nx-1))/unit.Length(nx), (tall+times(overlap, ny-1))/unit.Length(ny)
	grid := make([]*Drawing, nx*ny)
	var letters []string
	letter := make([]string, nx*ny)
	corner := func(i int) (Place, Place) {
		at := Place{low.X + times(tw-overlap, i%nx), high.Y - th - times(th-overlap, i/nx)}
		return at, Place{at.X + tw, at.Y + th}
	}
	for i := range grid {
		if t := d.window(corner(i)); len(t.Strokes)+len(t.Rings)+len(t.Spots)+len(t.Labels) > 0 {
			grid[i] = t
			letter[i] = letterOf(len(letters))
			letters = append(letters, letter[i])
		}
	}
	var out []*Drawing
	for i, t := range grid {
		if t == nil {
			continue
		}
		t.Title = d.Title + ", sheet " + letter[i] + " of A to " + letters[len(letters)-1]
		lo, hi := corner(i)
		t.Labels = append(t.Labels, Label{At: Place{lo.X + overlap/2 + 2, hi.Y - overlap/2 - 6}, Text: "sheet " + letter[i]})
		if i%nx > 0 {
			t.join(Place{lo.X + overlap/2, lo.Y}, Place{lo.X + overlap/2, hi.Y}, letter[i-1])
		}
		if i%nx < nx-1 {
			t.join(Place{hi.X - overlap/2, lo.Y}, Place{hi.X - overlap/2, hi.Y}, letter[i+1])
		}
		if i/nx > 0 {
			t.join(Place{lo.X, hi.Y - overlap/2}, Place{hi.X, hi.Y - overlap/2}, letter[i-nx])
		}
		if i/nx < ny-1 {
			t.join(Place{lo.X, lo.Y + overlap/2}, Place{hi.X, lo.Y + overlap/2}, letter[i+nx])
		}
		out = append(out, t)
	}
	return out
}

// tileCount is how many sheets with the given room cover a length; 0 too many, or no room.
func tileCount(long unit.Length, room page.MM) int {
	if room <= 2*overlap {
		return 0
	}
	n := math.Ceil(float64((long-overlap)/(room-overlap)) - 1e-9)
	if !(n <= mostTile) {
		return 0
	}
	return int(max(1, n))
}

// letterOf counts A to Z, AA, AB and on.
func letterOf(n int) string {
	s := string(rune('A' + n%26))
	if n >= 26 {
		return letterOf(n/26-1) + s
	}
	return s
}

// join marks where a neighbour is laid over: a line with two crosses, none where the neighbour has nothing on it.
func (d *Drawing) join(a, b Place, letter string) {
	if letter == "" {
		return
	}
	d.Strokes = append(d.Strokes, Stroke{Dim, []Place{a, b}, false})
	for _, k := range []unit.Length{0.25, 0.75} {
		p := Place{a.X + unit.Length(float64(b.X-a.X)*float64(k)), a.Y + unit.Length(float64(b.Y-a.Y)*float64(k))}
		d.Spots = append(d.Spots, Spot{Mark, p, Cross, 8})
		d.Labels = append(d.Labels, Label{At: p, Text: "lay on " + letter, Free: true, Small: true})
	}
}

// hair is what a window is wider than told, so that no end of a line is cut off by the rounding of its corners.
const hair unit.Length = 1e-7

// window is what of a drawing lies in a rectangle; lines and arcs end at its edge, labels and signs belong to it by their places.
func (d *Drawing) window(low, high Place) *Drawing {
	low, high = Place{low.X - hair, low.Y - hair}, Place{high.X + hair, high.Y + hair}
	b := page.Box{X: low.X, Y: low.Y, W: high.X - low.X, H: high.Y - low.Y}
	in := func(p Place) bool {
		return p.finite() && p.X >= low.X && p.X <= high.X && p.Y >= low.Y && p.Y <= high.Y
	}
	out := &Drawing{Title: d.Title, Proof: d.Proof}
	for _, s := range d.Strokes {
		out.Strokes = append(out.Strokes, s.clipped(b, in)...)
	}
	for _, r := range d.Rings {
		if r.drawn() {
			out.Rings = append(out.Rings, r.clipped(b, in)...)
		}
	}
	for _, s := range d.Spots {
		if in(s.At) {
			out.Spots = append(out.Spots, s)
		}
	}
	for _, l := range d.Labels {
		if in(l.At) {
			out.Labels = append(out.Labels, l)
		}
	}
	return out
}

// clipped is the pieces of a stroke within a box; one wholly within stays as it is.
func (s Stroke) clipped(b page.Box, in func(Place) bool) (out []Stroke) {
	if !slices.ContainsFunc(s.Places, func(p Place) bool { return !in(p) }) {
		return []Stroke{s}
	}
	var ps []page.Point
	for _, p := range s.Places {
		if p.finite() {
			ps = append(ps, page.Point{X: p.X, Y: p.Y})
		}
	}
	open := false // the last stroke of out may go on
	for _, p := range chain(nil, ps, s.Closed) {
		from, to, ok := p.within(b)
		if !ok || from == to {
			open = false
			continue
		}
		if !open || from > 0 {
			out = append(out, Stroke{Layer: s.Layer, Places: []Place{p.along(from)}})
		}
		last := &out[len(out)-1]
		last.Places = append(last.Places, p.along(to))
		open = to == 1
	}
	return out
}

func (p piece) along(k float64) Place {
	if k == 1 {
		return Place{p.b.X, p.b.Y}
	}
	return Place{p.a.X + unit.Length(float64(p.b.X-p.a.X)*k), p.a.Y + unit.Length(float64(p.b.Y-p.a.Y)*k)}
}

// clipped is the arcs of a ring within a box.
func (r Ring) clipped(b page.Box, in func(Place) bool) (out []Ring) {
	cuts := []float64{}
	add := func(deg float64) {
		if k := turned(deg - float64(r.From)); k > 0 && k < r.sweep() {
			cuts = append(cuts, k)
		}
	}
	for _, x := range []unit.Length{b.X, b.Right()} {
		if k := float64((x - r.Middle.X) / r.Radius); math.Abs(k) < 1 {
			a := math.Acos(k) * 180 / math.Pi
			add(a)
			add(-a)
		}
	}
	for _, y := range []unit.Length{b.Y, b.Bottom()} {
		if k := float64((y - r.Middle.Y) / r.Radius); math.Abs(k) < 1 {
			a := math.Asin(k) * 180 / math.Pi
			add(a)
			add(180 - a)
		}
	}
	if len(cuts) == 0 {
		if in(r.at(float64(r.From))) {
			return []Ring{r}
		}
		return nil
	}
	cuts = append(cuts, 0, r.sweep())
	slices.Sort(cuts)
	for i := 1; i < len(cuts); i++ {
		a, z := cuts[i-1], cuts[i]
		if z-a < 1e-9 || !in(r.at(float64(r.From)+(a+z)/2)) {
			continue
		}
		out = append(out, Ring{r.Layer, r.Middle, r.Radius, r.From + unit.Angle(a), r.From + unit.Angle(z)})
	}
	return out
}

// times is n lengths; the conversion keeps a processor from fusing the product with what it is added to.
func times(l unit.Length, n int) unit.Length { return unit.Length(float64(l) * float64(n)) }
