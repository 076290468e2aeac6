package fix

import (
	"slices"

	"loomsheet/harness/clip"
	"loomsheet/harness/design"
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
