package net

import (
	"cmp"
	"slices"
)

// cores is one passage of a cable through a break: its cores in order, then its screens.
type cores struct {
	list    []*crossing
	screens int // of list, at its end
	places  []place
	given   []int // cavities by member, nil where none were found that lie together
}

// place is cavities for all members of a passage, each beside another.
type place struct {
	at   []int
	key  [3]int
	room float64 // of the largest contact
	span int     // from its first to its last cavity in the list
}

// mostPlaces bounds the places looked at for one passage from each cavity that its first core may have: all there are of a pair with its screen,
// many of a cable of more cores.
const mostPlaces = 200

// passages lists the passages of cables: of each cable the first crossings of all cores, then the second ones, by link and strand.
func (b *board) passages() []*cores {
	type key struct {
		cable string
		nth   int
	}
	count := map[*crossing]int{}
	type core struct {
		cable string
		core  int
		kind  WireKind
	}
	seen := map[core]int{}
	all := slices.Clone(b.crossings)
	slices.SortStableFunc(all, func(x, y *crossing) int {
		p, q := x.drafts[0], y.drafts[0]
		return cmp.Or(cmp.Compare(p.Link, q.Link), cmp.Compare(p.Piece, q.Piece), cmp.Compare(p.Strand, q.Strand), cmp.Compare(p.at, q.at))
	})
	by := map[key]*cores{}
	var out []*cores
	for _, c := range all {
		d := c.drafts[0]
		name := cmp.Or(d.Cable, c.drafts[1].Cable)
		if name == "" || c.cavity < 0 && b.openAt(c) < 0 {
			continue
		}
		k := core{name, max(d.Core, c.drafts[1].Core), d.Kind}
		count[c] = seen[k]
		seen[k]++
		p := by[key{name, count[c]}]
		if p == nil {
			p = &cores{}
			by[key{name, count[c]}] = p
			out = append(out, p)
		}
		p.list = append(p.list, c)
		if d.Kind == Screen {
			p.screens++
		}
	}
	for _, p := range out {
		slices.SortStableFunc(p.list, func(x, y *crossing) int {
			s, t := x.drafts[0], y.drafts[0]
			return cmp.Or(cmp.Compare(s.Kind, t.Kind), cmp.Compare(max(s.Core, x.drafts[1].Core), max(t.Core, y.drafts[1].Core)), cmp.Compare(s.at, t.at))
		})
	}
	out = slices.DeleteFunc(out, func(p *cores) bool { return len(p.list) < 2 })
	// What has the largest contacts to find comes first, then by name; passages of one cable stay in their order.
	slices.SortStableFunc(out, func(x, y *cores) int {
		return cmp.Or(cmp.Compare(b.mostRoom(y), b.mostRoom(x)), cmp.Compare(x.list[0].drafts[0].at, y.list[0].drafts[0].at))
	})
	return out
}

func (b *board) mostRoom(p *cores) float64 {
	most := 0.0
	for _, c := range p.list {
		most = max(most, b.leastRoom(c))
	}
	return most
}

// mates is the cavities given to others of a crossing's cable.
func (b *board) mates(c *crossing) []int {
	name := cmp.Or(c.drafts[0].Cable, c.drafts[1].Cable)
	if name == "" {
		return nil
	}
	var out []int
	for i := range b.cavities {
		if o := b.sits(i); o != nil && o != c && cmp.Or(o.drafts[0].Cable, o.drafts[1].Cable) == name {
			out = append(out, i)
		}
	}
	return out
}

// cables seats the passages of cables that somebody has not decided whole, as many of them together as can be; the cores of the others are left
// to be given one by one.
func (b *board) cables() {
	list := b.passages()
	list = slices.DeleteFunc(list, func(p *cores) bool {
		return !slices.ContainsFunc(p.list, func(c *crossing) bool { return b.openAt(c) >= 0 })
	})
	if len(list) == 0 {
		return
	}
	for _, p := range list {
		p.places = b.places(p)
	}
	tries := mostTries
	for apart := 0; apart <= len(list) && tries > 0; apart++ {
		if b.seatCables(list, 0, apart, &tries) {
			return
		}
	}
	for i := range list { // too many ways to try them all: one after the other
		tries = len(list[i].places) + 1
		b.seatCables(list[i:i+1], 0, 0, &tries)
	}
}

// openAt is the place of a crossing among those open, -1 if it is decided or finds no cavity.
func (b *board) openAt(c *crossing) int {
	if k, ok := b.place[c]; ok && b.hold[k] >= 0 {
		return k
	}
	return -1
}

// seatCables seats the passages from the nth on, all but so many.
func (b *board) seatCables(list []*cores, n, apart int, tries *int) bool {
	if n == len(list) {
		return true
	}
	p := list[n]
	var before *cores
	for _, o := range list[:n] {
		if o.given != nil && o.alike(p) {
			before = o
		}
	}
	for _, x := range p.places {
		if before != nil && !rises(before.given, x.at) {
			continue
		}
		if *tries--; *tries < 0 {
			return false
		}
		hold, by, fixed := slices.Clone(b.hold), slices.Clone(b.by), slices.Clone(b.fixed)
		ok := true
		for m, c := range p.list {
			if k := b.openAt(c); ok && k >= 0 {
				ok = b.force(k, x.at[m])
			}
		}
		if ok {
			p.given = x.at
			if b.seatCables(list, n+1, apart, tries) {
				return true
			}
			p.given = nil
		}
		b.hold, b.by, b.fixed = hold, by, fixed
	}
	return apart > 0 && b.seatCables(list, n+1, apart-1, tries)
}

// alike tells whether two passages are told apart by ordinals alone.
func (p *cores) alike(o *cores) bool {
	return slices.EqualFunc(p.list, o.list, (*crossing).alike)
}

// rises tells whether each member lies after the same one before.
func rises(before, at []int) bool {
	for i := range at {
		if at[i] <= before[i] {
			return false
		}
	}
	return true
}

// places lists cavities for a passage: each member beside one before it, a screen beside the others. The best come first.
func (b *board) places(p *cores) []place {
	var out []place
	at := make([]int, 0, len(p.list))
	most := 0
	var grow func()
	grow = func() {
		m := len(at)
		if m > 0 && len(out) >= most {
			return
		}
		if m == len(p.list) {
			out = append(out, b.rate(p, slices.Clone(at)))
			return
		}
		c := p.list[m]
		k := b.openAt(c)
		for i := range b.cavities {
			if k < 0 && i != c.cavity || k >= 0 && b.can[k][i] == impossible || slices.Contains(at, i) {
				continue
			}
			if m > 0 && !slices.ContainsFunc(at, func(j int) bool { return slices.Contains(b.beside[i], j) }) {
				continue
			}
			if m == 0 {
				most = len(out) + mostPlaces
			}
			at = append(at, i)
			grow()
			at = at[:m]
		}
	}
	grow()
	slices.SortFunc(out, func(x, y place) int {
		return cmp.Or(slices.Compare(x.key[:], y.key[:]), cmp.Compare(x.room, y.room), cmp.Compare(x.span, y.span), slices.Compare(x.at, y.at))
	})
	return out
}

// rate is what counts of a place: how it suits, what it touches, the spares it takes. Then come the smallest contacts, and how far its members
// lie apart in the list.
func (b *board) rate(p *cores, at []int) place {
	x := place{at: at, span: slices.Max(at) - slices.Min(at)}
	for _, i := range at {
		x.room = max(x.room, b.rooms[i])
	}
	for m, c := range p.list {
		if k := b.openAt(c); k >= 0 {
			x.key[0] = max(x.key[0], int(b.can[k][at[m]]))
		}
		x.key[1] += b.touching(c, at[m])
		x.key[2] += b.spares[at[m]]
	}
	return x
}
