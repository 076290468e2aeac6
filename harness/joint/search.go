package joint

import (
	"cmp"
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

// lane is the spots of one edge: they are counted on through all edges.
type lane struct {
	edge, first, count int
	run, to            string
	from               float64     // of the first spot, along the run or the stretch
	base               unit.Length // the same of the edge's From
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

// item is a splice for which a place is sought. Its spots are those of its legs, counted on from leg to leg.
type item struct {
	body
	section string
	pulls   []pull
	legs    []leg        // the edges of its section that all its links reach, ascending
	count   int          // spots of them
	toward  []*net.Field // of the links to splices without a place, from the node at which the net has these meanwhile
	ok      []bool       // by spot: it may lie there: nothing is missed, or, where something is missed everywhere, the least is
	ends    []int        // of ok, those beside which is one that is not, or that is blind where this is not, or the other way
	known   []choice     // the same with what they cost
	least   int64        // of cost where ok
	cheap   int64        // of copper where ok
	copperW weight       // of all its wires
}

// leg is the spots of an item on one edge.
type leg struct {
	*lane
	base   int // of its first spot, among those of the item
	pulls  []net.Along
	toward []net.Along
	fine   [2]int64 // what wet and heat are counted for: of a place with wires on both sides, and of one with all on one side
	shares *shareList
}

// shareList is by how much the spots of an edge miss their limits.
type shareList struct {
	list  []float64
	least float64
}

// search looks for the places of all items together.
//
// Along one edge the cost of a splice is a sum of the lesser of two straight lines, so it is nowhere least between two spots unless as low at an
// end of the stretch in which it may lie; and splices that must keep apart can be pushed together, all in one direction, without the cost ever
// rising in both. So among the least costly places there are some in which every splice lies at such an end, or touches another one that does so in turn.
// They are all tried, but for those that a bound rules out: the splices still to be placed cost no less than each would alone. What is
// tried is bounded (see mostWork); beyond it the best that was found stands, and Choice.Over says by how much it may be missed.
type search struct {
	g      *ground
	sv     *net.Survey
	nt     *net.Net // with every splice that has no place at a node
	lanes  []lane
	laneOf []int32 // by edge; -1 none
	onLane []int32 // by spot
	stride float64
	// lanes with spots by section; all under the empty name
	lanesIn map[string][]int
	pulls   map[string][]int // of the survey, by circuit
	items   []*item
	links   []link
	tied    [][]int // links by item
	work    int     // places weighed so far
	room    []Miss
	// pressed: no room is kept for clips between splices
	pressed bool
}

// at is where a spot lies.
func (s *search) at(spot int) loc {
	l := &s.lanes[s.onLane[spot]]
	return s.on(l, spot-l.first)
}

func (s *search) on(l *lane, k int) loc {
	after := unit.Length(l.from + s.stride*float64(k))
	return loc{l.edge, max(0, min(s.g.geo.Edges[l.edge].Length, after-l.base))}
}

func (s *search) spot(k int) spot {
	l := &s.lanes[s.onLane[k]]
	return spot{s.at(k), l.run, l.to, unit.Length(l.from + s.stride*float64(k-l.first))}
}

// index is which of an item's spots a spot is, -1 none.
func (it *item) index(spot int) int {
	k := sort.Search(len(it.legs), func(k int) bool { return it.legs[k].first > spot }) - 1
	if k < 0 || spot-it.legs[k].first >= it.legs[k].count {
		return -1
	}
	return it.legs[k].base + spot - it.legs[k].first
}

// leg is the leg on which an item's spot lies, and which of the leg's it is.
func (it *item) leg(k int) (*leg, int) {
	n := sort.Search(len(it.legs), func(n int) bool { return it.legs[n].base > k }) - 1
	return &it.legs[n], k - it.legs[n].base
}

func (it *item) spot(k int) int {
	l, i := it.leg(k)
	return l.first + i
}

func (it *item) share(k int) float64 {
	l, i := it.leg(k)
	return l.shares.list[i]
}

// costOf is the cost of the links to things that have their place, and what wet and heat are counted for.
func (s *search) costOf(it *item, k int) int64 {
	l, i := it.leg(k)
	_, cost, _ := s.weigh(it, l, i)
	return cost
}

// copperOf is the cost of the links to things that have their place alone.
func (s *search) copperOf(it *item, k int) int64 {
	l, i := it.leg(k)
	copper, _, _ := s.weigh(it, l, i)
	return copper
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
	p, q := s.at(a), s.at(b)
	return s.g.far(p, q) < s.gap(i, j, p, q)-tiny
}

// between is what the links of two items cost.
func (s *search) between(i, a, j, b int) int64 { return s.betweenBy(i, a, j, b, false) }

func (s *search) betweenBy(i, a, j, b int, wires bool) (sum int64) {
	for _, n := range s.tied[i] {
		l := &s.links[n]
		if wires && l.mate || l.from != i && l.from != j || l.to != i && l.to != j || l.from == l.to {
			continue
		}
		p, q := s.at(a), s.at(b)
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
	return slices.ContainsFunc(s.tied[i], func(n int) bool {
		l := &s.links[n]
		return l.from == i && l.to == j || l.from == j && l.to == i
	})
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
			p, q := s.at(x.spot(a)), s.at(y.spot(b))
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

// touching lists where an item can lie right beside another one that has its spot.
func (s *search) touching(i, j, b int) (out []int) {
	it, q := s.items[i], s.at(b)
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
		if s.laneOf[o] < 0 {
			continue
		}
		on := &s.lanes[s.laneOf[o]]
		lo, n := on.first, on.count
		for _, p := range at {
			if !unit.Finite(p) {
				continue
			}
			k := lo + sort.Search(n, func(k int) bool { return s.on(on, k).into >= p-tiny })
			for _, c := range []int{k - 1, k} {
				if c < lo || c >= lo+n {
					continue
				}
				if m := it.index(c); m >= 0 && it.ok[m] {
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

// choices lists where an item can go beside those of its group that are placed, cheapest first.
func (s *search) choices(i int, group []int, at placed) (out []choice) {
	s.eachChoice(i, group, at, func(c choice) { out = append(out, c) })
	slices.SortStableFunc(out, func(a, b choice) int { return cmp.Or(cmp.Compare(a.cost, b.cost), a.k-b.k) })
	return out
}

// cheapest is the first of the choices; ok is false where there is none.
func (s *search) cheapest(i int, group []int, at placed) (best choice, ok bool) {
	s.eachChoice(i, group, at, func(c choice) { // ascending
		if !ok || c.cost < best.cost {
			best, ok = c, true
		}
	})
	return best, ok
}

// eachChoice shows where an item can go, each once, in order.
func (s *search) eachChoice(i int, group []int, at placed, do func(choice)) {
	it := s.items[i]
	ks := it.ends // ascending
	for _, j := range group {
		if at[j] >= 0 && j != i {
			ks = append(slices.Clip(ks), s.touching(i, j, at[j])...)
		}
	}
	if len(ks) > len(it.ends) {
		slices.Sort(ks)
		ks = slices.Compact(ks)
	}
	s.work += len(ks)
	known := it.known // ascending as well
	for _, k := range ks {
		for len(known) > 0 && known[0].k < k {
			known = known[1:]
		}
		a := it.spot(k)
		if slices.ContainsFunc(group, func(j int) bool { return at[j] >= 0 && j != i && s.crowded(i, a, j, at[j]) }) {
			continue
		}
		c := choice{k: k}
		if len(known) > 0 && known[0].k == k {
			c.cost = known[0].cost
		} else {
			c.cost = s.costOf(it, k)
		}
		for _, j := range group {
			if at[j] >= 0 && j != i && s.linked(i, j) {
				c.cost = plus(c.cost, s.between(i, a, j, at[j]))
			}
		}
		do(c)
	}
}
