package drawing

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/render/page"
)

// Free labels are placed as on a map. Each has candidate places around its point, near ones first, each with a cost. Those that meet a line,
// a sign, a fixed label or the edge are out. The labels with the fewest places left choose first, each its cheapest place that meets no
// label, no leader, and whose leader meets no label; then labels that found none push one or two others aside where those have another
// place, and labels move to cheaper places while any can. What still has no place is given a number and a row in the key.

// item is a label to be placed.
type item struct {
	at    page.Point
	w, h  page.MM
	cand  []candidate
	taken int // index into cand, -1 none
}

// candidate is a place of an item.
type candidate struct {
	box    page.Box
	around page.Box // of label and leader
	leader piece
	leads  bool // has a leader
	cost   float64
	by     [aside + 1]blocker
}

// blocker is a place of another item that is known to be in the way of a candidate; of 0 is none.
type blocker struct{ of, at int32 }

// stands tells whether an item is at that place.
func (f *field) stands(b blocker) bool { return b.of > 0 && f.items[b.of-1].taken == int(b.at) }

// blocks is what an item blocks where it is.
func (f *field) blocks(o int) blocker { return blocker{int32(o) + 1, int32(f.items[o].taken)} }

// reach of the candidates from their points, on paper; nearer than touch no leader is needed.
var reach = []page.MM{1, 2.3, 5, 8, 12, 17, 23, 30, 38, 48}

const (
	touch   page.MM = 2.5
	clear   page.MM = 0.7 // between a label and lines
	between page.MM = 0.6 // between two labels
)

// rounds of improvement at most, pushes tried for one label at most, labels pushed aside by one, candidates kept for one, and looks at what is in the way for all of them
// together, after which labels stay where they are: a crowded sheet must not take minutes, and its key takes what is left.
const (
	rounds = 6
	pushes = 24
	aside  = 2
	kept   = 120
	effort = 30_000
	// with more labels than this no paper has room for leaders
	crowded = 1200
	// with more clumps than this each candidate asks the grid for those near it
	mostListed = 1500
)

// field is the part of the sheet on which labels are placed.
type field struct {
	area   page.Box
	pieces []piece
	bounds []page.Box // of the pieces
	clumps []clump    // of pieces
	fixed  []page.Box
	lines  grid // of clumps
	boxes  grid
	items  []item
	placed grid
	around []page.Box // of each placed item
	looks  int
	dense  bool // lines are so many that those near a candidate are sought by themselves
	// What lies within reach of the item in work, and of its candidates at the distance in work; and room for those.
	local, close []clump
	cells        cells
	masks        []uint64 // the cells that each of close touches
	spare        []candidate
	ranks        []rank
	store        store // of those that are kept
}

// begin clears the field for what is drawn on another one; what was placed on it is no more.
func (f *field) begin(area page.Box, pieces []piece, fixed []page.Box) {
	for i := range pieces {
		pieces[i].a, pieces[i].b = snapped(pieces[i].a), snapped(pieces[i].b)
	}
	f.area, f.pieces, f.items = snappedBox(area), pieces, nil
	f.fixed, f.bounds = f.fixed[:0], f.bounds[:0]
	f.store.clear()
	for _, b := range fixed {
		f.fixed = append(f.fixed, snappedBox(b))
	}
	for i := range pieces {
		f.bounds = append(f.bounds, pieces[i].box())
	}
	f.clumps = clumps(f.clumps[:0], pieces)
	f.dense = len(f.clumps) > mostListed
	f.lines.begin(f.area.Right(), f.area.Bottom(), len(f.clumps))
	for i := range f.clumps {
		f.lines.add(i, f.clumps[i].box())
	}
	f.boxes.begin(f.area.Right(), f.area.Bottom(), len(f.fixed))
	for i, b := range f.fixed {
		f.boxes.add(i, b)
	}
}

// free tells whether a box on the field meets no fixed label and no line.
func (f *field) free(b page.Box) bool {
	if len(f.fixed) > 0 {
		ok := true
		wide := grown(b, between)
		f.boxes.near(wide, func(n int) bool {
			ok = !wide.Meets(f.fixed[n])
			return ok
		})
		if !ok {
			return false
		}
	}
	wide := grown(b, clear)
	if f.dense {
		ok := true
		f.lines.near(grown(wide, 2*surely), func(n int) bool {
			ok = !f.meets(&f.clumps[n], wide)
			return ok
		})
		return ok
	}
	mask := f.cells.box(wide, 2*surely)
	for i, m := range f.masks {
		if m&mask != 0 && f.meets(&f.close[i], wide) {
			return false
		}
	}
	return true
}

// meets tells whether a piece of a clump runs through a box.
func (f *field) meets(c *clump, b page.Box) bool {
	if c.clearOf(b, surely) {
		return false
	}
	for n := c.from; n < c.to; n++ {
		if f.pieces[n].meets(b) {
			return true
		}
	}
	return false
}

// turns is how many candidates stand about a point at each distance; where they stand and how a label leans: on a slant a corner of it is
// nearest, straight the middle of a side.
const turns = 16

var about = func() (out [turns]struct{ c, s, leanC, leanS float64 }) {
	lean := func(x float64) float64 { return max(-1, min(1, x*math.Sqrt2)) }
	for k := range out {
		c, s := cosSin(float64(k) * 360 / turns)
		out[k].c, out[k].s, out[k].leanC, out[k].leanS = c, s, lean(c), lean(s)
	}
	return out
}()

// candidates of an item, the cheapest first.
func (f *field) candidates(it *item) []candidate {
	out := f.spare[:0]
	rings := reach
	if len(f.items) > crowded {
		rings = reach[:4]
	}
	narrowed := -1
	for r, d := range rings {
		if len(out) >= kept {
			break // those further out cost more
		}
		for k := range turns {
			// Up to the right is read most easily; then right, left and the rest.
			t := &about[k]
			mid := snapped(page.Point{X: it.at.X + page.MM(t.c*float64(d)) + page.MM(t.leanC*float64(it.w/2)), Y: it.at.Y - page.MM(t.s*float64(d)) - page.MM(t.leanS*float64(it.h/2))})
			b := page.Box{X: mid.X - it.w/2, Y: mid.Y - it.h/2, W: it.w, H: it.h}
			if !f.area.Holds(b) {
				continue
			}
			if !f.dense && narrowed != r/2 { // for two distances at once
				if narrowed < 0 {
					f.gather(it.within(rings[len(rings)-1]))
				}
				f.narrow(it.within(rings[r|1]))
				narrowed = r / 2
			}
			if !f.free(b) {
				continue
			}
			x := candidate{box: b, cost: 3*float64(r) + float64(0.05*float64((k-2+turns)%turns))}
			x.leader = piece{a: it.at, b: page.Point{X: max(b.X, min(it.at.X, b.Right())), Y: max(b.Y, min(it.at.Y, b.Bottom()))}}
			gap := math.Hypot(float64(x.leader.b.X-x.leader.a.X), float64(x.leader.b.Y-x.leader.a.Y))
			x.leads = gap > float64(touch)
			x.around = b
			if x.leads {
				if !f.leaderFree(&x) {
					continue
				}
				x.around = union(b, x.leader.box())
			}
			out = append(out, x)
		}
	}
	f.spare, f.ranks = out, f.ranks[:0]
	for i := range out {
		f.ranks = append(f.ranks, rank{out[i].cost, i})
	}
	slices.SortFunc(f.ranks, func(a, b rank) int { return cmp.Or(cmp.Compare(a.cost, b.cost), a.at-b.at) })
	best := f.store.room(min(len(out), kept))
	for i := range best {
		best[i] = out[f.ranks[i].at]
	}
	return best
}

// rank is a candidate by its cost, and by where it was found among those of the same cost.
type rank struct {
	cost float64
	at   int
}

// within is what the candidates of an item take up at so great a distance at most, with all that they are held against.
func (it *item) within(d page.MM) page.Box {
	const more = 1 // than what counts as close
	return grown(page.Box{X: it.at.X - d - it.w, Y: it.at.Y - d - it.h, W: 2 * (d + it.w), H: 2 * (d + it.h)}, more)
}

// gather collects the clumps within a box.
func (f *field) gather(b page.Box) {
	f.local = f.local[:0]
	f.lines.near(b, func(n int) bool {
		if !f.clumps[n].clearOf(b, 0) {
			f.local = append(f.local, f.clumps[n])
		}
		return true
	})
}

// narrow is those of them within a smaller box.
func (f *field) narrow(b page.Box) {
	f.close, f.masks, f.cells = f.close[:0], f.masks[:0], cellsOf(b)
	for i := range f.local {
		if c := &f.local[i]; !c.clearOf(b, 0) {
			f.close = append(f.close, *c)
			f.masks = append(f.masks, f.cells.span(c.x0, c.y0, c.x1, c.y1))
		}
	}
}

// leaderFree adds to a candidate's cost what its leader crosses; false where that is a fixed label, or too much. All these costs are halves, so that they
// add up to the same in any order.
func (f *field) leaderFree(c *candidate) bool {
	box := c.leader.box()
	if len(f.fixed) > 0 {
		ok := true
		f.boxes.near(box, func(n int) bool {
			ok = !c.leader.meets(f.fixed[n])
			return ok
		})
		if !ok {
			return false
		}
	}
	most := c.cost + hopeless
	if f.dense {
		f.lines.nearPiece(&c.leader, func(n int) bool { return f.crosses(c, box, &f.clumps[n], most) })
		return c.cost <= most
	}
	mask := f.cells.line(&c.leader, 2*besides)
	for i, m := range f.masks {
		if m&mask != 0 && !f.crosses(c, box, &f.close[i], most) {
			return false
		}
	}
	return true
}

// crosses adds to a candidate's cost what its leader, within a box, crosses of a clump; false where it costs more than the most.
func (f *field) crosses(c *candidate, box page.Box, k *clump, most float64) bool {
	gap, close := besides, page.MM(1)
	if k.signs { // they count only where they are crossed
		gap, close = touching, surely
	}
	if k.clearOf(box, gap) || k.beside(&c.leader, close) {
		return true
	}
	var to float64
	known := false
	for n := k.from; n < k.to; n++ {
		p := &f.pieces[n]
		if far(box, f.bounds[n], gap) {
			known = false
			continue
		}
		from := to // the pieces of a clump hang together
		if !known {
			from = side(c.leader.a, c.leader.b, p.a)
		}
		to, known = side(c.leader.a, c.leader.b, p.b), true
		apart := from != 0 && (from > 0) == (to > 0)
		if p.sign && apart {
			continue
		}
		switch {
		case !p.sign && c.leader.runsAlong(box, p, f.bounds[n]):
			if f.lines.share(&c.leader, f.bounds[n]) {
				c.cost += alongCost
			}
		case !apart && c.leader.crossesIn(box, p, f.bounds[n]):
			if from != 0 || f.lines.share(&c.leader, f.bounds[n]) {
				c.cost += p.weight()
			}
		}
		if c.cost > most {
			return false
		}
	}
	return true
}

// besides is a little more than the distance at which a leader can be taken to run along a line.
const besides page.MM = 0.51

// clash tells whether two candidates cannot both stand, and whether their leaders cross.
func clash(a, b *candidate) (hard, crossing bool) {
	if far(a.around, b.around, between+touching) {
		return false, false
	}
	if grown(a.box, between).Meets(b.box) || a.leads && a.leader.meets(grown(b.box, 0.2)) || b.leads && b.leader.meets(grown(a.box, 0.2)) {
		return true, false
	}
	return false, a.leads && b.leads && a.leader.crosses(&b.leader)
}

// What two leaders that cross cost, a leader that runs along a line and is lost in it, and the most that what a leader crosses may cost.
const (
	crossCost = 8
	alongCost = 6
	hopeless  = 16 // what a leader may cost: one through more than this cannot be followed
)

// against is the cost of a candidate of item n with the leaders that it would cross; ok is false where an item is in its way, or it costs as much as most.
func (f *field) against(n int, c *candidate, most float64) (cost float64, ok bool) {
	cost = c.cost
	f.looks++
	for i := range c.by {
		if f.stands(c.by[i]) {
			return cost, false
		}
	}
	g := &f.placed
	g.search++
	x0, x1, y0, y1 := g.span(grown(c.around, between))
	for y := y0; y <= y1; y++ {
		for _, cell := range g.at[y*g.cols+x0 : y*g.cols+x1+1] {
			for _, o := range cell {
				if g.seen[o] == g.search {
					continue
				}
				g.seen[o] = g.search
				if o == n || far(c.around, f.around[o], between+touching) {
					continue
				}
				hard, crossing := clash(c, &f.items[o].cand[f.items[o].taken])
				if hard {
					copy(c.by[1:], c.by[:])
					c.by[0] = f.blocks(o)
					return cost, false
				}
				if crossing {
					if cost += crossCost; cost >= most {
						return cost, false
					}
				}
			}
		}
	}
	return cost, true
}

// cost is that of a place of an item in which nothing is in its way.
func (f *field) cost(n, c int) float64 {
	cost, _ := f.against(n, &f.items[n].cand[c], math.Inf(1))
	return cost
}

// inTheWay lists the items in the way of a candidate of item n, up to one more than may be pushed aside, in the order in which they are met.
func (f *field) inTheWay(n int, c *candidate) (in []int) {
	f.looks++
	known := 0
	for i := range c.by {
		if f.stands(c.by[i]) {
			known++
		}
	}
	if known > aside {
		return make([]int, known)
	}
	c.by = [aside + 1]blocker{}
	f.placed.near(grown(c.around, between), func(o int) bool {
		if o != n && !far(c.around, f.around[o], between+touching) {
			if hard, _ := clash(c, &f.items[o].cand[f.items[o].taken]); hard {
				c.by[len(in)] = f.blocks(o)
				in = append(in, o)
			}
		}
		return len(in) <= aside
	})
	return in
}

func (f *field) put(n, c int) {
	f.items[n].taken = c
	f.around[n] = f.items[n].cand[c].around
	f.placed.add(n, f.around[n])
}

func (f *field) lift(n int) {
	f.placed.remove(n, f.around[n])
	f.items[n].taken = -1
}

// cheapest is the cheapest place of an item that nothing is in the way of; -1 none.
func (f *field) cheapest(n int) int {
	best, least := -1, math.Inf(1)
	it := &f.items[n]
	for c := range it.cand {
		if it.cand[c].cost >= least {
			break // the rest cost more before any crossing
		}
		if cost, ok := f.against(n, &it.cand[c], least); ok {
			best, least = c, cost
		}
	}
	return best
}

// place finds places for the items. It gives up, and is false, where useless says so of an item that has no candidate.
func (f *field) place(items []item, useless func(item int) bool) bool {
	f.items, f.around = items, slices.Grow(f.around[:0], len(items))[:len(items)]
	f.placed.begin(f.area.Right(), f.area.Bottom(), len(items))
	order := make([]int, len(items))
	for i := range items {
		order[i] = i
		it := &items[i]
		it.at, it.w, it.h, it.taken = snapped(it.at), snap(it.w), snap(it.h), -1
		it.cand = f.candidates(it)
		if len(it.cand) == 0 && useless != nil && useless(i) {
			return false
		}
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(items[a].cand), len(items[b].cand)) })
	for _, n := range order {
		if c := f.cheapest(n); c >= 0 {
			f.put(n, c)
		}
	}
	f.looks = 0
	for range rounds {
		moved := false
		for _, n := range order {
			if f.looks > effort {
				return true
			}
			if items[n].taken < 0 {
				moved = f.push(n) || moved
				continue
			}
			if f.untangle(n) {
				moved = true
				continue
			}
			old := items[n].taken
			f.lift(n)
			before := f.cost(n, old)
			if c := f.cheapest(n); c >= 0 && c != old && f.cost(n, c) < before {
				old, moved = c, true
			}
			f.put(n, old)
		}
		if !moved {
			return true
		}
	}
	return true
}

// crossed is the items whose leaders cross that of a placed item.
func (f *field) crossed(n int) (out []int) {
	c := &f.items[n].cand[f.items[n].taken]
	if !c.leads {
		return nil
	}
	f.placed.near(c.around, func(o int) bool {
		if o != n {
			if _, crossing := clash(c, &f.items[o].cand[f.items[o].taken]); crossing {
				out = append(out, o)
			}
		}
		return true
	})
	slices.Sort(out)
	return out
}

// untangle places an item and one whose leader crosses its own anew, each before the other, where that costs less.
func (f *field) untangle(n int) bool {
	for _, o := range f.crossed(n) {
		oldN, oldO := f.items[n].taken, f.items[o].taken
		f.lift(n)
		costO := f.cost(o, oldO)
		f.lift(o)
		costN := f.cost(n, oldN)
		before := costN + costO + crossCost
		for _, pair := range [2][2]int{{n, o}, {o, n}} {
			a := f.cheapest(pair[0])
			if a < 0 {
				continue
			}
			cost := f.cost(pair[0], a)
			f.put(pair[0], a)
			if b := f.cheapest(pair[1]); b >= 0 {
				if cost+f.cost(pair[1], b) < before-1e-9 {
					f.put(pair[1], b)
					return true
				}
			}
			f.lift(pair[0])
		}
		f.put(n, oldN)
		f.put(o, oldO)
	}
	return false
}

// push places an item where one or two others can make way.
func (f *field) push(n int) bool {
	it := &f.items[n]
	for c := range min(len(it.cand), pushes) {
		in := f.inTheWay(n, &it.cand[c])
		if len(in) > aside {
			continue
		}
		var old []int
		for _, o := range in {
			old = append(old, f.items[o].taken)
			f.lift(o)
		}
		f.put(n, c)
		ok := true
		for _, o := range in {
			if to := f.cheapest(o); to >= 0 {
				f.put(o, to)
			} else {
				ok = false
			}
		}
		if ok {
			return true
		}
		f.lift(n)
		for i, o := range in {
			if f.items[o].taken >= 0 {
				f.lift(o)
			}
			f.put(o, old[i])
		}
	}
	return false
}
