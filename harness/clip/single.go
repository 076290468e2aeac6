package clip

import (
	"cmp"
	"slices"
)

// ways are the ways from one spot, or from the beginning, to every later spot that can be the next in an answer that is best. Those
// that are left out would be made better by a clip between, and one can stand there: see the package comment on misses.
//
// cost is by spot from first on, without what the clip there costs; never: not allowed.
type ways struct {
	first int
	cost  []cost
	open  []window
}

// from fills the ways from spot i; -1 is the beginning.
func (w *ways) from(ln *line, i int) {
	w.first, w.cost, w.open = i+1, w.cost[:0], w.open[:0]
	if i < 0 {
		w.begin(ln)
		return
	}
	p, most, given := ln.spots[i].at, ln.most[ln.spots[i].at], ln.spots[i].given
	gapShut := int32(ln.length + 1) // the first clip that could stand between
	if p+ln.apart <= ln.length {
		gapShut = ln.sure[p+ln.apart]
	}
	winShut := int32(ln.length + 1) // the same, within a window that is passed over
	seen := ln.passed[i]
	for k := i + 1; k < len(ln.spots); k++ {
		s := &ln.spots[k]
		d := s.at - p
		most = min(most, ln.gapMost[k])
		for ; seen < ln.passed[k]; seen++ {
			if x := ln.wins[seen]; x.from > p {
				w.open = append(w.open, x)
				if r := ln.sure[max(x.from, min(p+ln.apart, ln.length+1))]; int(r) <= x.to {
					winShut = min(winShut, r)
				}
			}
		}
		over := d > int(most)
		if back := int32(s.at - ln.apart); winShut <= back || over && gapShut <= back {
			return
		}
		switch {
		case d < ln.apart && !(given && s.given):
			w.cost = append(w.cost, never)
		default:
			c := cost{0, int64(d) * int64(d)}
			if over {
				c.a += int64((d-1)/int(most))*oneMiss + int64(d-int(most))*oneOver
			}
			for _, x := range w.open {
				c.a += oneMiss + int64(min(x.from-p, s.at-x.to))*oneOver
			}
			w.cost = append(w.cost, c)
		}
		if s.given {
			return
		}
	}
}

// begin fills the ways from the beginning of the line.
func (w *ways) begin(ln *line) {
	var late cost // of the windows passed over, from place 0
	seen, passed := int32(0), int64(0)
	for k := range ln.spots {
		s := &ln.spots[k]
		for ; seen < ln.passed[k]; seen++ {
			late.a += oneMiss - int64(ln.wins[seen].to)*oneOver
			passed++
		}
		c := late
		c.a += passed * int64(s.at) * oneOver
		if e := ln.ends[0]; e > 0 {
			c.b += int64(s.at) * int64(s.at)
			if s.at > e {
				c.a += oneMiss + int64(s.at-e)*oneOver
			}
		}
		w.cost = append(w.cost, c)
		if s.given {
			return
		}
	}
}

// stop is the cost of the way from each spot to the end of the line, and from the beginning where no clip stands at all.
// byFrom is the windows in order of their beginnings.
func (ln *line) byFrom() []window {
	out := slices.Clone(ln.wins)
	slices.SortFunc(out, func(a, b window) int { return cmp.Compare(a.from, b.from) })
	return out
}

func (ln *line) stop() (from []cost, empty cost) {
	from = make([]cost, len(ln.spots))
	wins := ln.byFrom()
	var late cost
	passed := int64(0)
	shut := false
	for i := len(ln.spots) - 1; i >= 0; i-- {
		s := &ln.spots[i]
		for ; len(wins) > 0 && wins[len(wins)-1].from > s.at; wins = wins[:len(wins)-1] {
			late.a += oneMiss + int64(wins[len(wins)-1].from)*oneOver
			passed++
		}
		c := late
		c.a -= passed * int64(s.at) * oneOver
		if e, d := ln.ends[1], ln.length-s.at; e > 0 {
			c.b += int64(d) * int64(d)
			if d > e {
				c.a += oneMiss + int64(d-e)*oneOver
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
			empty.a += oneMiss + int64(max(ln.length-e, 0))*oneOver
		}
	}
	if shut {
		empty = never
	}
	return from, empty
}

// tail is the best from each spot to the end, its own clip left out.
type tail struct {
	cost []cost // by spot
	next []int  // by spot: the spot after it, -1 none
	all  cost   // of the whole line
	head int    // the first spot, -1 none
	work int    // ways looked at
}

// settle finds the best clips of a line by itself, where holes is what each spot costs. Of equals the first places are taken.
func (ln *line) settle(holes []int64) *tail {
	n := len(ln.spots)
	t := &tail{next: make([]int, n)}
	t.cost, t.all = ln.stop()
	var w ways
	best := func(i int, stop cost) (cost, int) {
		w.from(ln, i)
		t.work += len(w.cost)
		at := -1
		for j, c := range w.cost {
			k := w.first + j
			c.a += t.cost[k].a + holes[k]
			c.b += t.cost[k].b + oneClip
			if c.less(stop) {
				stop, at = c, k
			}
		}
		return stop, at
	}
	for i := n - 1; i >= 0; i-- {
		t.cost[i], t.next[i] = best(i, t.cost[i])
	}
	t.all, t.head = best(-1, t.all)
	return t
}

// chain lists the spots of the best answer.
func (t *tail) chain() (out []int) {
	for i := t.head; i >= 0; i = t.next[i] {
		out = append(out, i)
	}
	return out
}

// alone is what a clip costs at each spot where nothing faces it.
func (ln *line) alone() []int64 {
	out := make([]int64, len(ln.spots))
	for i := range out {
		out[i] = ln.spots[i].holes()
	}
	return out
}
