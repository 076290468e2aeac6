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
}

// reach of the candidates from their points, on paper; nearer than touch no leader is needed.
var reach = []page.MM{1, 2.3, 5, 8, 12, 17, 23, 30, 38, 48}

const (
	touch   page.MM = 2.5
	clear   page.MM = 0.7 // between a label and lines
	between page.MM = 0.6 // between two labels
)

// rounds of improvement at most, pushes tried for one label at most, candidates kept for one, and looks at what is in the way for all of them
// together, after which labels stay where they are: a crowded sheet must not take minutes, and its key takes what is left.
const (
	rounds = 6
	pushes = 24
	kept   = 120
	effort = 30_000
	// with more labels than this no paper has room for leaders
	crowded = 1200
)

// field is the part of the sheet on which labels are placed.
type field struct {
	area   page.Box
	pieces []piece
	bounds []page.Box // of the pieces
	fixed  []page.Box
	lines  *grid
	boxes  *grid
	items  []item
	placed *grid
	looks  int
	spare  []candidate // room to collect them in
}

func newField(area page.Box, pieces []piece, fixed []page.Box) *field {
	for i := range pieces {
		pieces[i].a, pieces[i].b = snapped(pieces[i].a), snapped(pieces[i].b)
	}
	fixed = slices.Clone(fixed)
	for i := range fixed {
		fixed[i] = snappedBox(fixed[i])
	}
	area = snappedBox(area)
	f := &field{area: area, pieces: pieces, fixed: fixed, lines: newGrid(area.Right(), area.Bottom(), len(pieces)), boxes: newGrid(area.Right(), area.Bottom(), len(fixed))}
	f.bounds = make([]page.Box, len(pieces))
	for i := range pieces {
		f.bounds[i] = pieces[i].box()
		f.lines.add(i, f.bounds[i])
	}
	for i, b := range fixed {
		f.boxes.add(i, b)
	}
	return f
}

// free tells whether a box lies on the field and meets no fixed label, and, where lines count, no line.
func (f *field) free(b page.Box, lines bool) bool {
	if !f.area.Holds(b) {
		return false
	}
	ok := true
	wide := grown(b, between)
	f.boxes.near(wide, func(n int) bool {
		ok = !wide.Meets(f.fixed[n])
		return ok
	})
	if !ok || !lines {
		return ok
	}
	wide = grown(b, clear)
	f.lines.near(wide, func(n int) bool {
		ok = !f.pieces[n].meets(wide)
		return ok
	})
	return ok
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
func (f *field) candidates(it *item, lines bool) []candidate {
	out := f.spare[:0]
	rings := reach
	if len(f.items) > crowded {
		rings = reach[:4]
	}
	for r, d := range rings {
		if len(out) >= kept {
			break // those further out cost more
		}
		for k := range turns {
			// Up to the right is read most easily; then right, left and the rest.
			t := &about[k]
			mid := snapped(page.Point{X: it.at.X + page.MM(t.c*float64(d)) + page.MM(t.leanC*float64(it.w/2)), Y: it.at.Y - page.MM(t.s*float64(d)) - page.MM(t.leanS*float64(it.h/2))})
			b := page.Box{X: mid.X - it.w/2, Y: mid.Y - it.h/2, W: it.w, H: it.h}
			if !f.free(b, lines) {
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
	slices.SortStableFunc(out, func(a, b candidate) int { return cmp.Compare(a.cost, b.cost) })
	f.spare = out
	return slices.Clone(out[:min(len(out), kept)])
}

// leaderFree adds to a candidate's cost what its leader crosses; false where that is a fixed label, or too much.
func (f *field) leaderFree(c *candidate) bool {
	ok := true
	box := c.leader.box()
	f.boxes.near(box, func(n int) bool {
		ok = !c.leader.meets(f.fixed[n])
		return ok
	})
	if ok {
		most := c.cost + hopeless
		f.lines.nearPiece(c.leader, func(n int) bool {
			p := &f.pieces[n]
			if far(box, f.bounds[n], besides) {
				return true
			}
			if !p.sign && c.leader.runsAlong(box, p, f.bounds[n]) {
				c.cost += alongCost
			} else if c.leader.crossesIn(box, p, f.bounds[n]) {
				c.cost += p.weight()
			}
			ok = c.cost <= most
			return ok
		})
	}
	return ok
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

// against lists the items in the way of a candidate of item n, up to most+1, and its cost with the leaders that it would cross.
func (f *field) against(n int, c *candidate, most int) (in []int, cost float64) {
	cost = c.cost
	f.looks++
	f.placed.near(grown(c.around, between), func(o int) bool {
		if o == n {
			return true
		}
		hard, crossing := clash(c, &f.items[o].cand[f.items[o].taken])
		if hard {
			in = append(in, o)
		}
		if crossing {
			cost += crossCost
		}
		return len(in) <= most
	})
	return in, cost
}

func (f *field) put(n, c int) {
	f.items[n].taken = c
	f.placed.add(n, f.items[n].cand[c].around)
}

func (f *field) lift(n int) {
	f.placed.remove(n, f.items[n].cand[f.items[n].taken].around)
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
		if in, cost := f.against(n, &it.cand[c], 0); len(in) == 0 && cost < least {
			best, least = c, cost
		}
	}
	return best
}

// place finds places for the items; lines tells whether lines are in the way. It gives up, and is false, where useless says so of an item
// that has no candidate.
func (f *field) place(items []item, lines bool, useless func(item int) bool) bool {
	f.items = items
	f.placed = newGrid(f.area.Right(), f.area.Bottom(), len(items))
	order := make([]int, len(items))
	for i := range items {
		order[i] = i
		it := &items[i]
		it.at, it.w, it.h, it.taken = snapped(it.at), snap(it.w), snap(it.h), -1
		it.cand = f.candidates(it, lines)
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
			_, before := f.against(n, &items[n].cand[old], 0)
			c := f.cheapest(n)
			if c >= 0 && c != old {
				if _, after := f.against(n, &items[n].cand[c], 0); after < before {
					old, moved = c, true
				}
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
		_, costO := f.against(o, &f.items[o].cand[oldO], 0)
		f.lift(o)
		_, costN := f.against(n, &f.items[n].cand[oldN], 0)
		before := costN + costO + crossCost
		for _, pair := range [2][2]int{{n, o}, {o, n}} {
			a := f.cheapest(pair[0])
			if a < 0 {
				continue
			}
			_, cost := f.against(pair[0], &f.items[pair[0]].cand[a], 0)
			f.put(pair[0], a)
			if b := f.cheapest(pair[1]); b >= 0 {
				_, more := f.against(pair[1], &f.items[pair[1]].cand[b], 0)
				if cost+more < before-1e-9 {
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
		in, _ := f.against(n, &it.cand[c], 2)
		if len(in) > 2 {
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
