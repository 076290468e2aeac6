package shell

import (
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// holesAt is holes at random places of a floor, or on its lattice, where many ways are alike, or in runs along it.
func holesAt(r *rand.Rand, n, kind int) []need {
	out := make([]need, n)
	at := design.Point3{}
	for i := range out {
		switch kind {
		case 0:
			at = design.Point3{X: unit.Length(r.Float64() * 14500), Y: unit.Length(r.Float64() * 1800), Z: unit.Length(r.Float64() * 5)}
		case 1:
			at = design.Point3{X: unit.Length(r.IntN(40) * 100), Y: unit.Length(r.IntN(20) * 100)}
		default:
			if at.X += unit.Length(100 + r.IntN(150)); r.IntN(30) == 0 {
				at = design.Point3{X: unit.Length(r.Float64() * 9000), Y: unit.Length(r.IntN(10) * 180), Z: 300}
			}
		}
		out[i].At, out[i].Mark = at, strconv.Itoa(i)
	}
	return out
}

// The blocks leave nothing out: the walk is the one that trying everything gives.
func TestShortenIsPlain(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	for _, n := range []int{1, 2, 3, 15, 16, 17, 33, 60, 140, 390, 450, 900} {
		for kind := range 3 {
			h := holesAt(r, n, kind)
			from := design.Point3{X: unit.Length(r.IntN(3000)), Y: 40}
			want, got := slices.Clone(h), slices.Clone(h)
			plainShorten(from, want)
			shorten(from, got)
			for i := range want {
				if want[i].Mark != got[i].Mark {
					t.Fatalf("%d holes, kind %d: hole %d is %s, plainly %s", n, kind, i, got[i].Mark, want[i].Mark)
				}
			}
		}
	}
}

func BenchmarkShorten(b *testing.B) {
	for _, n := range []int{300, 3000, 30000} {
		h := holesAt(rand.New(rand.NewPCG(1, 1)), n, 2)
		b.Run(strconv.Itoa(n), func(b *testing.B) {
			for b.Loop() {
				shorten(design.Point3{}, slices.Clone(h))
			}
		})
	}
}

// What follows is the same walk without blocks, row or list.

// plainTable is how many holes a table of all ways between them is made for.
const plainTable = 2000

// plainWalk is a walk over the holes of a group: their numbers in order, and the ways between them. Number 0 is where it begins.
type plainWalk struct {
	at    []design.Point3 // by number
	order []int
	table []unit.Length // by two numbers; nil: too many
}

func newPlainWalk(from design.Point3, h []need) *plainWalk {
	w := &plainWalk{at: []design.Point3{from}}
	for i := range h {
		w.at = append(w.at, h[i].At)
		w.order = append(w.order, i+1)
	}
	if n := len(w.at); n <= plainTable {
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
func (w *plainWalk) way(a, b int) unit.Length {
	if w.table != nil {
		return w.table[a*len(w.at)+b]
	}
	return solid.Between(w.at[a], w.at[b])
}

// number of the i-th hole of the walk; -1 is where it begins.
func (w *plainWalk) number(i int) int {
	if i < 0 {
		return 0
	}
	return w.order[i]
}

// leg is the way from one hole of the walk to another; beyond its end there is none.
func (w *plainWalk) leg(i, j int) unit.Length {
	if j >= len(w.order) {
		return 0
	}
	return w.way(w.number(i), w.order[j])
}

// plainShorten orders a group of holes along a short walk that begins beside a place.
func plainShorten(from design.Point3, h []need) {
	w := newPlainWalk(from, h)
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
func (w *plainWalk) putElsewhere() (found bool) {
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
				plainTurnLeft(h[to+1:last+1], i-to-1)
			} else {
				plainTurnLeft(h[i:to+1], size)
			}
		}
	}
	return found
}

// row is the ways from a number to those of a part of the walk, by number, made in the room that is given where there is no table.
func (w *plainWalk) row(from, low, high int, room []unit.Length) []unit.Length {
	if w.table != nil {
		return w.table[from*len(w.at) : (from+1)*len(w.at)]
	}
	for j := low; j <= min(high, len(w.order)-1); j++ {
		room[w.number(j)] = w.way(from, w.number(j))
	}
	return room
}

// plainTurnLeft brings the first n of a piece behind the others.
func plainTurnLeft(h []int, n int) {
	slices.Reverse(h[:n])
	slices.Reverse(h[n:])
	slices.Reverse(h)
}

// turnRound turns pieces of a walk where that makes it shorter, and tells whether it found one.
func (w *plainWalk) turnRound() (found bool) {
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
