package clip

import (
	"cmp"
	"slices"
)

// A way is from one spot to a later one that can be the next in an answer that is best. Those over the limit, or past a window, that a
// clip between would make better are left out where one can stand there for certain: see the package comment on misses.
//
// From each spot the regular ways, which miss nothing, go to an unbroken row of spots, and both ends of the row move on from spot to
// spot. What is irregular is listed.
type reach struct {
	first, last []int32 // by spot: the row of regular ways; empty where first is after last
	odd         [][]way // by spot: the others, by where they lead
	begin       []cost  // by spot: from the beginning of the line
	stop        []cost  // by spot: to its end
	empty       cost    // from beginning to end without a clip
}

type way struct {
	to   int32
	cost cost // without the clip to which it leads
}

// mostOdd bounds the irregular ways of a line. There are many only where Apart is of the order of a span, or more.
const mostOdd = 1_000_000

// newReach finds all ways of a line; nil: they are too many, unless forced.
func newReach(ln *line, forced bool) *reach {
	n := len(ln.spots)
	r := &reach{first: make([]int32, n), last: make([]int32, n), odd: make([][]way, n)}
	r.begin = ln.begin()
	r.stop, r.empty = ln.stop()
	upTo := make([]int32, ln.length+1) // by place: the last spot up to there, -1
	for at, i := 0, int32(-1); at <= ln.length; at++ {
		if int(i)+1 < n && ln.spots[i+1].at == at {
			i++
		}
		upTo[at] = i
	}
	within, before, next, total := ln.within(), ln.before(), ln.length, 0
	for i := n - 1; i >= 0; i-- {
		p := ln.spots[i].at
		r.first[i], r.last[i] = int32(n), upTo[min(within[p], before[p], next)]
		if from := p + ln.apart; from <= ln.length {
			r.first[i] = upTo[from-1] + 1
		}
		r.odd[i] = ln.odd(i, int(r.last[i]), min(int(r.first[i]), n), within[p])
		if total += len(r.odd[i]); total > mostOdd && !forced {
			return nil
		}
		if ln.spots[i].given {
			next = p
		}
	}
	return r
}

// within is by place the furthest place to which a gap from there keeps its limit.
func (ln *line) within() []int {
	out := make([]int, ln.length+1)
	var least []int // places from p to q that no later one of them undercuts
	q := -1
	for p := range out {
		for q < ln.length {
			most := ln.most[q+1]
			if len(least) > 0 {
				most = min(most, ln.most[least[0]])
			}
			if q >= p && q+1-p > int(most) {
				break
			}
			q++
			for len(least) > 0 && ln.most[least[len(least)-1]] >= ln.most[q] {
				least = least[:len(least)-1]
			}
			least = append(least, q)
		}
		out[p] = q
		if len(least) > 0 && least[0] == p {
			least = least[1:]
		}
	}
	return out
}

// before is by place the furthest place to which a gap from there passes over no window.
func (ln *line) before() []int {
	out := make([]int, ln.length+1)
	least := ln.length
	wins := ln.byFrom()
	for p := ln.length; p >= 0; p-- {
		for ; len(wins) > 0 && wins[len(wins)-1].from > p; wins = wins[:len(wins)-1] {
			least = min(least, wins[len(wins)-1].to)
		}
		out[p] = least
	}
	return out
}

// odd lists the irregular ways from a spot: to clips by hand too near, and to what is after the last regular one.
func (ln *line) odd(i, last, first, within int) (out []way) {
	p, given := ln.spots[i].at, ln.spots[i].given
	if given {
		for k := i + 1; k < first && k < len(ln.spots) && k <= last; k++ {
			if ln.spots[k].given {
				return []way{{int32(k), cost{0, square(ln.spots[k].at - p)}}}
			}
		}
	}
	if last > i && ln.spots[last].given {
		return nil
	}
	least := ln.most[p]
	gapShut := int32(ln.length + 1) // the first clip that could stand between
	if p+ln.apart <= ln.length {
		gapShut = ln.sure[p+ln.apart]
	}
	if k := max(i, last) + 1; k < len(ln.spots) && ln.spots[k].at > within && int(gapShut) <= ln.spots[k].at-ln.apart {
		return nil
	}
	winShut := int32(ln.length + 1) // the same, within a window that is passed over
	var open []window
	seen := ln.passed[i]
	for k := i + 1; k <= last; k++ {
		least = min(least, ln.gapMost[k])
	}
	if last > i {
		seen = ln.passed[last]
	}
	for k := max(i, last) + 1; k < len(ln.spots); k++ {
		s := &ln.spots[k]
		d := s.at - p
		least = min(least, ln.gapMost[k])
		for ; seen < ln.passed[k]; seen++ {
			if x := ln.wins[seen]; x.from > p {
				open = append(open, x)
				if r := ln.sure[max(x.from, min(p+ln.apart, ln.length+1))]; int(r) <= x.to {
					winShut = min(winShut, r)
				}
			}
		}
		over := d > int(least)
		if back := int32(s.at - ln.apart); winShut <= back || over && gapShut <= back {
			return out
		}
		if d >= ln.apart || given && s.given {
			c := cost{0, square(d)}
			if over {
				c.a += int64((d-1)/int(least))*oneMiss + int64(d-int(least))*oneOver
			}
			for _, x := range open {
				c.a += oneMiss + int64(min(x.from-p, s.at-x.to))*oneOver
			}
			out = append(out, way{int32(k), c})
		}
		if s.given {
			return out
		}
	}
	return out
}

// lacks is how many clips are missing where none stands within reach of an end and the nearest is at d: the one at the end, and those that the
// limit on gaps asks for on the way there.
func lacks(d int, most int32) int64 { return 1 + int64(max(d-1, 0)/int(most)) }

func square(d int) int64 { return int64(d) * int64(d) }

// begin is the cost of the way from the beginning of the line to each spot.
func (ln *line) begin() []cost {
	out := make([]cost, len(ln.spots))
	var late cost // of the windows passed over, from place 0
	seen, passed, shut := int32(0), int64(0), false
	least, looked := int32(noMost), 0
	for k := range ln.spots {
		s := &ln.spots[k]
		for ; looked <= s.at; looked++ {
			least = min(least, ln.most[looked])
		}
		for ; seen < ln.passed[k]; seen++ {
			late.a += oneMiss - int64(ln.wins[seen].to)*oneOver
			passed++
		}
		c := late
		c.a += passed * int64(s.at) * oneOver
		if e := ln.ends[0]; e > 0 {
			c.b += square(s.at)
			if s.at > e {
				c.a += lacks(s.at, least)*oneMiss + int64(s.at-e)*oneOver
			}
		}
		if shut {
			c = never
		}
		out[k] = c
		shut = shut || s.given
	}
	return out
}

// stop is the cost of the way from each spot to the end of the line, and from the beginning where no clip stands at all.
func (ln *line) stop() (from []cost, empty cost) {
	from = make([]cost, len(ln.spots))
	wins := ln.byFrom()
	var late cost
	passed, shut := int64(0), false
	least, looked := int32(noMost), ln.length
	for i := len(ln.spots) - 1; i >= 0; i-- {
		s := &ln.spots[i]
		for ; looked >= s.at; looked-- {
			least = min(least, ln.most[looked])
		}
		for ; len(wins) > 0 && wins[len(wins)-1].from > s.at; wins = wins[:len(wins)-1] {
			late.a += oneMiss + int64(wins[len(wins)-1].from)*oneOver
			passed++
		}
		c := late
		c.a -= passed * int64(s.at) * oneOver
		if e, d := ln.ends[1], ln.length-s.at; e > 0 {
			c.b += square(d)
			if d > e {
				c.a += lacks(d, least)*oneMiss + int64(d-e)*oneOver
			}
		}
		if shut {
			c = never
		}
		from[i] = c
		shut = shut || s.given
	}
	empty.a = int64(len(ln.wins)) * (oneMiss + int64(ln.length)*oneOver)
	for _, e := range ln.ends {
		if e > 0 {
			empty.a += lacks(ln.length, slices.Min(ln.most))*oneMiss + int64(max(ln.length-e, 0))*oneOver
		}
	}
	if shut {
		empty = never
	}
	return from, empty
}

// byFrom is the windows in order of their beginnings.
func (ln *line) byFrom() []window {
	out := slices.Clone(ln.wins)
	slices.SortFunc(out, func(a, b window) int { return cmp.Compare(a.from, b.from) })
	return out
}
