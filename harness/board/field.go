package board

import "math"

// Two places of the harness lie as far apart as half of each bundle and the gap ask, unless so little of the harness lies between them that
// they cannot: up to near times that distance. Two limbs that leave a joint 30 degrees apart are a gap apart there (1 / sin 15 degrees = 3.9).
// Nowhere do two cross.
const near = 4

// piece is a straight piece of a limb, or of a holder, with drawn stations.
type piece struct {
	a, b   pt
	from   float64
	to     float64
	half   float64 // of what lies there
	limb   int
	last   bool // no limb goes off beyond it
	holder bool
}

// field is what lies on a board. It counts its looks, the measure of all bounds here: the same input takes the same ways on any machine.
type field struct {
	w, h   float64
	edge   float64
	gap    float64
	widest float64 // half of the widest thing on it
	cell   float64
	nx, ny int
	cells  [][]int32
	pieces []piece
	limbs  func(int) (parent int, hangs float64) // hangs in drawn stations of the parent
	looks  int
	seen   []int32
	turn   int32
	up     []rung // of the last look, kept for their room
	upTo   []rung
}

const mostCells = 400

func newField(w, h, edge, gap float64, limbs func(int) (int, float64)) *field {
	f := &field{w: w, h: h, edge: edge, gap: gap, limbs: limbs}
	f.cell = math.Max(80, math.Max(w, h)/mostCells)
	f.nx, f.ny = int(w/f.cell)+1, int(h/f.cell)+1
	f.cells = make([][]int32, f.nx*f.ny)
	return f
}

func (f *field) mark() int { return len(f.pieces) }

// undo takes back everything since a mark.
func (f *field) undo(mark int) {
	for n := len(f.pieces) - 1; n >= mark; n-- {
		x0, x1, y0, y1 := f.over(&f.pieces[n], 0)
		for y := y0; y <= y1; y++ {
			for c := y*f.nx + x0; c <= y*f.nx+x1; c++ {
				f.cells[c] = f.cells[c][:len(f.cells[c])-1]
			}
		}
	}
	f.pieces, f.seen = f.pieces[:mark], f.seen[:mark]
}

// over is the cells, from the first to the last across and up, that a piece comes near to.
func (f *field) over(p *piece, by float64) (x0, x1, y0, y1 int) {
	clamp := func(x float64, n int) int { return int(max(0, min(float64(n-1), x/f.cell))) }
	x0, x1 = clamp(min(p.a.x, p.b.x)-by, f.nx), clamp(max(p.a.x, p.b.x)+by, f.nx)
	y0, y1 = clamp(min(p.a.y, p.b.y)-by, f.ny), clamp(max(p.a.y, p.b.y)+by, f.ny)
	return x0, x1, y0, y1
}

func (f *field) add(p piece) {
	n := int32(len(f.pieces))
	f.pieces, f.seen = append(f.pieces, p), append(f.seen, 0)
	x0, x1, y0, y1 := f.over(&p, 0)
	for y := y0; y <= y1; y++ {
		for c := y*f.nx + x0; c <= y*f.nx+x1; c++ {
			f.cells[c] = append(f.cells[c], n)
		}
	}
	f.widest = math.Max(f.widest, p.half)
}

// inside tells whether a piece lies on the board, its edge kept free.
func (f *field) inside(p *piece) bool {
	by := f.edge + p.half - 1e-6
	for _, q := range []pt{p.a, p.b} {
		if !(q.x >= by && q.y >= by && q.x <= f.w-by && q.y <= f.h-by) {
			return false
		}
	}
	return true
}

// free tells whether a piece meets nothing.
func (f *field) free(p *piece) bool {
	if !f.inside(p) {
		return false
	}
	if f.turn++; f.turn == math.MaxInt32 {
		f.turn = 1
		clear(f.seen)
	}
	x0, x1, y0, y1 := f.over(p, p.half+f.widest+f.gap)
	for y := y0; y <= y1; y++ {
		for c := y*f.nx + x0; c <= y*f.nx+x1; c++ {
			for _, n := range f.cells[c] {
				if f.seen[n] == f.turn {
					continue
				}
				f.seen[n] = f.turn
				f.looks++
				if !f.clear(p, &f.pieces[n]) {
					return false
				}
			}
		}
	}
	return true
}

// clear tells whether two pieces keep their distance.
func (f *field) clear(p, q *piece) bool {
	c := p.half + q.half + f.gap - 1e-6
	if max(min(p.a.x, p.b.x)-max(q.a.x, q.b.x), min(q.a.x, q.b.x)-max(p.a.x, p.b.x), min(p.a.y, p.b.y)-max(q.a.y, q.b.y), min(q.a.y, q.b.y)-max(p.a.y, p.b.y)) >= c {
		return true
	}
	dist, t, u := closest(p.a, p.b, q.a, q.b)
	if dist >= c {
		return true
	}
	w, ok := f.way(p, q)
	if !ok {
		return false // another tree
	}
	if (p.holder || q.holder) && p.limb != q.limb && dist < p.half+q.half {
		return false // connectors never lie on anything
	}
	limit := near * c
	at := w.at(t, u)
	if at >= limit {
		return false
	}
	// Nearer along the harness than the limit they only may not meet.
	if dist < at/8 || dist < 1e-6 && at > 1e-3 {
		return false
	}
	if w.most() < limit {
		return true
	}
	return w.least(p, q, limit) >= c
}

// way is how much of the harness lies between two pieces: p of the way at the start and the end of the one, and q of the other.
type way struct{ p0, p1, q0, q1 float64 }

func (w way) at(t, u float64) float64 {
	return w.p0 + float64(t*(w.p1-w.p0)) + w.q0 + float64(u*(w.q1-w.q0))
}
func (w way) most() float64 { return math.Max(w.p0, w.p1) + math.Max(w.q0, w.q1) }

// least is the least distance of those places of two pieces between which at least so much of the harness lies, where without that condition
// it would be less: the squared distance is convex, so that it is least where just so much does.
func (w way) least(p, q *piece, limit float64) float64 {
	// The line w.at(t, u) = limit within the unit square.
	dp, dq, rest := w.p1-w.p0, w.q1-w.q0, limit-w.p0-w.q0
	var room [4][2]float64
	ends := room[:0]
	add := func(t, u float64) {
		if t >= -1e-9 && t <= 1+1e-9 && u >= -1e-9 && u <= 1+1e-9 {
			ends = append(ends, [2]float64{max(0, min(1, t)), max(0, min(1, u))})
		}
	}
	if dq != 0 {
		add(0, rest/dq)
		add(1, (rest-dp)/dq)
	}
	if dp != 0 {
		add(rest/dp, 0)
		add((rest-dq)/dp, 1)
	}
	if len(ends) == 0 {
		return math.Inf(1)
	}
	best := math.Inf(1)
	at := func(e [2]float64) pt {
		return pt{p.a.x + float64(e[0]*(p.b.x-p.a.x)) - q.a.x - float64(e[1]*(q.b.x-q.a.x)), p.a.y + float64(e[0]*(p.b.y-p.a.y)) - q.a.y - float64(e[1]*(q.b.y-q.a.y))}
	}
	for _, e := range ends {
		for _, g := range ends {
			d, _ := fromPiece(pt{}, at(e), at(g))
			best = min(best, d)
		}
	}
	return best
}

// way between two pieces along the harness; false where they are of different trees. Both are split where limbs go off, so that it is linear.
func (f *field) way(p, q *piece) (way, bool) {
	if p.limb == q.limb {
		if q.from >= p.to-1e-9 {
			return way{-p.from, -p.to, q.from, q.to}, true
		}
		return way{p.from, p.to, -q.from, -q.to}, true
	}
	f.up, f.upTo = f.climb(p.limb, f.up[:0]), f.climb(q.limb, f.upTo[:0])
	// One lies on the way up from the other.
	for _, r := range f.upTo {
		if r.onto == p.limb {
			return against(p, r.at, r.gone, q.from, q.to), true
		}
	}
	for i, r := range f.up {
		if r.onto == q.limb {
			w := against(q, r.at, r.gone, p.from, p.to)
			return way{w.q0, w.q1, w.p0, w.p1}, true
		}
		for _, o := range f.upTo {
			if o.onto == r.onto {
				d := f.up[i].gone + o.gone + math.Abs(r.at-o.at)
				return way{p.from + d, p.to + d, q.from, q.to}, true
			}
		}
	}
	return way{}, false
}

// rung is one step of the way up from a limb: the limb that it comes onto, at which station, and how much of the harness lies behind it.
type rung struct {
	onto     int
	at, gone float64
}

// climb is the way up from the beginning of a limb.
func (f *field) climb(n int, out []rung) []rung {
	gone := 0.0
	for {
		parent, hangs := f.limbs(n)
		if parent < 0 {
			return out
		}
		out = append(out, rung{parent, hangs, gone})
		n, gone = parent, gone+hangs
	}
}

// against is the way from a piece to the place on its own limb from which the other piece is gone and from to to away.
func against(p *piece, at, gone, from, to float64) way {
	if p.to <= at+1e-9 {
		return way{at - p.from + gone, at - p.to + gone, from, to}
	}
	return way{p.from - at + gone, p.to - at + gone, from, to}
}

// closest is the least distance of two straight pieces and where it is, as shares of both.
func closest(a, b, c, d pt) (dist, t, u float64) {
	if x, y, ok := crossing(a, b, c, d); ok {
		return 0, x, y
	}
	dist = math.Inf(1)
	take := func(l, x, y float64) {
		if l < dist {
			dist, t, u = l, x, y
		}
	}
	l, k := fromPiece(a, c, d)
	take(l, 0, k)
	l, k = fromPiece(b, c, d)
	take(l, 1, k)
	l, k = fromPiece(c, a, b)
	take(l, k, 0)
	l, k = fromPiece(d, a, b)
	take(l, k, 1)
	return dist, t, u
}

// fromPiece is the distance of a point from a straight piece and where on it.
func fromPiece(p, a, b pt) (float64, float64) {
	dx, dy := b.x-a.x, b.y-a.y
	long := float64(dx*dx) + float64(dy*dy)
	if long == 0 {
		return root(p.x-a.x, p.y-a.y), 0
	}
	k := max(0, min(1, (float64((p.x-a.x)*dx)+float64((p.y-a.y)*dy))/long))
	return root(a.x+float64(k*dx)-p.x, a.y+float64(k*dy)-p.y), k
}

// root is the length of what is x across and y up: those on a board need no care for the largest numbers.
func root(x, y float64) float64 { return math.Sqrt(float64(x*x) + float64(y*y)) }

// crossing is where two pieces cross, as shares of both.
func crossing(a, b, c, d pt) (t, u float64, ok bool) {
	rx, ry, sx, sy := b.x-a.x, b.y-a.y, d.x-c.x, d.y-c.y
	det := float64(rx*sy) - float64(ry*sx)
	if math.Abs(det) < 1e-12 {
		return 0, 0, false
	}
	qx, qy := c.x-a.x, c.y-a.y
	t, u = (float64(qx*sy)-float64(qy*sx))/det, (float64(qx*ry)-float64(qy*rx))/det
	return t, u, t >= 0 && t <= 1 && u >= 0 && u <= 1
}
