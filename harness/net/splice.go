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
	for i := range b.g.states {
		if !b.g.reached[i] || s.Section != "" && b.g.sectionOf(i) != s.Section || s.placed && b.g.nodeOf(i) != s.node {
			continue
		}
		out = append(out, i)
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
	sums := make([]sum, len(b.g.states))
	any := false
	for _, w := range b.ways {
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
		q := b.ask(w)
		q.starts, q.ends = b.statesOf(far), nil
		if isSplice(w.link.From, s) {
			q.vias = slices.Clone(q.vias)
			slices.Reverse(q.vias)
		}
		any = any || len(q.starts) > 0
		marks, _ := b.g.search(q)
		marks = marks[len(q.vias)*len(sums):]
		for i := range sums {
			if marks[i].done {
				sums[i].met++
				sums[i].cost += marks[i].cost * int64(max(1, min(w.link.Parallel, mostParallel)))
			}
		}
	}
	if !any {
		return false
	}
	best := -1
	for _, i := range b.seats(s) {
		if best < 0 || sums[i].met > sums[best].met || sums[i].met == sums[best].met && sums[i].cost < sums[best].cost {
			best = i
		}
	}
	if best >= 0 && sums[best].met == 0 && !s.placed {
		return false
	}
	s.state = best
	if best >= 0 && !s.placed {
		s.node, s.chosen = b.g.nodeOf(best), true
	}
	return best >= 0
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
	from  map[fieldKey]*Field
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
	s := &Survey{b: newBuilder(job, geo, nil), from: map[fieldKey]*Field{}}
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

// Field is how far a link has come when it gets somewhere, with everything passed that it must pass.
type Field struct {
	g     *graph
	costs []int64 // by state; -1: it does not get there
	last  []int64 // the same with one run still to be passed
	run   string
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
	k := fieldKey{pull, state}
	if f := s.from[k]; f != nil {
		return f
	}
	q := &ask{sealed: true}
	if pull >= 0 {
		p := &s.Pulls[pull]
		q = s.b.ask(p.way)
		if l := p.way.lead; l != nil && !l.link.Loose {
			q.vias, q.class = l.vias, l.class
		}
		if p.turned {
			q.vias = slices.Clone(q.vias)
			slices.Reverse(q.vias)
		}
	}
	q.starts, q.ends = starts, nil
	marks, _ := s.b.g.search(q)
	n, layers := len(s.b.g.states), len(q.vias)
	layer := func(k int) []int64 {
		out := make([]int64, n)
		for i := range out {
			out[i] = -1
			if m := marks[k*n+i]; m.done {
				out[i] = m.cost
			}
		}
		return out
	}
	f := &Field{g: s.b.g, costs: layer(layers)}
	if layers > 0 && q.vias[layers-1].Kind == "run" {
		f.last, f.run = layer(layers-1), q.vias[layers-1].Name
	}
	s.from[k] = f
	return f
}

// At is the way to a place on an edge, slack included; ok is false where the link does not get there.
func (f *Field) At(edge int, into unit.Length) (way unit.Length, ok bool) {
	a, b := f.by(edge, into)
	switch {
	case a < 0 && b < 0:
		return 0, false
	case a < 0 || b >= 0 && b < a:
		a = b
	}
	return unit.Length(a) / 1000, true
}

// From tells whether a link gets to a place on an edge by the edge's From rather than by its To.
func (f *Field) From(edge int, into unit.Length) bool {
	a, b := f.by(edge, into)
	return a >= 0 && (b < 0 || a <= b)
}

// by is the way to a place on an edge by either of its ends, in micrometres; -1 where there is none.
func (f *Field) by(edge int, into unit.Length) (from, to int64) {
	e := &f.g.geo.Edges[edge]
	whole := cost(e)
	part := int64(0)
	if e.Length > 0 {
		part = min(whole, max(0, int64(math.Round(float64(whole)*float64(into/e.Length)))))
	}
	try := func(best int64, costs []int64, node int, rest int64) int64 {
		i, have := f.g.index[state{node, f.g.section(e.Section)}]
		if have && costs[i] >= 0 && (best < 0 || costs[i]+rest < best) {
			return costs[i] + rest
		}
		return best
	}
	from, to = try(-1, f.costs, e.From, part), try(-1, f.costs, e.To, whole-part)
	if f.run == e.Run && f.last != nil {
		from, to = try(from, f.last, e.From, part), try(to, f.last, e.To, whole-part)
	}
	return from, to
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
	for side, node := range [2]int{e.From, e.To} {
		i, have := s.b.g.index[state{node, s.b.g.section(e.Section)}]
		if !have {
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
