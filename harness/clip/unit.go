package clip

import "slices"

// job is a problem made ready.
type job struct {
	tracks  []*Track
	capped  []string // by track: why it is not settled, or ""
	taken   [][]int  // by track and Given: the seat it stands in, -1
	facings []*facing
	work    int // done so far
	share   int // of Work, for one track
	exact   bool
}

// unit is tracks that are settled together as they lie side by side: one, two, or a cluster of more.
type unit struct {
	tracks  []int
	facings []*facing
}

// result is the clips of a unit, track by track.
type result struct {
	value  value
	places [][]Place
	exact  bool
}

// shutter tells for a track which of its seats are not to be used.
type shutter func(track int) []bool

// solve settles a unit.
func (jb *job) solve(u *unit, shut shutter) *result {
	switch {
	case len(u.tracks) == 1:
		return jb.one(u.tracks[0], shut, nil)
	case len(u.tracks) == 2 && u.facings[0].way != 0:
		return jb.two(u.facings[0], shut, [2]map[int]host{})
	}
	return jb.cluster(u, shut)
}

// thinning is how much a line has to be thinned so that settling it once keeps within its share.
func (jb *job) thinning(t *Track, lines int) int {
	reach := 0
	for _, m := range t.leastMost() {
		reach = max(reach, min(int(m), t.Length))
	}
	n := 1
	for (t.Length/n+1)*(reach/n/4+1) > jb.share/lines { // most ways are never looked at
		n++
	}
	return n
}

func (jb *job) line(k int, shut shutter, hosts map[int]host, guests []int, thin int) *line {
	return newLine(jb.tracks[k], request{shut: shut(k), taken: jb.taken[k], hosts: hosts, guests: guests, thin: thin})
}

// one settles a track by itself.
func (jb *job) one(k int, shut shutter, hosts map[int]host) *result {
	t := jb.tracks[k]
	if jb.capped[k] != "" {
		return &result{places: [][]Place{nil}}
	}
	ln := jb.line(k, shut, hosts, nil, jb.thinning(t, 1))
	tl := ln.settle(ln.alone())
	jb.work += tl.work + 10*ln.length
	r := &result{value: tl.all.value(), places: [][]Place{nil}, exact: !ln.thinned}
	for _, i := range tl.chain() {
		r.places[0] = append(r.places[0], ln.spots[i].place())
	}
	return r
}

// place is a clip at a spot that nothing of its unit faces.
func (s *spot) place() Place {
	p := Place{At: s.at, Seat: -1, Given: s.given, With: s.host}
	if !s.noHole || s.given {
		p.Seat = s.seat
	}
	p.New = s.holes() > 0
	return p
}

// two settles two tracks side by side.
func (jb *job) two(f *facing, shut shutter, hosts [2]map[int]host) *result {
	ids := [2]int{f.a, f.b}
	thin := 1
	for _, k := range ids {
		thin = max(thin, jb.thinning(jb.tracks[k], 2))
	}
	// The pair looks from the ends: the first track is turned round, the second too where both run the same way.
	turned := [2]bool{true, f.way > 0}
	flip := func(n, at int) int {
		if turned[n] {
			return jb.tracks[ids[n]].Length - at
		}
		return at
	}
	var lines [2]*line
	guests := jb.guests(f, shut, thin)
	for n, k := range ids {
		t := jb.tracks[k]
		q := request{shut: shut(k), taken: jb.taken[k], hosts: map[int]host{}, thin: thin}
		for at, h := range hosts[n] {
			q.hosts[flip(n, at)] = h
		}
		for _, g := range guests[n] {
			q.guests = append(q.guests, flip(n, g))
		}
		if turned[n] {
			t = t.mirror()
		}
		lines[n] = newLine(t, q)
	}
	p := newPair(lines[0], lines[1], func(x int) int {
		if y := f.opposite(f.a, flip(0, x)); y >= 0 {
			return flip(1, y)
		}
		return -1
	})
	for n, k := range ids {
		p.seat[n] = func(i int) int {
			if s := &lines[n].spots[i]; s.seat >= 0 && (s.given || !s.noHole) {
				return jb.tracks[k].Seats[s.seat].ID
			}
			return -1
		}
	}
	turns := 100 // more hardly raise the bound
	if jb.work > Work/2 {
		turns = 10
	}
	best := p.solve(turns, max(jb.share, (Work-jb.work)/4))
	jb.work += best.work + 20*(lines[0].length+lines[1].length)
	r := &result{value: best.cost.value(), places: make([][]Place, 2), exact: best.exact && !lines[0].thinned && !lines[1].thinned}
	for n := range ids {
		for _, i := range best.spots[n] {
			pl := lines[n].spots[i].place()
			pl.At = flip(n, pl.At)
			r.places[n] = append(r.places[n], pl)
		}
	}
	for x, i := range best.spots[0] {
		if j := int(p.face[0][i]); j >= 0 {
			if y := slices.Index(best.spots[1], j); y >= 0 {
				_, how, _ := p.meet(i, j)
				a, b := &r.places[0][x], &r.places[1][y]
				switch how { // one that needs no hole takes its seat where it offers it
				case shareX:
					a.Seat = lines[0].spots[i].seat
				case shareY:
					b.Seat = lines[1].spots[j].seat
				}
				jb.join(f, how, a, b)
			}
		}
	}
	for n := range ids {
		if turned[n] {
			slices.Reverse(r.places[n])
		}
	}
	return r
}

// guests are the places of each track that are open only to a clip in the hole of the one that faces it.
func (jb *job) guests(f *facing, shut shutter, thin int) (out [2][]int) {
	a, b := jb.line(f.a, shut, nil, nil, thin), jb.line(f.b, shut, nil, nil, thin)
	for n, ln := range []*line{b, a} {
		from := [2]int{f.b, f.a}[n]
		for i := range ln.spots {
			if s := &ln.spots[i]; s.holed() {
				if at := f.opposite(from, s.at); at >= 0 {
					out[n] = append(out[n], at)
				}
			}
		}
	}
	return out
}

// join writes down how two clips face to face share a hole.
func (jb *job) join(f *facing, how share, a, b *Place) {
	if how == shareNone {
		return
	}
	a.With, b.With = f.b, f.a
	switch how {
	case shareX:
		jb.guest(f.a, a, f.b, b)
	case shareY:
		jb.guest(f.b, b, f.a, a)
	}
}

// guest puts a clip into the hole of another.
func (jb *job) guest(owner int, own *Place, other int, g *Place) {
	g.New, g.Seat = own.New, -1
	if own.Seat >= 0 {
		id := jb.tracks[owner].Seats[own.Seat].ID
		g.Seat = slices.IndexFunc(jb.tracks[other].Seats, func(s Seat) bool { return s.At == g.At && s.ID == id })
	}
}
