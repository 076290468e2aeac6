package clip

import "math"

// brute finds the best value of a small problem by trying every set of places; it is written from the definition, and shares no code
// with what it checks.
type brute struct {
	p     Problem
	given []map[int]int   // by track: place to seat or -1
	owned map[int]bool    // IDs of seats taken by hand
	tries []map[int]alone // by track: set of places, as bits
}

// alone is what a set of places is worth without its holes.
type alone struct{ missed, overrun, clips, uneven int64 }

func in(rs []Range, at int) bool {
	for _, r := range rs {
		if r.From <= at && at <= r.To {
			return true
		}
	}
	return false
}

func newBrute(p Problem) *brute {
	b := &brute{p: p, owned: map[int]bool{}}
	for _, t := range p.Tracks {
		seat := map[int]int{}
		for at := 0; at <= t.Length; at++ {
			for _, g := range t.Given {
				if g != at {
					continue
				}
				if _, twice := seat[g]; twice {
					continue
				}
				seat[g] = -1
				for pass := range 2 { // first a free one, else any
					for i, s := range t.Seats {
						if s.At == g && seat[g] < 0 && (pass == 1 || !b.owned[s.ID]) {
							seat[g] = i
						}
					}
				}
				if seat[g] >= 0 {
					b.owned[t.Seats[seat[g]].ID] = true
				}
			}
		}
		b.given = append(b.given, seat)
	}
	for k := range p.Tracks {
		ok := map[int]alone{}
		for set := 0; set < 1<<(p.Tracks[k].Length+1); set++ {
			if a, fine := b.alone(k, set); fine {
				ok[set] = a
			}
		}
		b.tries = append(b.tries, ok)
	}
	return b
}

func places(set int) (out []int) {
	for at := 0; set>>at != 0; at++ {
		if set>>at&1 == 1 {
			out = append(out, at)
		}
	}
	return out
}

// alone values a set of places; it fails where they are not allowed.
func (b *brute) alone(k, set int) (alone, bool) {
	t := b.p.Tracks[k]
	at := places(set)
	for g := range b.given[k] {
		if set>>g&1 == 0 {
			return alone{}, false
		}
	}
	for i, x := range at {
		_, given := b.given[k][x]
		if !given && in(t.Closed, x) {
			return alone{}, false
		}
		if i > 0 {
			_, before := b.given[k][at[i-1]]
			if x-at[i-1] < t.Apart && !(given && before) {
				return alone{}, false
			}
		}
	}
	v := alone{clips: int64(len(at))}
	miss := func(n, over int) { v.missed += int64(n); v.overrun += int64(over) }
	for i := 1; i < len(at); i++ {
		gap, most := at[i]-at[i-1], 1<<30
		for _, s := range t.Spans {
			if s.Most > 0 && s.From <= at[i] && at[i-1] <= s.To && s.From <= s.To {
				most = min(most, s.Most)
			}
		}
		v.uneven += int64(gap * gap)
		lacks := 0
		for (lacks+1)*most < gap {
			lacks++
		}
		if lacks > 0 {
			miss(lacks, gap-most)
		}
	}
	for n, e := range t.Ends {
		if e <= 0 {
			continue
		}
		from, to := 0, t.Length
		switch {
		case len(at) == 0:
		case n == 0:
			to = at[0]
		default:
			from = at[len(at)-1]
		}
		d := to - from
		if len(at) > 0 {
			v.uneven += int64(d * d)
		}
		if d > e || len(at) == 0 {
			most := 1 << 30
			for _, s := range t.Spans {
				if s.Most > 0 && s.From <= to && from <= s.To && s.From <= s.To {
					most = min(most, s.Most)
				}
			}
			lacks := 1
			for have := most; have < d; have += most {
				lacks++
			}
			miss(lacks, max(d-e, 0))
		}
	}
	for _, w := range t.Windows {
		if w.From > w.To || w.To < 0 || w.From > t.Length {
			miss(1, 0)
			continue
		}
		near := t.Length
		for _, x := range at {
			switch {
			case x < w.From:
				near = min(near, w.From-x)
			case x > w.To:
				near = min(near, x-w.To)
			default:
				near = 0
			}
		}
		if near > 0 || len(at) == 0 {
			miss(1, near)
		}
	}
	return v, true
}

// clipAt is a clip of a choice.
type clipAt struct {
	track, at int
	paired    bool
}

// holes is the least count of new holes for a choice of places; it fails where some clip finds none.
func (b *brute) holes(sets []int) (int64, bool) {
	var clips []*clipAt
	for k, set := range sets {
		for _, at := range places(set) {
			clips = append(clips, &clipAt{track: k, at: at})
		}
	}
	n := b.assign(clips, map[int]bool{})
	return n, n < math.MaxInt32
}

// facing is told by the first side that gives either place a face in the other track.
func (b *brute) facing(x, y *clipAt) bool {
	usedX, usedY := map[int]int{}, map[int]int{}
	for _, s := range b.p.Sides {
		a, c, swap := s.TrackA, s.TrackB, false
		if a == y.track && c == x.track {
			a, c, swap = c, a, true
		}
		if a != x.track || c != y.track {
			continue
		}
		for k := 0; k <= s.Length; k++ {
			p, q := s.A+k, s.B+k
			if s.Back {
				q = s.B - k
			}
			if swap {
				p, q = q, p
			}
			_, okP := usedX[p]
			_, okQ := usedY[q]
			if p >= 0 && q >= 0 && p <= b.p.Tracks[x.track].Length && q <= b.p.Tracks[y.track].Length && !okP && !okQ {
				usedX[p], usedY[q] = q, p
			}
		}
	}
	q, ok := usedX[x.at]
	return ok && q == y.at
}

const none = math.MaxInt32

// assign gives each clip its hole, all ways.
func (b *brute) assign(clips []*clipAt, used map[int]bool) int64 {
	for len(clips) > 0 && clips[0].paired {
		clips = clips[1:]
	}
	if len(clips) == 0 {
		return 0
	}
	x, rest := clips[0], clips[1:]
	best := int64(none)
	b.own(x, used, func(cost int64) { best = min(best, cost+b.assign(rest, used)) })
	for _, y := range rest {
		if y.track == x.track || y.paired || !b.facing(x, y) {
			continue
		}
		y.paired = true
		try := func(cost int64) { best = min(best, cost+b.assign(rest, used)) }
		if b.mayDrill(x) && b.mayDrill(y) {
			try(1)
		}
		b.hole(x, used, try)
		b.hole(y, used, try)
		y.paired = false
	}
	return min(best, none)
}

func (b *brute) mayDrill(x *clipAt) bool { return !in(b.p.Tracks[x.track].NewShut, x.at) }

// own calls try for each way in which a clip stands by itself.
func (b *brute) own(x *clipAt, used map[int]bool, try func(int64)) {
	_, given := b.given[x.track][x.at]
	if in(b.p.Tracks[x.track].NoHole, x.at) {
		try(0)
	}
	if !given && b.mayDrill(x) {
		try(1)
	}
	b.hole(x, used, try)
}

// hole calls try for each hole that is there for a clip, whatever others do.
func (b *brute) hole(x *clipAt, used map[int]bool, try func(int64)) {
	t := b.p.Tracks[x.track]
	if seat, given := b.given[x.track][x.at]; given {
		switch {
		case seat >= 0:
			try(0)
		case !in(t.NoHole, x.at):
			try(1)
		}
		return
	}
	for _, s := range t.Seats {
		if s.At == x.at && !used[s.ID] && !b.owned[s.ID] {
			used[s.ID] = true
			try(0)
			used[s.ID] = false
		}
	}
}

// best is the best value of all.
func (b *brute) best() value {
	best := value{missed: none}
	sets := make([]int, len(b.tries))
	var pick func(k int, sum alone)
	pick = func(k int, sum alone) {
		if sum.missed > best.missed || sum.missed == best.missed && sum.overrun > best.overrun {
			return
		}
		if k == len(sets) {
			if h, ok := b.holes(sets); ok {
				if v := (value{sum.missed, sum.overrun, h, sum.clips, sum.uneven}); v.compare(best) < 0 {
					best = v
				}
			}
			return
		}
		for set, a := range b.tries[k] {
			sets[k] = set
			pick(k+1, alone{sum.missed + a.missed, sum.overrun + a.overrun, sum.clips + a.clips, sum.uneven + a.uneven})
		}
	}
	pick(0, alone{})
	return best
}
