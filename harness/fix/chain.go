package fix

import (
	"math"
	"slices"
	"sync"
	"weak"

	"loomsheet/harness/clip"
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// mostGrid is the longest way that is settled as one, in millimetres: a slip in a unit must end. Longer chains are cut at nodes.
const mostGrid = clip.MostLength

// chain is edges with wires in them that go straight on: one track of the optimiser. Its places are lengths from its beginning; the
// grid's place p lies at shift + p, so that the stations of its longest stretch are whole millimetres.
type chain struct {
	parts  []part
	knots  []knot // the beginning, the nodes between parts, the end
	length unit.Length
	shift  unit.Length
	grid   int // last place of the grid
	moves  bool
	box    box
	geo    *space.Geometry
	lain   *lain

	headings []heading   // of the stretches, until the ears are found
	ears     []earsFrom  // from each place on
	far      unit.Length // how far the hole of a clip is from its place, at most
	most     unit.Length // outside of the bundle last looked at
	dense    float64     // places of the grid in a millimetre of space, at least; 0 not known

	wants   []want
	bars    []bar
	middle  []bar   // of a moving stretch: what its ends leave free
	spans   []limit // by part
	given   []given
	own     []int // places at which what stands by hand leaves the holes beside it to others
	seats   []seat
	further []seat      // holes to which another chain is nearer
	shut    []stretchOf // no new hole
	apart   unit.Length // least between two holes
	bare    []stretchOf // no hole needed
}

// part is an edge of a chain.
type part struct {
	edge int
	back bool        // the chain runs against the edge
	at   unit.Length // of its beginning
}

// knot is a node on a chain.
type knot struct {
	node int
	at   unit.Length
}

// spot is a place of the grid in space.
type spot struct {
	at    design.Point3
	known bool
}

// lain is the places of a chain in space. They are most of what a plan takes, and soon worked out again: they are kept until memory is wanted.
type lain struct {
	sync.Mutex
	kept weak.Pointer[[]spot]
}

// spots is by place of the grid; empty where there is none.
func (c *chain) spots() []spot {
	if c.lain == nil {
		return nil
	}
	c.lain.Lock()
	defer c.lain.Unlock()
	if s := c.lain.kept.Value(); s != nil {
		return *s
	}
	s := make([]spot, 0, c.grid+1)
	c.walk(func(_ int, at spot, _ solid.Vector) { s = append(s, at) })
	c.lain.kept = weak.Make(&s)
	return s
}

// walk shows all places, with the direction of the stretch from each on.
func (c *chain) walk(show func(p int, at spot, v solid.Vector)) {
	lastPart := -1
	var walk space.Walk
	for p := range c.grid + 1 {
		k := c.partAt(c.real(p))
		run, stretch, station := c.station(k, c.real(p))
		if k != lastPart {
			walk, lastPart = c.geo.Walk(run, stretch), k
		}
		at, v, ok := walk.At(station)
		show(p, spot{at: at, known: ok && finite(at)}, v)
	}
}

// heading is the direction of the stretch from a place of the grid on.
type heading struct {
	from int
	is   solid.Vector
}

// tip is an end of an edge: 2 x edge at its From, one more at its To.
type tip int

func (t tip) edge() int  { return int(t) / 2 }
func (t tip) other() tip { return t ^ 1 }

func (m *maker) node(t tip) int {
	if t&1 == 0 {
		return m.geo.Edges[t.edge()].From
	}
	return m.geo.Edges[t.edge()].To
}

// usable tells whether clips can be placed on an edge: wires lie there and the length of its stretch is known.
func (m *maker) usable(e int) bool {
	ed := &m.geo.Edges[e]
	return len(m.bundles.On(e)) > 0 && m.knownStretch[stretchKey{ed.Run, ed.Stretch}]
}

// links says which tip goes on in which: along a stretch always, and from stretch to stretch where nothing leaves, no wire ends, the
// section stays the same and neither moves.
func (m *maker) links() []tip {
	next := make([]tip, 2*len(m.geo.Edges))
	for i := range next {
		next[i] = -1
	}
	link := func(a, b tip) { next[a], next[b] = b, a }
	for i := 1; i < len(m.geo.Edges); i++ {
		e, f := &m.geo.Edges[i-1], &m.geo.Edges[i]
		if e.Run == f.Run && e.Stretch == f.Stretch && e.To == f.From && m.usable(i-1) && m.usable(i) {
			link(tip(2*i-1), tip(2*i))
		}
	}
	for n := range m.geo.Nodes {
		var here []tip
		for _, t := range m.tips[n] {
			if len(m.bundles.On(t.edge())) > 0 {
				here = append(here, t)
			}
		}
		if len(here) != 2 || m.ends[n] || next[here[0]] >= 0 || next[here[1]] >= 0 || here[0].edge() == here[1].edge() {
			continue
		}
		e, f := &m.geo.Edges[here[0].edge()], &m.geo.Edges[here[1].edge()]
		if m.usable(here[0].edge()) && m.usable(here[1].edge()) && e.Section == f.Section && e.Moves <= 0 && f.Moves <= 0 {
			link(here[0], here[1])
		}
	}
	return next
}

// findChains makes the chains, in the order of their first edges.
func (m *maker) findChains() {
	next := m.links()
	done := make([]bool, len(m.geo.Edges))
	m.chainAt = make([]place, len(m.geo.Edges))
	for i := range m.geo.Edges {
		m.chainAt[i].chain = -1
	}
	for i := range m.geo.Edges {
		for !done[i] && m.usable(i) {
			first := tip(2 * i)
			for t := next[first]; t >= 0 && t.edge() != i && !done[t.edge()]; t = next[first] {
				first = t.other()
			}
			c := m.follow(first, next, done)
			for k, p := range c.parts {
				m.chainAt[p.edge] = place{len(m.chains), k}
			}
			m.chains = append(m.chains, c)
		}
	}
	m.halves(len(m.chains), func(m *maker, k int) { m.lay(m.chains[k]) })
}

// follow makes the chain that begins at a tip, as far as one is settled as a whole.
func (m *maker) follow(first tip, next []tip, done []bool) *chain {
	c := &chain{geo: m.geo, knots: []knot{{m.node(first), 0}}}
	for t := first; t >= 0 && !done[t.edge()]; t = next[t.other()] {
		e := t.edge()
		if len(c.parts) > 0 && c.length+m.geo.Edges[e].Length > mostGrid {
			break
		}
		done[e] = true
		c.parts = append(c.parts, part{e, t&1 == 1, c.length})
		c.length += m.geo.Edges[e].Length
		c.knots = append(c.knots, knot{m.node(t.other()), c.length})
		c.moves = c.moves || m.geo.Edges[e].Moves > 0
	}
	return c
}

// place is where an edge lies: part of a chain; chain is -1 for none.
type place struct{ chain, part int }

// lay puts a chain on the grid.
func (m *maker) lay(c *chain) {
	best, longest := -1, unit.Length(-1)
	for i, p := range c.parts {
		if l := m.geo.Edges[p.edge].Length; l > longest {
			best, longest = i, l
		}
	}
	p := c.parts[best]
	s := p.at - m.geo.Edges[p.edge].Station
	if p.back {
		s = p.at + m.geo.Edges[p.edge].Station + m.geo.Edges[p.edge].Length
	}
	c.shift = s - unit.Length(math.Floor(float64(s)+tiny))
	if c.shift < tiny || !unit.Finite(c.shift) {
		c.shift = 0
	}
	if c.length > mostGrid {
		c.grid = -1
		return
	}
	c.grid = int(math.Floor(float64(c.length-c.shift) + tiny))
	spots := make([]spot, 0, c.grid+1)
	c.walk(func(p int, at spot, v solid.Vector) {
		spots = append(spots, at)
		if n := len(c.headings); n == 0 || c.headings[n-1].is != v {
			c.headings = append(c.headings, heading{p, v})
		}
		if at.known {
			c.box.add(at.at)
		}
	})
	c.lain = &lain{kept: weak.Make(&spots)}
	step := unit.Length(0)
	for p := 1; p < len(spots); p++ {
		if !spots[p-1].known || !spots[p].known {
			return
		}
		step = max(step, space.Between(spots[p-1].at, spots[p].at))
	}
	if step > 0 {
		c.dense = 1 / float64(step)
	}
}

const tiny = 1e-6

func (c *chain) real(p int) unit.Length { return c.shift + unit.Length(p) }

// nearest is the place of the grid nearest to a length along the chain.
func (c *chain) nearest(x unit.Length) int {
	return max(0, min(c.grid, int(math.Round(float64(x-c.shift)))))
}

// within is the places of the grid from lo to hi, both included; ok is false where there is none.
func (c *chain) within(lo, hi unit.Length) (from, to int, ok bool) {
	f, t := math.Ceil(float64(lo-c.shift)-tiny), math.Floor(float64(hi-c.shift)+tiny)
	from, to = int(max(0, min(f, mostGrid+1))), int(max(-1, min(t, float64(c.grid))))
	return from, to, from <= to
}

// partAt is the part at a length along the chain, where two meet the earlier one.
func (c *chain) partAt(x unit.Length) int {
	k, _ := slices.BinarySearchFunc(c.parts, x, func(p part, x unit.Length) int {
		if p.at < x-tiny {
			return -1
		}
		return 1
	})
	return max(0, k-1)
}

// station is where a length along a chain lies on the stretch of one of its parts; it goes on beyond the part.
func (c *chain) station(k int, x unit.Length) (run string, stretch int, station unit.Length) {
	p := c.parts[k]
	e := &c.geo.Edges[p.edge]
	station = e.Station + (x - p.at)
	if p.back {
		station = e.Station + e.Length - (x - p.at)
	}
	if r := unit.Length(math.Round(float64(station))); math.Abs(float64(station-r)) < tiny {
		station = r
	}
	return e.Run, e.Stretch, station
}

// along is where a station of an edge lies on the chain of that edge.
func (m *maker) along(e int, station unit.Length) unit.Length {
	at := m.chainAt[e]
	p := m.chains[at.chain].parts[at.part]
	ed := &m.geo.Edges[e]
	if p.back {
		return p.at + ed.Station + ed.Length - station
	}
	return p.at + station - ed.Station
}

func finite(p design.Point3) bool {
	return unit.Finite(p.X) && unit.Finite(p.Y) && unit.Finite(p.Z)
}

// turn is the change of direction of a chain at a knot between two parts; 0 where coordinates are missing.
func (m *maker) turn(c *chain, k int) unit.Angle {
	heading := func(p part, end bool) solid.Vector {
		way := m.geo.EdgeWay(p.edge)
		at := unit.Length(0)
		if end != p.back {
			at = way.Length()
		}
		_, v := way.At(at)
		if p.back {
			return v.Scale(-1)
		}
		return v
	}
	a, _ := solid.Angle(heading(c.parts[k-1], true), heading(c.parts[k], false))
	return a
}
