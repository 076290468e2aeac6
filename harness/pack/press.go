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

type pair struct{ i, j int }

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
				p.near = append(p.near, pair{i, j})
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
	for _, q := range p.near {
		i, j := 2*q.i, 2*q.j
		reach := p.r[q.i] + p.r[q.j]
		dx, dy := x[i]-x[j], x[i+1]-x[j+1]
		d := float64(dx*dx) + float64(dy*dy)
		if d >= float64(reach*reach) {
			continue
		}
		if d == 0 { // one upon the other: part them sideways
			dx, d = 1e-9, 1e-18
		}
		d = length(dx, dy)
		over := reach - d
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

func (p *pile) descend(c float64, x []float64, steps int) float64 {
	n := len(x)
	g, next, gNext, dir := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	var s, y [memory][]float64
	var rho, alpha [memory]float64
	kept := 0
	f := p.cost(c, x, g)
	for range steps {
		copy(dir, g)
		low := max(0, kept-memory)
		for k := kept - 1; k >= low; k-- {
			m := k % memory
			alpha[m] = rho[m] * dot(s[m], dir)
			add(dir, -alpha[m], y[m])
		}
		if kept > 0 {
			m := (kept - 1) % memory
			times(dir, 1/(rho[m]*dot(y[m], y[m])))
		} else {
			times(dir, 1/c)
		}
		for k := low; k < kept; k++ {
			m := k % memory
			add(dir, alpha[m]-float64(rho[m]*dot(y[m], dir)), s[m])
		}
		fall := dot(dir, g)
		if !(fall > 1e-12*f) {
			return f
		}
		far := 0.0
		for _, d := range dir {
			far = max(far, d, -d)
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
		if s[m] == nil {
			s[m], y[m] = make([]float64, n), make([]float64, n)
		}
		for i := range x {
			s[m][i], y[m][i] = next[i]-x[i], gNext[i]-g[i]
		}
		if sy := dot(s[m], y[m]); sy > 1e-18 {
			rho[m] = 1 / sy
			kept++
		} else {
			kept = 0
		}
		copy(x, next)
		copy(g, gNext)
	}
	return f
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += float64(a[i] * b[i])
	}
	return sum
}

func add(a []float64, by float64, b []float64) {
	for i := range a {
		a[i] += float64(by * b[i])
	}
}

func times(a []float64, by float64) {
	for i := range a {
		a[i] *= by
	}
}
