package pack

import (
	"cmp"
	"slices"
)

// How dear an overlap is in each round, against the container's radius: with a cost c no overlap is left that is greater than 1/c of
// the root mean square radius. A trial goes on while its cost is below that of the best at the same round, times hopeful.
var (
	roughly = [4]float64{5, 50, 500, 5000}
	hopeful = [4]float64{1.003, 1.001, 1.0002, 1}
	finely  = [3]float64{5000, 50000, 500000}
)

// pair is two circles by twice their number, which is where their places begin, and how far apart they touch.
type pair struct {
	i, j       int
	reach, sq2 float64
}

// list lists the pairs less than skin apart, by a sweep along x.
func (p *pile) list(x []float64, skin float64) {
	n := len(p.r)
	if len(p.sweep) != n {
		p.sweep = make([]int, n)
		for i := range p.sweep {
			p.sweep[i] = i
		}
	}
	slices.SortFunc(p.sweep, func(a, b int) int {
		return cmp.Or(cmp.Compare(x[2*a], x[2*b]), cmp.Compare(a, b))
	})
	p.near = p.near[:0]
	p.home = append(p.home[:0], x...)
	for k, i := range p.sweep {
		for _, j := range p.sweep[k+1:] {
			dx := x[2*j] - x[2*i]
			if dx > p.r[i]+p.r[0]+skin { // r[0] is the largest
				break
			}
			reach := p.r[i] + p.r[j] + skin
			dy := x[2*j+1] - x[2*i+1]
			if float64(dx*dx)+float64(dy*dy) < float64(reach*reach) {
				touch := p.r[i] + p.r[j]
				p.near = append(p.near, pair{2 * i, 2 * j, touch, float64(touch * touch)})
			}
		}
	}
}

const skin = 0.6

// fresh lists the pairs again when a circle has moved so far that one not listed may touch.
func (p *pile) fresh(x []float64) {
	if len(p.home) == len(x) {
		far := 0.0
		for i := range p.r {
			dx, dy := x[2*i]-p.home[2*i], x[2*i+1]-p.home[2*i+1]
			far = max(far, float64(dx*dx)+float64(dy*dy))
		}
		if far < float64(skin*skin)/4 {
			return
		}
	}
	p.list(x, skin)
}

// cost is the container's radius and half c times the squares of all overlaps; g becomes its gradient.
func (p *pile) cost(c float64, x, g []float64) float64 {
	p.fresh(x)
	n := len(p.r)
	clear(g)
	sum := 0.0
	for k := range p.near {
		q := &p.near[k]
		i, j := q.i, q.j
		dx, dy := x[i]-x[j], x[i+1]-x[j+1]
		d := float64(dx*dx) + float64(dy*dy)
		if d >= q.sq2 {
			continue
		}
		if d == 0 { // one upon the other: part them sideways
			dx, d = 1e-9, 1e-18
		}
		d = length(dx, dy)
		over := q.reach - d
		sum += float64(over * over)
		f := c * over / d
		gx, gy := float64(f*dx), float64(f*dy)
		g[i] -= gx
		g[i+1] -= gy
		g[j] += gx
		g[j+1] += gy
	}
	g[2*n] = 1
	for i := range n {
		d := length(x[2*i], x[2*i+1])
		over := d + p.r[i] - x[2*n]
		if over <= 0 {
			continue
		}
		sum += float64(over * over)
		if d > 0 {
			f := c * over / d
			g[2*i] += float64(f * x[2*i])
			g[2*i+1] += float64(f * x[2*i+1])
		}
		g[2*n] -= float64(c * over)
	}
	return x[2*n] + float64(c*sum)/2
}

// press makes the cost least in rounds, by the limited-memory form of the BFGS method (Nocedal 1980). It changes x, leaves in got what
// each round reached, and gives up when onward says so.
func (p *pile) press(x []float64, costs []float64, steps int, got []float64, onward func(round int) bool) bool {
	p.home = p.home[:0]
	for k, c := range costs {
		f := p.descend(c, x, steps)
		if got != nil {
			got[k] = f
		}
		if onward != nil && !onward(k) {
			return false
		}
	}
	return true
}

const memory = 8

// memo is what the method remembers of its last steps, and room to work in.
type memo struct {
	g, next, gNext, dir []float64
	s, y                [memory][]float64
	rho, alpha, yy      [memory]float64
}

func (m *memo) fit(n int) {
	if len(m.g) == n {
		return
	}
	room := make([]float64, n*(4+2*memory))
	take := func() []float64 {
		out := room[:n:n]
		room = room[n:]
		return out
	}
	m.g, m.next, m.gNext, m.dir = take(), take(), take(), take()
	for k := range m.s {
		m.s[k], m.y[k] = take(), take()
	}
}

func (p *pile) descend(c float64, x []float64, steps int) float64 {
	p.memo.fit(len(x))
	w := &p.memo
	g, next, gNext, dir := w.g, w.next, w.gNext, w.dir
	kept := 0
	f := p.cost(c, x, g)
	for range steps {
		copy(dir, g)
		low := max(0, kept-memory)
		// Each sum is taken in the pass that ends the one before it; which term comes after which stays as it is.
		if kept > 0 {
			sum := dot(w.s[(kept-1)%memory], dir)
			for k := kept - 1; k > low; k-- {
				m := k % memory
				w.alpha[m] = w.rho[m] * sum
				sum = addDot(dir, -w.alpha[m], w.y[m], w.s[(k-1)%memory])
			}
			m := low % memory
			w.alpha[m] = w.rho[m] * sum
			last := (kept - 1) % memory
			sum = addTimesDot(dir, -w.alpha[m], w.y[m], 1/(w.rho[last]*w.yy[last]), w.y[m])
			for k := low; k < kept-1; k++ {
				m := k % memory
				sum = addDot(dir, w.alpha[m]-float64(w.rho[m]*sum), w.s[m], w.y[(k+1)%memory])
			}
			m = last
			add(dir, w.alpha[m]-float64(w.rho[m]*sum), w.s[m])
		} else {
			times(dir, 1/c)
		}
		fall, far := 0.0, 0.0
		for i, d := range dir {
			fall += float64(d * g[i])
			far = max(far, d, -d)
		}
		if !(fall > 1e-12*f) {
			return f
		}
		t := 1.0
		if far > 0.5 {
			t = 0.5 / far
		}
		ok := false
		for range 20 {
			for i := range x {
				next[i] = x[i] - float64(t*dir[i])
			}
			fNext := p.cost(c, next, gNext)
			if fNext <= f-float64(1e-4*t*fall) {
				f, ok = fNext, true
				break
			}
			t /= 3
		}
		if !ok {
			return f
		}
		m := kept % memory
		s, y := w.s[m], w.y[m]
		sy, yy := 0.0, 0.0
		for i := range x {
			ds, dy := next[i]-x[i], gNext[i]-g[i]
			s[i], y[i] = ds, dy
			sy += float64(ds * dy)
			yy += float64(dy * dy)
		}
		if sy > 1e-18 {
			w.rho[m], w.yy[m] = 1/sy, yy
			kept++
		} else {
			kept = 0
		}
		copy(x, next)
		g, gNext = gNext, g
	}
	return f
}

func dot(a, b []float64) (sum float64) {
	b = b[:len(a)]
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}

func add(a []float64, by float64, b []float64) {
	b = b[:len(a)]
	for i := range a {
		a[i] += float64(by * b[i])
	}
}

// addDot adds b by a factor to a, and gives the product of what comes out with c.
func addDot(a []float64, by float64, b, c []float64) (sum float64) {
	b, c = b[:len(a)], c[:len(a)]
	for i := range a {
		x := a[i] + float64(by*b[i])
		a[i] = x
		sum += float64(c[i] * x)
	}
	return sum
}

// addTimesDot is the same with what comes out taken times a factor first.
func addTimesDot(a []float64, by float64, b []float64, times float64, c []float64) (sum float64) {
	b, c = b[:len(a)], c[:len(a)]
	for i := range a {
		x := (a[i] + float64(by*b[i])) * times
		a[i] = x
		sum += float64(c[i] * x)
	}
	return sum
}

func times(a []float64, by float64) {
	for i := range a {
		a[i] *= by
	}
}
