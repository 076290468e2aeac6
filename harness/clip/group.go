package clip

import (
	"cmp"
	"slices"
)

// group is units that have seats in common.
type group struct {
	jb    *job
	units []*unit
	home  map[int][2]int // by track: its unit and its place therein
	tries int
	best  []*result
	exact bool
}

// mostTries bounds the ways in which one group's common seats are given away.
const mostTries = 2000

// branch is a state of the search: which seats are shut, and the best answers then.
type branch struct {
	shut    [][]bool
	results []*result
}

func (b *branch) value() (v value) {
	for _, r := range b.results {
		v = v.plus(r.value)
	}
	return v
}

// compare is by value, then by places.
func compare(a, b []*result) int {
	va, vb := (&branch{results: a}).value(), (&branch{results: b}).value()
	if c := va.compare(vb); c != 0 {
		return c
	}
	for i := range a {
		for k := range a[i].places {
			c := slices.CompareFunc(a[i].places[k], b[i].places[k], func(x, y Place) int { return cmp.Compare(x.At, y.At) })
			if c != 0 {
				return c
			}
		}
	}
	return 0
}

// user is a clip in a seat.
type user struct{ track, place int }

// solve settles a group. At first each unit may use every seat. Where two clips then want one hole, one of them has to do without: both
// ways are tried, and a way that is no better than what is known already is left, since shutting a seat never makes anything better.
func (g *group) solve(shut [][]bool) []*result {
	first := &branch{shut: shut, results: make([]*result, len(g.units))}
	for i, u := range g.units {
		first.results[i] = g.jb.solve(u, shut)
	}
	g.exact = true
	g.try(first)
	return g.best
}

func (g *group) try(b *branch) {
	for {
		if g.best != nil && compare(b.results, g.best) >= 0 {
			return
		}
		x, y, ok := g.conflict(b)
		if !ok {
			g.best = b.results
			return
		}
		if g.tries >= mostTries || g.jb.work > Work {
			g.exact = false
			if g.best != nil {
				return
			}
			b = g.giveAway(b)
			continue
		}
		g.tries++
		one, two := g.without(b, x), g.without(b, y)
		if compare(two.results, one.results) <= 0 {
			one, two = two, one
		}
		g.try(one)
		b = two
	}
}

// without is a branch in which a clip's seat is shut to it.
func (g *group) without(b *branch, x user) *branch {
	n := g.home[x.track]
	out := &branch{shut: slices.Clone(b.shut), results: slices.Clone(b.results)}
	out.shut[x.track] = slices.Clone(b.shut[x.track])
	out.shut[x.track][b.results[n[0]].places[n[1]][x.place].Seat] = true
	out.results[n[0]] = g.jb.solve(g.units[n[0]], out.shut)
	return out
}

// users lists the clips in each seat, in order of their tracks, without those by hand and those that are there for facing another only.
func (g *group) users(b *branch) (ids []int, by map[int][]user) {
	by = map[int][]user{}
	for i, u := range g.units {
		for k, track := range u.tracks {
			for n, p := range b.results[i].places[k] {
				if p.Seat < 0 || p.Given || b.shut[track][p.Seat] {
					continue
				}
				id := g.jb.tracks[track].Seats[p.Seat].ID
				if by[id] == nil {
					ids = append(ids, id)
				}
				by[id] = append(by[id], user{track, n})
			}
		}
	}
	return ids, by
}

// conflict finds two clips in one hole that do not share it face to face.
func (g *group) conflict(b *branch) (x, y user, ok bool) {
	ids, by := g.users(b)
	for _, id := range ids {
		for i, x := range by[id] {
			for _, y := range by[id][i+1:] {
				if !g.together(b, x, y) {
					return x, y, true
				}
			}
		}
	}
	return x, y, false
}

func (g *group) at(b *branch, x user) Place {
	n := g.home[x.track]
	return b.results[n[0]].places[n[1]][x.place]
}

func (g *group) together(b *branch, x, y user) bool {
	p, q := g.at(b, x), g.at(b, y)
	if p.With != y.track || q.With != x.track {
		return false
	}
	for _, f := range g.units[g.home[x.track][0]].facings {
		if f.a == min(x.track, y.track) && f.b == max(x.track, y.track) {
			return f.opposite(x.track, p.At) == q.At
		}
	}
	return false
}

// giveAway settles all conflicts at once: each hole stays with its first clip.
func (g *group) giveAway(b *branch) *branch {
	out := &branch{shut: slices.Clone(b.shut), results: slices.Clone(b.results)}
	again := make([]bool, len(g.units))
	ids, by := g.users(b)
	for _, id := range ids {
		first := by[id][0]
		for _, y := range by[id][1:] {
			if !g.together(b, first, y) {
				out.shut[y.track] = slices.Clone(out.shut[y.track])
				out.shut[y.track][g.at(b, y).Seat] = true
				again[g.home[y.track][0]] = true
			}
		}
	}
	for i, u := range g.units {
		if again[i] {
			out.results[i] = g.jb.solve(u, out.shut)
		}
	}
	return out
}
