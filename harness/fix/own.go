package fix

import (
	"math"
	"slices"

	"loomsheet/harness/clip"
	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// mostLeft bounds how many clips by hand of a group are tried without the holes beside them, each time it is settled.
const mostLeft = 8

// leave tries whether others would miss less if clips by hand left them the holes that both could take, one after the other. It keeps what spares a miss.
func (s *settler) leave(k int, a clip.Answer) clip.Answer {
	wanted := map[*design.Hole]int{}
	for _, i := range s.lists[k] {
		for _, x := range s.m.chains[i].seats {
			wanted[x.hole]++
		}
	}
	tries := 0
	for _, i := range s.lists[k] {
		c := s.m.chains[i]
		for _, g := range c.given {
			contested := func(x seat) bool { return x.at == g.at && wanted[x.hole] > 1 }
			if slices.Contains(c.own, g.at) || !slices.ContainsFunc(c.seats, contested) || !s.m.holdsOwn(c, g.at) {
				continue
			}
			if tries++; tries > mostLeft || a.Missed == 0 {
				return a
			}
			c.own = append(c.own, g.at)
			if b := s.best(k); b.Missed < a.Missed {
				a = b
			} else {
				c.own = c.own[:len(c.own)-1]
			}
		}
	}
	return a
}

// holdsOwn tells whether every clip by hand at a place has a hole of its own, or may have a new one.
func (m *maker) holdsOwn(c *chain, at int) bool {
	for _, g := range c.given {
		if g.at != at || m.hole(g.fixing.Hole) != nil || m.job.Painted != "" && m.there(g.fixing.Frozen) {
			continue
		}
		if m.job.Painted != "" || inAny(c.shut, at) {
			return false
		}
	}
	return true
}

// owners tells how near a hole is to that of a clip that passes by, more than sameHole for none, and of which it is. What is frozen in the body was made for the clip that would have it just there: to another,
// which would have to turn its ear round or to be held a little askew, it is offered when that one leaves it. Otherwise a job whose holes are drilled might
// hold what it missed by what it held, and ask for a hole anew. Where it is just that of no clip, and for a clip by hand that has no other, it is for all.
func (m *maker) owners(h *design.Hole, list []passing) (least unit.Length, mine func(passing) bool) {
	off := func(x passing) unit.Length {
		hole, _ := x.c.holes(x.p)
		d := space.Between(hole, h.At)
		for i := range x.c.given {
			if g := &x.c.given[i]; g.at == x.p {
				d = min(d, x.c.offOf(g, h.At))
			}
		}
		return d
	}
	least = sameHole + tiny
	for _, x := range list {
		least = min(least, off(x))
	}
	return least, func(x passing) bool {
		if h.Frozen == "" || least > sameHole || off(x) <= least+tiny {
			return true
		}
		return slices.ContainsFunc(x.c.given, func(g given) bool { return g.at == x.p }) && !m.holdsOwn(x.c, x.p)
	}
}

// offOf is how far a point is from the hole of a clip by hand, which may stand between two places of the grid.
func (c *chain) offOf(g *given, q design.Point3) unit.Length {
	run, stretch, station := c.station(c.partAt(g.after), g.after)
	walk := c.geo.Walk(run, stretch)
	at, _, ok := walk.At(station)
	if !ok || !finite(at) {
		return unit.Length(math.Inf(1))
	}
	hole, _ := c.earsAt(g.at, at)
	return space.Between(hole, q)
}

// halfAPlace is how near a hole must be to that of two places to be made for them rather than for those beside them.
const halfAPlace unit.Length = 0.5

// shared moves those that pass by a hole that was made half way between two of them to the places of the two clips: where the two ways are not quite parallel
// it is nearest to others. It gives back those two, or none; least is how near the hole is to that of a clip for itself.
func (m *maker) shared(h *design.Hole, list []passing, least unit.Length) (two []passing) {
	if h.Frozen == "" {
		return nil
	}
	least = min(least, halfAPlace)
	for i, x := range list {
		for _, y := range list[i+1:] {
			if x.c == y.c {
				continue
			}
			at := look(x.c, y.c)
			for p := max(0, x.p-leastBeside); p <= min(len(at.spots)-1, x.p+leastBeside); p++ {
				q, _, ok := m.facing(&at, p)
				if !ok {
					continue
				}
				if d := space.Between(halfWay(at.spots[p].at, y.c.spots()[q].at), h.At); d < least {
					least, two = d, []passing{{x.c, p, d}, {y.c, q, d}}
				}
			}
		}
	}
	return two
}
