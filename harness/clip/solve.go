package clip

import (
	"cmp"
	"slices"
)

// Solve finds the best clips of all tracks, as the package comment and [Answer] define it. It never fails: what cannot be met is listed as
// missed, and what is beyond the limits of the package is said.
func Solve(p Problem) Answer {
	jb := newJob(&p)
	units := jb.units(p.Sides)
	places := make([][]Place, len(jb.tracks))
	shut := jb.shut()
	for _, g := range jb.groups(units, shut) {
		for i, r := range g.solve(shut) {
			for k, track := range g.units[i].tracks {
				places[track] = r.places[k]
			}
		}
		jb.exact = jb.exact && g.exact && !g.loose
	}
	return jb.answer(places)
}

// newJob copies a problem with every figure brought to within what sums of a few of them can hold.
func newJob(p *Problem) *job {
	jb := &job{exact: true}
	for i := range p.Tracks {
		jb.tracks = append(jb.tracks, p.Tracks[i].tidy())
	}
	jb.cap()
	jb.share = Work / max(len(jb.tracks), 4)
	jb.take()
	return jb
}

// cap names what keeps a track from being settled: "length", "windows", or nothing.
func (jb *job) cap() {
	total := 0
	for _, t := range jb.tracks {
		why := ""
		switch {
		case t.Length < 0 || t.Length > MostLength || total+t.Length > MostTotal:
			why = "length"
		case len(t.Windows) > MostWindows:
			why = "windows"
		default:
			total += t.Length
		}
		jb.capped = append(jb.capped, why)
	}
}

const farOut = 1 << 40

func within(x int) int { return min(max(x, -farOut), farOut) }

func (t *Track) tidy() *Track {
	cut := func(r Range) Range { return Range{within(r.From), within(r.To)} }
	out := *t
	out.Length, out.Apart, out.Ends = within(t.Length), within(t.Apart), [2]int{within(t.Ends[0]), within(t.Ends[1])}
	out.Spans, out.Windows, out.Seats = slices.Clone(t.Spans), slices.Clone(t.Windows), slices.Clone(t.Seats)
	for i := range out.Spans {
		out.Spans[i] = Span{cut(t.Spans[i].Range), within(t.Spans[i].Most)}
	}
	for i := range out.Windows {
		out.Windows[i].Range = cut(t.Windows[i].Range)
	}
	for i := range out.Seats {
		out.Seats[i].At = within(t.Seats[i].At)
	}
	for _, rs := range []*[]Range{&out.Closed, &out.NoHole, &out.NewShut} {
		*rs = slices.Clone(*rs)
		for i := range *rs {
			(*rs)[i] = cut((*rs)[i])
		}
	}
	out.Given = nil
	for _, g := range t.Given {
		out.Given = append(out.Given, within(g))
	}
	slices.Sort(out.Given)
	out.Given = slices.Compact(out.Given)
	return &out
}

// take gives the clips by hand their seats: each the first at its place that no other has, or else the first.
func (jb *job) take() {
	claimed := map[int]bool{}
	for _, t := range jb.tracks {
		at := map[int][]int{}
		for i, s := range t.Seats {
			at[s.At] = append(at[s.At], i)
		}
		taken := make([]int, len(t.Given))
		for i, g := range t.Given {
			taken[i] = -1
			for _, s := range at[g] {
				if !claimed[t.Seats[s].ID] {
					taken[i] = s
					break
				}
			}
			if taken[i] < 0 && len(at[g]) > 0 {
				taken[i] = at[g][0]
			}
			if taken[i] >= 0 {
				claimed[t.Seats[taken[i]].ID] = true
			}
		}
		jb.taken = append(jb.taken, taken)
	}
}

// shut tells by track and seat which are taken by hand.
func (jb *job) shut() [][]bool {
	claimed := map[int]bool{}
	for k, t := range jb.tracks {
		for _, s := range jb.taken[k] {
			if s >= 0 {
				claimed[t.Seats[s].ID] = true
			}
		}
	}
	out := make([][]bool, len(jb.tracks))
	for k, t := range jb.tracks {
		out[k] = make([]bool, len(t.Seats))
		for i, s := range t.Seats {
			out[k][i] = claimed[s.ID]
		}
	}
	return out
}

// sets joins numbers into sets.
type sets []int

func newSets(n int) sets {
	out := make(sets, n)
	for i := range out {
		out[i] = i
	}
	return out
}

func (s sets) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join keeps the smaller number as the name of both.
func (s sets) join(a, b int) {
	a, b = s.find(a), s.find(b)
	s[max(a, b)] = min(a, b)
}

// units puts together the tracks that lie side by side.
func (jb *job) units(sides []Side) (out []*unit) {
	sides = slices.Clone(sides)
	for i, s := range sides {
		sides[i].A, sides[i].B, sides[i].Length = within(s.A), within(s.B), within(s.Length)
	}
	var dropped bool
	jb.facings, dropped = jb.face(sides)
	jb.exact = jb.exact && !dropped
	slices.SortStableFunc(jb.facings, func(f, g *facing) int { return cmp.Or(cmp.Compare(f.a, g.a), cmp.Compare(f.b, g.b)) })
	s := newSets(len(jb.tracks))
	for _, f := range jb.facings {
		s.join(f.a, f.b)
	}
	at := make([]*unit, len(jb.tracks))
	for k := range jb.tracks {
		root := s.find(k)
		if at[root] == nil {
			at[root] = &unit{}
			out = append(out, at[root])
		}
		at[root].tracks = append(at[root].tracks, k)
	}
	for _, f := range jb.facings {
		u := at[s.find(f.a)]
		u.facings = append(u.facings, f)
	}
	return out
}

// groups puts together the units that want the same seats.
func (jb *job) groups(units []*unit, shut [][]bool) (out []*group) {
	s := newSets(len(units))
	first := map[int]int{}
	for i, u := range units {
		for _, k := range u.tracks {
			for n, seat := range jb.tracks[k].Seats {
				if shut[k][n] {
					continue
				}
				if j, ok := first[seat.ID]; ok {
					s.join(i, j)
				} else {
					first[seat.ID] = i
				}
			}
		}
	}
	at := make([]*group, len(units))
	for i, u := range units {
		root := s.find(i)
		if at[root] == nil {
			at[root] = &group{jb: jb, home: map[int][2]int{}}
			out = append(out, at[root])
		}
		g := at[root]
		for n, k := range u.tracks {
			g.home[k] = [2]int{len(g.units), n}
		}
		g.units = append(g.units, u)
	}
	return out
}
