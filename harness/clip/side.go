package clip

// facing tells which places of two tracks lie face to face. Each place has one opposite at most.
type facing struct {
	a, b int // tracks, a before b
	ofA  []int32
	ofB  []int32
	n    int
	way  int // +1: along both the same way, -1: against each other, 0: neither throughout
}

// mostFacing bounds the pairs of places face to face of a whole problem.
const mostFacing = 4_000_000

// face pairs the places of the tracks that lie side by side; dropped tells that there was too much of it.
func (jb *job) face(sides []Side) (out []*facing, dropped bool) {
	type pair struct{ a, b int }
	index := map[pair]*facing{}
	total, tracks := 0, jb.tracks
	for _, s := range sides {
		if s.TrackA == s.TrackB || s.TrackA < 0 || s.TrackB < 0 || s.TrackA >= len(tracks) || s.TrackB >= len(tracks) {
			continue
		}
		// The k-th place of the side, from A on, is A+k and B±k: k is cut to what lies on both tracks.
		a, b := tracks[s.TrackA], tracks[s.TrackB]
		if jb.capped[s.TrackA] != "" || jb.capped[s.TrackB] != "" {
			continue
		}
		from, to := max(0, -s.A, -s.B), min(s.Length, a.Length-s.A, b.Length-s.B)
		if s.Back {
			from, to = max(0, -s.A, s.B-b.Length), min(s.Length, a.Length-s.A, s.B)
		}
		if from > to {
			continue
		}
		if total += to - from + 1; total > mostFacing {
			return out, true
		}
		key := pair{min(s.TrackA, s.TrackB), max(s.TrackA, s.TrackB)}
		f := index[key]
		if f == nil {
			f = &facing{a: key.a, b: key.b, ofA: blank(tracks[key.a].Length + 1), ofB: blank(tracks[key.b].Length + 1)}
			index[key] = f
			out = append(out, f)
		}
		for k := from; k <= to; k++ {
			x, y := s.A+k, s.B+k
			if s.Back {
				y = s.B - k
			}
			if s.TrackA != f.a {
				x, y = y, x
			}
			if f.ofA[x] < 0 && f.ofB[y] < 0 {
				f.ofA[x], f.ofB[y] = int32(y), int32(x)
				f.n++
			}
		}
	}
	for _, f := range out {
		f.way = f.direction()
	}
	return out, false
}

func blank(n int) []int32 {
	out := make([]int32, n)
	for i := range out {
		out[i] = -1
	}
	return out
}

func (f *facing) direction() int {
	last, up, down := int32(-1), true, true
	for _, y := range f.ofA {
		if y >= 0 {
			if last >= 0 {
				up, down = up && y > last, down && y < last
			}
			last = y
		}
	}
	switch {
	case up:
		return 1
	case down:
		return -1
	}
	return 0
}

// opposite is the place of the other track that faces a place of one of the two; -1: none.
func (f *facing) opposite(track, at int) int {
	of := f.ofA
	if track == f.b {
		of = f.ofB
	}
	if at < 0 || at >= len(of) {
		return -1
	}
	return int(of[at])
}

// share is what two clips face to face do about their holes.
type share int

const (
	shareNone share = iota
	shareNew        // one new hole for both
	shareX          // both in the hole of the first
	shareY          // both in the hole of the second
)

// meet is the least that two clips face to face cost in holes, and how; ok is false where they may not stand so.
func meet(x, y *spot, oneSeat bool) (holes int64, how share, ok bool) {
	ok = !x.guest && !y.guest
	holes = x.holes() + y.holes()
	try := func(h int64, s share) {
		if !ok || h < holes || h == holes && oneSeat && how == shareNone {
			holes, how, ok = h, s, true
		}
	}
	if x.holed() {
		try(x.host0(), shareX)
	}
	if y.holed() {
		try(y.host0(), shareY)
	}
	if x.newOK && y.newOK && !x.noHole && !y.noHole && x.host < 0 && y.host < 0 {
		try(oneHole, shareNew)
	}
	return holes, how, ok
}

// host0 is what the hole of a clip that offers one costs.
func (s *spot) host0() int64 {
	if s.seat >= 0 {
		return 0
	}
	return oneHole
}
