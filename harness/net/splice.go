package net

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// seats lists the states a splice may sit in: of its own place and section where they are stated, else anywhere runs reach.
func (b *builder) seats(s *splice) []int {
	var out []int
	switch {
	case s.placed:
		for _, i := range b.g.at(s.node) {
			if s.Section == "" || b.g.sectionOf(i) == s.Section {
				out = append(out, i)
			}
		}
	case s.Section != "":
		if k, ok := slices.BinarySearchFunc(b.g.sections, s.Section, design.Natural); ok && b.g.sections[k] == s.Section {
			for _, i := range b.g.within[k] {
				if b.g.reached[i] {
					out = append(out, int(i))
				}
			}
		}
	default:
		for i, ok := range b.g.reached {
			if ok {
				out = append(out, i)
			}
		}
	}
	return out
}

// settleSplices gives each splice one state. With a stated place and section there is no choice. Else, splices in order of their names,
// it is the state from which the links to ends already settled are shortest together; of equals the first in natural order. A splice
// is put off as long as none of its links has such an end.
func (b *builder) settleSplices() {
	var open []*splice
	for _, s := range b.spliceList {
		seats := b.seats(s)
		switch {
		case s.placed && len(seats) == 1:
			s.state = seats[0]
		case len(seats) > 0:
			open = append(open, s)
		}
	}
	for len(open) > 0 {
		rest := open[:0:0]
		for _, s := range open {
			if !b.settle(s) {
				rest = append(rest, s)
			}
		}
		if len(rest) == len(open) {
			break
		}
		open = rest
	}
	// A splice with a place but no link to anything settled still has one section.
	for _, s := range open {
		if s.placed {
			s.state = b.seats(s)[0]
		}
	}
}

// settle finds the best state of a splice, false if no end of its links is settled.
func (b *builder) settle(s *splice) bool {
	type sum struct {
		met  int
		cost int64
	}
	seats := b.seats(s)
	sums, wanted := make([]sum, len(seats)), make([]int32, len(seats))
	for k, i := range seats {
		wanted[k] = int32(i)
	}
	any := false
	for _, w := range b.waysAt[s.Name] {
		far, mine := w.link.To, w.link.From
		if !isSplice(mine, s) {
			far, mine = mine, far
		}
		if !isSplice(mine, s) || isSplice(far, s) || w.link.Loose {
			continue
		}
		if far.Kind == design.AtSplice && b.splices[far.Name].state < 0 {
			continue
		}
		q := b.askFrom(w)
		q.starts = b.statesOf(far)
		if isSplice(w.link.From, s) {
			q.vias = slices.Clone(q.vias)
			slices.Reverse(q.vias)
		}
		any = any || len(q.starts) > 0
		marks, _ := b.g.search(q, wanted)
		marks = marks[len(q.vias)*len(b.g.states):]
		for k, i := range seats {
			if m := &marks[i]; m.done {
				sums[k].met++
				sums[k].cost += m.cost * int64(max(1, min(w.link.Parallel, mostParallel)))
			}
		}
	}
	if !any {
		return false
	}
	best := -1
	for k := range seats {
		if best < 0 || sums[k].met > sums[best].met || sums[k].met == sums[best].met && sums[k].cost < sums[best].cost {
			best = k
		}
	}
	if best < 0 {
		s.state = -1
		return false
	}
	if sums[best].met == 0 && !s.placed {
		return false
	}
	s.state = seats[best]
	if !s.placed {
		s.node, s.chosen = b.g.nodeOf(s.state), true
	}
	return true
}

func isSplice(e design.End, s *splice) bool { return e.Kind == design.AtSplice && e.Name == s.Name }

// Pull is a link that ends in a splice for which a place is sought.
type Pull struct {
	Splice  string
	Circuit string
	Link    int    // index into the circuit's links
	Strands int    // parallel wires, 1 or more
	Other   string // the splice at its other end, where that one has no place either; Splice is then the one its link comes from
	way     *way
	far     design.End
	turned  bool // it is looked at from its To end
}

// Survey is what is known of splices without a place before they have one: which links pull on them, and how far these have to go, by the
// rules by which Build routes them.
type Survey struct {
	Open  []string // by name
	Pulls []Pull   // by circuit and link; loose leads pull on nothing
	b     *builder
	from  map[string]*Field // by what is asked
	pulls map[fieldKey]*Field
	// states at the ends of edges, once they are wanted
	states [][2]int
}

type fieldKey struct{ pull, state int }

// Open tells whether a job has splices for which a place is to be found.
func Open(job *design.Job, geo *space.Geometry) bool {
	return slices.ContainsFunc(job.Splices, func(s *design.Splice) bool {
		return !s.Known && s.Along == "" && geo.Find(placeKey(s.Name, s.Spot)) < 0
	})
}

// NewSurvey looks at a job as it is declared. The job is not changed.
func NewSurvey(job *design.Job, geo *space.Geometry) *Survey {
	s := &Survey{b: newBuilder(job, geo, nil), from: map[string]*Field{}, pulls: map[fieldKey]*Field{}}
	s.b.collect()
	open := func(e design.End) bool {
		x := s.b.splices[e.Name]
		return e.Kind == design.AtSplice && x != nil && !x.placed && x.Along == ""
	}
	for _, x := range s.b.spliceList {
		if open(design.End{Kind: design.AtSplice, Name: x.Name}) {
			s.Open = append(s.Open, x.Name)
		}
	}
	for _, w := range s.b.ways {
		f, t := w.link.From, w.link.To
		if w.link.Loose || !open(f) && !open(t) || f.Kind == t.Kind && f.Name == t.Name && f.Kind == design.AtSplice {
			continue
		}
		p := Pull{Circuit: w.circuit.Name, Link: w.number, Strands: max(1, min(w.link.Parallel, mostParallel)), way: w}
		switch {
		case open(f) && open(t):
			p.Splice, p.Other, p.far = f.Name, t.Name, t
		case open(f):
			p.Splice, p.far, p.turned = f.Name, t, true
		default:
			p.Splice, p.far = t.Name, f
		}
		s.Pulls = append(s.Pulls, p)
	}
	return s
}

// Section is the section a splice is said to belong to; empty: any.
func (s *Survey) Section(splice string) string {
	if x := s.b.splices[splice]; x != nil {
		return x.Section
	}
	return ""
}

// Field is how far a link has come when it gets somewhere, with everything passed that it must pass. It is worked out section by section, as it is
// asked for: most splices may lie in one only.
type Field struct {
	s   *Survey
	ask *ask
	run string // the run it must pass last
	in  map[int]*reached
}

// reached is what it costs to get to the states of a section, by their place among them; -1: it does not get there.
type reached struct {
	costs []int64
	last  []int64 // with one run still to be passed
}

// of is the field in a section. Who asks for a second one asks for all.
func (f *Field) of(section int) *reached {
	if r := f.in[section]; r != nil {
		return r
	}
	g := f.s.b.g
	layers, n := len(f.ask.vias), len(g.states)
	sections := []int{section}
	var wanted []int32
	if len(f.in) > 0 {
		sections = sections[:0]
		for k := range g.sections {
			sections = append(sections, k)
		}
	} else if layers == 0 {
		wanted = g.within[section]
	}
	marks, _ := g.search(f.ask, wanted)
	layer := func(k int, of []int32) []int64 {
		out := make([]int64, len(of))
		for i, s := range of {
			out[i] = -1
			if m := &marks[k*n+int(s)]; m.done {
				out[i] = m.cost
			}
		}
		return out
	}
	for _, k := range sections {
		r := &reached{costs: layer(layers, g.within[k])}
		if f.run != "" {
			r.last = layer(layers-1, g.within[k])
		}
		f.in[k] = r
	}
	return f.in[section]
}

// Micro is a way in whole micrometres.
type Micro int64

// Along is a field along one edge; a place on it is given by its part of the edge's way, see Part.
type Along struct {
	whole    int64
	length   unit.Length
	from, to [2]int64 // by either end; each with all passed, and with this edge's run still to be passed. -1: not that way
}

// Along is the field along an edge.
func (f *Field) Along(edge int) (a Along) {
	e := &f.s.b.geo.Edges[edge]
	ends := f.s.ends(edge)
	a = Along{whole: cost(e), length: e.Length, from: [2]int64{-1, -1}, to: [2]int64{-1, -1}}
	g := f.s.b.g
	for k, c := range [2]*[2]int64{&a.from, &a.to} {
		if ends[k] < 0 {
			continue
		}
		r, i := f.of(g.states[ends[k]].section), g.place[ends[k]]
		c[0] = r.costs[i]
		if f.run == e.Run && r.last != nil {
			c[1] = r.last[i]
		}
	}
	return a
}

// Part is the way from an edge's From to a place on it, slack included; it is the same for every field.
func (a *Along) Part(into unit.Length) Micro {
	if a.length > 0 {
		return Micro(min(a.whole, max(0, int64(math.Round(float64(a.whole)*float64(into/a.length))))))
	}
	return 0
}

// by is the way to a part of the edge by either of its ends; -1 where there is none.
func (a *Along) by(part Micro) (from, to int64) {
	from, to = a.from[0], a.to[0]
	if from >= 0 {
		from += int64(part)
	}
	if to >= 0 {
		to += a.whole - int64(part)
	}
	if x := a.from[1] + int64(part); a.from[1] >= 0 && (from < 0 || x < from) {
		from = x
	}
	if x := a.to[1] + a.whole - int64(part); a.to[1] >= 0 && (to < 0 || x < to) {
		to = x
	}
	return from, to
}

// Reached tells whether a link gets to the edge.
func (a *Along) Reached() bool { return max(a.from[0], a.from[1], a.to[0], a.to[1]) >= 0 }

// At is the way to a part of an edge that is reached.
func (a *Along) At(part Micro) Micro {
	x, y := a.by(part)
	if x < 0 || y >= 0 && y < x {
		x = y
	}
	return Micro(x)
}

// From tells whether a link gets to a part of an edge by the edge's From rather than by its To.
func (a *Along) From(part Micro) bool {
	x, y := a.by(part)
	return x >= 0 && (y < 0 || x <= y)
}

// ends is the states at the ends of an edge, -1 where there is none.
func (s *Survey) ends(edge int) [2]int {
	if s.states == nil {
		s.states = make([][2]int, len(s.b.geo.Edges))
		for i := range s.states {
			e := &s.b.geo.Edges[i]
			in := s.b.g.section(e.Section)
			for k, n := range [2]int{e.From, e.To} {
				x, have := s.b.g.index[state{n, in}]
				if !have {
					x = -1
				}
				s.states[i][k] = x
			}
		}
	}
	return s.states[edge]
}

// Reach is how far the far end of a pull is from everywhere.
func (s *Survey) Reach(pull int) *Field {
	p := &s.Pulls[pull]
	return s.field(pull, -1, s.b.statesOf(p.far))
}

// Toward is how far a node, as it is seen from a section, is from everywhere for a pull: for one whose other end has no place yet, a guess of where that
// will be. It is nil where no run of the section reaches the node.
func (s *Survey) Toward(pull, node int, section string) *Field {
	i, ok := s.b.g.index[state{node, s.b.g.section(section)}]
	if !ok || node < 0 || s.b.g.sectionOf(i) != section {
		return nil
	}
	return s.field(pull, i, []int{i})
}

func (s *Survey) field(pull, state int, starts []int) *Field {
	at := fieldKey{pull, state}
	if f := s.pulls[at]; f != nil {
		return f
	}
	q := &ask{sealed: true}
	if pull >= 0 {
		p := &s.Pulls[pull]
		q = s.b.askFrom(p.way)
		if l := p.way.lead; l != nil && !l.link.Loose {
			q.vias, q.class = l.vias, l.class
		}
		if p.turned {
			q.vias = slices.Clone(q.vias)
			slices.Reverse(q.vias)
		}
	}
	q.starts = starts
	k := q.key()
	f := s.from[k]
	if f == nil {
		f = &Field{s: s, ask: q, in: map[int]*reached{}}
		if n := len(q.vias); n > 0 && q.vias[n-1].Kind == "run" {
			f.run = q.vias[n-1].Name
		}
		s.from[k] = f
	}
	s.pulls[at] = f
	return f
}

// At is the way to a place on an edge, slack included; ok is false where the link does not get there.
func (f *Field) At(edge int, into unit.Length) (way unit.Length, ok bool) {
	a := f.Along(edge)
	if !a.Reached() {
		return 0, false
	}
	return unit.Length(a.At(a.Part(into))) / 1000, true
}

// Between is the way of a link both of whose ends are splices without a place, with its two ends at these places; ok is false where there is none. A run
// that the link must pass does not count as passed by what it takes of the very edge it begins in. Pull -1 is the way within a section.
func (s *Survey) Between(pull int, fromEdge int, fromInto unit.Length, toEdge int, toInto unit.Length) (way unit.Length, ok bool) {
	e := &s.b.geo.Edges[fromEdge]
	if fromEdge == toEdge && (pull < 0 || len(s.Pulls[pull].way.vias) == 0) {
		l := fromInto - toInto
		if l < 0 {
			l = -l
		}
		if e.Length > 0 {
			l *= (e.Length + e.Slack) / e.Length
		}
		way, ok = l, true
	}
	for side := range 2 {
		i := s.ends(fromEdge)[side]
		if i < 0 {
			continue
		}
		rest := unit.Length(0)
		if e.Length > 0 {
			rest = fromInto * (e.Length + e.Slack) / e.Length
		}
		if side == 1 {
			rest = e.Length + e.Slack - rest
		}
		if d, there := s.field(pull, i, []int{i}).At(toEdge, toInto); there && (!ok || d+rest < way) {
			way, ok = d+rest, true
		}
	}
	return way, ok
}
