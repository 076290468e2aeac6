package reel

import (
	"cmp"
	"slices"
)

// task is pieces to be cut from reels, in whole units of length.
type task struct {
	pieces []int64 // longest first
	stock  []int64 // reels at hand, shortest first
	reel   int64   // length of one that is bought
	end    int64   // a rest shorter than this is thrown away
}

// score orders answers: least first by each in turn, the rests greatest first.
type score struct {
	unplaced int // pieces that no reel holds
	bought   int
	thrown   int64
	rests    float64 // sum of the squares of what is left on all reels, those at hand that are not cut from too
}

func (s score) compare(o score) int {
	return cmp.Or(cmp.Compare(s.unplaced, o.unplaced), cmp.Compare(s.bought, o.bought), cmp.Compare(s.thrown, o.thrown), cmp.Compare(o.rests, s.rests))
}

// answer gives each piece a reel: those at hand first, then those bought; -1 none holds it.
type answer struct {
	bin   []int
	score score
}

// solve finds the best answer it can. proved tells that there is none better. A piece that is longer than a bought reel and for which no reel at hand is left
// stays out.
func (t *task) solve(steps *int) (best answer, proved bool) {
	for i, rule := range []func() []int{t.bestFit, t.keepEnds, t.fill} {
		a := answer{bin: rule()}
		a.score = t.score(a.bin)
		if i == 0 || a.score.compare(best.score) < 0 {
			best = a
		}
	}
	if len(t.pieces) > exactPieces {
		return best, false
	}
	s := search{task: t, best: best, bin: make([]int, len(t.pieces)), left: min(stepsOne, *steps)}
	given := s.left
	s.rem = slices.Clone(t.stock)
	s.used = make([]bool, len(t.stock))
	s.after = make([]int64, len(t.pieces)+1)
	for i := len(t.pieces) - 1; i >= 0; i-- {
		s.after[i] = s.after[i+1] + t.pieces[i]
	}
	s.place(0, 0, 0)
	*steps -= given - max(s.left, 0)
	return s.best, s.left > 0
}

// score is what an answer is worth.
func (t *task) score(bin []int) score {
	var s score
	rem := slices.Clone(t.stock)
	used := make([]bool, len(rem))
	for i, b := range bin {
		if b < 0 {
			s.unplaced++
			continue
		}
		for b >= len(rem) {
			rem, used = append(rem, t.reel), append(used, true)
		}
		rem[b] -= t.pieces[i]
		used[b] = true
	}
	s.bought = len(rem) - len(t.stock)
	for i, r := range rem {
		if used[i] && r < t.end {
			s.thrown += r
		} else {
			s.rests += float64(r) * float64(r)
		}
	}
	return s
}

// pack places the pieces one by one, longest first, on the reel that pick prefers; a new one is bought where none holds a piece.
func (t *task) pack(worse func(rest, than int64) bool) []int {
	rem := slices.Clone(t.stock)
	out := make([]int, len(t.pieces))
	for i, l := range t.pieces {
		at := -1
		for b, r := range rem {
			if r >= l && (at < 0 || worse(rem[at]-l, r-l)) {
				at = b
			}
		}
		if at < 0 && l <= t.reel {
			at, rem = len(rem), append(rem, t.reel)
		}
		if out[i] = at; at >= 0 {
			rem[at] -= l
		}
	}
	return out
}

// bestFit leaves the shortest rest.
func (t *task) bestFit() []int {
	return t.pack(func(rest, than int64) bool { return than < rest })
}

// keepEnds leaves no rest that would be thrown away where another reel holds the piece, and else the shortest.
func (t *task) keepEnds() []int {
	lost := func(r int64) bool { return r > 0 && r < t.end }
	return t.pack(func(rest, than int64) bool {
		if lost(rest) != lost(than) {
			return lost(rest)
		}
		return than < rest
	})
}

// fill empties one reel after another, the shortest first, each with the longest pieces that still go on it; of those that go on no longer bought reel first.
func (t *task) fill() []int {
	out := make([]int, len(t.pieces))
	for i := range out {
		out[i] = -1
	}
	open := len(t.pieces)
	from := 0
	onto := func(b int, rem int64) int64 {
		for i := from; i < len(t.pieces) && open > 0; i++ {
			if out[i] < 0 && t.pieces[i] <= rem {
				out[i] = b
				rem -= t.pieces[i]
				open--
			}
		}
		return rem
	}
	rem := slices.Clone(t.stock)
	for i, l := range t.pieces { // what only a reel at hand can hold
		if l <= t.reel {
			break
		}
		for b, r := range rem {
			if r >= l {
				out[i], rem[b] = b, r-l
				open--
				break
			}
		}
		from = i + 1
	}
	for b := range rem {
		rem[b] = onto(b, rem[b])
	}
	for n := len(rem); open > 0; n++ {
		before := open
		onto(n, t.reel)
		if open == before {
			break
		}
	}
	return out
}

// bound is how many reels must be bought at the least. All pieces of a length l and more take no less than l each, so that a reel of R holds at most R/l of them,
// and the reels at hand as many as theirs; and all pieces together take their sum.
func (t *task) bound() int {
	if t.reel <= 0 {
		return 0
	}
	need := func(pieces []int64) int {
		if len(pieces) == 0 {
			return 0
		}
		sum, have := int64(0), int64(0)
		for _, l := range pieces {
			sum += l
		}
		for _, l := range t.stock {
			have += l
		}
		least := int(max(0, (sum-have+t.reel-1)/t.reel))
		for n, l := range pieces {
			if n+1 < len(pieces) && pieces[n+1] == l {
				continue
			}
			if l <= 0 {
				break
			}
			held, each := int64(0), t.reel/l
			for _, s := range t.stock {
				held += s / l
			}
			if left := int64(n+1) - held; left > 0 {
				least = max(least, int((left+each-1)/each))
			}
		}
		return least
	}
	// Pieces that no bought reel holds say nothing of how many are bought, and what they leave of the reels at hand is not known.
	first := 0
	for first < len(t.pieces) && t.pieces[first] > t.reel {
		first++
	}
	return need(t.pieces[first:])
}

// lower is what any plan that buys so many reels throws away at the least: what is over of all its reels, where that is not enough for one rest to be kept.
func (t *task) lower(bought int) int64 {
	if len(t.stock) > 0 || bought == 0 {
		return 0 // a reel at hand need not be cut from
	}
	over := int64(bought) * t.reel
	for _, l := range t.pieces {
		if l <= t.reel {
			over -= l
		}
	}
	if over >= t.end {
		return 0
	}
	return max(0, over)
}

// search tries every way to place the pieces, but for those that cannot be better than the best that is known.
type search struct {
	*task
	best  answer
	bin   []int
	rem   []int64
	used  []bool
	after []int64 // sum of the pieces from each on
	left  int     // steps
}

func (s *search) place(i, unplaced, bought int) {
	if s.left--; s.left <= 0 {
		return
	}
	if i == len(s.pieces) {
		if sc := s.score(s.bin); sc.compare(s.best.score) < 0 {
			s.best = answer{slices.Clone(s.bin), sc}
		}
		return
	}
	if s.hopeless(i, unplaced, bought) {
		return
	}
	l, from := s.pieces[i], 0
	if i > 0 && s.pieces[i-1] == l { // equal pieces go on reels in their order
		from = s.bin[i-1]
		if from < 0 {
			from = len(s.rem) + 1
		}
	}
	type state struct {
		rem  int64
		used bool
	}
	var tried []state
	for b := from; b < len(s.rem); b++ {
		k := state{s.rem[b], s.used[b]}
		if k.rem < l || slices.Contains(tried, k) {
			continue
		}
		tried = append(tried, k)
		s.bin[i] = b
		s.rem[b], s.used[b] = k.rem-l, true
		s.place(i+1, unplaced, bought)
		s.rem[b], s.used[b] = k.rem, k.used
	}
	if l <= s.reel {
		n := len(s.rem)
		s.bin[i] = n
		s.rem, s.used = append(s.rem, s.reel-l), append(s.used, true)
		s.place(i+1, unplaced, bought+1)
		s.rem, s.used = s.rem[:n], s.used[:n]
		return
	}
	s.bin[i] = -1
	s.place(i+1, unplaced+1, bought)
}

// hopeless tells that no way to go on is better than the best that is known.
func (s *search) hopeless(i, unplaced, bought int) bool {
	last := s.pieces[len(s.pieces)-1]
	var free, thrown int64
	rests := 0.0
	for b, r := range s.rem {
		free += r
		if r < last && s.used[b] && r < s.end { // nothing more goes on it
			thrown += r
		} else {
			rests += float64(r) * float64(r)
		}
	}
	// As many reels more as the best answer buys may be left whole at the most.
	rests += float64(max(0, s.best.score.bought-bought)) * float64(s.reel) * float64(s.reel)
	need := int64(0)
	for k := i; k < len(s.pieces); k++ {
		if s.pieces[k] <= s.reel {
			need = s.after[k]
			break
		}
	}
	if need > free && s.reel > 0 {
		bought += int((need - free + s.reel - 1) / s.reel)
	}
	return score{unplaced, bought, thrown, rests}.compare(s.best.score) >= 0
}
