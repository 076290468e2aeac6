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
	own  [2][]int64
	save [2][]int64 // by spot: what facing a clip may save of its own cost, at most
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
	s := &sweep{pair: p, most: most, left: budget}
	for k := range 2 {
		ln := p.line[k]
		s.rest[k] = append(append([]cost{bound[k].all}, bound[k].cost...), cost{})
		s.rows[k] = make([]row, len(ln.spots)+2)
		s.own[k], s.save[k] = ln.alone(), make([]int64, len(ln.spots))
		for i, h := range s.own[k] {
			s.save[k][i] = h - low[k][i]
		}
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

// lag is the line that lags behind: the first where both are level.
func (s *sweep) lag(last [2]int) int {
	if s.time(0, last[0]) > s.time(1, last[1]) {
		return 1
	}
	return 0
}

// cell is where the state with these last clips is kept, of which that of line k lags.
func (s *sweep) cell(k, last, lead int) *state {
	r := &s.rows[k][last+1]
	if lead >= len(s.clock[1-k]) {
		if last >= len(s.clock[k]) {
			return &s.end
		}
		return &r.done
	}
	if r.at == nil {
		r.first = -1
		if last >= 0 {
			r.first, _ = slices.BinarySearch(s.clock[1-k], s.clock[k][last])
		}
	}
	if n := lead - r.first; n >= len(r.at) {
		s.held += n + 1 - len(r.at)
		r.at = append(r.at, make([]state, n+1-len(r.at))...)
	}
	return &r.at[lead-r.first]
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
	s.cell(0, -1, -1).known = true
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
				s.lengthen(x.line, x.spot, r.first+n, r.at[n], ways)
			}
		}
		if r.done.known {
			s.lengthen(x.line, x.spot, len(s.clock[1-x.line]), r.done, ways)
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
func (s *sweep) lengthen(k, at, lead int, st state, ways []way) {
	other := s.line[1-k]
	face, faceTime := -1, s.time(1-k, lead)
	promised := false // the lead may stand only where a clip of this line comes to face it
	base := st.cost.plus(s.rest[1-k][lead+1])
	var credit int64 // what a clip that faces the lead may still save
	if lead >= 0 && lead < len(other.spots) && faceTime > s.time(k, at) {
		face = int(s.face[1-k][lead])
		promised = other.spots[lead].guest
		credit = s.save[1-k][lead]
	}
	s.work += len(ways)
	clock, rest, own, save := s.clock[k], s.rest[k], s.own[k], s.save[k]
	next := state{known: true, moved: int8(k), from: int32(at)}
	for _, w := range ways {
		to, c := int(w.to), w.cost
		c.a += own[to]
		c.b += oneClip
		saved, t := credit, clock[to]
		guest := s.line[k].spots[to].guest
		switch {
		case t < faceTime:
			if guest {
				continue
			}
		case to == face:
			h, _, ok := s.meet2(k, to, lead)
			if !ok {
				continue
			}
			saved = 0
			c.a += h - own[to] - s.own[1-k][lead]
		case promised:
			return
		case t == faceTime:
			if guest {
				continue
			}
			saved = 0
		default:
			saved = save[to]
		}
		f := cost{base.a + c.a + rest[to+1].a - saved, base.b + c.b + rest[to+1].b}
		if f.a > s.most.a || s.most.less(wholeHoles(f)) {
			continue
		}
		next.cost = st.cost.plus(c)
		if t < faceTime || t == faceTime && k == 0 {
			s.cell(k, to, lead).offer(&next)
		} else {
			s.cell(1-k, lead, to).offer(&next)
		}
	}
	if promised {
		return
	}
	r := s.line[k].reach
	c := r.empty
	if at >= 0 {
		c = r.stop[at]
	}
	if s.most.less(wholeHoles(base.plus(c))) {
		return
	}
	next.cost = st.cost.plus(c)
	s.cell(1-k, lead, len(clock)).offer(&next)
}

// offer takes over a way to the state, if it is better.
func (st *state) offer(way *state) {
	if !st.known || better(way, st) {
		*st = *way
	}
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
		n := s.lag(last)
		st = *s.cell(n, last[n], last[1-n])
	}
	slices.Reverse(out[0])
	slices.Reverse(out[1])
	return s.end.cost, out
}
