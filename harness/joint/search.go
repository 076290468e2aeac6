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
	all     []int        // spots of its section that all its links reach, ascending
	cost    []int64      // of the links to things that have their place, and what wet and heat are counted for
	copper  []int64      // the same of the links alone
	share   []float64    // by how much a spot misses its limits
	blind   []bool       // all its wires come from one side
	toward  []*net.Field // of the links to splices without a place, from the node at which the net has these meanwhile
	ok      []bool       // it may lie there: nothing is missed, or, where something is missed everywhere, the least is
	ends    []int        // of ok, those beside which is one that is not, or that is blind where this is not, or the other way
	least   int64        // of cost where ok
	copperW weight       // of all its wires
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
	nt    *net.Net // with every splice that has no place at a node
	spots []spot
	first map[int]int // spot, by edge
	count map[int]int
	items []*item
	links []link
	work  int // places weighed so far
	// pressed: no room is kept for clips between splices
	pressed bool
}

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
			return o >= 0 && o < len(it.all) && it.ok[o] && it.blind[o] == it.blind[k] && it.all[o] == it.all[k]+d && s.spots[it.all[o]].at.edge == s.spots[it.all[k]].at.edge
		}
		if ok && (!beside(-1) || !beside(1)) {
			it.ends = append(it.ends, k)
		}
	}
}

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
