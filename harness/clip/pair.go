package clip

// pair is two lines side by side, both looked at from their ends, so that of equal answers the one with the first places is met first.
// Where two clips face each other they may share a hole; everything else concerns one line only.
//
// A clock runs along both such that places face to face have one time. The search always lengthens the line that lags behind. Of what
// is before, only the last clip on each line matters then: a clip that faces the last one of the other line is seen when it is set, as
// the other line cannot have gone further. All pairs of answers of the two lines are reached, each in one way.
//
// A bound cuts the search: each place gets a share of a common hole's cost, and both lines for themselves can do no better than their
// best at those shares.
type pair struct {
	line  [2]*line
	face  [2][]int32         // by spot: the spot of the other line that faces it, -1
	clock [2][]int           // by spot
	seat  [2]func(i int) int // ID of the seat that a spot takes, -1 none
}

// newPair sets faces and clock. Places x of the first and of(x) of the second face each other, rising together.
func newPair(a, b *line, of func(x int) int) *pair {
	p := &pair{line: [2]*line{a, b}}
	spotAt := blank(b.length + 1)
	for j := range b.spots {
		spotAt[b.spots[j].at] = int32(j)
	}
	p.face = [2][]int32{blank(len(a.spots)), blank(len(b.spots))}
	for i := range a.spots {
		if y := of(a.spots[i].at); y >= 0 && spotAt[y] >= 0 {
			p.face[0][i], p.face[1][spotAt[y]] = spotAt[y], int32(i)
		}
	}
	p.setClock(of)
	return p
}

func (p *pair) setClock(of func(x int) int) {
	a, b := p.line[0], p.line[1]
	timeA, timeB := make([]int, a.length+1), make([]int, b.length+1)
	lastX, lastY, now := 0, 0, 0
	y := 0
	for x := range timeA {
		timeA[x] = now + x - lastX
		to := of(x)
		if to < 0 {
			continue
		}
		for ; y < to; y++ {
			timeB[y] = now + y - lastY
		}
		now += max(x-lastX, to-lastY)
		lastX, lastY = x, to
		timeA[x] = now
	}
	for ; y <= b.length; y++ {
		timeB[y] = now + y - lastY
	}
	for k, t := range [][]int{timeA, timeB} {
		p.clock[k] = make([]int, len(p.line[k].spots))
		for i := range p.line[k].spots {
			p.clock[k][i] = t[p.line[k].spots[i].at]
		}
	}
}

// meet is what two clips face to face cost: i of the first line, j of the second.
func (p *pair) meet(i, j int) (int64, share, bool) {
	one := p.seat[0](i)
	return meet(&p.line[0].spots[i], &p.line[1].spots[j], one >= 0 && one == p.seat[1](j))
}

// found is an answer for both lines: the spots, in order.
type found struct {
	cost  cost
	spots [2][]int
	exact bool
	work  int
}

// solve finds the best answer for both lines, or, where that takes more than budget, a good one.
func (p *pair) solve(turns, budget int) found {
	d := newDual(p)
	d.climb(turns)
	best := d.known
	s := newSweep(p, d.tails(), d.best, best.cost, budget)
	if s.run() {
		best.cost, best.spots = s.answer()
		best.exact = true
	}
	best.work = d.work + s.work
	return best
}

// wholeHoles raises a bound to whole holes, below which no answer is; what is less than a hole then says nothing any more.
func wholeHoles(c cost) cost {
	if c.a&(oneHole-1) != 0 {
		return cost{(c.a + oneHole - 1) &^ (oneHole - 1), 0}
	}
	return c
}

// after is what each spot of the second line costs once the first is settled.
func (p *pair) after(first int, one []int) []int64 {
	other := p.line[1-first]
	h := other.alone()
	other.barGuests(h)
	for _, i := range one {
		if j := p.face[first][i]; j >= 0 {
			if both, _, ok := p.meet2(first, i, int(j)); ok {
				h[j] = both - p.line[first].spots[i].holes()
			}
		}
	}
	return h
}

// barGuests keeps clips from places where they could stand only facing another.
func (ln *line) barGuests(holes []int64) {
	for i := range holes {
		if ln.spots[i].guest {
			holes[i] = never.a
		}
	}
}

// meet2 is meet for a line and its spot named first.
func (p *pair) meet2(first, i, j int) (int64, share, bool) {
	if first == 1 {
		i, j = j, i
	}
	return p.meet(i, j)
}
