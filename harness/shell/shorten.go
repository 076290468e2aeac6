package shell

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// Bounds on making the walk over the holes of one drill on one panel shorter: how far apart in it two holes may be that are tried, and how
// often it is gone through.
const (
	mostTurns  = 400
	mostPasses = 400
	mostPiece  = 3 // holes of a piece that is put elsewhere
)

// mostTable is how many holes a table of all ways between them is made for.
const mostTable = 400

// walk is a walk over the holes of a group: their numbers in order, and the ways between them. Number 0 is where it begins.
type walk struct {
	at     []design.Point3 // by number
	order  []int
	table  []unit.Length // by two numbers; nil: too many
	legs   []unit.Length // from each hole of the order to the next
	blocks []block       // of the order, each of so many holes
}

func newWalk(from design.Point3, h []need) *walk {
	w := &walk{at: make([]design.Point3, 1, len(h)+1), order: make([]int, len(h))}
	w.at[0] = from
	for i := range h {
		w.at = append(w.at, h[i].At)
		w.order[i] = i + 1
	}
	if n := len(w.at); n <= mostTable {
		w.table = make([]unit.Length, n*n)
		for i := range n {
			for j := range i {
				w.table[i*n+j] = solid.Between(w.at[i], w.at[j])
				w.table[j*n+i] = solid.Between(w.at[j], w.at[i])
			}
		}
	}
	return w
}

// way between two numbers.
func (w *walk) way(a, b int) unit.Length {
	if w.table != nil {
		return w.table[a*len(w.at)+b]
	}
	return solid.Between(w.at[a], w.at[b])
}

// number of the i-th hole of the walk; -1 is where it begins.
func (w *walk) number(i int) int {
	if i < 0 {
		return 0
	}
	return w.order[i]
}

// legTo is the way to the i-th hole of the walk from the one before it.
func (w *walk) legTo(i int) unit.Length {
	if i == 0 {
		return w.way(0, w.order[0])
	}
	return w.legs[i-1]
}

// leg is the way from one hole of the walk to another; beyond its end there is none.
func (w *walk) leg(i, j int) unit.Length {
	if j >= len(w.order) {
		return 0
	}
	return w.way(w.number(i), w.order[j])
}

// shorten orders a group of holes along a short walk that begins beside a place.
func shorten(from design.Point3, h []need) {
	w := newWalk(from, h)
	w.nearestNext()
	w.legs, w.blocks = make([]unit.Length, len(h)), make([]block, (len(h)+perBlock-1)/perBlock)
	w.changed(0, len(h)-1)
	// Each change makes the walk shorter, so this ends; the bound keeps a bad one short.
	passes := mostPasses
	if len(h) > mostTurns {
		passes = mostPasses / 40
	}
	for range passes {
		if turned := w.turnRound(); !w.putElsewhere() && !turned {
			break
		}
	}
	was := slices.Clone(h)
	for i, k := range w.order {
		h[i] = was[k-1]
	}
}

// nearestNext goes each time to the nearest hole that is left, of several the one with the lowest number. The holes stand in a row along the axis in
// which they reach furthest, so that those beyond the nearest found so far need no look.
func (w *walk) nearestNext() {
	along := w.longest()
	row := make([]int, len(w.at)) // numbers, by place along the axis
	for i := range row {
		row[i] = i
	}
	slices.SortFunc(row, func(a, b int) int {
		if x, y := along(a), along(b); x != y {
			if x < y {
				return -1
			}
			return 1
		}
		return a - b
	})
	// What stands before and behind each in the row, of those that are left; the ends of the row are len(w.at).
	end := len(w.at)
	before, behind := make([]int, end+1), make([]int, end+1)
	last := end
	for _, k := range row {
		before[k], behind[last] = last, k
		last = k
	}
	before[end], behind[last] = last, end
	at := 0
	for i := range w.order {
		best, far := end, unit.Length(math.Inf(1))
		look := func(k int) bool {
			if math.Abs(along(k)-along(at)) > float64(far)*(1+1e-9) {
				return false
			}
			if d := w.way(at, k); d < far || d == far && k < best {
				best, far = k, d
			}
			return true
		}
		for low, high := before[at], behind[at]; low != end || high != end; {
			if low != end && look(low) {
				low = before[low]
			} else {
				low = end
			}
			if high != end && look(high) {
				high = behind[high]
			} else {
				high = end
			}
		}
		before[behind[at]], behind[before[at]] = before[at], behind[at]
		w.order[i], at = best, best
	}
}

// longest is the coordinate in which the places reach furthest.
func (w *walk) longest() func(number int) float64 {
	axes := [3]func(number int) float64{
		func(k int) float64 { return float64(w.at[k].X) }, func(k int) float64 { return float64(w.at[k].Y) }, func(k int) float64 { return float64(w.at[k].Z) }}
	best, most := axes[0], -1.0
	for _, axis := range axes {
		low, high := math.Inf(1), math.Inf(-1)
		for k := range w.at {
			low, high = min(low, axis(k)), max(high, axis(k))
		}
		if high-low > most {
			best, most = axis, high-low
		}
	}
	return best
}

// perBlock is how many holes that follow one another are looked at together.
const perBlock = 8

// block is holes that follow one another in a walk, and the first beyond them.
type block struct {
	low, high design.Point3 // the box around them
	leg       unit.Length   // longest way from one to the next
}

// changed makes the blocks anew in which the holes from one to another of the walk lie, or the ways to these.
func (w *walk) changed(from, to int) {
	for b := max(0, from-1) / perBlock; b <= to/perBlock && b < len(w.blocks); b++ {
		x := &w.blocks[b]
		at := w.at[w.order[b*perBlock]]
		*x = block{low: at, high: at}
		for i := b * perBlock; i < min((b+1)*perBlock, len(w.order)-1); i++ {
			at := w.at[w.order[i+1]]
			x.low = design.Point3{X: min(x.low.X, at.X), Y: min(x.low.Y, at.Y), Z: min(x.low.Z, at.Z)}
			x.high = design.Point3{X: max(x.high.X, at.X), Y: max(x.high.Y, at.Y), Z: max(x.high.Z, at.Z)}
			w.legs[i] = w.way(w.order[i], w.order[i+1])
			x.leg = max(x.leg, w.legs[i])
		}
	}
}

// from is what a place is from a box at the least.
func (b *block) from(p design.Point3) unit.Length {
	x, y, z := max(b.low.X-p.X, p.X-b.high.X, 0), max(b.low.Y-p.Y, p.Y-b.high.Y, 0), max(b.low.Z-p.Z, p.Z-b.high.Z, 0)
	return unit.Length(math.Sqrt(float64(x*x) + float64(y*y) + float64(z*z)))
}

// rounded is more than sums are rounded by, and less than a change must gain.
const rounded = 5e-7

// far tells whether it costs more than so much to go to two places from a hole and the next, in place of the way between these, wherever in the block that
// begins with the i-th. It is false of a block that does not lie before an end, or is the walk's last, beyond which no way goes.
func (w *walk) far(i, end, a, b int, much unit.Length) bool {
	if i < 0 || i%perBlock != 0 || i+perBlock > end || i+perBlock >= len(w.order) {
		return false
	}
	x := &w.blocks[i/perBlock]
	return x.from(w.at[a])+x.from(w.at[b])-x.leg > much+rounded
}

// putElsewhere takes pieces of up to three holes out of a walk and puts them, either way round, where that makes it shorter, and tells whether
// it found one.
func (w *walk) putElsewhere() (found bool) {
	h := w.order
	for size := 1; size <= mostPiece; size++ {
		for i := 0; i+size <= len(h); i++ {
			last := i + size - 1
			one, other := h[i], h[last]
			high := min(len(h), last+mostTurns)
			saved := w.leg(i-1, i) + w.leg(last, last+1) - w.leg(i-1, last+1)
			best, to, back := unit.Length(1e-6), -2, false
			for j := max(-1, i-1-mostTurns); j < high; { // after hole j
				if j >= i-1 && j <= last {
					j = last + 1
					continue
				}
				end := high
				if j < i {
					end = i - 1
				}
				if w.far(j, end, one, other, saved-best) {
					j += perBlock
					continue
				}
				this, on := w.number(j), saved
				if j+1 < len(h) {
					on = w.legTo(j+1) + saved
				}
				if x := w.way(one, this); x < on-best+rounded {
					gain := on - x
					if j+1 < len(h) {
						gain -= w.way(other, h[j+1])
					}
					if gain > best {
						best, to, back = gain, j, false
					}
				}
				if x := w.way(other, this); size > 1 && x < on-best+rounded {
					gain := on - x
					if j+1 < len(h) {
						gain -= w.way(one, h[j+1])
					}
					if gain > best {
						best, to, back = gain, j, true
					}
				}
				j++
			}
			if to == -2 {
				continue
			}
			found = true
			if back {
				slices.Reverse(h[i : last+1])
			}
			if to < i {
				turnLeft(h[to+1:last+1], i-to-1)
			} else {
				turnLeft(h[i:to+1], size)
			}
			w.changed(min(i, to+1), max(last, to))
		}
	}
	return found
}

// turnLeft brings the first n of a piece behind the others.
func turnLeft(h []int, n int) {
	slices.Reverse(h[:n])
	slices.Reverse(h[n:])
	slices.Reverse(h)
}

// turnRound turns pieces of a walk where that makes it shorter, and tells whether it found one.
func (w *walk) turnRound() (found bool) {
	h := w.order
	for i := range h {
		before := w.number(i - 1)
		for j, end := i+1, min(len(h), i+mostTurns); j < end; {
			if w.far(j, end, before, h[i], w.way(before, h[i])-1e-6) {
				j += perBlock
				continue
			}
			was, is := w.way(before, h[i]), w.way(before, h[j])
			if j+1 < len(h) {
				if was += w.legs[j]; is < was-1e-6 {
					is += w.way(h[i], h[j+1])
				}
			}
			if is < was-1e-6 {
				slices.Reverse(h[i : j+1])
				w.changed(i, j)
				found = true
			}
			j++
		}
	}
	return found
}
