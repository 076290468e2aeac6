package board

import "math"

// Bounds of the search for a folded place: calls for one heading, headings tried, turns.
const (
	mostCalls    = 120
	mostHeadings = 6
	mostTurns    = 14
)

// walker folds one limb.
type walker struct {
	l     *layer
	n     int
	gaps  []gap
	calls int
	stops []float64 // drawn
}

// folded is a place with the fewest turns, nil if none is found.
func (l *layer) folded(n int, from pt, heads []head, gaps []gap) *laid {
	b := l.all[n]
	w := &walker{l: l, n: n, gaps: gaps}
	for _, s := range b.stops {
		w.stops = append(w.stops, shifted(gaps, s))
	}
	long := b.length - left(gaps)
	for _, turns := range []int{1, 2, 3, mostTurns} {
		for i, h := range heads {
			if i == mostHeadings || l.spent() {
				break
			}
			w.calls = mostCalls
			ln, ok := w.walk(startLine(from, h.h), long, turns)
			if !ok {
				continue
			}
			ps, ok := l.try(n, &ln, 0, gaps)
			if !ok {
				continue
			}
			c := h.cost + l.standing(n, ps)
			for _, t := range ln.bends {
				c += costTurn * math.Abs(float64(t.turn)) / (round / 4)
			}
			return &laid{line: ln, gaps: gaps, cost: c, pieces: ps}
		}
	}
	return nil
}

// walk goes on from the end of a line, which lies on the field, for what is left of the limb.
func (w *walker) walk(ln line, rest float64, turns int) (line, bool) {
	if w.calls--; w.calls < 0 {
		return ln, false
	}
	l := w.l
	full := ln.copied()
	full.straight(rest)
	if _, ok := l.try(w.n, &full, ln.long(), w.gaps); ok {
		return full, true
	}
	if turns == 0 {
		return ln, false
	}
	radius := l.all[w.n].radius
	room := w.room(ln, rest)
	for _, share := range []float64{1, 0.5} {
		s := (room - radius) * share
		for _, t := range [4]struct {
			steps int
			fold  bool
		}{{round / 4, false}, {-round / 4, false}, {round / 4, true}, {-round / 4, true}} {
			if turns > 4 && (!t.fold || share < 1) {
				continue // many turns are a serpentine
			}
			next, gone, ok := w.turn(ln, s, t.steps, t.fold, rest)
			if !ok {
				continue
			}
			mark := l.field.mark()
			ok = true
			for _, p := range l.pieces(w.n, &next, ln.long(), w.gaps) {
				if !l.field.free(&p) {
					ok = false
					break
				}
				l.field.add(p)
			}
			if ok {
				next, ok = w.walk(next, rest-gone, turns-1)
			}
			l.field.undo(mark)
			if ok {
				return next, true
			}
		}
	}
	return ln, false
}

// room is how far a line can go on straight, to 2 mm.
func (w *walker) room(ln line, rest float64) float64 {
	low, high := 0.0, rest
	for high-low > 2 {
		mid := (low + high) / 2
		next := ln.copied()
		next.straight(mid)
		ok := true
		mark := w.l.field.mark()
		for _, p := range w.l.pieces(w.n, &next, ln.long(), w.gaps) {
			if !w.l.field.free(&p) {
				ok = false
				break
			}
			w.l.field.add(p)
		}
		w.l.field.undo(mark)
		if ok {
			low = mid
		} else {
			high = mid
		}
	}
	return low
}

// turn goes on straight for at most s and turns there, or a little before where a node or a splice would lie in the bend.
func (w *walker) turn(ln line, s float64, steps int, fold bool, rest float64) (next line, gone float64, ok bool) {
	b := w.l.all[w.n]
	arc := math.Abs(float64(steps)) * step * math.Pi / 180 * b.radius
	gone = arc
	across := 0.0
	if fold {
		across = 2*b.widest() + w.l.rules.gap
		if len(b.kids) > 0 {
			across += 2 * w.l.rules.holder // for what hangs on it
		}
		across = math.Max(0, across-2*b.radius)
		gone += across + arc
	}
	at := clearOf(w.stops, ln.long()+s, ln.long(), arc, across, fold)
	if at < ln.long()+b.widest() || gone+at-ln.long() > rest {
		return ln, 0, false
	}
	next = ln.copied()
	next.straight(at - ln.long())
	next.arc(steps, b.radius)
	if fold {
		next.straight(across)
		next.arc(steps, b.radius)
	}
	return next, next.long() - ln.long(), true
}

// clearOf is the last station up to at, not before least, from which no stop lies in the bend, or in the two bends that follow one another with
// a straight across between them; below least if there is none.
func clearOf(stops []float64, at, least, arc, across float64, fold bool) float64 {
	for range len(stops)*2 + 1 {
		moved := false
		for _, s := range stops {
			for k := range 2 {
				if k == 1 && !fold {
					break
				}
				from := at + float64(k)*(arc+across)
				if s > from+1e-6 && s < from+arc-1e-6 {
					at -= from + arc - s // it ends at the stop
					moved = true
				}
			}
		}
		if !moved || at < least {
			break
		}
	}
	return at
}

// widest is half of the thickest bundle of a limb.
func (b *limb) widest() (half float64) {
	for _, s := range b.spans {
		half = math.Max(half, s.half)
	}
	return half
}
