package fix

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/unit"
)

// mostClips bounds the clips of one stretch, so that a slip such as a span of a hundredth of a millimetre ends.
const mostClips = 5000

// hold is a place along a stretch that wants a clip within reach of it.
type hold struct {
	at    unit.Length
	reach unit.Length
	why   string
	side  int  // where the clip goes: -1 before, +1 after, 0 at the place itself
	lone  bool // the other end needs no clip near it, so that none has to stand evenly with this one
}

// spot is where a clip goes.
type spot struct {
	after unit.Length
	why   string
	fixed int // index of the fixed one, -1
}

// place puts clips on the stretch from a to b: the fixed ones, one for each hold that none of those serves (bends first, then ends,
// then breakouts), and as few as will do, evenly, wherever a gap is longer than span. Fixed ones outside a to b stay out of it.
func place(a, b, span unit.Length, holds []hold, fixed []unit.Length) []spot {
	var out []spot
	for i, f := range fixed {
		if a <= f && f <= b {
			out = append(out, spot{f, "fixed", i})
		}
	}
	rank := func(h hold) int { return slices.Index([]string{"bend", "end", "breakout", "span"}, h.why) }
	holds = slices.Clone(holds)
	slices.SortStableFunc(holds, func(x, y hold) int { return cmp.Or(cmp.Compare(rank(x), rank(y)), cmp.Compare(x.at, y.at)) })
	for _, h := range holds {
		lo, hi := max(a, h.at-h.reach), min(b, h.at+h.reach)
		if !slices.ContainsFunc(out, func(s spot) bool { return lo <= s.after && s.after <= hi }) {
			out = append(out, spot{choose(a, b, h, out), h.why, -1})
		}
	}
	slices.SortStableFunc(out, func(x, y spot) int { return cmp.Compare(x.after, y.after) })
	return fill(out, span)
}

// choose is where the clip for a hold goes: as far off as reach allows, or half of that where another clip would be too close. One clip in
// the middle serves both ends of a short stretch; on a somewhat longer one two stand evenly.
func choose(a, b unit.Length, h hold, have []spot) unit.Length {
	if h.side == 0 || h.reach <= 0 {
		return h.at
	}
	far := h.reach
	switch {
	case h.why == "breakout":
		far = min(h.reach, b-a) / 2
	case b-a <= 2*h.reach:
		far = (b - a) / 2
	case b-a < 3*h.reach && !h.lone:
		far = (b - a) / 3
	}
	best, room := h.at, unit.Length(-1)
	for _, d := range []unit.Length{far, far / 2} {
		for _, side := range []int{h.side, -h.side} {
			x := h.at + unit.Length(side)*d
			if x < a || x > b {
				continue
			}
			near := unit.Length(math.Inf(1))
			for _, s := range have {
				near = min(near, unit.Length(math.Abs(float64(s.after-x))))
			}
			if near >= h.reach/2 {
				return x
			}
			if near > room {
				best, room = x, near
			}
		}
	}
	return best
}

// fill adds clips evenly where a gap is longer than span.
func fill(in []spot, span unit.Length) []spot {
	if span <= 0 || len(in) == 0 {
		return in
	}
	out := in[:1:1]
	for _, s := range in[1:] {
		from := out[len(out)-1].after
		gap := s.after - from
		n := math.Ceil(float64(gap/span) - 1e-9)
		if n+float64(len(out)) > mostClips {
			n = 1
		}
		for k := 1.0; k < n; k++ {
			out = append(out, spot{from + unit.Length(float64(gap)*(k/n)), "span", -1})
		}
		out = append(out, s)
	}
	return out
}
