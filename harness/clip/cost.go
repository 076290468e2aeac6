package clip

import "math"

// cost is the lexicographic value of a choice in two words, so that sums and comparisons of five figures take two operations:
//
//	a: missed (16 bits) | overrun in mm (25) | new holes in parts (22)
//	b: clips (23) | uneven in mm² (40)
//
// Holes are counted in parts for the bounds of pair.go only; a real choice has whole ones. The caps below keep every figure of
// a track, and of two of them, within its bits.
type cost struct{ a, b int64 }

const (
	oneHole = 64
	oneOver = 1 << 22
	oneMiss = 1 << 47
	oneClip = 1 << 40

	// MostLength is the longest track in millimetres that is settled: longer than the wiring of any one vehicle's run.
	MostLength = 20_000
	// MostWindows is the most windows of a track that is settled.
	MostWindows = 500
	// MostTotal is the length in millimetres up to which tracks are settled, in order.
	MostTotal = 5_000_000
	// Work is how many pairs of neighbouring places are looked at for one problem, roughly: some seconds.
	Work = 200_000_000
)

var never = cost{math.MaxInt64 / 4, 0}

func (c cost) plus(d cost) cost { return cost{c.a + d.a, c.b + d.b} }
func (c cost) less(d cost) bool { return c.a < d.a || c.a == d.a && c.b < d.b }

// value is a cost written out; unlike a cost it never overflows when those of thousands of tracks are added.
type value struct {
	missed, overrun, holes, clips, uneven int64
}

func (c cost) value() value {
	return value{
		missed:  c.a >> 47,
		overrun: c.a >> 22 & (1<<25 - 1),
		holes:   c.a & (oneOver - 1) / oneHole,
		clips:   c.b >> 40,
		uneven:  c.b & (oneClip - 1),
	}
}

func (v value) plus(w value) value {
	return value{v.missed + w.missed, v.overrun + w.overrun, v.holes + w.holes, v.clips + w.clips, v.uneven + w.uneven}
}

func (v value) minus(w value) value {
	return value{v.missed - w.missed, v.overrun - w.overrun, v.holes - w.holes, v.clips - w.clips, v.uneven - w.uneven}
}

func (v value) compare(w value) int {
	for _, d := range []int64{v.missed - w.missed, v.overrun - w.overrun, v.holes - w.holes, v.clips - w.clips, v.uneven - w.uneven} {
		if d != 0 {
			if d < 0 {
				return -1
			}
			return 1
		}
	}
	return 0
}
