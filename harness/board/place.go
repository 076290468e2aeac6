package board

import (
	"cmp"
	"math"
	"slices"
)

// laid is a limb that has its place.
type laid struct {
	line   line
	gaps   []gap
	cost   float64
	pieces []piece
}

// gap is a length that is left out of a span.
type gap struct {
	span     int
	from, to float64 // true stations of the span
	left     float64
}

// drawn turns a true station, of a node, into one of the line.
func (p *laid) drawn(s float64) float64 { return shifted(p.gaps, s) }

func shifted(gaps []gap, s float64) float64 {
	out := s
	for _, g := range gaps {
		if s >= g.to-1e-6 {
			out -= g.left
		}
	}
	return out
}

// What stands against a place, so that the simplest is taken: steps of 15 degrees off the roomiest direction, one that is no multiple of 90 or
// 45 degrees, a neighbour on that side, a joint from which something is still to leave, a turn, a fold, a break.
const (
	costStep   = 1.0
	costSlant  = 0.7
	costOdd    = 1.4
	costSide   = 0.5
	costStands = 2.0
	costTurn   = 3.0
	costFold   = 5.0
	costBreak  = 30.0
	costLeft   = 1000.0
)

// head is a heading in which a limb may leave.
type head struct {
	h    int
	cost float64
}

// headings lists those in which a limb may leave its parent, the best first: 30 degrees and more from all that leaves that joint already, 15
// where there is none.
func (l *layer) headings(n int) []head {
	b := l.all[n]
	used := l.used[b.joint]
	parent := l.at[b.parent]
	_, along := parent.line.place(parent.drawn(b.hangs))
	end := b.hangs <= 1e-9 || b.hangs >= l.all[b.parent].length-1e-9
	// Where so much meets that angles of 45 degrees would not do, those of 30 come before.
	crowded := len(l.graph.at[b.joint])+len(l.endsAt[b.joint]) > round/3
	onLeft, onRight := l.beside(n)
	out := make([]head, 0, round)
	for least := 2; least > 0 && len(out) == 0; least-- {
		for h := range round {
			free := round
			for _, u := range used {
				free = min(free, apart(h, u))
			}
			if free < least {
				continue
			}
			c := costStep * float64(round/4-min(round/4, free))
			if end {
				c += 0.4 * costStep * float64(round/2-min(round/2, free))
			}
			switch {
			case crowded && h%2 != 0:
				c += costStep * round
			case crowded:
			case h%(round/8) != 0:
				c += costOdd
			case h%(round/4) != 0:
				c += costSlant
			}
			if turned(h-along) < round/2 {
				c += costSide * float64(onLeft)
			} else {
				c += costSide * float64(onRight)
			}
			out = append(out, head{h, c})
		}
	}
	slices.SortStableFunc(out, func(a, b head) int { return cmp.Compare(a.cost, b.cost) })
	return out
}

// neighbour is how near along a limb two that leave it on one side are in one another's way.
const neighbour = 300

// beside counts the limbs that leave near a limb on its parent to either side.
func (l *layer) beside(n int) (left, right int) {
	b := l.all[n]
	p := l.at[b.parent]
	for _, k := range l.all[b.parent].kids {
		if k == n || l.at[k] == nil || math.Abs(l.all[k].hangs-b.hangs) > neighbour || len(l.at[k].pieces) == 0 {
			continue
		}
		_, along := p.line.place(p.drawn(l.all[k].hangs))
		if turned(l.at[k].heading()-along) < round/2 {
			left++
		} else {
			right++
		}
	}
	return left, right
}

// heading in which a limb begins.
func (p *laid) heading() int {
	if len(p.line.heads) > 0 {
		return max(0, p.line.heads[0])
	}
	return p.line.head
}

// place finds a place for a limb whose parent is laid; broken tells whether it may be broken. False: there is none.
func (l *layer) place(n int, broken bool) bool {
	b := l.all[n]
	parent := l.at[b.parent]
	from, _ := parent.line.place(parent.drawn(b.hangs))
	heads := l.headings(n)
	var best *laid
	if len(b.spans) == 0 {
		if b.holder >= 0 && l.ends[b.holder].held {
			for k := 1; best == nil && k <= tails; k++ {
				if len(l.endsAt[b.joint]) >= manyEnds {
					k = tails // short ones would stand in the way of the rest
				}
				best = l.straightest(n, from, heads, nil, l.rules.tail*float64(k)/tails)
			}
		} else {
			best = l.straightest(n, from, heads, nil, 0)
		}
	} else {
		best = l.straightest(n, from, heads, nil, b.length)
	}
	if best == nil && b.length > 0 {
		best = l.folded(n, from, heads, nil)
	}
	if best == nil && broken {
		for _, gaps := range l.shortenings(b) {
			if best = l.straightest(n, from, heads, gaps, b.length-left(gaps)); best == nil {
				best = l.folded(n, from, heads, gaps)
			}
			if best != nil {
				best.cost += costBreak * float64(len(gaps))
				break
			}
		}
	}
	if best == nil && len(b.spans) == 0 {
		// A connector without room is named at its node, and takes none.
		best = &laid{line: startLine(from, 0), cost: costTurn * 2}
		if len(heads) > 0 {
			best.line = startLine(from, heads[0].h)
		}
	}
	if best == nil {
		return false
	}
	l.keep(n, best)
	return true
}

// keep puts a limb onto the field.
func (l *layer) keep(n int, p *laid) {
	b := l.all[n]
	l.at[n] = p
	for _, x := range p.pieces {
		l.field.add(x)
	}
	if len(b.spans) > 0 || len(p.pieces) > 0 {
		l.used[b.joint] = append(l.used[b.joint], p.heading())
	}
	s := 0.0
	for k, sp := range b.spans {
		s += sp.length
		_, h := p.line.place(p.drawn(s))
		l.used[sp.joint] = append(l.used[sp.joint], turned(h+round/2))
		if k < len(b.spans)-1 {
			l.used[sp.joint] = append(l.used[sp.joint], h)
		}
	}
	for _, k := range b.kids {
		l.hang[k] = p.drawn(l.all[k].hangs)
	}
}

// Tails of wires to a connector beside a bundle are drawn as short as there is room, up to the setting tail in so many steps.
const (
	tailHalf = 2.0
	tails    = 4
	manyEnds = 4 // connectors at one joint
)

// straightest is the best straight place of a length, nil if there is none.
func (l *layer) straightest(n int, from pt, heads []head, gaps []gap, long float64) (best *laid) {
	for _, h := range heads {
		if best != nil && h.cost >= best.cost {
			break
		}
		ln := startLine(from, h.h)
		ln.straight(long)
		ps, ok := l.try(n, &ln, 0, gaps)
		if !ok {
			continue
		}
		c := h.cost + l.standing(n, ps)
		if best == nil || c < best.cost {
			best = &laid{line: ln, gaps: gaps, cost: c, pieces: ps}
		}
	}
	return best
}

func left(gaps []gap) (sum float64) {
	for _, g := range gaps {
		sum += g.left
	}
	return sum
}

// standing is what it costs that joints from which something is still to leave are closed in.
func (l *layer) standing(n int, ps []piece) (cost float64) {
	own := l.all[n].joint
	for _, k := range l.waiting {
		if k == n || l.all[k].joint == own {
			continue
		}
		p := l.at[l.all[k].parent]
		at, _ := p.line.place(p.drawn(l.all[k].hangs))
		for i := range ps {
			if d, _ := fromPiece(at, ps[i].a, ps[i].b); d < ps[i].half+l.rules.gap+l.rules.holderHalf {
				cost += costStands
				break
			}
		}
	}
	return cost
}

// try is the pieces of a line from a drawn station on, with the holder at its end, if they have room. A holder that has none right at the end
// lies a little further out, at the end of the wires' tails.
func (l *layer) try(n int, ln *line, from float64, gaps []gap) ([]piece, bool) {
	mark := l.field.mark()
	defer l.field.undo(mark)
	ps := l.pieces(n, ln, from, gaps)
	for i := range ps {
		if !l.field.free(&ps[i]) {
			return nil, false
		}
		l.field.add(ps[i])
	}
	b := l.all[n]
	if b.holder < 0 || !l.ends[b.holder].held {
		return ps, true
	}
	for k := range tails {
		h := l.holder(n, ln, l.rules.tail*float64(k)/tails)
		if l.field.free(&h) {
			return append(ps, h), true
		}
		if len(b.spans) == 0 {
			break // its tail is its line
		}
	}
	return nil, false
}

// holder at the end of a line, so far beyond it: a round about as wide as the holder, run along it.
func (l *layer) holder(n int, ln *line, beyond float64) piece {
	near := beyond + l.rules.holderHalf
	far := max(near, beyond+l.rules.holder-l.rules.holderHalf)
	end := ln.long()
	return piece{a: ln.end().along(ln.head, near), b: ln.end().along(ln.head, far), from: end + near, to: end + far, half: l.rules.holderHalf, limb: n, holder: true}
}

// pieces splits a line where it turns, where its bundle changes and where something leaves it.
func (l *layer) pieces(n int, ln *line, from float64, gaps []gap) (out []piece) {
	b := l.all[n]
	end := ln.long()
	cuts := append(make([]float64, 0, 2+len(b.spans)+len(ln.at)), from, end)
	ends := 0.0
	for _, s := range b.spans {
		ends += s.length
		if d := shifted(gaps, ends); d > from+1e-9 && d < end-1e-9 {
			cuts = append(cuts, d)
		}
	}
	for _, s := range ln.at {
		if s > from+1e-9 && s < end-1e-9 {
			cuts = append(cuts, s)
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	true0, k := 0.0, 0
	out = make([]piece, 0, len(cuts)) // one more for a holder
	for i := 1; i < len(cuts); i++ {
		// The bundle in the middle of the piece.
		mid := (cuts[i-1] + cuts[i]) / 2
		for k < len(b.spans)-1 && shifted(gaps, true0+b.spans[k].length) < mid {
			true0 += b.spans[k].length
			k++
		}
		half := tailHalf
		if k < len(b.spans) {
			half = b.spans[k].half
		}
		a, _ := ln.place(cuts[i-1])
		z, _ := ln.place(cuts[i])
		out = append(out, piece{a: a, b: z, from: cuts[i-1], to: cuts[i], half: half, limb: n})
	}
	return out
}

// shortenings lists ways to break a limb, the mildest first: its longest spans are drawn shorter until so much is left.
func (l *layer) shortenings(b *limb) (out [][]gap) {
	order := make([]int, len(b.spans))
	at := make([]float64, len(b.spans))
	s := 0.0
	for i, sp := range b.spans {
		order[i], at[i] = i, s
		s += sp.length
	}
	slices.SortStableFunc(order, func(x, y int) int { return cmp.Compare(b.spans[y].length, b.spans[x].length) })
	for _, share := range []float64{0.7, 0.5, 0.3, 0.15, 0} {
		over := b.length * (1 - share)
		var gaps []gap
		for _, i := range order {
			by := math.Min(over, b.spans[i].length-l.rules.stub)
			if by <= 0 {
				break
			}
			by = math.Floor(by) // what is left out is whole millimetres
			if by >= 1 {
				gaps = append(gaps, gap{span: i, from: at[i], to: at[i] + b.spans[i].length, left: by})
			}
			over -= by
		}
		if len(gaps) > 0 && (len(out) == 0 || left(gaps) > left(out[len(out)-1])+1) {
			slices.SortFunc(gaps, func(x, y gap) int { return cmp.Compare(x.span, y.span) })
			out = append(out, gaps)
		}
	}
	return out
}
