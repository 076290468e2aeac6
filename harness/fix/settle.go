package fix

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/clip"
	"loomsheet/harness/unit"
)

// seated is a clip of the answer on a chain.
type seated struct {
	at    unit.Length // along the chain
	place int         // on the grid
	given *given
	seat  *seat
	bare  bool // it needs no hole
	with  int  // chain whose clip shares its hole, -1
}

// settle finds where the clips of all chains go.
func (m *maker) settle() [][]seated {
	p := &clip.Problem{Tracks: make([]clip.Track, len(m.chains)), Sides: m.sides()}
	for i, c := range m.chains {
		p.Tracks[i] = m.track(c)
	}
	return m.read(p, stubSolve(p))
}

// track is a chain as the optimiser sees it.
func (m *maker) track(c *chain) (t clip.Track) {
	if c.grid < 0 {
		return t
	}
	t.Length = c.grid
	if c.moves {
		m.freeMiddle(c)
	}
	for _, b := range c.bars {
		if from, to, ok := c.within(b.lo+2*tiny, b.hi-2*tiny); ok && b.hi > b.lo {
			t.Closed = append(t.Closed, clip.Range{From: from, To: to})
		}
	}
	for _, w := range c.wants {
		if from, to, ok := c.within(w.lo, w.hi); ok {
			t.Windows = append(t.Windows, clip.Window{Range: clip.Range{From: from, To: to}, Why: w.why})
		}
	}
	last := 0
	for k, p := range c.parts {
		end := c.grid
		if k+1 < len(c.parts) {
			end = max(last, min(c.grid, int(math.Floor(float64(c.parts[k+1].at-c.shift)+tiny))))
		}
		if end < last || end == last && k+1 < len(c.parts) {
			continue
		}
		most := c.grid + 1
		if l := m.spanFor(c, k); l.most > 0 {
			most = max(1, int(math.Floor(min(float64(l.most)+tiny, mostGrid))))
		}
		_ = p
		t.Spans = append(t.Spans, clip.Span{Range: clip.Range{From: last, To: end}, Most: most})
		last = end
	}
	for _, s := range c.shut {
		t.NewShut = append(t.NewShut, clip.Range{From: s.from, To: s.to})
	}
	for _, s := range c.bare {
		t.NoHole = append(t.NoHole, clip.Range{From: s.from, To: s.to})
	}
	for _, s := range c.seats {
		t.Seats = append(t.Seats, clip.Seat{At: s.at, ID: m.seatID(c, s)})
	}
	for _, g := range c.given {
		if !slices.Contains(t.Given, g.at) {
			t.Given = append(t.Given, g.at)
		}
	}
	slices.Sort(t.Given)
	return t
}

// spanFor is the largest gap on a part of a chain.
func (m *maker) spanFor(c *chain, k int) limit {
	if k < len(c.spans) {
		return c.spans[k]
	}
	return limit{}
}

// freeMiddle picks the places of the clips of a moving stretch: a stated clip, else a hole that is there, else as close to the end as may be; all the
// rest of it is barred.
func (m *maker) freeMiddle(c *chain) {
	var picks []unit.Length
	for _, w := range c.wants {
		from, to, ok := c.within(w.lo, w.hi)
		if !ok {
			continue
		}
		pick, rank := -1, math.Inf(1)
		for p := from; p <= to; p++ {
			x := math.Abs(float64(c.real(p) - w.at))
			r := x + 3*mostGrid
			switch {
			case slices.ContainsFunc(c.given, func(g given) bool { return g.at == p }):
				r = x
			case c.barred(c.real(p)) != "":
				continue
			case slices.ContainsFunc(c.seats, func(s seat) bool { return s.at == p }), inAny(c.bare, p):
				r = x + mostGrid
			case inAny(c.shut, p):
				continue
			}
			if r < rank {
				pick, rank = p, r
			}
		}
		if pick >= 0 {
			picks = append(picks, c.real(pick))
		}
	}
	slices.Sort(picks)
	at := unit.Length(-1)
	for _, x := range append(picks, c.length+1) {
		c.bars = append(c.bars, bar{lo: at, hi: x, why: "the stretch moves"})
		at = x
	}
}

func inAny(list []stretchOf, p int) bool {
	return slices.ContainsFunc(list, func(s stretchOf) bool { return s.from <= p && p <= s.to })
}

// read takes the places of an answer back to their chains. Of several stated clips on one place of the grid each keeps its own.
func (m *maker) read(p *clip.Problem, a *clip.Answer) [][]seated {
	out := make([][]seated, len(m.chains))
	for i, places := range a.Places {
		c := m.chains[i]
		for _, x := range places {
			s := seated{at: c.real(x.At), place: x.At, with: x.With, bare: inAny(c.bare, x.At)}
			if x.Seat >= 0 && !x.Given {
				s.seat = &c.seats[x.Seat]
			}
			if !x.Given {
				out[i] = append(out[i], s)
				continue
			}
			for k := range c.given {
				if g := &c.given[k]; g.at == x.At {
					s.given, s.at = g, g.after
					out[i] = append(out[i], s)
				}
			}
		}
		slices.SortStableFunc(out[i], func(a, b seated) int { return cmp.Compare(a.at, b.at) })
	}
	return out
}
