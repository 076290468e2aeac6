package fix

import (
	"math"
	"slices"

	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// want is a part of a chain in which at least one clip must be.
type want struct {
	lo, hi unit.Length
	at     unit.Length // what it is wanted for
	why    string      // end, breakout, bend, span
	place  string
	limit  unit.Length
	source string
}

// bar is a part of a chain in which no clip may be, its two ends not included.
type bar struct {
	lo, hi unit.Length
	why    string
	clear  bool // only for room at a connector or a breakout
}

// stretchOf is the same on the grid, both ends included.
type stretchOf struct {
	from, to int
	why      string
}

// limit is the largest gap on one part of a chain; most 0: none.
type limit struct {
	most   unit.Length
	source string
}

// kind of a knot, as far as it wants clips near it.
type knotKind struct {
	why    string  // end or breakout; empty: the harness just goes on, or ends here with nothing that wants a clip
	sides  [2]bool // before, after
	onward bool    // at the end of a chain: it goes on in another one
}

// demand works out what a chain must hold.
func (m *maker) demand(c *chain) {
	kinds := make([]knotKind, len(c.knots))
	for i := range c.knots {
		kinds[i] = m.kind(c, i)
	}
	m.clears(c, kinds)
	for _, p := range c.parts {
		c.spans = append(c.spans, m.spanOf(p.edge))
	}
	last := len(c.knots) - 1
	short, reach := m.length("clip-short", m.scopeOf(c, 0)), m.length("clip-end", m.scopeOf(c, 0))
	if c.length <= short+tiny && kinds[0].why != "" && kinds[last].why != "" {
		c.spans = make([]limit, len(c.parts))
		return
	}
	if c.moves {
		m.movingEnds(c, kinds)
		return
	}
	// A short tail is held at its connector; the clips on what it leaves hold its root.
	span := m.least(c.spans)
	tail := span.most <= 0 || span.most/2 > short
	if limit := reach + short; tail && c.length <= limit+tiny || !tail && c.length <= reach+span.most/2+tiny {
		for _, x := range [][2]int{{0, last}, {last, 0}} {
			if m.rooted(c, x[0], x[1]) {
				kinds[x[0]] = knotKind{onward: true}
			}
		}
	}
	for i := range c.knots {
		m.wantsAt(c, kinds, i)
	}
	m.bendWants(c)
}

// kind tells what a knot wants.
func (m *maker) kind(c *chain, i int) (k knotKind) {
	n, last := c.knots[i].node, len(c.knots)-1
	own := func(e int) bool { return i > 0 && c.parts[i-1].edge == e || i < last && c.parts[i].edge == e }
	others := 0
	for _, t := range m.tips[n] {
		if e := t.edge(); !own(e) && len(m.bundles.On(e)) > 0 {
			others++
		}
	}
	inner := i > 0 && i < last
	switch {
	case inner && others > 0:
		return knotKind{why: "breakout", sides: [2]bool{true, true}}
	case inner && m.ends[n]:
		k.why = "end"
		for _, w := range m.ending[n] {
			if p := m.net.Wires[w].Path; len(p) > 0 {
				for _, e := range []int{p[0].Edge, p[len(p)-1].Edge} {
					k.sides[0] = k.sides[0] || c.parts[i-1].edge == e
					k.sides[1] = k.sides[1] || c.parts[i].edge == e
				}
			}
		}
		return k
	case inner:
		return k
	}
	k.sides = [2]bool{i > 0, i == 0}
	switch {
	case m.ends[n] || others == 0:
		k.why = "end"
	case others > 1 || c.moves || m.goesMoving(n, c, i):
		k.why = "breakout"
	default:
		k.onward = true
	}
	return k
}

// goesMoving tells whether what goes on at the end of a chain is a moving stretch.
func (m *maker) goesMoving(node int, c *chain, i int) bool {
	for _, t := range m.tips[node] {
		if e := t.edge(); len(m.bundles.On(e)) > 0 && m.geo.Edges[e].Moves > 0 {
			return true
		}
	}
	return false
}

// clears keeps clips off connectors, breakouts, splices and bends.
func (m *maker) clears(c *chain, kinds []knotKind) {
	off := func(at, by unit.Length, why string, clear bool) {
		if by > 0 {
			c.bars = append(c.bars, bar{at - by, at + by, why, clear})
		}
	}
	for i, k := range c.knots {
		s := m.scopeOf(c, min(i, len(c.parts)-1))
		name := m.geo.Text(k.node)
		switch {
		case kinds[i].why == "end" && m.ends[k.node]:
			off(k.at, m.length("clip-clear", s), "room at "+name, true)
		case kinds[i].why == "breakout":
			off(k.at, m.length("clip-clear", s), "room at the breakout "+name, true)
		}
		if splice := m.spliceAt[k.node]; splice != "" {
			off(k.at, m.length("clip-splice", s), "splice "+splice, false)
		}
	}
	for _, b := range m.bendsOf(c) {
		c.bars = append(c.bars, bar{b.at - b.half, b.at + b.half, "the bend at " + b.place, false})
	}
}

// spanOf is the largest gap on an edge: thin bundles sag.
func (m *maker) spanOf(e int) limit {
	if m.geo.Edges[e].Moves > 0 {
		return limit{}
	}
	s := m.edgeScope(&m.geo.Edges[e])
	out := limit{m.length("clip-span", s), m.job.Settings.Get("clip-span", s).Source()}
	if most := m.sleeved(e); most > 0 && most < m.length("clip-thin", s) {
		if thin := m.length("clip-span-thin", s); thin > 0 && (out.most <= 0 || thin < out.most) {
			out = limit{thin, "clip-span-thin: " + m.job.Settings.Get("clip-span-thin", s).Source()}
		}
	}
	return out
}

// least is the least of the limits that there are.
func (m *maker) least(l []limit) (out limit) {
	for _, x := range l {
		if x.most > 0 && (out.most <= 0 || x.most < out.most) {
			out = x
		}
	}
	return out
}

// rooted tells whether a chain is a tail that leaves something longer at its root and ends in a connector at its tip.
func (m *maker) rooted(c *chain, root, tip int) bool {
	r, t := c.knots[root].node, c.knots[tip].node
	if m.ends[r] || !m.ends[t] || len(c.parts) == 0 {
		return false
	}
	for _, x := range m.tips[r] {
		e := x.edge()
		if len(m.bundles.On(e)) == 0 || slices.ContainsFunc(c.parts, func(p part) bool { return p.edge == e }) {
			continue
		}
		if l, ok := m.geo.StretchLength(m.geo.Edges[e].Run, m.geo.Edges[e].Stretch); ok && l > c.length {
			return true
		}
	}
	return false
}

// wantsAt asks for a clip on each side of a knot. A piece up to clip-short that is held at both its ends needs none of its own; then a clip
// within reach on either side will do.
func (m *maker) wantsAt(c *chain, kinds []knotKind, i int) {
	k, at := kinds[i], c.knots[i].at
	s := m.scopeOf(c, min(i, len(c.parts)-1))
	reach, short := m.length("clip-end", s), m.length("clip-short", s)
	source := m.job.Settings.Get("clip-end", s).Source()
	name := m.geo.Text(c.knots[i].node)
	if k.why == "" {
		if !k.onward {
			return
		}
		l := c.spans[min(i, len(c.parts)-1)]
		if l.most <= 0 {
			return
		}
		w := want{lo: at, hi: at + l.most/2, at: at, why: "span", place: name, limit: l.most / 2, source: l.source}
		if i > 0 {
			w.lo, w.hi = at-l.most/2, at
		}
		c.wants = append(c.wants, w)
		return
	}
	if reach <= 0 {
		return
	}
	any := false
	add := func(lo, hi unit.Length) {
		c.wants = append(c.wants, want{lo: lo, hi: hi, at: at, why: k.why, place: name, limit: reach, source: source})
	}
	for side, d := range []int{-1, 1} {
		if !k.sides[side] || m.shortPiece(c, kinds, i, d, short) {
			continue
		}
		any = true
		if d < 0 {
			add(at-reach, at)
		} else {
			add(at, at+reach)
		}
	}
	if !any && (k.sides[0] || k.sides[1]) && !c.allClear(at-reach, at+reach) {
		add(at-reach, at+reach)
	}
}

// shortPiece tells whether the way from a knot to the next one that is held is no longer than short.
func (m *maker) shortPiece(c *chain, kinds []knotKind, i, d int, short unit.Length) bool {
	for j := i + d; j >= 0 && j < len(kinds); j += d {
		if kinds[j].why != "" {
			return unit.Length(math.Abs(float64(c.knots[j].at-c.knots[i].at))) <= short+tiny
		}
	}
	return false
}

// allClear tells whether connectors and breakouts stand so close that they leave no room for a clip.
func (c *chain) allClear(lo, hi unit.Length) bool {
	from, to, ok := c.within(lo, hi)
	if !ok {
		return true
	}
	for p := from; p <= to; p++ {
		x := c.real(p)
		if !slices.ContainsFunc(c.bars, func(b bar) bool { return b.clear && b.lo+tiny < x && x < b.hi-tiny }) {
			return false
		}
	}
	return true
}

// barred is what forbids a clip there; empty: nothing.
func (c *chain) barred(x unit.Length) string {
	for _, list := range [][]bar{c.bars, c.middle} {
		for _, b := range list {
			if b.lo+tiny < x && x < b.hi-tiny {
				return b.why
			}
		}
	}
	return ""
}

// bendArc is a bend on a chain with the stretch of its arc.
type bendArc struct {
	at    unit.Length // its middle
	half  unit.Length // half its length
	turn  unit.Angle
	place string
}

// bendWants asks for a clip before or after the arc of every bend.
func (m *maker) bendWants(c *chain) {
	for _, b := range m.bendsOf(c) {
		s := m.scopeOf(c, c.partAt(b.at))
		ruling := m.job.Settings.Get("clip-end", s)
		reach := m.length("clip-end", s)/2 + b.half
		if reach > b.half && !c.allClear(b.at-reach, b.at+reach) {
			c.wants = append(c.wants, want{lo: b.at - reach, hi: b.at + reach, at: b.at, why: "bend", place: b.place, limit: reach, source: "half of clip-end off its arc: " + ruling.Source()})
		}
	}
}

// bendsOf lists the bends of a chain that are sharp enough to want a clip. Where one stretch goes on in another there is no arc.
func (m *maker) bendsOf(c *chain) (out []bendArc) {
	for k := 1; k < len(c.parts); k++ {
		e, f := c.parts[k-1].edge, c.parts[k].edge
		b := bendArc{at: c.knots[k].at, place: m.geo.Text(c.knots[k].node)}
		x, y := &m.geo.Edges[e], &m.geo.Edges[f]
		if x.Run == y.Run && x.Stretch == y.Stretch {
			if i := slices.IndexFunc(m.geo.Bends, func(b space.Bend) bool {
				return b.Run == x.Run && b.Stretch == x.Stretch && b.Node == c.knots[k].node
			}); i >= 0 {
				b.turn, b.half = m.geo.Bends[i].Turn, m.arc(&m.geo.Bends[i])/2
			}
		}
		if b.turn == 0 {
			b.turn = m.turn(c, k)
		}
		if float64(b.turn) >= m.job.Settings.Get("clip-bend", m.edgeScope(y)).Value.Quantity.Value-1e-9 {
			out = append(out, b)
		}
	}
	return out
}

// arc is the length of a bend along its stretch, by string where that was measured.
func (m *maker) arc(b *space.Bend) unit.Length {
	l := unit.Length(float64(b.Radius) * float64(b.Turn) * math.Pi / 180 / float64(m.geo.WayScale(b.Run, b.Stretch)))
	if !unit.Finite(l) || l < 0 {
		return 0
	}
	return l
}

// movingEnds holds a moving stretch close to its ends and leaves it free in between.
func (m *maker) movingEnds(c *chain, kinds []knotKind) {
	last := len(c.knots) - 1
	for _, i := range []int{0, last} {
		s := m.scopeOf(c, min(i, len(c.parts)-1))
		reach := m.length("clip-end", s)
		if reach <= 0 {
			continue
		}
		w := want{lo: 0, hi: min(reach, c.length/2), at: c.knots[i].at, why: "end", place: m.geo.Text(c.knots[i].node), limit: reach, source: m.job.Settings.Get("clip-end", s).Source()}
		if i > 0 {
			w.lo, w.hi = max(c.length-reach, c.length/2), c.length
		}
		if kinds[i].why == "breakout" {
			w.why = "breakout"
		}
		c.wants = append(c.wants, w)
	}
}

// edgesOf tells which wires end at each node in something other than a splice.
func endings(nt *net.Net, geo *space.Geometry) (ends []bool, ending [][]int) {
	ends, ending = make([]bool, len(geo.Nodes)), make([][]int, len(geo.Nodes))
	for i := range nt.Wires {
		for _, t := range nt.Wires[i].Ends {
			if t.Kind != net.InSplice && t.Node >= 0 && t.Node < len(ends) {
				ends[t.Node] = true
				ending[t.Node] = append(ending[t.Node], i)
			}
		}
	}
	return ends, ending
}
