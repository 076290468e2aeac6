package clip

import (
	"cmp"
	"slices"
)

// cluster settles three tracks or more that lie side by side, or two that meet in ways no common clock fits: pair by pair, each in the
// best way, with the holes decided so far as holes that are there; then what is left, one by one. Several orders are tried, the pairs with
// most in common first. The answer is sound, but not proved the best.
func (jb *job) cluster(u *unit, shut shutter) *result {
	pairs := slices.DeleteFunc(slices.Clone(u.facings), func(f *facing) bool { return f.way == 0 })
	slices.SortStableFunc(pairs, func(a, b *facing) int { return cmp.Compare(b.n, a.n) })
	forth := u.tracks
	back := slices.Clone(forth)
	slices.Reverse(back)
	var best *result
	try := func(pairs []*facing, rest []int) {
		if best != nil && jb.work > Work {
			return
		}
		if r := jb.inOrder(u, shut, pairs, rest); best == nil || r.value.compare(best.value) < 0 {
			best = r
		}
	}
	for first := range min(len(pairs), max(1, mostOrders/len(forth))) {
		order := append([]*facing{pairs[first]}, pairs...)
		try(order, forth)
		try(order, back)
	}
	try(nil, forth)
	try(nil, back)
	best.exact = jb.work < Work && best.value == jb.floor(u, shut)
	return best
}

// floor is what a cluster costs at least: each track for itself, where a clip that faces a hole that may be there costs none, and one
// that faces anything else half of one. It is reached where nothing new is to be shared, as in a shell that is painted.
func (jb *job) floor(u *unit, shut shutter) (sum value) {
	guests := map[int][]int{}
	for _, f := range u.facings {
		g := jb.guests(f, shut, 1)
		for n, k := range []int{f.a, f.b} {
			guests[k] = append(guests[k], g[n]...)
		}
	}
	for _, k := range u.tracks {
		faced := map[int]bool{}
		for _, at := range guests[k] {
			faced[at] = true
		}
		ln := jb.line(k, shut, nil, guests[k], 1)
		h := ln.alone()
		for i := range h {
			at := ln.spots[i].at
			if faced[at] {
				h[i] = 0
			}
			for _, f := range u.facings {
				if (f.a == k || f.b == k) && f.opposite(k, at) >= 0 {
					h[i] = min(h[i], oneHole/2)
				}
			}
		}
		t := ln.settle(h)
		jb.work += t.work
		if t.all.a%oneHole != 0 {
			return value{missed: -1} // no answer costs half a hole
		}
		sum = sum.plus(t.all.value())
	}
	return sum
}

// mostOrders bounds, divided by the tracks of a cluster, how many pairs have their turn to be first.
const mostOrders = 12

// inOrder settles the pairs of which neither is settled yet, and then the rest.
func (jb *job) inOrder(u *unit, shut shutter, pairs []*facing, rest []int) *result {
	c := &settled{jb: jb, shut: shut, facings: u.facings, places: map[int][]Place{}}
	for _, f := range pairs {
		if c.places[f.a] == nil && c.places[f.b] == nil {
			c.pair(f)
		}
	}
	for _, k := range rest {
		if c.places[k] == nil {
			c.single(k)
		}
	}
	r := &result{value: c.value}
	for _, k := range u.tracks {
		r.places = append(r.places, c.places[k])
	}
	return r
}

// settled is a cluster of which a part is settled.
type settled struct {
	jb      *job
	shut    shutter
	facings []*facing
	places  map[int][]Place // by track; nil: not yet
	value   value
}

func (c *settled) pair(f *facing) {
	r := c.jb.two(f, c.shutNow(), [2]map[int]host{c.hosts(f.a), c.hosts(f.b)})
	c.take(f.a, r.places[0])
	c.take(f.b, r.places[1])
	c.value = c.value.plus(r.value)
}

func (c *settled) single(k int) {
	r := c.jb.one(k, c.shutNow(), c.hosts(k))
	c.take(k, r.places[0])
	c.value = c.value.plus(r.value)
}

// take keeps the clips of a track, and gives those whose hole they share their partner.
func (c *settled) take(k int, places []Place) {
	c.places[k] = places
	if places == nil {
		c.places[k] = []Place{}
	}
	for i := range places {
		p := &places[i]
		if p.With < 0 {
			continue
		}
		f := c.between(k, p.With)
		at := f.opposite(k, p.At)
		for j := range c.places[p.With] {
			if own := &c.places[p.With][j]; own.At == at && own.With < 0 {
				own.With = k
				c.jb.guest(p.With, own, k, p)
			}
		}
	}
}

func (c *settled) between(a, b int) *facing {
	i := slices.IndexFunc(c.facings, func(f *facing) bool { return f.a == min(a, b) && f.b == max(a, b) })
	return c.facings[i]
}

// hosts are the holes of settled clips that those of a track may use, each by one of them. Of several at one place the first counts.
func (c *settled) hosts(k int) map[int]host {
	out := map[int]host{}
	for _, f := range c.facings {
		other := f.a + f.b - k
		if f.a != k && f.b != k {
			continue
		}
		for _, p := range c.places[other] {
			at := f.opposite(other, p.At)
			if _, there := out[at]; at < 0 || there || p.With >= 0 || !p.New && p.Seat < 0 {
				continue
			}
			out[at] = host{track: other, there: p.Given || !p.New}
		}
	}
	return out
}

// shutNow is shut with the seats that settled clips have taken.
func (c *settled) shutNow() shutter {
	used := map[int]bool{}
	for k, places := range c.places {
		for _, p := range places {
			if p.Seat >= 0 {
				used[c.jb.tracks[k].Seats[p.Seat].ID] = true
			}
		}
	}
	return func(k int) []bool {
		out := slices.Clone(c.shut(k))
		for i, s := range c.jb.tracks[k].Seats {
			out[i] = out[i] || used[s.ID]
		}
		return out
	}
}
