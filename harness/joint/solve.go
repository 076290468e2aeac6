package joint

import (
	"cmp"
	"math"
	"slices"
)

// mostWork bounds the places that are weighed to prove one group of splices, and mostWorkAll to prove all of a job.
const (
	mostWork    = 100_000
	mostWorkAll = 4_000_000
)

// placed is where items are; -1 not yet.
type placed []int

func (s *search) total(group []int, at placed) (sum int64) {
	for n, i := range group {
		sum = plus(sum, s.costOf(s.items[i], s.items[i].index(at[i])))
		if len(s.tied[i]) == 0 {
			continue
		}
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
		c, ok := s.cheapest(i, order, at)
		if !ok {
			return nil
		}
		at[i] = s.items[i].spot(c.k)
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
				c, ok := s.cheapest(i, group, next)
				if !ok {
					return
				}
				next[i] = s.items[i].spot(c.k)
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
	p, q := s.at(a), s.at(b)
	return s.g.far(p, q) < 2*s.gap(i, j, p, q)
}

// solve finds the places of a group; nil if they do not all find room. Over is by how much others might cost less at most: 0 where all were tried.
func (s *search) solve(group []int) (at placed, over int64) {
	byWeight := slices.Clone(group)
	slices.SortStableFunc(byWeight, func(a, b int) int { return cmp.Compare(s.items[b].copperW, s.items[a].copperW) })
	back := slices.Clone(group)
	slices.Reverse(back)
	best := mostCost
	orders := [][]int{group, byWeight, back}
	spentOn := make([]int, len(orders))
	for n, order := range orders {
		begin := s.work
		// The same order ends in the same places.
		if o := slices.IndexFunc(orders[:n], func(o []int) bool { return slices.Equal(o, order) }); o >= 0 {
			spentOn[n] = spentOn[o]
			s.work += spentOn[n]
			continue
		}
		if p := s.greedy(order); p != nil {
			p = s.better(group, p)
			if t := s.total(group, p); at == nil || t < best {
				at, best = p, t
			}
		}
		spentOn[n] = s.work - begin
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
			for _, n := range s.tied[i] {
				l := &s.links[n]
				if l.from == i && now[l.to] >= 0 || l.to == i && now[l.from] >= 0 {
					others -= l.least
				}
			}
			for _, c := range s.choices(i, group, now) {
				if at != nil && plus(cost, c.cost)+others >= best {
					break
				}
				now[i] = s.items[i].spot(c.k)
				if k := key(group, now); !seen[k] {
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
	for _, i := range group {
		for _, n := range s.tied[i] {
			if l := &s.links[n]; l.from == i {
				rest = plus(rest, l.least)
			}
		}
	}
	try(s.nowhere(), 0, rest, len(group))
	if at != nil && spent() {
		over = max(0, best-rest)
	}
	return at, over
}

// key of the places of a group.
func key(group []int, at placed) string {
	out := make([]byte, 0, 4*len(group))
	for _, i := range group {
		a := at[i] + 1
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
		for k := range it.count {
			x, a := it.share(k), it.spot(k)
			if x > miss+1e-9 {
				continue
			}
			c := s.costOf(it, k)
			for _, j := range group {
				b := at[j]
				if b < 0 {
					continue
				}
				p, q := s.at(a), s.at(b)
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
			at[i] = it.spot(best)
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
	in := map[string][]int{} // items by where they lie: others are never near one another
	for i, it := range s.items {
		fresh[i] = true
		if it.count > 0 {
			section := s.g.geo.Edges[it.legs[0].edge].Section
			if it.section == "" {
				section = ""
			}
			in[section] = append(in[section], i)
		}
	}
	var sections []string
	for name := range in {
		sections = append(sections, name)
	}
	slices.Sort(sections)
	for {
		groups := make([][]int, len(s.items))
		for i, g := range group {
			groups[g] = append(groups[g], i)
		}
		for _, of := range groups {
			if !slices.ContainsFunc(of, func(i int) bool { return fresh[i] }) {
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
		near := func(i, j int) {
			s.pressed = tight[i] || tight[j]
			if group[i] != group[j] && at[i] >= 0 && at[j] >= 0 && s.crowded(i, at[i], j, at[j]) {
				join(i, j)
				fresh[i], again = true, true
			}
			s.pressed = false
		}
		for _, name := range sections {
			for n, i := range in[name] {
				for _, j := range in[name][:n] {
					near(i, j)
				}
				if name != "" {
					for _, j := range in[""] {
						near(max(i, j), min(i, j))
					}
				}
			}
		}
		if !again {
			return at, over
		}
	}
}
