package clip

import (
	"cmp"
	"slices"
)

// line is a track made ready: where a clip may stand, and what the ways between two such places have to keep.
type line struct {
	length, apart int
	ends          [2]int
	spots         []spot
	most          []int32  // by place: least Most of the spans there
	gapMost       []int32  // by spot: least Most after the spot before it, up to and with it
	wins          []window // by To
	passed        []int32  // by spot: how many of wins end before it
	sure          []int32  // by place: the first place from there on where a clip can stand for certain; length+1: none
	thinned       bool
	reach         *reach
}

// spot is a place where a clip may stand.
type spot struct {
	at     int
	given  bool
	noHole bool
	newOK  bool
	guest  bool // it may stand here only with the clip that faces it
	seat   int  // index into Seats, -1
	host   int  // track whose clip, already settled, offers its hole here, -1
}

// window is a window within the track.
type window struct{ from, to int }

const noMost = 1 << 30

// holed tells whether a clip at the spot stands, or can stand, in a hole that is there whatever else is chosen.
func (s *spot) holed() bool { return s.seat >= 0 || s.given && !s.noHole && s.host < 0 }

// holes is what a clip there costs alone.
func (s *spot) holes() int64 {
	if s.noHole || s.seat >= 0 || s.host >= 0 || s.guest {
		return 0
	}
	return oneHole
}

// request is what a line is made from besides its track.
type request struct {
	shut   []bool       // by seat: not to be used
	taken  []int        // by given: its seat or -1
	hosts  map[int]host // by place
	guests []int        // places that may be used only with the clip facing them
	thin   int          // of candidate places that nothing singles out, every so many-th stays; 0 or 1: all
}

// host is a clip already settled on another track, which offers its hole to the clip that faces it.
type host struct {
	track int
	there bool // the hole is there whatever that clip does; otherwise a new one must be allowed on this track too
}

// inside cuts a range to the track; ok is false where nothing remains.
func (t *Track) inside(r Range) (from, to int, ok bool) {
	from, to = max(r.From, 0), min(r.To, t.Length)
	return from, to, from <= to
}

// mirror is the track seen from its end.
func (t *Track) mirror() *Track {
	flip := func(r Range) Range { return Range{t.Length - r.To, t.Length - r.From} }
	out := *t
	out.Ends = [2]int{t.Ends[1], t.Ends[0]}
	out.Spans, out.Windows, out.Seats, out.Given = slices.Clone(t.Spans), slices.Clone(t.Windows), slices.Clone(t.Seats), slices.Clone(t.Given)
	out.Closed, out.NoHole, out.NewShut = slices.Clone(t.Closed), slices.Clone(t.NoHole), slices.Clone(t.NewShut)
	for i := range out.Spans {
		out.Spans[i].Range = flip(out.Spans[i].Range)
	}
	for i := range out.Windows {
		out.Windows[i].Range = flip(out.Windows[i].Range)
	}
	for _, rs := range [][]Range{out.Closed, out.NoHole, out.NewShut} {
		for i := range rs {
			rs[i] = flip(rs[i])
		}
	}
	for i := range out.Seats {
		out.Seats[i].At = t.Length - out.Seats[i].At
	}
	for i := range out.Given {
		out.Given[i] = t.Length - out.Given[i]
	}
	return &out
}

// mark tells for each place of the track whether one of the ranges holds it.
func (t *Track) mark(rs []Range) []bool {
	step := make([]int32, t.Length+2)
	for _, r := range rs {
		if from, to, ok := t.inside(r); ok {
			step[from]++
			step[to+1]--
		}
	}
	out := make([]bool, t.Length+1)
	n := int32(0)
	for i := range out {
		n += step[i]
		out[i] = n > 0
	}
	return out
}

// newLine makes a track ready. The track must not be capped, and its length not negative.
func newLine(t *Track, q request) *line {
	ln := &line{length: t.Length, apart: max(t.Apart, 1), ends: [2]int{max(t.Ends[0], 0), max(t.Ends[1], 0)}}
	ln.most = t.leastMost()
	for _, w := range t.Windows {
		if from, to, ok := t.inside(w.Range); ok && w.From <= w.To {
			ln.wins = append(ln.wins, window{from, to})
		}
	}
	slices.SortFunc(ln.wins, func(a, b window) int { return cmp.Or(cmp.Compare(a.to, b.to), cmp.Compare(a.from, b.from)) })
	for all := t.spots(q); ; q.thin = max(2*q.thin, 2) {
		ln.spots = all
		ln.thin(q.thin)
		ln.index()
		if ln.reach = newReach(ln, q.thin > 2*ln.length); ln.reach != nil {
			return ln
		}
	}
}

// leastMost is the least limit at each place. Spans are taken from the narrowest limit on, so that each place is set once.
func (t *Track) leastMost() []int32 {
	out := make([]int32, t.Length+1)
	next := make([]int32, t.Length+2) // the first place from there on that is not set yet
	for i := range out {
		out[i] = noMost
	}
	for i := range next {
		next[i] = int32(i)
	}
	free := func(i int32) int32 {
		for next[i] != i {
			next[i] = next[next[i]]
			i = next[i]
		}
		return i
	}
	spans := slices.Clone(t.Spans)
	slices.SortStableFunc(spans, func(a, b Span) int { return cmp.Compare(a.Most, b.Most) })
	for _, s := range spans {
		from, to, ok := t.inside(s.Range)
		if !ok || s.Most <= 0 || s.Most >= noMost {
			continue
		}
		for i := free(int32(from)); int(i) <= to; i = free(i) {
			out[i] = int32(s.Most)
			next[i] = i + 1
		}
	}
	return out
}

// spots lists where a clip may stand, in order of place.
func (t *Track) spots(q request) []spot {
	closed, noHole, newShut := t.mark(t.Closed), t.mark(t.NoHole), t.mark(t.NewShut)
	seat, given, guest := make([]int32, t.Length+1), make([]bool, t.Length+1), make([]bool, t.Length+1)
	for i := range seat {
		seat[i] = -1
	}
	for i, s := range t.Seats {
		if s.At >= 0 && s.At <= t.Length && !q.shut[i] && seat[s.At] < 0 {
			seat[s.At] = int32(i)
		}
	}
	for i, g := range t.Given {
		if g >= 0 && g <= t.Length && !given[g] {
			given[g], seat[g] = true, int32(q.taken[i])
		}
	}
	for _, g := range q.guests {
		guest[g] = true
	}
	out := make([]spot, 0, t.Length+1)
	for at := 0; at <= t.Length; at++ {
		s := spot{at: at, given: given[at], noHole: noHole[at], newOK: !newShut[at], seat: int(seat[at]), host: -1}
		h, hosted := q.hosts[at]
		switch {
		case s.given && (s.noHole || s.seat >= 0):
		case closed[at] && !s.given:
			continue
		case hosted && !s.noHole && s.seat < 0 && (h.there || s.newOK):
			s.host = h.track
		case !s.given && !s.noHole && !s.newOK && s.seat < 0:
			if !guest[at] {
				continue
			}
			s.guest = true
		}
		out = append(out, s)
	}
	return out
}

// thin drops all but every n-th of the spots that nothing singles out. The first and the last of each window and of each unbroken row stay.
func (ln *line) thin(n int) {
	if n <= 1 {
		return
	}
	keep := make([]bool, len(ln.spots))
	for i := range ln.spots {
		if n > ln.length { // nothing but what windows need and what stands by hand
			keep[i] = ln.spots[i].given
			continue
		}
		s := &ln.spots[i]
		edge := i == 0 || i == len(ln.spots)-1 || ln.spots[i-1].at < s.at-1 || ln.spots[i+1].at > s.at+1
		keep[i] = edge || s.at%n == 0 || s.given || s.seat >= 0 || s.host >= 0 || s.guest
	}
	for _, w := range ln.wins {
		i, _ := slices.BinarySearchFunc(ln.spots, w.from, func(s spot, at int) int { return s.at - at })
		j, _ := slices.BinarySearchFunc(ln.spots, w.to+1, func(s spot, at int) int { return s.at - at })
		if i < j {
			keep[i], keep[j-1] = true, true
		}
	}
	var out []spot
	for i, s := range ln.spots {
		if keep[i] {
			out = append(out, s)
		}
	}
	ln.thinned = len(out) < len(ln.spots)
	ln.spots = out
}

// index fills what speeds up looking along the line.
func (ln *line) index() {
	ln.gapMost, ln.passed, ln.sure = make([]int32, len(ln.spots)), make([]int32, len(ln.spots)), make([]int32, ln.length+2)
	at, w := 0, 0
	for i := range ln.spots {
		s := &ln.spots[i]
		least := ln.most[s.at]
		for ; at < s.at; at++ {
			least = min(least, ln.most[at])
		}
		at = s.at + 1
		ln.gapMost[i] = least
		for w < len(ln.wins) && ln.wins[w].to < s.at {
			w++
		}
		ln.passed[i] = int32(w)
	}
	for i := range ln.sure {
		ln.sure[i] = int32(ln.length + 1)
	}
	for i := range ln.spots {
		if !ln.spots[i].guest {
			ln.sure[ln.spots[i].at] = int32(ln.spots[i].at)
		}
	}
	for i := ln.length - 1; i >= 0; i-- {
		ln.sure[i] = min(ln.sure[i], ln.sure[i+1])
	}
}
