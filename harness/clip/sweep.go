package clip

import (
	"math"
	"slices"
)

// sweep is the search of a pair. A state is the last clip of each line; it is kept with the line that lags, in the row of its last clip.
// Spot -1 is the beginning, and the number of spots the end.
type sweep struct {
	*pair
	rest [2][]cost // by spot+1: no more than what remains from there costs, its own line alone
	low  [2][]int64
	most cost
	rows [2][]row // by spot+1 of the lagging line
	end  state
	left int // of the budget
	work int
	held int // states there is room for
}

// row holds the states with one last clip on the lagging line, by the other line's last clip from first on.
type row struct {
	first int
	at    []state
	done  state // the other line is at its end
}

// state is the best way to it.
type state struct {
	cost  cost
	known bool
	moved int8  // the line that was lengthened
	from  int32 // its last clip before
}

// mostStates bounds the memory of a search, to some 200 MB.
const mostStates = 6_000_000

func newSweep(p *pair, bound [2]*tail, low [2][]int64, most cost, budget int) *sweep {
	s := &sweep{pair: p, low: low, most: most, left: budget}
	for k := range 2 {
		ln := p.line[k]
		s.rest[k] = append(append([]cost{bound[k].all}, bound[k].cost...), cost{})
		s.rows[k] = make([]row, len(ln.spots)+2)
	}
	return s
}

// time is the clock at a spot, the beginning or the end.
func (s *sweep) time(k, i int) int {
	switch {
	case i < 0:
		return -1
	case i >= len(s.clock[k]):
		return math.MaxInt
	}
	return s.clock[k][i]
}

// put offers a state, given by the last clips of both lines.
func (s *sweep) put(last [2]int, st state) {
	n := [2]int{len(s.line[0].spots), len(s.line[1].spots)}
	if last == n {
		if !s.end.known || better(&st, &s.end) {
			s.end = st
		}
		return
	}
	lag := 0
	if s.time(0, last[0]) > s.time(1, last[1]) {
		lag = 1
	}
	r := &s.rows[lag][last[lag]+1]
	lead := last[1-lag]
	if lead == n[1-lag] {
		if !r.done.known || better(&st, &r.done) {
			r.done = st
		}
		return
	}
	if r.at == nil {
		t := s.time(lag, last[lag])
		r.first = -1
		if t >= 0 {
			r.first, _ = slices.BinarySearch(s.clock[1-lag], t)
		}
	}
	for len(r.at) <= lead-r.first {
		r.at = append(r.at, state{})
		s.held++
	}
	if old := &r.at[lead-r.first]; !old.known || better(&st, old) {
		*old = st
	}
}

// better compares two ways to one state; of equal ones that with the later clip before, which read from the other side is the first.
func better(a, b *state) bool {
	if a.cost != b.cost {
		return a.cost.less(b.cost)
	}
	if a.moved != b.moved {
		return a.moved < b.moved
	}
	return a.from > b.from
}

// run searches; it fails where the budget does not suffice.
func (s *sweep) run() bool {
	s.put([2]int{-1, -1}, state{known: true})
	type step struct{ line, spot int }
	var order []step
	i, j := -1, -1
	for i <= len(s.clock[0]) || j <= len(s.clock[1]) {
		switch {
		case i <= len(s.clock[0]) && (j > len(s.clock[1]) || s.time(0, i) <= s.time(1, j)):
			order = append(order, step{0, i})
			i++
		default:
			order = append(order, step{1, j})
			j++
		}
	}
	var ways []way
	for _, x := range order {
		r := &s.rows[x.line][x.spot+1]
		if r.at == nil && !r.done.known || x.spot == len(s.clock[x.line]) {
			continue
		}
		ways = s.line[x.line].from(ways[:0], x.spot)
		for n := range r.at {
			if r.at[n].known {
				s.lengthen(x.line, x.spot, r.first+n, &r.at[n], ways)
			}
		}
		if r.done.known {
			s.lengthen(x.line, x.spot, len(s.clock[1-x.line]), &r.done, ways)
		}
		if s.work > s.left || s.held > mostStates {
			return false
		}
	}
	return s.end.known
}

// from adds all ways from a spot, or from the beginning.
func (ln *line) from(out []way, i int) []way {
	r := ln.reach
	if i < 0 {
		for k, c := range r.begin {
			out = append(out, way{int32(k), c})
		}
		return out
	}
	for k := r.first[i]; k <= r.last[i]; k++ {
		out = append(out, way{k, cost{0, square(ln.spots[k].at - ln.spots[i].at)}})
	}
	return append(out, r.odd[i]...)
}

// lengthen sets the next clip of the lagging line k, whose last one is at; lead is the last one of the other line.
func (s *sweep) lengthen(k, at, lead int, st *state, ways []way) {
	other := s.line[1-k]
	face, faceTime := -1, s.time(1-k, lead)
	promised := false // the lead may stand only where a clip of this line comes to face it
	base := st.cost.plus(s.rest[1-k][lead+1])
	var credit int64 // what a clip that faces the lead may still save
	if lead >= 0 && lead < len(other.spots) && faceTime > s.time(k, at) {
		face = int(s.face[1-k][lead])
		promised = other.spots[lead].guest
		if face >= 0 {
			credit = other.spots[lead].holes() - s.low[1-k][lead]
		}
	}
	s.work += len(ways)
	for _, w := range ways {
		to, c := int(w.to), w.cost
		spot := &s.line[k].spots[to]
		c.a += spot.holes()
		c.b += oneClip
		saved := credit
		if t := s.clock[k][to]; t >= faceTime {
			saved = 0
			if to == face {
				h, _, ok := s.meet2(k, to, lead)
				if !ok {
					continue
				}
				c.a += h - spot.holes() - other.spots[lead].holes()
			} else {
				if promised {
					break
				}
				if spot.guest && t == faceTime {
					continue
				}
				if t > faceTime && s.face[k][to] >= 0 {
					saved = spot.holes() - s.low[k][to]
				}
			}
		} else if spot.guest {
			continue
		}
		f := base.plus(c).plus(s.rest[k][to+1])
		f.a -= saved
		if s.most.less(wholeHoles(f)) {
			continue
		}
		s.offer(k, to, lead, state{st.cost.plus(c), true, int8(k), int32(at)})
	}
	if promised {
		return
	}
	r := s.line[k].reach
	c := r.empty
	if at >= 0 {
		c = r.stop[at]
	}
	if !s.most.less(wholeHoles(base.plus(c))) {
		s.offer(k, len(s.line[k].spots), lead, state{st.cost.plus(c), true, int8(k), int32(at)})
	}
}

func (s *sweep) offer(k, to, lead int, st state) {
	last := [2]int{to, lead}
	if k == 1 {
		last = [2]int{lead, to}
	}
	s.put(last, st)
}

// answer reads the best way back.
func (s *sweep) answer() (cost, [2][]int) {
	var out [2][]int
	last := [2]int{len(s.clock[0]), len(s.clock[1])}
	st := s.end
	for last != [2]int{-1, -1} {
		k := st.moved
		last[k] = int(st.from)
		if last[k] >= 0 {
			out[k] = append(out[k], last[k])
		}
		st = s.state(last)
	}
	slices.Reverse(out[0])
	slices.Reverse(out[1])
	return s.end.cost, out
}

func (s *sweep) state(last [2]int) state {
	lag := 0
	if s.time(0, last[0]) > s.time(1, last[1]) {
		lag = 1
	}
	r := &s.rows[lag][last[lag]+1]
	if lead := last[1-lag]; lead < len(s.clock[1-lag]) {
		return r.at[lead-r.first]
	}
	return r.done
}
