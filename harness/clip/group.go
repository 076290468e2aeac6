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
	shut  [][]bool       // by track and seat, in the present state of the search
	now   []*result      // by unit, the best in the present state
	lost  map[lostKey]*result
	tries int
	best  []*result
	exact bool // the search came to its end
	loose bool // some unit's answer was not the best, and so is no bound
}

// mostTries bounds the ways in which one group's common seats are given away.
const mostTries = 2000

// compare is by value, then by places.
func compare(a, b []*result) int {
	if c := total(a).compare(total(b)); c != 0 {
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

func total(rs []*result) (v value) {
	for _, r := range rs {
		v = v.plus(r.value)
	}
	return v
}

// user is a clip in a seat.
type user struct{ track, place int }

// solve settles a group. At first each unit may use every seat. Where two clips then want one hole, one of them has to do without: both
// ways are tried, and a way that is no better than what is known already is left, since shutting a seat never makes anything better.
func (g *group) solve(shut [][]bool) []*result {
	g.shut = shut // groups have no track in common
	g.now = make([]*result, len(g.units))
	for i := range g.units {
		g.now[i] = g.settle(i)
	}
	g.exact, g.lost = true, map[lostKey]*result{}
	g.try()
	return g.best
}

func (g *group) settle(unit int) *result {
	r := g.jb.solve(g.units[unit], func(k int) []bool { return g.shut[k] })
	g.loose = g.loose || !r.exact
	return r
}

// try goes on from the present state and, unless the work is over, leaves it as it was.
func (g *group) try() {
	if g.best != nil && compare(g.now, g.best) >= 0 {
		return
	}
	pairs := g.conflicts()
	if len(pairs) == 0 {
		g.best = slices.Clone(g.now)
		return
	}
	if g.tries >= mostTries || g.jb.work > Work {
		g.exact = false
		for len(pairs) > 0 {
			g.giveAway()
			pairs = g.conflicts()
		}
		if g.best == nil || compare(g.now, g.best) < 0 {
			g.best = slices.Clone(g.now)
		}
		return
	}
	g.tries++
	ways, least := g.ways(pairs)
	if g.best != nil && least.compare(total(g.best)) >= 0 {
		return
	}
	for _, w := range ways {
		if !g.exact {
			return
		}
		old := g.now[w.unit]
		g.shut[w.track][w.seat], g.now[w.unit] = true, w.result
		g.try()
		g.shut[w.track][w.seat], g.now[w.unit] = false, old
	}
}

// ways are the two ways out of the first conflict, the better first, and the least that any way out of all of them comes to: of
// conflicts that have no unit in common each costs at least the smaller loss of its two sides, and these add up.
func (g *group) ways(pairs [][2]user) (out []without, least value) {
	least = total(g.now)
	used := make([]bool, len(g.units))
	for _, p := range pairs {
		if g.best != nil && len(out) > 0 && g.jb.work > Work {
			break
		}
		u, v := g.home[p[0].track][0], g.home[p[1].track][0]
		if used[u] || used[v] {
			continue
		}
		used[u], used[v] = true, true
		x, y := g.without(p[0]), g.without(p[1])
		if y.loss.compare(x.loss) <= 0 {
			x, y = y, x
		}
		least = least.plus(x.loss)
		if out == nil {
			out = []without{x, y}
		}
	}
	return out, least
}

// without is what becomes of a unit when a seat of one of its tracks is shut.
type without struct {
	unit, track, seat int
	result            *result
	loss              value
}

// lostKey names a shut seat and the answer of its unit before.
type lostKey struct {
	now         *result
	track, seat int
}

func (g *group) without(x user) without {
	w := without{unit: g.home[x.track][0], track: x.track, seat: g.at(x).Seat}
	now := g.now[w.unit]
	key := lostKey{now, w.track, w.seat}
	if w.result = g.lost[key]; w.result == nil {
		g.shut[w.track][w.seat] = true
		w.result = g.settle(w.unit)
		g.shut[w.track][w.seat] = false
		g.lost[key] = w.result
	}
	w.loss = w.result.value.minus(now.value)
	return w
}

// users lists the clips in each seat, in order of their tracks, without those by hand and those that are there for facing another only.
func (g *group) users() (ids []int, by map[int][]user) {
	by = map[int][]user{}
	for i, u := range g.units {
		for k, track := range u.tracks {
			for n, p := range g.now[i].places[k] {
				if p.Seat < 0 || p.Given || g.shut[track][p.Seat] {
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

// conflicts lists the pairs of clips in one hole that do not share it face to face.
func (g *group) conflicts() (out [][2]user) {
	ids, by := g.users()
	for _, id := range ids {
		for i, x := range by[id] {
			for _, y := range by[id][i+1 : min(len(by[id]), i+3)] { // of three, two are no pair
				if !g.together(x, y) {
					out = append(out, [2]user{x, y})
				}
			}
		}
	}
	return out
}

func (g *group) at(x user) Place {
	n := g.home[x.track]
	return g.now[n[0]].places[n[1]][x.place]
}

func (g *group) together(x, y user) bool {
	p, q := g.at(x), g.at(y)
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
func (g *group) giveAway() {
	again := make([]bool, len(g.units))
	ids, by := g.users()
	for _, id := range ids {
		first := by[id][0]
		for _, y := range by[id][1:] {
			if !g.together(first, y) {
				g.shut[y.track][g.at(y).Seat] = true
				again[g.home[y.track][0]] = true
			}
		}
	}
	for i := range g.units {
		if again[i] {
			g.now[i] = g.settle(i)
		}
	}
}
