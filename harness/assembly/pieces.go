package assembly

import (
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// piece is a length of sleeve over a run. A closed sleeve ends where wires leave the bundle or join it; one that is slit goes on.
type piece struct {
	run      *design.Run
	name     string // "run tail, plug to b"
	place    int
	edges    []int
	wires    []int
	from, to string
	length   unit.Length
	least    unit.Length // 0: not known
	most     unit.Length // with the splices that it covers; unknown
	slit     bool
	sizes    []fit
	thing    int
	lay      int // acts
	slide    int
	loose    unit.Length // outside while it is open
}

// findPieces cuts the sleeves of the section's runs.
func (s *sheet) findPieces() {
	m := s.m
	for _, r := range m.job.Runs {
		if r.Section != s.name || r.Sleeve == "" {
			continue
		}
		part := m.sleeve[r.Sleeve]
		slit := part != nil && part.Kind() == "slit"
		for i := range r.Stretches {
			for _, laden := range m.bundles.Laden(m.geo.Stretch(r.Name, i)) {
				for _, edges := range s.cutUp(laden, slit) {
					s.piece(r, edges, slit)
				}
			}
		}
	}
}

// cutUp parts edges where wires leave or join.
func (s *sheet) cutUp(edges []int, whole bool) [][]int {
	if whole {
		return [][]int{edges}
	}
	out := [][]int{{edges[0]}}
	for k := 1; k < len(edges); k++ {
		if s.m.breakout(edges[k-1], edges[k]) {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], edges[k])
	}
	return out
}

// breakout tells whether wires leave a bundle, or end in something other than a splice, between two edges that follow one another.
func (m *maker) breakout(a, b int) bool {
	n := between(m.geo, a, b)
	if n < 0 {
		return true
	}
	section := m.geo.Edges[a].Section
	return m.endsHere[n] && m.endsIn(n, section) || slices.ContainsFunc(m.atNode[n], func(e int) bool { return e != a && e != b && m.geo.Edges[e].Section == section })
}

// endsIn tells whether a wire of a section ends at a node other than in a splice.
func (m *maker) endsIn(node int, section string) bool {
	for i := range m.net.Wires {
		w := &m.net.Wires[i]
		for e := range w.Ends {
			if w.Section == section && w.Ends[e].Node == node && w.Ends[e].Splice == "" && len(w.Path) > 0 {
				return true
			}
		}
	}
	return false
}

func between(g *space.Geometry, a, b int) int {
	x, y := &g.Edges[a], &g.Edges[b]
	for _, n := range []int{x.To, x.From} {
		if n == y.From || n == y.To {
			return n
		}
	}
	return -1
}

func (s *sheet) piece(r *design.Run, edges []int, slit bool) {
	m := s.m
	p := piece{run: r, edges: edges, slit: slit, lay: -1, slide: -1, least: unknown}
	first, last := &m.geo.Edges[edges[0]], &m.geo.Edges[edges[len(edges)-1]]
	p.from, p.to = m.geo.Text(first.From), m.geo.Text(last.To)
	p.name = "run " + r.Name
	if len(r.Stretches) > 1 || len(edges) != len(m.geo.Stretch(r.Name, first.Stretch)) {
		p.name += ", " + p.from + " to " + p.to
	}
	for k, e := range edges {
		x, u := &m.geo.Edges[e], &m.bundles.Edges[e]
		p.length += x.Length + x.Slack
		p.wires = append(p.wires, m.bundles.On(e)...)
		if u.Unknown || !(u.Most > 0) {
			p.most, p.least = unknown, 0
			continue
		}
		p.least, p.most = min(p.least, u.Least()), max(p.most, u.Most)
		if k > 0 {
			p.most = max(p.most, s.bulge(between(m.geo, edges[k-1], e), e))
		}
		s.onPiece[e] = len(s.pieces)
	}
	slices.Sort(p.wires)
	p.wires = slices.Compact(p.wires)
	for _, e := range edges {
		s.onPiece[e] = len(s.pieces)
	}
	p.place = s.place("piece "+p.name, "run", p.name, r.Span)
	s.pieces = append(s.pieces, p)
}

// bulge is how thick the splices at a node make the bundle of an edge beside it.
func (s *sheet) bulge(node, edge int) unit.Length {
	d := unit.Length(0)
	for i := range s.joints {
		j := &s.joints[i]
		if j.Node != node || node < 0 {
			continue
		}
		var gone []int
		for _, a := range j.ends {
			gone = append(gone, a.wire)
		}
		d = max(d, most(s.m.circles(s.m.bundles.On(edge)), gone, j.outside))
	}
	return d
}

// pieceActs lays up the runs, after all splices are made, and slides and fits the sleeves over them. What lies under a closed sleeve is laid up
// by itself, since that sleeve may have to be on before other wires are laid beside its own further on.
func (s *sheet) pieceActs() {
	if !slices.ContainsFunc(s.wires, func(w int) bool { return len(s.m.net.Wires[w].Path) > 0 }) {
		return
	}
	s.laid = s.layAct(s.place("board", "board", "all runs", diag.Span{}))
	for i := range s.pieces {
		p := &s.pieces[i]
		at := design.Scope{Run: p.run.Name, Section: s.name, Panel: p.run.Panel, Zone: s.m.geo.Edges[p.edges[0]].Zone}
		top := p.most
		if top == unknown {
			top = 0
		}
		p.thing, p.sizes = s.sleeve(cover{kind: "sleeve over a run", part: p.run.Sleeve, where: p.name, least: p.least, most: top, length: p.length, scope: at,
			subject: diag.Subject{Kind: "run", Name: p.run.Name}, span: p.run.Span, place: p.place})
		widest := p.sizes[0]
		p.loose = known(looser(widest.expanded, widest.wall))
		p.slide = s.add(slideRun, p.place, "", p.thing)
		p.lay = s.laid
		if !p.slit {
			p.lay = s.layAct(p.place)
		}
		s.before(p.lay, p.slide)
		s.before(p.slide, s.add(shrinkRun, p.place, "", -1))
		s.settle(p.thing, p.sizes[0])
	}
}

// layAct lays up, when all splices are made and all that goes over single wires is on.
func (s *sheet) layAct(place int) int {
	n := s.add(layUp, place, "", -1)
	for i := range s.joints {
		s.before(s.joints[i].crimp, n)
		s.before(s.joints[i].shrink, n)
	}
	s.lays = append(s.lays, n)
	return n
}

// layOf is the act that lays up an edge, made where it is first asked for.
func (s *sheet) layOf(edge int) int {
	if q, ok := s.onPiece[edge]; ok {
		return s.pieces[q].lay
	}
	e := &s.m.geo.Edges[edge]
	from := len(s.places)
	if p := s.place("lay "+e.Run+" "+strconv.Itoa(e.Stretch), "run", "run "+e.Run+s.m.stretchText(e), e.Span); p == from {
		s.layRun[p] = s.layAct(p)
	}
	return s.layRun[s.byKey["lay "+e.Run+" "+strconv.Itoa(e.Stretch)]]
}

// stretchText tells the stretches of a run apart.
func (m *maker) stretchText(e *space.Edge) string {
	if r := m.run[e.Run]; r == nil || len(r.Stretches) < 2 {
		return ""
	}
	es := m.geo.Stretch(e.Run, e.Stretch)
	return ", " + m.geo.Text(m.geo.Edges[es[0]].From) + " to " + m.geo.Text(m.geo.Edges[es[len(es)-1]].To)
}

// joined is wires with all that are spliced to them, and on.
func (s *sheet) joined(wires []int) map[int]bool {
	out := map[int]bool{}
	todo := slices.Clone(wires)
	for len(todo) > 0 {
		w := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if out[w] {
			continue
		}
		out[w] = true
		for e := range 2 {
			if j, ok := s.jointAt(at{w, e}); ok {
				todo = append(todo, s.joints[j].Wires...)
			}
		}
	}
	return out
}

// onward notes what a bunch has to go through: the sleeves over runs, and the runs in which other wires are laid up with it.
func (s *sheet) onward(v *view, of int, rest []net.Step, joined map[int]bool) {
	for _, x := range rest {
		if q, ok := s.onPiece[x.Edge]; ok && q != of && !slices.Contains(v.pieces, q) {
			v.pieces = append(v.pieces, q)
		}
		if slices.ContainsFunc(s.m.bundles.On(x.Edge), func(w int) bool { return !joined[w] }) {
			if n := s.layOf(x.Edge); n >= 0 && !slices.Contains(v.lays, n) {
				v.lays = append(v.lays, n)
			}
		}
	}
}

// chooseRuns says from where each closed sleeve over a run can come: from one of its ends, over all that its wires have further on.
func (s *sheet) chooseRuns() {
	for i := range s.pieces {
		p := &s.pieces[i]
		if p.slit {
			continue
		}
		first, last := p.edges[0], p.edges[len(p.edges)-1]
		s.choose(p.thing, p.slide, p.sizes, []side{
			s.side(s.outward(i, first, true, "from "+p.from)),
			s.side(s.outward(i, last, false, "from "+p.to)),
		})
	}
}

// outward is what lies beyond an edge of a piece: towards its From where back, else towards its To.
func (s *sheet) outward(of, edge int, back bool, name string) view {
	v := view{name: name, but: -1}
	on := s.m.bundles.On(edge)
	joined := s.joined(on)
	for _, w := range on {
		path := s.m.net.Wires[w].Path
		k := slices.IndexFunc(path, func(x net.Step) bool { return x.Edge == edge })
		if k < 0 {
			continue
		}
		end, rest := 1, path[k+1:]
		if path[k].Reverse != back {
			end, rest = 0, path[:k]
		}
		v.wires, v.ends = append(v.wires, w), append(v.ends, at{w, end})
		s.onward(&v, of, rest, joined)
	}
	slices.Sort(v.pieces)
	return v
}
