package fix

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/clip"
	"loomsheet/harness/design"
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

// settle finds where the clips of all chains go. Chains that can share a hole are settled together, all others for themselves. Where new holes
// of two chains come too near one another, one chain gives way, if it can without a miss.
func (m *maker) settle() [][]seated {
	sides := m.sides()
	out := make([][]seated, len(m.chains))
	g := m.groups(sides)
	price := make([]cost, len(g.lists))
	solve := func(k int) ([][]seated, cost) {
		p := clip.Problem{}
		for _, i := range g.lists[k] {
			p.Tracks = append(p.Tracks, m.track(m.chains[i]))
		}
		for _, s := range sides {
			if g.of[s.TrackA] == k {
				s.TrackA, s.TrackB = g.at[s.TrackA], g.at[s.TrackB]
				p.Sides = append(p.Sides, s)
			}
		}
		a := clip.Solve(p)
		return m.read(g.lists[k], a), cost{a.Missed, a.NewHoles, a.Clips}
	}
	put := func(k int, ans [][]seated, c cost) {
		for j, i := range g.lists[k] {
			out[i] = ans[j]
		}
		price[k] = c
	}
	for k := range g.lists {
		ans, c := solve(k)
		put(k, ans, c)
	}
	tried := map[[4]int]bool{}
	for range mostTries {
		x := m.crowded(out, tried)
		if x == nil {
			break
		}
		tried[pairKey(x[0], x[1])] = true
		// The later chain gives way if that costs nothing, else the earlier one; if it costs clips, the one that costs fewer.
		best, bestCost := -1, cost{}
		var bestAns [][]seated
		for i, other := range []int{1, 0} {
			c, k := m.chains[x[other].chain], g.of[x[other].chain]
			if x[other].given {
				continue
			}
			old := c.shut
			c.shut = append(slices.Clone(old), m.around(c, x[1-other])...)
			ans, now := solve(k)
			c.shut = old
			more := cost{now[0] - price[k][0], now[1] - price[k][1], now[2] - price[k][2]}
			if more[0] <= 0 && (best < 0 || more.less(bestCost)) {
				best, bestCost, bestAns = i, more, ans
			}
			if more == (cost{}) {
				break
			}
		}
		if best < 0 {
			continue
		}
		other := 1 - best
		c, k := m.chains[x[other].chain], g.of[x[other].chain]
		c.shut = append(slices.Clone(c.shut), m.around(c, x[1-other])...)
		put(k, bestAns, cost{price[k][0] + bestCost[0], price[k][1] + bestCost[1], price[k][2] + bestCost[2]})
	}
	return out
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

func (m *maker) groups(sides []clip.Side) groups {
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
	t.Length = c.grid
	if c.moves {
		m.freeMiddle(c)
	}
	for _, b := range c.bars {
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
		t.Seats = append(t.Seats, clip.Seat{At: s.at, ID: m.seatID(c, s)})
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

// freeMiddle picks the places of the clips of a moving stretch: a stated clip, else a hole that is there, else as close to the end as may be; all the
// rest of it is barred.
func (m *maker) freeMiddle(c *chain) {
	var picks []unit.Length
	for _, w := range c.wants {
		from, to, ok := c.within(w.lo, w.hi)
		if !ok {
			continue
		}
		pick, rank := -1, math.Inf(1)
		for p := from; p <= to; p++ {
			x := math.Abs(float64(c.real(p) - w.at))
			r := x + 3*mostGrid
			switch {
			case slices.ContainsFunc(c.given, func(g given) bool { return g.at == p }):
				r = x
			case c.barred(c.real(p)) != "":
				continue
			case slices.ContainsFunc(c.seats, func(s seat) bool { return s.at == p }), inAny(c.bare, p):
				r = x + mostGrid
			case inAny(c.shut, p):
				continue
			}
			if r < rank {
				pick, rank = p, r
			}
		}
		if pick >= 0 {
			picks = append(picks, c.real(pick))
		}
	}
	slices.Sort(picks)
	at := unit.Length(-1)
	for _, x := range append(picks, c.length+1) {
		c.bars = append(c.bars, bar{lo: at, hi: x, why: "the stretch moves"})
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
