package space

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// rawEdge is an edge before its nodes have numbers.
type rawEdge struct {
	Edge
	from, to string
	way      solid.Way
}

// build makes nodes and edges.
func (l *layer) build() {
	var raw []rawEdge
	var turns []turn
	for _, r := range l.runs {
		for i := range r.Stretches {
			c := l.course(r, i)
			raw = append(raw, l.stretch(r, i, &c)...)
			turns = append(turns, c.turns...)
			if c.known {
				l.geo.laid = append(l.geo.laid, laid{r.Name, i, c.way})
			}
		}
	}
	index := map[string]int{}
	var keys []string
	for _, e := range raw {
		for _, k := range []string{e.from, e.to} {
			if _, ok := index[k]; !ok {
				index[k] = -1
				keys = append(keys, k)
			}
		}
	}
	slices.SortFunc(keys, design.Natural)
	for i, k := range keys {
		p, ok := l.at[k]
		if !ok {
			p = design.Point3{}
		}
		index[k] = i
		l.geo.Nodes = append(l.geo.Nodes, Node{Key: k, At: p, Known: ok})
	}
	for _, e := range raw {
		e.From, e.To = index[e.from], index[e.to]
		l.geo.Edges = append(l.geo.Edges, e.Edge)
		l.geo.parts = append(l.geo.parts, e.way)
	}
	for _, t := range turns {
		t.Node = index[l.node(t.key)]
		l.geo.Bends = append(l.geo.Bends, t.Bend)
	}
	for k := range l.aliases {
		if n, ok := index[l.node(k)]; ok {
			l.geo.Aliases = append(l.geo.Aliases, Alias{Key: k, Node: n})
		}
	}
	slices.SortFunc(l.geo.Aliases, func(a, b Alias) int { return design.Natural(a.Key, b.Key) })
}

// stretch makes the edges of one stretch and records what is odd about it.
func (l *layer) stretch(r *design.Run, i int, c *course) []rawEdge {
	s, w := &r.Stretches[i], l.keys[r][i]
	m, byString := measured(s)
	if byString && c.known && m != c.whole {
		l.geo.StringGaps = append(l.geo.StringGaps, StringGap{Run: r.Name, Stretch: i, Measured: m, Straight: c.whole, Least: c.least, Span: s.Span})
	}
	if !c.known && (!byString || len(c.pieces) > 1) {
		l.unplaced(r, s, w)
	}
	slack := s.Slack
	if !(slack > 0 && slack <= most) {
		slack = 0
	}
	seats := slices.Clone(l.seats[seatKey{r, i}])
	slices.SortStableFunc(seats, func(a, b seat) int { return cmp.Or(cmp.Compare(a.after, b.after), design.Natural(a.key, b.key)) })
	var out []rawEdge
	var station, slackGone unit.Length
	shares := 0.0
	for j, p := range c.pieces {
		e := Edge{Run: r.Name, Stretch: i, Section: r.Section, Zone: r.Zone, Moves: s.Moves, Unknown: p.unknown, Span: s.Span}
		if e.Span.IsZero() {
			e.Span = r.Span
		}
		if byString {
			e.Status = design.Measured
		}
		from, at, end := w[j], station, station+p.length
		cut := func(to string, until unit.Length) {
			c := rawEdge{Edge: e, from: l.node(from), to: l.node(to), way: p.way}
			c.Station, c.Length = at, until-at
			share := p.share
			if p.length > 0 {
				share *= float64(c.Length / p.length)
				c.way = p.way.Part(p.on(at-station), p.on(until-station))
			}
			shares += share
			c.Slack = even(unit.Length(float64(slack)*shares)) - slackGone
			slackGone += c.Slack
			out = append(out, c)
			from, at = to, until
		}
		for len(seats) > 0 && !p.unknown && seats[0].after < end {
			cut(seats[0].key, seats[0].after)
			seats = seats[1:]
		}
		cut(w[j+1], end)
		station = end
	}
	return out
}

// unplaced reports the nodes of a stretch whose coordinates are missing.
func (l *layer) unplaced(r *design.Run, s *design.Stretch, w way) {
	seen := map[string]bool{}
	for j, k := range w {
		if _, ok := l.at[k]; ok || seen[k] {
			continue
		}
		seen[k] = true
		span := s.Nodes[j].Where
		if span.IsZero() {
			span = s.Span
		}
		l.geo.Unplaced = append(l.geo.Unplaced, Unplaced{Node: k, Run: r.Name, Span: span})
	}
}

// nowhere finds ends of stretches at which nothing is.
func (l *layer) nowhere() {
	here := map[string]int{}
	for _, r := range l.runs {
		for _, w := range l.keys[r] {
			for _, k := range w {
				here[l.node(k)]++
			}
		}
	}
	thing := func(name string, s design.Spot) {
		if s.Node != "" {
			name = s.Node
		}
		if name != "" {
			here[l.node(name)] += 2
		}
	}
	for _, d := range l.job.Devices {
		if d.Pattern {
			continue
		}
		thing(d.Name, d.Spot)
		for _, h := range d.Housings {
			thing("", h.Spot)
		}
		for _, p := range d.Pins {
			thing("", p.Spot)
		}
	}
	for _, b := range l.job.Breaks {
		thing(b.Name, b.Spot)
	}
	for _, s := range l.job.Splices {
		thing(s.Name, s.Spot)
	}
	for _, r := range l.runs {
		for i, w := range l.keys[r] {
			if len(w) < 2 {
				continue
			}
			for _, j := range []int{0, len(w) - 1} {
				if here[l.node(w[j])] > 1 {
					continue
				}
				span := r.Stretches[i].Nodes[j].Where
				if span.IsZero() {
					span = r.Stretches[i].Span
				}
				l.geo.Nowhere = append(l.geo.Nowhere, Nowhere{Run: r.Name, Node: w[j], Span: span})
			}
		}
	}
}
