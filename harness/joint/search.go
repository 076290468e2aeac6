package joint

import (
	"cmp"
	"math"
	"slices"
	"sort"

	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// spot is a place where a splice may be put: a whole millimetre of a run.
type spot struct {
	at      loc
	run, to string
	after   unit.Length
}

// pull is a link to something that has its place.
type pull struct {
	field  *net.Field
	weight weight
}

// link is one between two splices that are both sought, from the one its text begins with.
type link struct {
	pull     int // of the survey
	from, to int // items
	weight   weight
	least    int64 // of its cost
	mate     bool  // no wire: splices of one cable, whose cores stay together; Pull is -1
}

// item is a splice for which a place is sought. Its lists are in step.
type item struct {
	body
	section string
	pulls   []pull
	all     []int     // spots of its section that all its links reach, ascending
	cost    []int64   // of the links to things that have their place, and what wet and heat are counted for
	copper  []int64   // the same of the links alone
	share   []float64 // by how much a spot misses its limits
	ok      []bool    // it may lie there: nothing is missed, or, where something is missed everywhere, the least is
	ends    []int     // of ok, those beside which is one that is not
	least   int64     // of cost where ok
	copperW weight    // of all its wires
}

// search looks for the places of all items together.
//
// Along one edge the cost of a splice is a sum of the lesser of two straight lines, so it is nowhere least between two spots unless as low at an
// end of the stretch in which it may lie; and splices that must keep apart can be pushed together, all in one direction, without the cost ever
// rising in both. So among the least costly places there are some in which every splice lies at such an end, or touches another one that does so in turn.
// They are all tried, but for those that a bound rules out: the splices still to be placed cost no less than each would alone. What is
// tried is bounded (see mostWork); beyond it the best that was found stands, and Choice.Over says by how much it may be missed.
type search struct {
	g     *ground
	sv    *net.Survey
	spots []spot
	first map[int]int // spot, by edge
	count map[int]int
	items []*item
	links []link
	work  int // places weighed so far
	// pressed: no room is kept for clips between splices
	pressed bool
}

// mostWork bounds the places that are weighed to prove one group of splices, and mostWorkAll to prove all of a job.
const (
	mostWork    = 100_000
	mostWorkAll = 400_000
)

func (s *search) index(it *item, spot int) int {
	k := sort.SearchInts(it.all, spot)
	if k < len(it.all) && it.all[k] == spot {
		return k
	}
	return -1
}

// gap between two items that lie on these edges: so much that a clip finds room between them, unless they are close pressed.
func (s *search) gap(i, j int, a, b loc) unit.Length {
	one, two := s.items[i].length, s.items[j].length
	gap := max(s.g.gap(a, one, two), s.g.gap(b, one, two))
	if s.pressed {
		return gap
	}
	return max(gap, 2*s.g.rule(a.edge).clip, 2*s.g.rule(b.edge).clip)
}

func (s *search) crowded(i, a, j, b int) bool {
	p, q := s.spots[a].at, s.spots[b].at
	return s.g.far(p, q) < s.gap(i, j, p, q)-tiny
}

// between is what the links of two items cost.
func (s *search) between(i, a, j, b int) int64 { return s.betweenBy(i, a, j, b, false) }

func (s *search) betweenBy(i, a, j, b int, wires bool) (sum int64) {
	for _, l := range s.links {
		if wires && l.mate || l.from != i && l.from != j || l.to != i && l.to != j || l.from == l.to {
			continue
		}
		p, q := s.spots[a].at, s.spots[b].at
		if l.from == j {
			p, q = q, p
		}
		way, ok := s.sv.Between(l.pull, p.edge, p.into, q.edge, q.into)
		if !ok {
			sum = plus(sum, mostCost/1024)
			continue
		}
		sum = plus(sum, wayOf(way)*l.weight)
	}
	return sum
}

// linked tells whether a link joins two items.
func (s *search) linked(i, j int) bool {
	return slices.ContainsFunc(s.links, func(l link) bool { return l.from == i && l.to == j || l.from == j && l.to == i })
}

// leastOf is what a link costs at least: a way between two places is no shorter than that between some ends of where they may be.
func (s *search) leastOf(l link) int64 {
	x, y := s.items[l.from], s.items[l.to]
	if l.from == l.to || len(x.ends)*len(y.ends) > mostWork {
		return 0
	}
	best := mostCost
	for _, a := range x.ends {
		for _, b := range y.ends {
			p, q := s.spots[x.all[a]].at, s.spots[y.all[b]].at
			if p.edge == q.edge {
				return 0
			}
			if way, ok := s.sv.Between(l.pull, p.edge, p.into, q.edge, q.into); ok {
				best = min(best, wayOf(way)*l.weight)
			}
		}
	}
	if best == mostCost {
		return 0
	}
	return best
}

// prepare finds where an item may lie.
func (s *search) prepare(it *item) {
	least := math.Inf(1)
	for _, x := range it.share {
		least = min(least, x)
	}
	it.ok, it.ends, it.least = make([]bool, len(it.all)), nil, mostCost
	for k := range it.all {
		it.ok[k] = it.share[k] <= least+1e-9
		if it.ok[k] {
			it.least = min(it.least, it.cost[k])
		}
	}
	for k, ok := range it.ok {
		beside := func(d int) bool {
			o := k + d
			return o >= 0 && o < len(it.all) && it.ok[o] && it.all[o] == it.all[k]+d && s.spots[it.all[o]].at.edge == s.spots[it.all[k]].at.edge
		}
		if ok && (!beside(-1) || !beside(1)) {
			it.ends = append(it.ends, k)
		}
	}
}

// placed is where items are; -1 not yet.
type placed []int

// touching lists where an item can lie right beside another one that has its spot.
func (s *search) touching(i, j, b int) (out []int) {
	it, q := s.items[i], s.spots[b].at
	e := &s.g.geo.Edges[q.edge]
	edges := []int{q.edge}
	for _, n := range []int{e.From, e.To} {
		for _, x := range s.g.nodesNear(n, e.Section) {
			for _, o := range s.g.around[nodeIn{x.node, e.Section}] {
				if !slices.Contains(edges, o) {
					edges = append(edges, o)
				}
			}
		}
	}
	for _, o := range edges {
		x := &s.g.geo.Edges[o]
		gap := s.gap(i, j, loc{o, 0}, q)
		at := []unit.Length{gap - s.g.far(q, loc{o, 0}), x.Length - gap + s.g.far(q, loc{o, x.Length})}
		if o == q.edge {
			at = append(at, q.into-gap, q.into+gap)
		}
		lo, n := s.first[o], s.count[o]
		for _, p := range at {
			if !unit.Finite(p) {
				continue
			}
			k := lo + sort.Search(n, func(k int) bool { return s.spots[lo+k].at.into >= p-tiny })
			for _, c := range []int{k - 1, k} {
				if c < lo || c >= lo+n {
					continue
				}
				if m := s.index(it, c); m >= 0 && it.ok[m] {
					out = append(out, m)
				}
			}
		}
	}
	return out
}

// choice is one spot for an item and what it adds.
type choice struct {
	k    int // index into the item's lists
	cost int64
}

// choices lists where an item can go beside those that are placed, cheapest first.
func (s *search) choices(i int, at placed) (out []choice) {
	it := s.items[i]
	ks := slices.Clone(it.ends)
	for j, b := range at {
		if b >= 0 && j != i {
			ks = append(ks, s.touching(i, j, b)...)
		}
	}
	slices.Sort(ks)
	ks = slices.Compact(ks)
	s.work += len(ks)
	for _, k := range ks {
		c := choice{k, it.cost[k]}
		free := true
		for j, b := range at {
			if b < 0 || j == i {
				continue
			}
			if free = !s.crowded(i, it.all[k], j, b); !free {
				break
			}
		}
		if !free {
			continue
		}
		for j, b := range at {
			if b >= 0 && j != i && s.linked(i, j) {
				c.cost = plus(c.cost, s.between(i, it.all[k], j, b))
			}
		}
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b choice) int { return cmp.Or(cmp.Compare(a.cost, b.cost), a.k-b.k) })
	return out
}

func (s *search) total(group []int, at placed) (sum int64) {
	for n, i := range group {
		sum = plus(sum, s.items[i].cost[s.index(s.items[i], at[i])])
		for _, j := range group[:n] {
			sum = plus(sum, s.between(i, at[i], j, at[j]))
		}
	}
	return sum
}

// greedy places items one after the other, each where it costs least.
func (s *search) greedy(order []int) placed {
	at := s.nowhere()
	for _, i := range order {
		c := s.choices(i, at)
		if len(c) == 0 {
			return nil
		}
		at[i] = s.items[i].all[c[0].k]
	}
	return at
}

func (s *search) nowhere() placed {
	at := make(placed, len(s.items))
	for i := range at {
		at[i] = -1
	}
	return at
}

// better takes one item, or two, up and puts them down again where they cost least, until nothing gets cheaper.
func (s *search) better(group []int, at placed) placed {
	best := s.total(group, at)
	for range 20 {
		changed := false
		try := func(order ...int) {
			next := slices.Clone(at)
			for _, i := range order {
				next[i] = -1
			}
			for _, i := range order {
				c := s.choices(i, next)
				if len(c) == 0 {
					return
				}
				next[i] = s.items[i].all[c[0].k]
			}
			if t := s.total(group, next); t < best {
				best, at, changed = t, next, true
			}
		}
		for n, i := range group {
			try(i)
			for _, j := range group[:n] {
				if s.gapMatters(i, at[i], j, at[j]) {
					try(i, j)
					try(j, i)
				}
			}
		}
		if !changed {
			break
		}
	}
	return at
}

// gapMatters tells whether two items are so near that they may stand in one another's way.
func (s *search) gapMatters(i, a, j, b int) bool {
	p, q := s.spots[a].at, s.spots[b].at
	return s.g.far(p, q) < 2*s.gap(i, j, p, q)
}

// solve finds the places of a group; nil if they do not all find room. Over is by how much others might cost less at most: 0 where all were tried.
func (s *search) solve(group []int) (at placed, over int64) {
	byWeight := slices.Clone(group)
	slices.SortStableFunc(byWeight, func(a, b int) int { return cmp.Compare(s.items[b].copperW, s.items[a].copperW) })
	back := slices.Clone(group)
	slices.Reverse(back)
	best := mostCost
	for _, order := range [][]int{group, byWeight, back} {
		if p := s.greedy(order); p != nil {
			p = s.better(group, p)
			if t := s.total(group, p); at == nil || t < best {
				at, best = p, t
			}
		}
	}
	start := s.work
	spent := func() bool { return s.work-start > mostWork || s.work > mostWorkAll }
	seen := map[string]bool{}
	var try func(now placed, cost, rest int64, left int)
	try = func(now placed, cost, rest int64, left int) {
		if left == 0 {
			if at == nil || cost < best {
				at, best = slices.Clone(now), cost
			}
			return
		}
		if spent() {
			return
		}
		for _, i := range group {
			if now[i] >= 0 {
				continue
			}
			others := rest - s.items[i].least
			for _, l := range s.links {
				if l.from == i && now[l.to] >= 0 || l.to == i && now[l.from] >= 0 {
					others -= l.least
				}
			}
			for _, c := range s.choices(i, now) {
				if at != nil && plus(cost, c.cost)+others >= best {
					break
				}
				now[i] = s.items[i].all[c.k]
				if k := key(now); !seen[k] {
					seen[k] = true
					try(now, plus(cost, c.cost), others, left-1)
				}
				now[i] = -1
				if spent() {
					return
				}
			}
		}
	}
	rest := int64(0)
	for _, i := range group {
		rest = plus(rest, s.items[i].least)
	}
	for _, l := range s.links {
		if slices.Contains(group, l.from) {
			rest = plus(rest, l.least)
		}
	}
	try(s.nowhere(), 0, rest, len(group))
	if at != nil && spent() {
		over = max(0, best-rest)
	}
	return at, over
}

func key(at placed) string {
	out := make([]byte, 0, 4*len(at))
	for _, a := range at {
		a++
		out = append(out, byte(a), byte(a>>8), byte(a>>16), byte(a>>24))
	}
	return string(out)
}

// leastBad places the items of a group that do not all find room one after the other: each where it misses least, another one being too near
// counted in; of equals where it costs least.
func (s *search) leastBad(group []int) placed {
	at := s.nowhere()
	for _, i := range group {
		it := s.items[i]
		best, miss := -1, math.Inf(1)
		cost := mostCost
		for k, a := range it.all {
			x := it.share[k]
			if x > miss+1e-9 {
				continue
			}
			c := it.cost[k]
			for j, b := range at {
				if b < 0 {
					continue
				}
				p, q := s.spots[a].at, s.spots[b].at
				m := Miss{Kind: NearSplice, Is: s.g.far(p, q), Wants: s.gap(i, j, p, q)}
				if m.Is < m.Wants-tiny {
					x += m.share()
				}
				c = plus(c, s.between(i, a, j, b))
			}
			if best < 0 || x < miss-1e-9 || x <= miss+1e-9 && c < cost {
				best, miss, cost = k, x, c
			}
		}
		if best >= 0 {
			at[i] = it.all[best]
		}
	}
	return at
}

// all places every item: first each group that hangs together by links alone; groups that come too near to one another are then placed together.
// So where no two do, and each group was proved, nothing costs less. A group that finds no room with room for clips between its splices is pressed
// closer.
func (s *search) all() (at placed, over []int64) {
	at, over = s.nowhere(), make([]int64, len(s.items))
	tight := make([]bool, len(s.items))
	group := make([]int, len(s.items))
	for i := range group {
		group[i] = i
	}
	join := func(i, j int) {
		from, to := max(group[i], group[j]), min(group[i], group[j])
		for k := range group {
			if group[k] == from {
				group[k] = to
			}
		}
	}
	for _, l := range s.links {
		join(l.from, l.to)
	}
	fresh := make([]bool, len(s.items))
	for i := range fresh {
		fresh[i] = true
	}
	for {
		for g := range group {
			var of []int
			stale := false
			for i := range group {
				if group[i] == g {
					of = append(of, i)
					stale = stale || fresh[i]
				}
			}
			if !stale {
				continue
			}
			p, more := s.solve(of)
			if s.pressed = p == nil; s.pressed {
				p, more = s.solve(of)
			}
			if p == nil {
				p, more = s.leastBad(of), -1
			}
			for _, i := range of {
				at[i], over[i], fresh[i], tight[i] = p[i], more, false, s.pressed
			}
			s.pressed = false
		}
		again := false
		for i := range s.items {
			for j := range i {
				s.pressed = tight[i] || tight[j]
				if group[i] != group[j] && at[i] >= 0 && at[j] >= 0 && s.crowded(i, at[i], j, at[j]) {
					join(i, j)
					fresh[i], again = true, true
				}
				s.pressed = false
			}
		}
		if !again {
			return at, over
		}
	}
}
