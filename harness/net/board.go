package net

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// board is the giving of the cavities of one break by rule, to what nobody decided. What counts, in this order:
//
//   - every wire that can have a cavity has one: a seating of all is kept at hand, and nothing is given that would spoil it;
//   - the cores of a cable, and then its screen, on neighbouring cavities, whenever a seating has them so (sought in bounded work, mostTries);
//   - a contact that takes the wire as it is, before one for which the wire would have to grow;
//   - no unfused feed beside a signal, a screen or an earth;
//   - the cavities kept spare, spread over the face and the kinds of contact;
//   - the smallest contact, then the order of the housing.
//
// Cables come first, then unfused feeds, then what needs the larger contacts, of equals by name. So an added wire moves only those after it in
// that order that compete for the same contacts; what is frozen moves for nothing.
type board struct {
	*seating
	beside [][]int
	spares []int     // by cavity: 0 free to give, else the larger the sooner it is to be kept spare
	rooms  []float64 // by cavity
	open   []*crossing
	place  map[*crossing]int // among open
	can    [][]grade         // by open crossing and cavity
	hold   []int             // by open crossing: its cavity in the seating of all, -1 it has none
	by     []int             // by cavity: who holds it there, -1
	fixed  []bool            // by open crossing: given for good
}

// grade is how well a cavity suits a wire; the lower the better, impossible none.
type grade uint8

const (
	impossible grade = iota
	suits
	wantsGrowth // takes the wire if it is made larger, or by neglect of its current
	ownSpare    // kept spare by hand for its class
	ownSpareWantsGrowth
)

const mostTries = 6000

func (s *seating) byRule() {
	b := &board{seating: s, beside: Beside(faceOf(s.cavities), besideWithin(s.job, s.of))}
	b.keepSpare()
	b.listOpen()
	b.fill()
	b.cables()
	for _, k := range b.singles() {
		b.give(k)
	}
	b.mendFeeds()
	for k, c := range b.open {
		if b.hold[k] >= 0 {
			c.cavity, s.taken[b.hold[k]] = b.hold[k], c
		} else {
			s.none(c)
		}
	}
}

// listOpen lists what is to be given a cavity, in the order in which wires have a right to one where there are too few.
func (b *board) listOpen() {
	least := map[*crossing]float64{}
	for _, c := range b.crossings {
		if c.cavity < 0 {
			b.open = append(b.open, c)
			least[c] = b.leastRoom(c)
		}
	}
	slices.SortStableFunc(b.open, func(x, y *crossing) int { return cmp.Compare(least[y], least[x]) }) // else by name, as before
	b.can, b.hold, b.fixed = make([][]grade, len(b.open)), make([]int, len(b.open)), make([]bool, len(b.open))
	b.by = make([]int, len(b.cavities))
	for i := range b.by {
		b.by[i] = -1
		b.rooms = append(b.rooms, b.room(i))
	}
	b.place = map[*crossing]int{}
	for k, c := range b.open {
		b.place[c], b.hold[k] = k, -1
		b.can[k] = make([]grade, len(b.cavities))
		for i := range b.cavities {
			b.can[k][i] = b.grade(c, i)
		}
	}
}

func (b *board) grade(c *crossing, i int) grade {
	g := impossible
	switch {
	case b.taken[i] != nil || b.spare[i] != nil && b.spare[i].Spare != c.drafts[0].Class:
		return impossible
	case b.fits(c, i, false):
		g = suits
	case b.fits(c, i, true):
		g = wantsGrowth
	default:
		return impossible
	}
	if b.spare[i] != nil {
		g += ownSpare - suits
	}
	return g
}

// fill seats as many as possible, each in turn where those before it can still be seated.
func (b *board) fill() {
	for k := range b.open {
		b.augment(k, make([]bool, len(b.cavities)))
	}
}

// augment finds a cavity for a wire, moving others that are not given yet.
func (b *board) augment(k int, seen []bool) bool {
	for i := range b.cavities {
		if seen[i] || b.can[k][i] == impossible {
			continue
		}
		seen[i] = true
		if o := b.by[i]; o < 0 || !b.fixed[o] && b.augment(o, seen) {
			b.hold[k], b.by[i] = i, k
			return true
		}
	}
	return false
}

// force gives a wire a cavity if all others that have one in the seating can still have one; else it changes nothing.
func (b *board) force(k, i int) bool {
	if b.fixed[k] || b.hold[k] < 0 || b.can[k][i] == impossible {
		return false
	}
	o, old := b.by[i], b.hold[k]
	if o == k {
		b.fixed[k] = true
		return true
	}
	if o >= 0 && b.fixed[o] {
		return false
	}
	hold, by := slices.Clone(b.hold), slices.Clone(b.by)
	b.by[old], b.by[i], b.hold[k], b.fixed[k] = -1, k, i, true
	if o >= 0 {
		b.hold[o] = -1
		if !b.augment(o, make([]bool, len(b.cavities))) {
			b.hold, b.by, b.fixed[k] = hold, by, false
			return false
		}
	}
	return true
}

// sits is what has a cavity for good, nil if nothing has yet.
func (b *board) sits(i int) *crossing {
	if k := b.by[i]; k >= 0 && b.fixed[k] {
		return b.open[k]
	}
	return b.taken[i]
}

// touching counts the neighbours of a cavity that a wire should not touch.
func (b *board) touching(c *crossing, i int) int {
	n := 0
	for _, j := range b.beside[i] {
		if o := b.sits(j); o != nil && o != c && (c.unfused() && o.quiet() || c.quiet() && o.unfused()) {
			n++
		}
	}
	return n
}

// unfused and quiet are the roles of the wires of a crossing: they are of one metal.
func (c *crossing) unfused() bool { return c.drafts[0].unfused || c.drafts[1].unfused }
func (c *crossing) quiet() bool {
	return !c.unfused() && (c.drafts[0].quiet || c.drafts[1].quiet)
}

// singles is what is left to give, in order.
func (b *board) singles() []int {
	var out []int
	for k := range b.open {
		if !b.fixed[k] && b.hold[k] >= 0 {
			out = append(out, k)
		}
	}
	rank := func(k int) int {
		if b.open[k].unfused() {
			return 0
		}
		return 1
	}
	slices.SortStableFunc(out, func(x, y int) int { return cmp.Compare(rank(x), rank(y)) })
	return out
}

// give seats one wire. One of the same name as a wire seated already comes after it, so that ordinals and cavities rise together.
func (b *board) give(k int) {
	c := b.open[k]
	after := b.lastAlike(c)
	mates := b.mates(c)
	type choice struct {
		i   int
		key [6]int
	}
	var list []choice
	for i := range b.cavities {
		if b.can[k][i] == impossible {
			continue
		}
		x := choice{i: i, key: [6]int{int(b.can[k][i]), 0, b.touching(c, i), 0, b.spares[i], 0}}
		if len(mates) > 0 && !slices.ContainsFunc(mates, func(j int) bool { return slices.Contains(b.beside[i], j) }) {
			x.key[1] = 1
		}
		if i < after {
			x.key[3] = 1
		}
		if c.unfused() {
			x.key[5] = len(b.beside[i]) // at the edge it is in the way of the fewest
		}
		list = append(list, x)
	}
	slices.SortStableFunc(list, func(x, y choice) int {
		return cmp.Or(slices.Compare(x.key[:5], y.key[:5]), cmp.Compare(b.rooms[x.i], b.rooms[y.i]), cmp.Compare(x.key[5], y.key[5]), cmp.Compare(x.i, y.i))
	})
	for _, x := range list {
		if b.force(k, x.i) {
			return
		}
	}
}

// lastAlike is the last cavity given to a crossing that nothing but its ordinal tells from this one, -1 if there is none.
func (b *board) lastAlike(c *crossing) int {
	after := -1
	for i := range b.cavities {
		if o := b.sits(i); o != nil && o != c && o.alike(c) {
			after = i
		}
	}
	return after
}

// mendFeeds moves single wires, and exchanges two, as long as that takes an unfused feed away from what it must not touch and suits no wire worse.
func (b *board) mendFeeds() {
	if !slices.ContainsFunc(b.crossings, (*crossing).unfused) {
		return
	}
	free := make([]bool, len(b.open)) // may move
	for k, c := range b.open {
		free[k] = b.fixed[k] && len(b.mates(c)) == 0
	}
	for range b.cavities {
		moved := false
		for k := range b.open {
			if !free[k] || b.touching(b.open[k], b.hold[k]) == 0 {
				continue
			}
			for i := range b.cavities {
				if moved = b.exchange(k, i, free); moved {
					break
				}
			}
		}
		if !moved {
			return
		}
	}
}

// exchange puts a wire into another cavity, and what is there into its own, if that is for the better.
func (b *board) exchange(k, i int, free []bool) bool {
	old, o := b.hold[k], b.by[i]
	if i == old || o >= 0 && !free[o] || b.can[k][i] == impossible || b.can[k][i] > b.can[k][old] ||
		o >= 0 && (b.can[o][old] == impossible || b.can[o][old] > b.can[o][i]) {
		return false
	}
	// Where both touch each other it counts twice, before and after alike.
	count := func() int {
		n := b.touching(b.open[k], b.hold[k])
		if o >= 0 {
			n += b.touching(b.open[o], b.hold[o])
		}
		return n
	}
	swap := func(x, y int) {
		b.hold[k], b.by[y], b.by[x] = y, k, o
		if o >= 0 {
			b.hold[o] = x
		}
	}
	before := count()
	swap(old, i)
	if count() < before {
		return true
	}
	swap(i, old)
	return false
}

// keepSpare says which cavities are to be kept free as long as there are others: of each kind of contact its part of `spare-share`, rounded, and
// of the whole no less than the share; each as far as it may be from those kept before, and from what is kept by hand. Small housings keep none.
// It depends on the housing and on decisions only, so that an added wire moves no spare.
func (b *board) keepSpare() {
	n := len(b.cavities)
	b.spares = make([]int, n)
	if n <= SpareFrom {
		return
	}
	face := faceOf(b.cavities)
	placed := !slices.ContainsFunc(face, func(c design.HousingCavity) bool { return !c.Placed })
	distance := func(i, j int) float64 {
		if placed {
			return apart(&face[i], &face[j])
		}
		return float64(max(i-j, j-i))
	}
	var kept []int
	owed := map[string]int{}
	kinds := kindsOf(face)
	share := unit.Ratio(b.job.Settings.Get("spare-share", design.Scope{Break: b.of.Name, Class: b.of.Class, Panel: b.of.Panel}).Value.Quantity.Value)
	total := 0
	for _, k := range kinds {
		owed[k.takes] = k.Owes(share)
		total += owed[k.takes]
	}
	slices.SortStableFunc(kinds, func(x, y Kind) int { return cmp.Compare(y.Cavities, x.Cavities) })
	for i := 0; len(kinds) > 0 && total < owes(share, n) && i < n; i++ {
		owed[kinds[i%len(kinds)].takes]++
		total++
	}
	for i := range face {
		if b.spare[i] != nil {
			kept = append(kept, i)
			owed[takesKey(&face[i])]--
		}
	}
	for rank := n; ; rank-- {
		best, far := -1, -1.0
		for i := range face {
			if owed[takesKey(&face[i])] <= 0 || b.taken[i] != nil || b.spare[i] != nil || b.spares[i] > 0 {
				continue
			}
			d := 0.0
			for x, j := range kept {
				if e := distance(i, j); x == 0 || e < d {
					d = e
				}
			}
			if d >= far { // of equals the last
				best, far = i, d
			}
		}
		if best < 0 {
			return
		}
		b.spares[best] = rank
		owed[takesKey(&face[best])]--
		kept = append(kept, best)
	}
}
