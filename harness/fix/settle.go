package fix

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/clip"
	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// seated is a clip of the answer on a chain.
type seated struct {
	at    unit.Length // along the chain
	place int         // on the grid
	given *given
	seat  *seat
	bare  bool // it needs no hole
	with  int  // chain whose clip shares its hole, -1
}

// settler is the state of settling the chains of a job, group by group.
type settler struct {
	m     *maker
	sides []clip.Side
	groups
	out   [][]seated // by chain
	price []cost     // by group
	left  []int      // by group: how often it may be settled again
}

// again is how often a single chain may be settled again; a group of more costs by the square of its count.
const again = 40

// settle finds where the clips of all chains go. Chains that can share a hole are settled together, all others for themselves. Each stated hole is
// first offered to the chain nearest to it, and what that leaves to the others that reach it. Where new holes of two chains come too near one
// another, one chain gives way, if it can without a miss.
func (m *maker) settle() [][]seated {
	s := &settler{m: m, sides: m.sides(), out: make([][]seated, len(m.chains))}
	s.groups = m.group(s.sides)
	s.price = make([]cost, len(s.lists))
	for k := range s.lists {
		n := len(s.lists[k])
		s.left = append(s.left, max(2, again/(n*n)))
	}
	m.listHoles()
	solve.Each(len(s.lists), func(k int) {
		ans, c := s.solve(k)
		s.put(k, ans, c)
	})
	s.offer()
	s.giveWay()
	return s.out
}

// solve settles one group. A clip by hand takes a hole beside it, but leaves it to another where that spares a miss and it has, or may have, its own.
func (s *settler) solve(k int) ([][]seated, cost) {
	a := s.best(k)
	if a.Missed > 0 {
		a = s.leave(k, a)
	}
	return s.m.read(s.lists[k], a), cost{a.Missed, a.NewHoles, a.Clips}
}

// best is the answer of one group. Once the body is painted a new hole is asked for only where a miss would be left without it.
func (s *settler) best(k int) clip.Answer {
	p := clip.Problem{}
	for _, i := range s.lists[k] {
		p.Tracks = append(p.Tracks, s.m.track(s.m.chains[i]))
	}
	for _, x := range s.sides {
		if s.of[x.TrackA] == k {
			x.TrackA, x.TrackB = s.at[x.TrackA], s.at[x.TrackB]
			p.Sides = append(p.Sides, x)
		}
	}
	a := clip.Solve(p)
	if s.m.job.Painted != "" && a.NewHoles > 0 {
		for i := range p.Tracks {
			p.Tracks[i].NewShut = []clip.Range{{From: 0, To: p.Tracks[i].Length}}
		}
		if b := clip.Solve(p); b.Missed <= a.Missed {
			a = b
		}
	}
	return a
}

func (s *settler) put(k int, ans [][]seated, c cost) {
	for j, i := range s.lists[k] {
		s.out[i] = ans[j]
	}
	s.price[k] = c
}

// offer gives the holes that no clip took to the chains further off that reach them, if that spares a miss or a new hole.
func (s *settler) offer() {
	taken := map[*design.Hole]bool{}
	for _, list := range s.out {
		for i := range list {
			if list[i].seat != nil {
				taken[list[i].seat.hole] = true
			}
		}
	}
	for i, c := range s.m.chains {
		k, old := s.of[i], c.seats
		if len(c.further) == 0 || s.price[k][0]+s.price[k][1] == 0 || s.left[k] == 0 {
			continue
		}
		for _, x := range c.further {
			if !taken[x.hole] {
				c.seats = append(slices.Clip(c.seats), x)
			}
		}
		if len(c.seats) == len(old) {
			continue
		}
		s.left[k]--
		ans, now := s.solve(k)
		if !now.less(s.price[k]) {
			c.seats = old
			continue
		}
		s.put(k, ans, now)
		for _, x := range s.out[i] {
			if x.seat != nil {
				taken[x.seat.hole] = true
			}
		}
	}
}

// giveWay moves chains whose new holes come too near those of others: the later one if that costs nothing, else the earlier one; if it costs
// clips, the one that costs fewer.
func (s *settler) giveWay() {
	m, tried := s.m, map[[4]int]bool{}
	holes := m.newHoles(s.out)
	for range mostTries {
		x := holes.crowded(tried)
		if x == nil {
			break
		}
		tried[pairKey(x[0], x[1])] = true
		best, bestCost, bestNow := -1, cost{}, cost{}
		var bestAns [][]seated
		var bestShut []stretchOf
		for _, i := range []int{1, 0} {
			c, k := m.chains[x[i].chain], s.of[x[i].chain]
			if x[i].given || s.left[k] == 0 {
				continue
			}
			s.left[k]--
			old := c.shut
			c.shut = append(slices.Clone(old), m.around(c, x[1-i])...)
			ans, now := s.solve(k)
			more := cost{now[0] - s.price[k][0], now[1] - s.price[k][1], now[2] - s.price[k][2]}
			if more[0] <= 0 && (best < 0 || more.less(bestCost)) {
				best, bestCost, bestNow, bestAns, bestShut = i, more, now, ans, c.shut
			}
			c.shut = old
			if more == (cost{}) {
				break
			}
		}
		if best >= 0 {
			m.chains[x[best].chain].shut = bestShut
			k := s.of[x[best].chain]
			s.put(k, bestAns, bestNow)
			for _, i := range s.lists[k] {
				holes.look(s.out, i)
			}
		}
	}
}

// cost of an answer: misses, new holes, clips.
type cost [3]int

func (a cost) less(b cost) bool { return slices.Compare(a[:], b[:]) < 0 }

// groups is the chains that are settled together.
type groups struct {
	lists [][]int
	of    []int // list of a chain
	at    []int // where in it
}

func (m *maker) group(sides []clip.Side) groups {
	root := make([]int, len(m.chains))
	for i := range root {
		root[i] = i
	}
	find := func(i int) int {
		for root[i] != i {
			i = root[i]
		}
		return i
	}
	join := func(a, b int) { a, b = find(a), find(b); root[max(a, b)] = min(a, b) }
	for _, s := range sides {
		join(s.TrackA, s.TrackB)
	}
	first := map[*design.Hole]int{}
	for i, c := range m.chains {
		for _, s := range c.seats {
			if j, ok := first[s.hole]; ok {
				join(i, j)
			} else {
				first[s.hole] = i
			}
		}
	}
	g := groups{of: make([]int, len(m.chains)), at: make([]int, len(m.chains))}
	list := map[int]int{}
	for i := range m.chains {
		r := find(i)
		if _, ok := list[r]; !ok {
			list[r] = len(g.lists)
			g.lists = append(g.lists, nil)
		}
		k := list[r]
		g.of[i], g.at[i] = k, len(g.lists[k])
		g.lists[k] = append(g.lists[k], i)
	}
	return g
}

// track is a chain as the optimiser sees it.
func (m *maker) track(c *chain) (t clip.Track) {
	if c.grid < 0 {
		return t
	}
	t.Length, t.Apart = c.grid, int(math.Ceil(min(float64(c.apart)-tiny, mostGrid)))
	if c.moves {
		m.freeMiddle(c)
	}
	for _, b := range slices.Concat(c.bars, c.middle) {
		if from, to, ok := c.within(b.lo+2*tiny, b.hi-2*tiny); ok && b.hi > b.lo {
			t.Closed = append(t.Closed, clip.Range{From: from, To: to})
		}
	}
	for _, w := range c.wants {
		from, to, ok := c.within(w.lo, w.hi)
		switch {
		case !ok:
		case w.at <= tiny && from == 0 && to > 0:
			t.Ends[0] = to
		case w.at >= c.length-tiny && to == c.grid && from < c.grid:
			t.Ends[1] = c.grid - from
		default:
			t.Windows = append(t.Windows, clip.Window{Range: clip.Range{From: from, To: to}, Why: w.why})
		}
	}
	for k, p := range c.parts {
		l := m.spanFor(c, k)
		if from, to, ok := c.within(p.at, p.at+m.geo.Edges[p.edge].Length); ok && l.most > 0 {
			most := max(1, int(math.Floor(min(float64(l.most)+tiny, mostGrid))))
			t.Spans = append(t.Spans, clip.Span{Range: clip.Range{From: from, To: to}, Most: most})
		}
	}
	for _, s := range c.shut {
		t.NewShut = append(t.NewShut, clip.Range{From: s.from, To: s.to})
	}
	for _, s := range c.bare {
		t.NoHole = append(t.NoHole, clip.Range{From: s.from, To: s.to})
	}
	for _, s := range c.seats {
		at := s.at
		if slices.Contains(c.own, at) {
			at = -1 // beside the track: for nothing there
		}
		t.Seats = append(t.Seats, clip.Seat{At: at, ID: m.seatID(c, s)})
	}
	for _, g := range c.given {
		if !slices.Contains(t.Given, g.at) {
			t.Given = append(t.Given, g.at)
		}
	}
	slices.Sort(t.Given)
	return t
}

// spanFor is the largest gap on a part of a chain.
func (m *maker) spanFor(c *chain, k int) limit {
	if k < len(c.spans) {
		return c.spans[k]
	}
	return limit{}
}

// freeMiddle leaves a moving stretch free but for the places near its ends where it may be held: at stated clips, in holes that are there, and at
// the place nearest to the end where a new one may be.
func (m *maker) freeMiddle(c *chain) {
	c.middle = nil
	var free []unit.Length
	for _, w := range c.wants {
		from, to, ok := c.within(w.lo, w.hi)
		if !ok {
			continue
		}
		pick, least := -1, math.Inf(1)
		for p := from; p <= to; p++ {
			x := c.real(p)
			switch {
			case slices.ContainsFunc(c.given, func(g given) bool { return g.at == p }):
				free = append(free, x)
			case c.barred(x) != "":
			case c.seatAt(p):
				free = append(free, x)
			case inAny(c.shut, p) && !inAny(c.bare, p):
			case math.Abs(float64(x-w.at)) < least:
				pick, least = p, math.Abs(float64(x-w.at))
			}
		}
		if pick >= 0 {
			free = append(free, c.real(pick))
		}
	}
	slices.Sort(free)
	at := unit.Length(-1)
	for _, x := range append(free, c.length+1) {
		c.middle = append(c.middle, bar{lo: at, hi: x, why: "the stretch moves"})
		at = x
	}
}

func inAny(list []stretchOf, p int) bool {
	return slices.ContainsFunc(list, func(s stretchOf) bool { return s.from <= p && p <= s.to })
}

// read takes the places of an answer back to their chains. Of several stated clips on one place of the grid each keeps its own, and the first
// of them the hole that is there.
func (m *maker) read(list []int, a clip.Answer) [][]seated {
	out := make([][]seated, len(list))
	for i, places := range a.Places {
		c := m.chains[list[i]]
		for _, x := range places {
			s := seated{at: c.real(x.At), place: x.At, with: -1, bare: inAny(c.bare, x.At)}
			if x.With >= 0 {
				s.with = list[x.With]
			}
			if x.Seat >= 0 {
				s.seat = &c.seats[x.Seat]
			}
			if !x.Given {
				out[i] = append(out[i], s)
				continue
			}
			for k := range c.given {
				if g := &c.given[k]; g.at == x.At {
					s.given, s.at = g, g.after
					if g.fixing.Hole != "" || k > 0 && slices.ContainsFunc(c.given[:k], func(o given) bool { return o.at == g.at }) {
						s.seat = nil
					}
					out[i] = append(out[i], s)
				}
			}
		}
		slices.SortStableFunc(out[i], func(a, b seated) int { return cmp.Compare(a.at, b.at) })
	}
	return out
}
