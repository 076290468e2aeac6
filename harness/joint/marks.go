package joint

import (
	"cmp"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

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
	held     unit.Length // so far from it the bundle is to be held, at most
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
		for _, e := range g.geo.Around(b.Node) {
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

// seen lists the marks within reach of an edge.
func (g *ground) seen(edge int) []sight {
	if g.sights == nil {
		g.sights = make([][]sight, len(g.geo.Edges))
	}
	if s := g.sights[edge]; s != nil {
		return s
	}
	e := &g.geo.Edges[edge]
	out := []sight{}
	if g.marksOn == nil {
		g.marksOn = make([][]int, len(g.geo.Edges))
		for i := range g.marks {
			on := g.marks[i].at.edge
			g.marksOn[on] = append(g.marksOn[on], i)
		}
	}
	// A mark within reach lies on this edge, or on one that ends within reach of its ends.
	near := slices.Clone(g.marksOn[edge])
	for _, n := range [2]int{e.From, e.To} {
		for _, x := range g.nodesNear(n, e.Section) {
			for _, o := range g.around[nodeIn{x.node, e.Section}] {
				near = append(near, g.marksOn[o]...)
			}
		}
	}
	slices.Sort(near)
	for _, i := range slices.Compact(near) {
		m := &g.marks[i]
		s := sight{mark: i, from: g.far(loc{edge, 0}, m.at), to: g.far(loc{edge, e.Length}, m.at), here: m.at.edge == edge}
		if s.here || unit.Finite(s.from) || unit.Finite(s.to) {
			out = append(out, s)
		}
	}
	l := g.rule(edge)
	for i := range out {
		out[i].held = g.heldBy(l, &out[i], edge, out)
	}
	g.sights[edge] = out
	return out
}

// markSplices adds the splices that have a place to what is kept away from.
func (g *ground) markSplices(nt *net.Net, open []string) {
	for i := range nt.Joints {
		j := &nt.Joints[i]
		es := g.around[nodeIn{j.Node, j.Section}]
		if j.Node < 0 || len(es) == 0 || slices.Contains(open, j.Splice) {
			continue
		}
		at := g.endOf(es[0], j.Node)
		g.marks = append(g.marks, mark{kind: NearSplice, what: j.Splice, at: at, length: g.room(g.splice(j.Splice), g.scope(at.edge))})
	}
}
