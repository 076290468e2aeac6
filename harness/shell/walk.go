package shell

import (
	"cmp"
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

// order puts the holes in the order they are made: by panel as one walks, on a panel by drill, smallest first (what needs no hole comes
// after, then what has no drill yet), and of one drill along a short walk from the hole before: nearest next, then pieces of the walk
// turned round or put elsewhere as long as that shortens it. Holes without a place end their panel; those on no panel come last, by mark.
func (m *maker) order(in []need) []need {
	slices.SortStableFunc(in, func(a, b need) int {
		return cmp.Or(cmp.Compare(m.walkOf(a.Panel), m.walkOf(b.Panel)), design.Natural(a.Panel, b.Panel), cmp.Compare(b2i(!a.Known), b2i(!b.Known)),
			cmp.Compare(drillRank(&a), drillRank(&b)), cmp.Compare(cents(a.Drill), cents(b.Drill)), cmp.Compare(cents(a.High), cents(b.High)), design.Natural(a.Mark, b.Mark))
	})
	var last *design.Point3
	for i := 0; i < len(in); {
		j := i + 1
		for j < len(in) && in[j].Panel == in[i].Panel && in[j].Known == in[i].Known && drillRank(&in[j]) == drillRank(&in[i]) &&
			cents(in[j].Drill) == cents(in[i].Drill) && cents(in[j].High) == cents(in[i].High) {
			j++
		}
		if i == 0 || in[i].Panel != in[i-1].Panel {
			last = m.begin(in[i].Panel)
		}
		if in[i].Panel != "" && in[i].Known {
			if last == nil {
				last = &in[i].At
			}
			shorten(*last, in[i:j])
			last = &in[j-1].At
		}
		i = j
	}
	return in
}

// begin is where the walk on a panel starts: its first corner.
func (m *maker) begin(panel string) *design.Point3 {
	if p := m.panel(panel); p != nil && len(p.Outline) > 0 {
		at := p.Plane.Space(p.Outline[0])
		return &at
	}
	return nil
}

func (m *maker) walkOf(panel string) int {
	if p := m.panel(panel); p != nil {
		return p.Walk
	}
	return math.MaxInt - b2i(panel != "")
}

// drillRank is 0 for a hole, 1 for what needs none, 2 where it is not known.
func drillRank(h *need) int {
	switch {
	case h.Drill > 0:
		return 0
	case h.Fastener != "":
		return 1
	}
	return 2
}

// cents is a length in hundredths, so that sums of one drill and one coat are one drill.
func cents(l unit.Length) int64 {
	if !unit.Finite(l) || math.Abs(float64(l)) > 1e12 {
		return math.MaxInt64
	}
	return int64(math.Round(float64(l) * 100))
}

// mostTable is how many holes a table of all ways between them is made for.
const mostTable = 2000

// walk is a walk over the holes of a group: their numbers in order, and the ways between them. Number 0 is where it begins.
type walk struct {
	at    []design.Point3 // by number
	order []int
	table []unit.Length // by two numbers; nil: too many
}

func newWalk(from design.Point3, h []need) *walk {
	w := &walk{at: []design.Point3{from}}
	for i := range h {
		w.at = append(w.at, h[i].At)
		w.order = append(w.order, i+1)
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
	at := 0
	for i := range w.order {
		best := i
		for j := i + 1; j < len(w.order); j++ {
			if w.way(at, w.order[j]) < w.way(at, w.order[best]) {
				best = j
			}
		}
		x := w.order[best]
		copy(w.order[i+1:best+1], w.order[i:best])
		w.order[i], at = x, x
	}
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

// putElsewhere takes pieces of up to three holes out of a walk and puts them, either way round, where that makes it shorter, and tells whether
// it found one.
func (w *walk) putElsewhere() (found bool) {
	h := w.order
	var roomI, roomLast []unit.Length
	if w.table == nil {
		roomI, roomLast = make([]unit.Length, len(w.at)), make([]unit.Length, len(w.at))
	}
	for size := 1; size <= mostPiece; size++ {
		for i := 0; i+size <= len(h); i++ {
			last := i + size - 1
			low, high := max(-1, i-1-mostTurns), min(len(h), last+mostTurns)
			fromI, fromLast := w.row(h[i], low, high, roomI), w.row(h[last], low, high, roomLast)
			saved := w.leg(i-1, i) + w.leg(last, last+1) - w.leg(i-1, last+1)
			best, to, back := unit.Length(1e-6), -2, false
			this := w.number(low)
			for j := low; j < high; j++ { // after hole j
				if j >= i-1 && j <= last {
					if j+1 < len(h) {
						this = h[j+1]
					}
					continue
				}
				on, nearI, nearLast := unit.Length(0), unit.Length(0), unit.Length(0)
				next := 0
				if j+1 < len(h) {
					next = h[j+1]
					on, nearI, nearLast = w.way(this, next), fromI[next], fromLast[next]
				}
				on += saved
				if gain := on - fromI[this] - nearLast; gain > best {
					best, to, back = gain, j, false
				}
				if gain := on - fromLast[this] - nearI; gain > best {
					best, to, back = gain, j, true
				}
				this = next
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
		}
	}
	return found
}

// row is the ways from a number to those of a part of the walk, by number, made in the room that is given where there is no table.
func (w *walk) row(from, low, high int, room []unit.Length) []unit.Length {
	if w.table != nil {
		return w.table[from*len(w.at) : (from+1)*len(w.at)]
	}
	for j := low; j <= min(high, len(w.order)-1); j++ {
		room[w.number(j)] = w.way(from, w.number(j))
	}
	return room
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
		for j := i + 1; j < min(len(h), i+mostTurns); j++ {
			was, is := w.way(before, h[i]), w.way(before, h[j])
			if j+1 < len(h) {
				was += w.way(h[j], h[j+1])
				is += w.way(h[i], h[j+1])
			}
			if is < was-1e-6 {
				slices.Reverse(h[i : j+1])
				found = true
			}
		}
	}
	return found
}

func b2i(b bool) int {
	if b {
		return 1
	}
	return 0
}
