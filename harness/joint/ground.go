package joint

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// tiny is a length that nobody measures.
const tiny unit.Length = 1e-6

// loc is a place on an edge: so far from its From.
type loc struct {
	edge int
	into unit.Length
}

// mark is something that splices keep away from.
type mark struct {
	kind  MissKind
	what  string
	at    loc
	reach unit.Length // half of its own length along the run
	// length of the barrel of a splice
	length unit.Length
	wish   bool // better kept away from, no limit
}

// sight is a mark as it is seen from an edge: how far from each of its ends, and where it is if it is on it.
type sight struct {
	mark     int
	from, to unit.Length
	here     bool
}

// ground is the ways of a job with all that splices keep away from.
type ground struct {
	job     *design.Job
	geo     *space.Geometry
	run     map[string]*design.Run
	zone    map[string]*design.Zone
	sleeve  map[string]*design.Sleeve
	barrel  map[string]*design.Barrel
	around  map[nodeIn][]int // edges by node and section
	laden   []bool           // by edge
	ends    map[nodeIn]bool  // a wire of the section ends there in something other than a splice
	marks   []mark
	sights  map[int][]sight
	near    map[nodeIn][]step
	reach   unit.Length // no limit is longer
	lengths map[lengthKey]unit.Length
	airs    map[string]unit.Temperature
	rules   []*limits // by edge
	apart   []uint8   // by two edges: 1 within reach of one another, 2 not; empty: not kept
}

// limits is the settings that rule on an edge.
type limits struct {
	at                            design.Scope
	close                         bool // the school
	clear, near, apart, off, clip unit.Length
	end, room                     unit.Length      // clip-end, clip-clear
	hot                           unit.Temperature // air and margin
	wet                           bool
}

// rule is the settings that rule on an edge.
func (g *ground) rule(edge int) *limits {
	if g.rules == nil {
		g.rules = make([]*limits, len(g.geo.Edges))
	}
	if l := g.rules[edge]; l != nil {
		return l
	}
	s := g.scope(edge)
	l := &limits{at: s, close: g.job.Settings.Get("splice-school", s).Value.Name == "close", clear: g.length("splice-clear", s), near: g.length("splice-close", s),
		apart: g.length("splice-apart", s), off: g.length("splice-off", s), clip: g.length("clip-splice", s), end: g.length("clip-end", s), room: g.length("clip-clear", s), wet: g.wet(s.Zone)}
	l.hot = g.air(s.Zone) + unit.Temperature(g.job.Settings.Get("heat-margin", s).Value.Quantity.Value)
	g.rules[edge] = l
	return l
}

// mostPairs bounds the edges of which it is kept which are near one another.
const mostPairs = 3000

// reachable tells whether some places of two edges of one section are within reach of one another.
func (g *ground) reachable(a, b int) bool {
	n := len(g.geo.Edges)
	if n > mostPairs {
		return true
	}
	if g.apart == nil {
		g.apart = make([]uint8, n*n)
	}
	c := &g.apart[a*n+b]
	if *c == 0 {
		*c = 2
		x, y := &g.geo.Edges[a], &g.geo.Edges[b]
		for _, p := range [2]int{x.From, x.To} {
			for _, q := range [2]int{y.From, y.To} {
				if a == b || unit.Finite(g.nodeFar(p, q, x.Section)) {
					*c = 1
				}
			}
		}
	}
	return *c == 1
}

type nodeIn struct {
	node    int
	section string
}

type lengthKey struct {
	name string
	at   design.Scope
}

// step is a node within reach.
type step struct {
	node int
	far  unit.Length
}

func newGround(job *design.Job, geo *space.Geometry, nt *net.Net, laden []bool) *ground {
	g := &ground{job: job, geo: geo, laden: laden, around: map[nodeIn][]int{}, ends: map[nodeIn]bool{}, sights: map[int][]sight{}, near: map[nodeIn][]step{},
		lengths: map[lengthKey]unit.Length{}, airs: map[string]unit.Temperature{}}
	g.run = design.Index(job.Runs, func(r *design.Run) string { return r.Name })
	g.zone = design.Index(job.Zones, func(z *design.Zone) string { return z.Name })
	g.sleeve = design.Index(job.Parts.Sleeves, func(s *design.Sleeve) string { return s.Name })
	g.barrel = design.Index(job.Parts.Barrels, func(b *design.Barrel) string { return b.Name })
	for i := range geo.Edges {
		e := &geo.Edges[i]
		for _, n := range []int{e.From, e.To} {
			k := nodeIn{n, e.Section}
			if list := g.around[k]; len(list) == 0 || list[len(list)-1] != i {
				g.around[k] = append(list, i)
			}
		}
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for _, t := range w.Ends {
			if t.Kind != net.InSplice && t.Kind != net.CutBack && t.Node >= 0 {
				g.ends[nodeIn{t.Node, w.Section}] = true
			}
		}
	}
	longest := unit.Length(0)
	for _, b := range job.Parts.Barrels {
		longest = max(longest, b.Length)
	}
	longest = max(longest, g.mostOf("splice-room"))
	g.reach = max(g.mostOf("splice-clear"), g.mostOf("splice-close"), g.mostOf("clip-splice"), 2*g.mostOf("clip-splice"), g.mostOf("clip-clear")+g.mostOf("clip-splice"), longest+g.mostOf("splice-apart"), longest/2+g.mostOf("splice-off"))
	g.findMarks()
	return g
}

// ladenBy tells in which edges wires lie.
func ladenBy(geo *space.Geometry, nt *net.Net) []bool {
	out := make([]bool, len(geo.Edges))
	for i := range nt.Wires {
		for _, s := range nt.Wires[i].Path {
			if s.Edge >= 0 && s.Edge < len(out) {
				out[s.Edge] = true
			}
		}
	}
	return out
}

// mostOf is the largest value that a length has anywhere in the job.
func (g *ground) mostOf(name string) unit.Length {
	most := g.length(name, design.Scope{})
	for _, l := range g.job.Settings.Lines {
		if x := unit.Length(l.Value.Quantity.Value); l.Name == name && unit.Finite(x) {
			most = max(most, x)
		}
	}
	return most
}

// length is a setting of that dimension; not set, negative or not finite is 0.
func (g *ground) length(name string, at design.Scope) unit.Length {
	k := lengthKey{name, at}
	x, ok := g.lengths[k]
	if !ok {
		x = unit.Length(g.job.Settings.Get(name, at).Value.Quantity.Value)
		if !unit.Finite(x) || x < 0 {
			x = 0
		}
		g.lengths[k] = x
	}
	return x
}

func (g *ground) scope(edge int) design.Scope {
	e := &g.geo.Edges[edge]
	s := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}
	if r := g.run[e.Run]; r != nil {
		s.Panel = r.Panel
	}
	return s
}

func known(e *space.Edge) bool { return !e.Unknown && unit.Finite(e.Length) && unit.Finite(e.Slack) }

// wet tells whether wires get wet in a zone.
func (g *ground) wet(zone string) bool {
	z := g.zone[zone]
	return z != nil && (slices.Contains(z.With, "wet") || slices.Contains(z.With, "splash"))
}

// air is the hottest air of a zone in any case.
func (g *ground) air(zone string) unit.Temperature {
	t, ok := g.airs[zone]
	if ok {
		return t
	}
	if len(g.job.Cases) == 0 {
		t, _ = heat.Ambient(g.job, design.Scope{Zone: zone})
	}
	for i, c := range g.job.Cases {
		if x, _ := heat.Ambient(g.job, design.Scope{Zone: zone, Case: c.Name}); i == 0 || x > t {
			t = x
		}
	}
	g.airs[zone] = t
	return t
}

// findMarks lists all that splices keep away from, but one another.
func (g *ground) findMarks() {
	var keys []nodeIn
	for k := range g.around {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(a, b nodeIn) int { return cmp.Or(a.node-b.node, design.Natural(a.section, b.section)) })
	bushes := map[int]string{}
	for _, p := range g.job.Points {
		if n := g.geo.Find(cmp.Or(p.Node, p.Name)); p.Bush > 0 && n >= 0 {
			bushes[n] = p.Name
		}
	}
	bent := map[int]bool{}
	for i := range g.geo.Bends {
		b := &g.geo.Bends[i]
		bent[b.Node] = true
		if b.Turn <= bendLeast {
			continue
		}
		arc := unit.Length(float64(b.Radius) * float64(b.Turn) * math.Pi / 180 / float64(g.geo.WayScale(b.Run, b.Stretch)))
		if !unit.Finite(arc) || arc < 0 {
			arc = 0
		}
		for e := range g.geo.Edges {
			if x := &g.geo.Edges[e]; x.Run == b.Run && x.Stretch == b.Stretch && (x.From == b.Node || x.To == b.Node) {
				g.marks = append(g.marks, mark{kind: InBend, what: g.geo.Text(b.Node), at: g.endOf(e, b.Node), reach: arc / 2})
				break
			}
		}
	}
	for i := range g.geo.Edges {
		if e := &g.geo.Edges[i]; e.Moves > 0 {
			g.marks = append(g.marks, mark{kind: InMotion, what: e.Run, at: loc{i, 0}}, mark{kind: InMotion, what: e.Run, at: loc{i, e.Length}})
		}
	}
	for _, k := range keys {
		es := g.around[k]
		at := g.endOf(es[0], k.node)
		name := g.geo.Text(k.node)
		loaded := 0
		for _, e := range es {
			if g.laden[e] {
				loaded++
			}
		}
		if g.ends[k] {
			g.marks = append(g.marks, mark{kind: NearEnd, what: name, at: at})
		}
		if loaded > 2 {
			g.marks = append(g.marks, mark{kind: NearBranch, what: name, at: at})
		}
		if len(es) == 2 && !bent[k.node] && g.turn(es[0], es[1], k.node) > bendLeast {
			g.marks = append(g.marks, mark{kind: InBend, what: name, at: at})
		}
		if b, ok := bushes[k.node]; ok {
			g.marks = append(g.marks, mark{kind: InBush, what: b, at: at})
		}
	}
	for _, f := range g.job.Fixings {
		if stretch, station, ok := g.geo.Along(f.Run, f.After); ok {
			if at, ok := g.station(f.Run, stretch, station); ok {
				g.marks = append(g.marks, mark{kind: AtClip, what: f.Name, at: at})
			}
		}
	}
}

// markHoles adds the frozen holes in which clips can be taken to sit: a splice beside one would want the clip elsewhere, and a new hole.
func (g *ground) markHoles() {
	for _, h := range g.job.Holes {
		if h.Frozen == "" || h.Fastener == "" || !h.Known {
			continue
		}
		best, at := unit.Length(inf), loc{edge: -1}
		for i := range g.geo.Edges {
			e := &g.geo.Edges[i]
			s := g.rule(i).at
			if !known(e) || s.Panel != h.Panel {
				continue
			}
			way := g.geo.EdgeWay(i)
			along, off := way.Near(h.At)
			if off < best && off <= g.length("clip-reach", s)+g.length("clip-beside", s) && way.Length() > 0 {
				best, at = off, loc{i, along / way.Length() * e.Length}
			}
		}
		if at.edge >= 0 {
			g.marks = append(g.marks, mark{kind: AtClip, what: h.Name, at: at, wish: true})
		}
	}
}

// bendLeast is a change of direction that is none, as in harness/route.
const bendLeast unit.Angle = 5

// endOf is the end of an edge that is at a node.
func (g *ground) endOf(edge, node int) loc {
	e := &g.geo.Edges[edge]
	if e.From == node {
		return loc{edge, 0}
	}
	return loc{edge, e.Length}
}

// station is the place of a station of a stretch.
func (g *ground) station(run string, stretch int, station unit.Length) (loc, bool) {
	for _, e := range g.geo.Stretch(run, stretch) {
		x := &g.geo.Edges[e]
		if known(x) && station >= x.Station-tiny && station <= x.Station+x.Length+tiny {
			return loc{e, max(0, min(x.Length, station-x.Station))}, true
		}
	}
	return loc{}, false
}

// turn is the change of direction from one edge into another at a node; 0 where it is not known.
func (g *ground) turn(a, b, node int) unit.Angle {
	heading := func(edge int) solid.Vector { // away from the node
		way := g.geo.EdgeWay(edge)
		if len(way) == 0 {
			return solid.Vector{}
		}
		if g.geo.Edges[edge].From == node {
			_, v := way.At(0)
			return v
		}
		_, v := way.At(way.Length())
		return v.Scale(-1)
	}
	x, ok := solid.Angle(heading(a).Scale(-1), heading(b))
	if !ok {
		return 0
	}
	return x
}

// nodesNear lists the nodes within reach of one, along the ways of a section.
func (g *ground) nodesNear(node int, section string) []step {
	k := nodeIn{node, section}
	if list, ok := g.near[k]; ok {
		return list
	}
	best := map[int]unit.Length{node: 0}
	todo := []step{{node, 0}}
	var out []step
	for len(todo) > 0 {
		i := 0
		for j := range todo {
			if todo[j].far < todo[i].far || todo[j].far == todo[i].far && todo[j].node < todo[i].node {
				i = j
			}
		}
		s := todo[i]
		todo = slices.Delete(todo, i, i+1)
		if s.far > best[s.node] {
			continue
		}
		if !slices.ContainsFunc(out, func(o step) bool { return o.node == s.node }) {
			out = append(out, s)
		}
		for _, e := range g.around[nodeIn{s.node, section}] {
			x := &g.geo.Edges[e]
			if !known(x) {
				continue
			}
			n, far := x.Other(s.node), s.far+x.Length
			if old, seen := best[n]; far <= g.reach && (!seen || far < old) {
				best[n] = far
				todo = append(todo, step{n, far})
			}
		}
	}
	g.near[k] = out
	return out
}

// nodeFar is the way from one node to another, infinite where it is out of reach.
func (g *ground) nodeFar(a, b int, section string) unit.Length {
	for _, s := range g.nodesNear(a, section) {
		if s.node == b {
			return s.far
		}
	}
	return unit.Length(math.Inf(1))
}

// far is the way between two places of one section, infinite where it is out of reach.
func (g *ground) far(a, b loc) unit.Length {
	x, y := &g.geo.Edges[a.edge], &g.geo.Edges[b.edge]
	inf := unit.Length(math.Inf(1))
	if x.Section != y.Section || !g.reachable(a.edge, b.edge) {
		return inf
	}
	best := inf
	if a.edge == b.edge {
		best = max(a.into-b.into, b.into-a.into)
	}
	for _, p := range [2]step{{x.From, a.into}, {x.To, x.Length - a.into}} {
		for _, q := range [2]step{{y.From, b.into}, {y.To, y.Length - b.into}} {
			if p.far+q.far < best {
				best = min(best, p.far+q.far+g.nodeFar(p.node, q.node, x.Section))
			}
		}
	}
	return best
}

// seen lists the marks within reach of an edge.
func (g *ground) seen(edge int) []sight {
	if s, ok := g.sights[edge]; ok {
		return s
	}
	e := &g.geo.Edges[edge]
	out := []sight{}
	for i := range g.marks {
		m := &g.marks[i]
		x := &g.geo.Edges[m.at.edge]
		if x.Section != e.Section {
			continue
		}
		s := sight{mark: i, from: g.far(loc{edge, 0}, m.at), to: g.far(loc{edge, e.Length}, m.at), here: m.at.edge == edge}
		if s.here || unit.Finite(s.from) || unit.Finite(s.to) {
			out = append(out, s)
		}
	}
	g.sights[edge] = out
	return out
}

// name is how a splice states a place on an edge: the end of its stretch, empty where it counts from the beginning of the run, and how far along
// the run, or the stretch, that of the edge begins; ok is false where it cannot be stated.
func (g *ground) name(edge int) (to string, base unit.Length, ok bool) {
	e := &g.geo.Edges[edge]
	r := g.run[e.Run]
	if r == nil {
		return "", 0, false
	}
	end := func(k, of int) string { // the first or last node of a stretch
		n := r.Stretches[k].Nodes
		if len(n) == 0 {
			return ""
		}
		return n[of*(len(n)-1)].Node
	}
	chain := 1 // how many stretches go on from one another, from the first
	for chain < len(r.Stretches) && end(chain, 0) != "" && end(chain, 0) == end(chain-1, 1) {
		chain++
	}
	to = end(e.Stretch, 1)
	own := to != "" && !strings.ContainsAny(to, "#( ,") // a corner without a name is no end that can be stated
	for k := range r.Stretches {
		own = own && (k == e.Stretch || end(k, 1) != to)
	}
	if own && chain < len(r.Stretches) {
		return to, 0, true
	}
	if e.Stretch >= chain {
		return "", 0, false
	}
	for k := range e.Stretch {
		l, known := g.geo.StretchLength(r.Name, k)
		if !known {
			return "", 0, false
		}
		base += l
	}
	return "", base, true
}
