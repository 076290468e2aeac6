package pack

import (
	"math"
	"slices"
)

// dice is a row of numbers from 0 to 1 that is the same in every run (a 64-bit congruential generator, Knuth's constants).
type dice uint64

func (d *dice) roll() float64 {
	*d = *d*6364136223846793005 + 1442695040888963407
	return float64(*d>>11) / (1 << 53)
}

func (d *dice) under(n int) int { return min(int(d.roll()*float64(n)), n-1) }

// start is the arrangement to begin with number k.
func (p *pile) start(k int, seed *dice) []float64 {
	n := len(p.r)
	if n > 200 {
		return p.spiral(p.inOrder())
	}
	equal := p.r[0] <= p.r[n-1]*(1+1e-6)
	switch {
	case k == 0:
		return p.tangent(p.inOrder())
	case k <= 3:
		if equal {
			return p.lattice(k - 1)
		}
		return p.tangent(p.jumbled(0.15*float64(k), seed))
	case k == 4:
		return p.spiral(p.inOrder())
	case k == 5 && equal:
		return p.lattice(3)
	case k >= 6 && k <= 12 && equal && n > 20:
		return p.shells(k%3/2, seed)
	case k == 6 || k == 7:
		return p.rings(p.jumbled(float64(k-6), seed), 0.76+float64(0.05*float64(k-6)))
	case k%2 == 0 && !equal:
		return p.tangent(p.jumbled(1, seed))
	}
	return p.spiral(p.jumbled(2, seed))
}

func (p *pile) inOrder() []int {
	out := make([]int, len(p.r))
	for i := range out {
		out[i] = i
	}
	return out
}

// jumbled is the order by size with each circle moved by up to much of the whole row.
func (p *pile) jumbled(much float64, seed *dice) []int {
	n := len(p.r)
	key := make([]float64, n)
	for i := range key {
		key[i] = float64(i) + float64(float64(much*float64(n))*(seed.roll()-0.5))
	}
	out := p.inOrder()
	slices.SortStableFunc(out, func(a, b int) int {
		switch {
		case key[a] < key[b]:
			return -1
		case key[a] > key[b]:
			return 1
		}
		return 0
	})
	return out
}

// tangent sets one circle after the other where it touches two that stand already, as near the middle as it can.
func (p *pile) tangent(order []int) []float64 {
	n := len(p.r)
	x := make([]float64, 2*n+1)
	put := order[:0:0]
	for k, i := range order {
		r := p.r[i]
		switch k {
		case 0:
		case 1:
			x[2*i] = p.r[order[0]] + r
		default:
			least, bx, by := math.Inf(1), 0.0, 0.0
			for a := range put {
				for b := range a {
					u, v := put[a], put[b]
					ux, uy, vx, vy := x[2*u], x[2*u+1], x[2*v], x[2*v+1]
					ru, rv := p.r[u]+r, p.r[v]+r
					dx, dy := vx-ux, vy-uy
					d := length(dx, dy)
					if d >= ru+rv || d == 0 {
						continue
					}
					along := (float64(d*d) + float64(ru*ru) - float64(rv*rv)) / (2 * d)
					h := float64(ru*ru) - float64(along*along)
					if h < 0 {
						continue
					}
					h = math.Sqrt(h)
					ex, ey := dx/d, dy/d
					for _, side := range [2]float64{1, -1} {
						cx := ux + float64(along*ex) - float64(side*h*ey)
						cy := uy + float64(along*ey) + float64(side*h*ex)
						if from := length(cx, cy) + r; from < least-1e-9 && p.free(x, put, cx, cy, r) {
							least, bx, by = from, cx, cy
						}
					}
				}
			}
			x[2*i], x[2*i+1] = bx, by
		}
		put = append(put, i)
		p.centre(x, put)
	}
	return x
}

// free tells whether a circle would overlap none of those put.
func (p *pile) free(x []float64, put []int, cx, cy, r float64) bool {
	for _, i := range put {
		dx, dy, reach := x[2*i]-cx, x[2*i+1]-cy, p.r[i]+r-1e-9
		if float64(dx*dx)+float64(dy*dy) < float64(reach*reach) {
			return false
		}
	}
	return true
}

// centre moves what is put so that its weight lies in the middle, and sets the radius.
func (p *pile) centre(x []float64, put []int) {
	w, mx, my := 0.0, 0.0, 0.0
	for _, i := range put {
		a := float64(p.r[i] * p.r[i])
		w += a
		mx += float64(a * x[2*i])
		my += float64(a * x[2*i+1])
	}
	radius := 0.0
	for _, i := range put {
		x[2*i] -= mx / w
		x[2*i+1] -= my / w
		radius = max(radius, length(x[2*i], x[2*i+1])+p.r[i])
	}
	x[len(x)-1] = radius
}

// spiral sets each circle a golden angle on, where the area of those before it ends; they overlap a little.
func (p *pile) spiral(order []int) []float64 {
	const c, s = -0.7373688780783197, 0.6754902942615238 // cosine and sine of 137.50776 degrees
	x := make([]float64, 2*len(p.r)+1)
	ex, ey, area := 1.0, 0.0, 0.0
	for _, i := range order {
		a := float64(p.r[i] * p.r[i])
		from := math.Sqrt((area + a/2) / 0.8)
		x[2*i], x[2*i+1] = float64(from*ex), float64(from*ey)
		area += a
		ex, ey = float64(ex*c)-float64(ey*s), float64(ex*s)+float64(ey*c)
	}
	p.centre(x, order)
	return x
}

// shells lays equal circles in shells about a core of one to five, each shell of six more than the one within, turned at random; which is the rank of the
// core, by how many are left over for a last shell that is not full.
func (p *pile) shells(which int, seed *dice) []float64 {
	n := len(p.r)
	cores := []int{1, 2, 3, 4, 5}
	short := func(core int) int {
		sum, shell := core, max(core+6, 6)
		if core == 1 {
			shell = 6
		}
		for sum < n {
			sum += shell
			shell += 6
		}
		return sum - n
	}
	slices.SortStableFunc(cores, func(a, b int) int { return short(a) - short(b) })
	core := cores[which]
	x := make([]float64, 2*n+1)
	from, shell := [...]float64{0, 1, 1.155, 1.414, 1.701}[core-1], core
	for at := 0; at < n; {
		m, phase := min(shell, n-at), float64(2*math.Pi*seed.roll())
		for k := range m {
			x[2*(at+k)], x[2*(at+k)+1] = turned(from, phase+float64(2*math.Pi*float64(k)/float64(m)))
		}
		at += m
		from += 1.9
		if shell == 1 {
			shell = 0
		}
		shell += 6
	}
	p.centre(x, p.inOrder())
	return x
}

// rings fills rings from the outside in, for a bundle that is filled to the given share of its area.
func (p *pile) rings(order []int, share float64) []float64 {
	n := len(p.r)
	x := make([]float64, 2*n+1)
	radius := math.Sqrt(float64(n) / share) // the mean square of the radii is 1
	for at := 0; at < n; {
		first := p.r[order[at]]
		if radius < 2*first || n-at == 1 { // the middle
			for k, i := range order[at:] {
				x[2*i], x[2*i+1] = turned(first/2, float64(k)*2.4)
			}
			break
		}
		angle, widest, last := []float64{0}, first, first
		turn := 0.0
		for _, i := range order[at+1:] {
			r := p.r[i]
			step := (last + r) / (radius - max(last, r))
			if turn+step > 2*math.Pi-(r+first)/(radius-max(r, first)) {
				break
			}
			turn += step
			angle, widest, last = append(angle, turn), max(widest, r), r
		}
		turn += (last + first) / (radius - max(last, first))
		for k, a := range angle {
			i := order[at+k]
			x[2*i], x[2*i+1] = turned(radius-p.r[i], a/turn*2*math.Pi)
		}
		at += len(angle)
		radius -= float64(1.8 * widest)
	}
	p.centre(x, order)
	return x
}

// lattice sets equal circles on the hexagonal lattice nearest to a circle's middle, the middle of two, of three, or off all of these.
func (p *pile) lattice(about int) []float64 {
	n, r := len(p.r), p.r[0]
	root3 := math.Sqrt(3)
	off := [4][2]float64{{0, 0}, {r, 0}, {r, r / root3}, {r / 2, r / 3}}[about]
	type spot struct{ x, y, d float64 }
	var spots []spot
	rows := int(math.Sqrt(float64(n))) + 3
	for row := -rows; row <= rows; row++ {
		for col := -rows; col <= rows; col++ {
			sx := float64(2*r*float64(col)) - off[0]
			if row%2 != 0 {
				sx += r
			}
			sy := float64(r*root3*float64(row)) - off[1]
			spots = append(spots, spot{sx, sy, float64(sx*sx) + float64(sy*sy)})
		}
	}
	slices.SortStableFunc(spots, func(a, b spot) int {
		switch {
		case a.d < b.d-1e-9:
			return -1
		case a.d > b.d+1e-9:
			return 1
		}
		return 0
	})
	x := make([]float64, 2*n+1)
	for i := range n {
		x[2*i], x[2*i+1] = spots[i].x, spots[i].y
	}
	p.centre(x, p.inOrder())
	return x
}

// shake is an arrangement near another: some circles thrown into the widest gaps that are tried, two unlike ones exchanged, or
// all moved a little.
func (p *pile) shake(x []float64, seed *dice) []float64 {
	n := len(p.r)
	y := slices.Clone(x)
	way := seed.under(4)
	unlike := p.r[0] > p.r[n-1]*1.05
	switch {
	case way == 3 && unlike: // two that follow one another in size
		for range 1 + n/12 {
			i := seed.under(n - 1)
			j := min(n-1, i+1+seed.under(3))
			y[2*i], y[2*j] = y[2*j], y[2*i]
			y[2*i+1], y[2*j+1] = y[2*j+1], y[2*i+1]
		}
	case way == 1 && unlike:
		for range 1 + n/12 {
			i, j := seed.under(n), seed.under(n)
			y[2*i], y[2*j] = y[2*j], y[2*i]
			y[2*i+1], y[2*j+1] = y[2*j+1], y[2*i+1]
		}
	case way == 0:
		for i := range n {
			y[2*i] += float64(0.9 * (seed.roll() - 0.5))
			y[2*i+1] += float64(0.9 * (seed.roll() - 0.5))
		}
	default:
		for range 1 + seed.under(1+n/16) {
			p.throw(y, seed.under(n), seed)
		}
	}
	return y
}

// throw puts a circle where, of some places tried, it overlaps the others least.
func (p *pile) throw(x []float64, i int, seed *dice) {
	n := len(p.r)
	room := x[2*n] - p.r[i]
	best, bx, by := math.Inf(1), x[2*i], x[2*i+1]
	for range 40 {
		cx, cy := float64(room*(2*seed.roll()-1)), float64(room*(2*seed.roll()-1))
		over := max(0, length(cx, cy)-room)
		for j := range n {
			if j != i {
				over += max(0, p.r[i]+p.r[j]-length(cx-x[2*j], cy-x[2*j+1]))
			}
		}
		if over < best {
			best, bx, by = over, cx, cy
		}
	}
	x[2*i], x[2*i+1] = bx, by
}
