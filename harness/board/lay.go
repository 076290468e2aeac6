package board

import (
	"math"
	"slices"
)

// rules are what the settings say of boards, in mm.
type rules struct {
	w, h, edge, gap, peg, stub, holder, holderHalf, tail float64
}

// layer lays the pieces of one section.
type layer struct {
	graph   *graph
	rules   rules
	all     []*limb
	ends    []endAt
	endsAt  map[int][]int // ends by joint
	spliced map[int]bool  // joints at which a splice sits
	bend    func(edge int) float64
	budget  int

	field   *field
	at      []*laid // by limb; nil: no place yet
	hang    []float64
	used    map[int][]int // headings in which something leaves a joint
	waiting []int
}

// Bounds of the search, most of them in looks at what lies near (see field): a board that is too full must not take minutes.
const (
	mostLooks    = 8_000_000 // for a section; after that pieces are laid on boards of their own
	squeezeLooks = 600_000   // for a piece beside others
	trialLooks   = 250_000   // for one trunk
	limbLooks    = 6_000     // for one limb when all else has failed
	mostTrials   = 6
	hardLooks    = 1_200_000 // the same where all have failed, of a tree of not too many limbs
	hardTrials   = 3
	mostHard     = 80
	again        = 14 // attempts with one trunk
	atCorners    = 60 // trunks tried beside what lies already
)

func (l *layer) spent() bool { return l.field.looks > l.budget }

// sheet is a board being filled.
type sheet struct {
	field  *field
	trees  []int
	filled bool
}

// layAll lays every tree, the heaviest first, on the first board on which it has room unbroken, else on a board of its own. It gives back the
// boards with their trees, and the limbs that found no place.
func (l *layer) layAll(trees [][]int) (sheets []*sheet, missing []int) {
	l.at, l.hang, l.used = make([]*laid, len(l.all)), make([]float64, len(l.all)), map[int][]int{}
	looks := 0
	fresh := func() *sheet {
		r := &l.rules
		return &sheet{field: newField(r.w, r.h, r.edge, r.gap, func(n int) (int, float64) { return l.all[n].parent, l.hang[n] })}
	}
	for t, limbs := range trees {
		done := false
		for _, s := range sheets {
			if l.field = s.field; looks > mostLooks {
				break
			}
			before := s.field.looks
			l.budget = before + squeezeLooks
			if l.squeeze(limbs) {
				s.trees, done = append(s.trees, t), true
			}
			looks += s.field.looks - before
			if done {
				break
			}
		}
		if done {
			continue
		}
		s := fresh()
		l.field = s.field
		missing = append(missing, l.alone(limbs)...)
		looks += s.field.looks
		s.trees = append(s.trees, t)
		sheets = append(sheets, s)
	}
	return sheets, missing
}

// state is one way in which a tree was laid.
type state struct {
	at   []*laid
	cost float64
	lost []int // limbs without a place
}

// squeeze lays a tree beside what lies on the field already, whole and unbroken; false, with nothing laid, where it has no room.
func (l *layer) squeeze(limbs []int) bool {
	tried, done := 0, false
	l.corners(limbs[0], func(t trial) bool {
		if l.spent() || tried == atCorners {
			return false
		}
		if _, ok := l.try(limbs[0], &t.line, 0, nil); !ok {
			return true
		}
		tried++
		if s := l.solve(limbs, t, 2, false); s != nil && len(s.lost) == 0 {
			l.settle(limbs, s)
			done = true
		}
		return !done
	})
	return done
}

// alone lays a tree on an empty board: unbroken if it can be, else with as few breaks as were found; what is lost is told.
func (l *layer) alone(limbs []int) []int {
	var best *state
	for _, pass := range []struct {
		broken bool
		trials int
		looks  int
	}{{false, mostTrials, trialLooks}, {false, hardTrials, hardLooks}, {true, mostTrials, trialLooks}, {true, hardTrials, hardLooks}} {
		tried, broken := 0, pass.broken
		if pass.looks > trialLooks && len(limbs) > mostHard {
			continue // there is too much of it for a thorough search
		}
		for _, t := range l.trials(limbs[0], broken) {
			if _, ok := l.try(limbs[0], &t.line, 0, t.gaps); !ok {
				continue
			}
			if tried++; tried > pass.trials || best != nil && len(best.lost) == 0 && t.cost >= best.cost {
				break
			}
			l.budget = l.field.looks + pass.looks
			if s := l.solve(limbs, t, again, broken); s != nil && (best == nil || s.cost < best.cost) {
				best = s
			}
		}
		if best != nil && len(best.lost) == 0 {
			break
		}
	}
	if best == nil {
		return limbs
	}
	l.settle(limbs, best)
	return best.lost
}

// settle puts a tree onto the field for good.
func (l *layer) settle(limbs []int, s *state) {
	for i, n := range limbs {
		if s.at[i] != nil {
			l.keep(n, s.at[i])
		}
	}
}

// solve lays a tree about its trunk, heaviest limb first. A limb that finds no place comes before others the next time; if that does not help
// it may be broken, and in the end it is left. Nil where it stays unlaid and breaks are not allowed.
func (l *layer) solve(limbs []int, t trial, tries int, broken bool) *state {
	first := map[int]float64{}
	mayBreak, skip := map[int]bool{}, map[int]bool{}
	failures := map[int]int{}
	for range tries {
		failed := l.attempt(limbs, t, first, mayBreak, skip)
		if failed < 0 {
			return l.taken(limbs, t)
		}
		l.clear(limbs)
		if l.spent() && !broken {
			return nil
		}
		failures[failed]++
		switch {
		case failures[failed] <= 2 && !l.spent():
			for n := failed; n >= 0; n = l.all[n].parent {
				first[n] = math.Max(first[n], float64(failures[failed]))
			}
		case !broken:
			return nil
		case !mayBreak[failed]:
			mayBreak[failed] = true
		default:
			skip[failed] = true
		}
	}
	if !broken {
		return nil
	}
	// Everything may be broken, and what finds no place even so is left.
	for _, n := range limbs {
		mayBreak[n] = true
	}
	l.attempt(limbs, t, first, mayBreak, nil)
	return l.taken(limbs, t)
}

// taken takes a tree off the field as it was laid.
func (l *layer) taken(limbs []int, t trial) *state {
	s := &state{cost: t.cost}
	for i, n := range limbs {
		s.at = append(s.at, l.at[n])
		if l.at[n] == nil {
			s.lost, s.cost = append(s.lost, n), s.cost+costLeft
		} else if i > 0 {
			s.cost += l.at[n].cost
		}
	}
	l.clear(limbs)
	return s
}

// clear takes a tree off the field.
func (l *layer) clear(limbs []int) {
	pieces := 0
	for _, n := range limbs {
		if p := l.at[n]; p != nil {
			pieces += len(p.pieces)
		}
		l.at[n] = nil
		delete(l.used, l.all[n].joint)
		for _, s := range l.all[n].spans {
			delete(l.used, s.joint)
		}
	}
	l.field.undo(l.field.mark() - pieces)
}

// attempt lays a tree once; it gives back the limb that found no place, -1 if all did but those to be skipped and what hangs on them. With no
// list of such it leaves what finds no place and goes on.
func (l *layer) attempt(limbs []int, t trial, first map[int]float64, mayBreak, skip map[int]bool) int {
	trunk := limbs[0]
	ps, _ := l.try(trunk, &t.line, 0, t.gaps)
	l.keep(trunk, &laid{line: t.line, gaps: t.gaps, pieces: ps})
	l.waiting = slices.Clone(l.all[trunk].kids)
	for len(l.waiting) > 0 {
		best := 0
		for i, n := range l.waiting[1:] {
			a, b := l.waiting[best], n
			switch {
			case first[b] != first[a]:
				if first[b] > first[a] {
					best = i + 1
				}
			case l.all[b].weight > l.all[a].weight:
				best = i + 1
			}
		}
		n := l.waiting[best]
		l.waiting = slices.Delete(l.waiting, best, best+1)
		if skip[n] {
			continue
		}
		if skip == nil {
			l.budget = l.field.looks + limbLooks
		}
		if !l.place(n, mayBreak[n]) {
			if skip == nil {
				continue
			}
			return n
		}
		l.waiting = append(l.waiting, l.all[n].kids...)
	}
	return -1
}
