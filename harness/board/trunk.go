package board

import (
	"cmp"
	"math"
	"slices"
)

// rows is a trunk laid in so many level rows, its first point at 0, 0, the rows downwards by so much; false where it cannot be folded so.
func (l *layer) rows(n, count int, apart float64, gaps []gap) (line, bool) {
	b := l.all[n]
	long := b.length - left(gaps)
	ln := startLine(pt{}, 0)
	if count == 1 {
		ln.straight(long)
		return ln, true
	}
	var stops []float64
	for _, s := range b.stops {
		stops = append(stops, shifted(gaps, s))
	}
	arc := math.Pi / 2 * b.radius
	across := math.Max(0, apart-2*b.radius)
	fold := 2*arc + across
	target := (long - fold*float64(count-1)) / float64(count)
	most := l.rules.w - 2*l.rules.edge - 2*b.widest() - b.radius - l.rules.holder
	side := -1 // turns to the right first: downwards
	for k := 1; k < count; k++ {
		reach := math.Min(most, target*1.25)
		if k > 1 {
			reach = math.Min(reach, most-b.radius)
		}
		want := math.Min(target, reach)
		at := clearOf(stops, ln.long()+want, ln.long(), arc, across, true)
		if at < ln.long()+want*0.6 { // there may be room for it a little further on
			for s := want + 20; s <= reach; s += 20 {
				if a := clearOf(stops, ln.long()+s, ln.long(), arc, across, true); a > at {
					at = a
				}
			}
		}
		if at < ln.long()+target*0.25 || at+fold > long {
			return ln, false
		}
		ln.straight(at - ln.long())
		ln.arc(side*round/4, b.radius)
		ln.straight(across)
		ln.arc(side*round/4, b.radius)
		side = -side
	}
	ln.straight(long - ln.long())
	return ln, true
}

// moved is a line moved.
func (l line) moved(dx, dy float64) line {
	out := l
	out.pts = make([]pt, len(l.pts))
	for i, p := range l.pts {
		out.pts[i] = pt{p.x + dx, p.y + dy}
	}
	out.bends = make([]bend, len(l.bends))
	for i, b := range l.bends {
		b.middle = pt{b.middle.x + dx, b.middle.y + dy}
		out.bends[i] = b
	}
	return out
}

func (l *line) bounds() (low, high pt) {
	low, high = l.pts[0], l.pts[0]
	for _, p := range l.pts {
		low = pt{math.Min(low.x, p.x), math.Min(low.y, p.y)}
		high = pt{math.Max(high.x, p.x), math.Max(high.y, p.y)}
	}
	return low, high
}

// trial is a way to lay a trunk.
type trial struct {
	line line
	gaps []gap
	cost float64
}

// trials lists ways to lay a trunk on an empty board, the plainest first: level in the middle; in rows that share the height of the board,
// or lie nearer; then broken.
func (l *layer) trials(n int, broken bool) (out []trial) {
	b := l.all[n]
	r := &l.rules
	wide, high := r.w-2*r.edge-2*b.widest(), r.h-2*r.edge-2*b.widest()
	options := [][]gap{nil}
	if broken {
		options = append(options, l.shortenings(b)...)
	}
	for _, gaps := range options {
		long := b.length - left(gaps)
		least := 2*b.widest() + r.gap
		for count := 1; count <= mostRows && float64(count-1)*math.Max(least, 2*b.radius) <= high; count++ {
			if count == 1 && long > wide || float64(count)*wide < long*0.8 {
				continue
			}
			shares := []float64{1, 0.7, 0}
			if count == 1 {
				shares = shares[:1]
			}
			for which, share := range shares {
				apart := math.Max(math.Max(least, 2*b.radius), high/float64(count)*share)
				ln, ok := l.rows(n, count, apart, gaps)
				if !ok {
					continue
				}
				low, up := ln.bounds()
				if up.x-low.x > wide || up.y-low.y > high {
					continue
				}
				cost := costFold*2*float64(count-1) + costBreak*float64(len(gaps))
				for i, off := range []float64{0, 0.12, -0.12, 0.25, -0.25} {
					dy := off * high
					if room := (high - (up.y - low.y)) / 2; math.Abs(dy) > room {
						continue
					}
					for k, side := range []float64{0, -1, 1} {
						slack := (wide - (up.x - low.x)) / 2
						if side != 0 && slack < r.holder*2 {
							continue
						}
						dx := side * math.Max(0, slack-r.holder-r.gap)
						out = append(out, trial{ln.moved(r.w/2-(low.x+up.x)/2+dx, r.h/2-(low.y+up.y)/2+dy), gaps, cost + costTurn*float64(which) + costSlant*float64(i+k)})
					}
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b trial) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

const mostRows = 24

// corners shows places for a trunk on a board on which something lies already, from the upper left, until it is told to stop.
func (l *layer) corners(n int, do func(trial) bool) {
	b := l.all[n]
	shown := 0
	r := &l.rules
	least := 2*b.widest() + r.gap
	lowest, highest := r.edge+b.widest(), r.h-r.edge-b.widest()
	leftmost, rightmost := r.edge+b.widest(), r.w-r.edge-b.widest()
	for count := 1; count <= mostRows; count++ {
		if float64(count)*(rightmost-leftmost) < b.length*0.8 {
			continue
		}
		aparts := []float64{least, least + 4*r.holder}
		if count == 1 {
			aparts = aparts[:1]
		}
		for _, apart := range aparts {
			ln, ok := l.rows(n, count, math.Max(apart, 2*b.radius), nil)
			if !ok {
				continue
			}
			low, up := ln.bounds()
			for y := highest; y-(up.y-low.y) >= lowest; y -= scan {
				for x := leftmost; x+(up.x-low.x) <= rightmost; x += 2 * scan {
					if shown++; !do(trial{line: ln.moved(x-low.x, y-up.y), cost: costFold * 2 * float64(count-1)}) || shown == mostCorners {
						return
					}
				}
			}
		}
		if shown > 0 && count > 3 {
			break
		}
	}
}

const (
	scan        = 30
	mostCorners = 4000
)
