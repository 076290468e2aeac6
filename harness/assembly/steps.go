package assembly

import (
	"cmp"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// group is acts of one kind at one place that follow one another.
type group struct {
	kind kind
	acts []int
}

// waits is what each act waits for, the ways taken included.
func (s *sheet) waits(taken []int) [][]int {
	out := make([][]int, len(s.acts))
	for b, as := range s.graph.before {
		out[b] = append(out[b], as...)
	}
	for i, w := range taken {
		if w >= 0 {
			for _, b := range s.choices[i].ways[w] {
				out[b] = append(out[b], s.choices[i].act)
			}
		}
	}
	return out
}

// together lets the ends of a connector that could be crimped at once wait for those that cannot be yet, so that each connector is crimped in
// one go where that makes no ring.
func (s *sheet) together(waits [][]int) [][]int {
	for i := range s.plugs {
		p := &s.plugs[i]
		var after, crimps []int
		for _, a := range p.ends {
			n := s.of(a, crimp)
			if n < 0 {
				continue
			}
			crimps = append(crimps, n)
			for _, b := range waits[n] {
				if s.acts[b].place != p.place && !slices.Contains(after, b) {
					after = append(after, b)
				}
			}
		}
		if len(after) == 0 {
			continue
		}
		try := slices.Clone(waits)
		for _, n := range crimps {
			try[n] = slices.Clone(waits[n])
			for _, b := range after {
				if !slices.Contains(try[n], b) {
					try[n] = append(try[n], b)
				}
			}
		}
		if _, ok := (&graph{rank: s.graph.rank, before: try}).sorted(nil); ok {
			waits = try
		}
	}
	return waits
}

// steps groups the acts of each place that follow one another and are of one kind, says what of other places each waits for, makes one of
// places at which just the same is done, and lists the rounds of the whole section.
func (s *sheet) steps(order []int, waits [][]int) ([]Place, []Round) {
	groups := make([][]group, len(s.places))
	stepOf := make([]Turn, len(s.acts))
	var first []int // places, as each is first worked on
	for _, a := range order {
		p := s.acts[a].place
		gs := groups[p]
		if len(gs) == 0 {
			first = append(first, p)
		}
		if len(gs) == 0 || gs[len(gs)-1].kind != s.acts[a].kind {
			gs = append(gs, group{kind: s.acts[a].kind})
		}
		gs[len(gs)-1].acts = append(gs[len(gs)-1].acts, a)
		stepOf[a] = Turn{p, len(gs) - 1}
		groups[p] = gs
	}
	for i := range s.places {
		for n, g := range groups[i] {
			s.places[i].Steps = append(s.places[i].Steps, Step{Number: n + 1, Do: s.do(g.kind, g.acts), With: s.each(g), After: s.after(g, i, waits)})
		}
		s.places[i].Titles = []string{s.places[i].Title}
	}
	places, at := s.alike(first)
	rounds, ok := s.rounds(places, at, groups, stepOf, waits)
	if !ok { // two alike wait for one another: each stands alone
		places, at = nil, make([]int, len(s.places))
		for i, p := range first {
			at[p] = i
			places = append(places, s.places[p])
		}
		rounds, _ = s.rounds(places, at, groups, stepOf, waits)
	}
	for i := range s.things {
		for k, p := range s.things[i].Places {
			s.things[i].Places[k] = at[p]
		}
	}
	return places, rounds
}

// after is what of other places the acts of a step wait for.
func (s *sheet) after(g group, place int, waits [][]int) string {
	var out []string
	for _, a := range g.acts {
		for _, b := range waits[a] {
			if s.acts[b].place != place {
				out = once(out, s.doneText(b))
			}
		}
	}
	slices.SortFunc(out, design.Natural)
	if len(out) > 4 {
		out = append(out[:4], "others")
	}
	return list(out)
}

// alike makes one place of those of one kind with the same steps, and says where each is now.
func (s *sheet) alike(first []int) (out []Place, at []int) {
	at = make([]int, len(s.places))
	for _, p := range first {
		x := &s.places[p]
		k := slices.IndexFunc(out, func(o Place) bool {
			return o.Kind == x.Kind && slices.EqualFunc(o.Steps, x.Steps, func(a, b Step) bool {
				return a.Do == b.Do && a.After == b.After && slices.Equal(a.With, b.With)
			})
		})
		if k < 0 {
			k = len(out)
			out = append(out, *x)
		} else {
			out[k].Titles = append(out[k].Titles, x.Title)
		}
		at[p] = k
	}
	for i := range out {
		slices.SortFunc(out[i].Titles, design.Natural)
		sep := ", "
		if slices.ContainsFunc(out[i].Titles, func(t string) bool { return strings.Contains(t, ",") }) {
			sep = "; "
		}
		out[i].Title = strings.Join(out[i].Titles, sep)
	}
	return out, at
}

// rounds is the steps of all places in working order, those of one kind that follow one another together; false if there is none.
func (s *sheet) rounds(places []Place, at []int, groups [][]group, stepOf []Turn, waits [][]int) ([]Round, bool) {
	var turns []Turn
	index := map[Turn]int{}
	g := &graph{}
	for p := range places {
		for n := range places[p].Steps {
			index[Turn{p, n}] = len(turns)
			turns = append(turns, Turn{p, n})
			g.rank, g.before = append(g.rank, 0), append(g.before, nil)
			if n > 0 {
				g.edge(len(turns)-2, len(turns)-1)
			}
		}
	}
	kinds := make([]kind, len(turns))
	turn := func(act int) int { return index[Turn{at[stepOf[act].Place], stepOf[act].Step}] }
	for b := range s.acts {
		k := turn(b)
		kinds[k], g.rank[k] = s.acts[b].kind, int(s.acts[b].kind)
		for _, a := range waits[b] {
			g.edge(turn(a), k)
		}
	}
	order, ok := g.sorted(nil)
	if !ok {
		return nil, false
	}
	var out []Round
	var last kind
	for _, k := range order {
		if len(out) == 0 || kinds[k] != last {
			out = append(out, Round{Do: roundText(kinds[k])})
			last = kinds[k]
		}
		out[len(out)-1].Turns = append(out[len(out)-1].Turns, turns[k])
	}
	for i := range out {
		var where []string
		for _, t := range out[i].Turns {
			where = append(where, places[t.Place].Title)
		}
		out[i].Where = strings.Join(where, "; ")
	}
	return out, true
}

// each lists the ends of a step, those at which the same is done together.
func (s *sheet) each(g group) []Each {
	var out []Each
	if g.kind == shrinkMark {
		return nil // all that are on
	}
	ends := map[string][]string{}
	for _, a := range g.acts {
		x := &s.acts[a]
		if x.at.wire < 0 {
			continue
		}
		if ends[x.what] == nil {
			out = append(out, Each{What: x.what})
		}
		ends[x.what] = append(ends[x.what], s.endName(x.at))
	}
	for i := range out {
		names := ends[out[i].What]
		out[i].Ends, out[i].N = span(names), len(names)
	}
	slices.SortStableFunc(out, func(a, b Each) int { return design.Natural(a.What, b.What) })
	return out
}

// endName is an end within its place: the cavity of a connector, else the mark of its wire.
func (s *sheet) endName(a at) string {
	w := &s.m.net.Wires[a.wire]
	k, plug := s.plugOf[a]
	mark := cmp.Or(w.Label, w.Name)
	if !plug || s.plugs[k].studs {
		return mark
	}
	return cmp.Or(s.m.cavityOf(a), mark)
}

// lengthText is a length to cut, in whole millimetres.
func lengthText(l unit.Length) string {
	if l <= 0 {
		return ""
	}
	return ", " + unit.Number(float64(l), 0) + " mm long"
}
