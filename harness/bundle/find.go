package bundle

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// finder holds the inputs with what is looked up often.
type finder struct {
	job    *design.Job
	net    *net.Net
	geo    *space.Geometry
	sizes  size.Sizes
	wire   map[string]*design.Wire
	cable  map[string]*design.Cable
	run    map[string]*design.Run
	cores  map[string]unit.Length // thickest core of each cable
	packer *packer
	pieces map[Piece]*Piece
}

// Find works out the make-up of every edge and of every turn from one edge into another. It works on incomplete inputs: where the outside
// of a wire is not known the band is 0 and Unknown is set.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes) *Bundles {
	f := newFinder(job, nt, sizes)
	b := &Bundles{Edges: make([]MakeUp, len(f.geo.Edges)), on: make([][]int, len(f.geo.Edges))}
	at := map[[2]int]int{}
	for i := range nt.Wires {
		before := -1
		for _, s := range nt.Wires[i].Path {
			if s.Edge < 0 || s.Edge >= len(b.on) {
				before = -1
				continue
			}
			if on := b.on[s.Edge]; len(on) == 0 || on[len(on)-1] != i {
				b.on[s.Edge] = append(on, i)
			}
			if before >= 0 && before != s.Edge {
				k := pair(before, s.Edge)
				t, ok := at[k]
				if !ok {
					t = len(b.turns)
					at[k] = t
					b.turns = append(b.turns, Turn{Edges: k, Node: f.between(k)})
				}
				if ws := b.turns[t].Wires; len(ws) == 0 || ws[len(ws)-1] != i {
					b.turns[t].Wires = append(ws, i)
				}
			}
			before = s.Edge
		}
	}
	b.turns = slices.Clone(b.turns) // without the room it grew into
	slices.SortFunc(b.turns, func(a, b Turn) int { return compare(a.Edges, b.Edges) })
	var same shared
	for e := range b.on {
		b.on[e] = same.wires(b.on[e])
	}

	for e := range b.Edges {
		m, circles := f.makeUp(b.on[e], f.scope(e))
		m.Pieces = same.pieces(m.Pieces)
		m.Sleeve, m.Wall = f.sleeve(e)
		m.closest = f.packer.ask(circles, m.Most)
		b.Edges[e] = m
	}
	for t := range b.turns {
		u := &b.turns[t]
		u.Wires = same.wires(u.Wires)
		m, circles := f.makeUp(u.Wires, f.scope(u.Edges[0]))
		m.Pieces = same.pieces(m.Pieces)
		m.Sleeve, m.Wall = f.sleeve(u.Edges[0])
		if s, wall := f.sleeve(u.Edges[1]); wall > m.Wall || m.Sleeve == "" {
			m.Sleeve, m.Wall = s, wall
		}
		m.closest = f.packer.ask(circles, m.Most)
		u.MakeUp = m
	}
	f.packer.share()
	// A bundle that has room within its trade's figure as it first comes to hand is no thicker in closest packing.
	var thicker []*MakeUp
	var asked []*closest // each once, so that one does not wait for another
	seen := map[*closest]bool{}
	for i := range len(b.Edges) + len(b.turns) {
		if m := b.of(i); m.closest != nil && !(m.closest.within <= m.Most*(1-2*hair)) {
			thicker = append(thicker, m)
			if !seen[m.closest] {
				seen[m.closest] = true
				asked = append(asked, m.closest)
			}
		}
	}
	solve.Each(len(asked), func(i int) { asked[i].get() })
	for _, m := range thicker {
		m.Most = max(m.Most, m.closest.get())
	}
	return b
}

// of is the make-up of the i-th edge, or, beyond the edges, turn.
func (b *Bundles) of(i int) *MakeUp {
	if i < len(b.Edges) {
		return &b.Edges[i]
	}
	return &b.turns[i-len(b.Edges)].MakeUp
}

func newFinder(job *design.Job, nt *net.Net, sizes size.Sizes) *finder {
	f := &finder{job: job, net: nt, geo: nt.Space, sizes: sizes, wire: map[string]*design.Wire{}, cable: map[string]*design.Cable{},
		run: map[string]*design.Run{}, cores: map[string]unit.Length{}, packer: newPacker(), pieces: map[Piece]*Piece{}}
	if f.geo == nil {
		f.geo = &space.Geometry{}
	}
	for _, w := range job.Parts.Wires {
		if f.wire[w.Name] == nil {
			f.wire[w.Name] = w
		}
	}
	for _, c := range job.Cables {
		f.cable[c.Name] = c
	}
	for _, r := range job.Runs {
		f.run[r.Name] = r
	}
	for i := range nt.Wires {
		if w := &nt.Wires[i]; w.Cable != "" && w.Kind != net.Screen {
			if d := f.outside(i); usable(d) {
				f.cores[w.Cable] = max(f.cores[w.Cable], d)
			}
		}
	}
	return f
}

// between is the node at which two edges meet, -1 if they do not; of two that both join, the lower.
func (f *finder) between(k [2]int) int {
	a, b := &f.geo.Edges[k[0]], &f.geo.Edges[k[1]]
	node := -1
	for _, n := range []int{a.From, a.To} {
		if (n == b.From || n == b.To) && (node < 0 || n < node) {
			node = n
		}
	}
	return node
}

// usable is false for what is no diameter: none, not finite, or more than a kilometre.
func usable(d unit.Length) bool { return d > 0 && d < 1e6 }

func (f *finder) outside(wire int) unit.Length {
	if wire < len(f.sizes) {
		return f.sizes[wire].Outside
	}
	return 0
}

// bought is the part of a wire that is a core, or the screen, of a bought cable; nil for any other.
func (f *finder) bought(w *net.Wire) *design.Wire {
	c := f.cable[w.Cable]
	if w.Cable == "" || c == nil || c.Wire == "" {
		return nil
	}
	if part := f.wire[c.Wire]; part != nil && (len(part.Cores) > 0 || part.Screen != nil) {
		return part
	}
	return nil
}

// group is the wires of one cable in an edge.
type group struct {
	cores  []int
	screen int // -1: none
}

// makeUp is what lies together, and the circles to be packed for the least it can be, thickest first. A bought cable counts once; cores under
// a screen made on the bench are as thick as the trade's figure and the setting sleeve-wall, but no thicker than themselves for the least.
func (f *finder) makeUp(wires []int, at design.Scope) (m MakeUp, circles []unit.Length) {
	groups := map[string]*group{}
	for _, i := range wires {
		w := &f.net.Wires[i]
		if w.Cable == "" {
			continue
		}
		g := groups[w.Cable]
		if g == nil {
			g = &group{screen: -1}
			groups[w.Cable] = g
		}
		if w.Kind == net.Screen {
			g.screen = i
		} else {
			g.cores = append(g.cores, i)
		}
	}
	done := map[string]bool{}
	add := func(p Piece, least ...unit.Length) {
		if !usable(p.Outside) {
			m.Unknown = true
			return
		}
		one := f.pieces[p]
		if one == nil {
			one = &p
			f.pieces[p] = one
		}
		m.Pieces, circles = append(m.Pieces, one), append(circles, least...)
	}
	for _, i := range wires {
		w := &f.net.Wires[i]
		if w.Kind != net.Screen {
			m.Wires++
		}
		g, part := groups[w.Cable], f.bought(w)
		switch {
		case w.Cable != "" && len(g.cores) == 0: // a screen that goes on without its cores
			p := Piece{Wire: i, Cable: w.Cable, Screened: true, Lead: true, Outside: f.cores[w.Cable]}
			if part != nil {
				p.Outside = part.Outside
			}
			add(p)
		case part != nil || w.Cable != "" && g.screen >= 0:
			if done[w.Cable] {
				continue
			}
			done[w.Cable] = true
			p, own := f.whole(w.Cable, g, part, at)
			add(p, own...)
		default:
			p := Piece{Wire: i, Outside: f.sleeved(i, f.outside(i), at)}
			if part := f.wire[w.Family]; part != nil && w.Kind != net.Screen {
				p.Bend = f.stated(part)
			}
			add(p, p.Outside)
		}
	}
	slices.SortStableFunc(m.Pieces, func(a, b *Piece) int { return cmp.Compare(b.Outside, a.Outside) })
	if m.Unknown {
		return m, nil
	}
	var ds []unit.Length
	for _, p := range m.Pieces {
		ds = append(ds, p.Outside)
	}
	m.Most = trade(ds)
	slices.SortFunc(circles, func(a, b unit.Length) int { return cmp.Compare(b, a) })
	return m, circles
}

// whole is a cable as one piece, and the circles that it is at the least.
func (f *finder) whole(name string, g *group, part *design.Wire, at design.Scope) (p Piece, least []unit.Length) {
	first := g.cores[0]
	p = Piece{Wire: first, Cable: name, Screened: g.screen >= 0}
	if part != nil {
		p.Screened, p.Bend, p.Outside = part.Screen != nil, f.stated(part), f.sleeved(first, part.Outside, at)
		return p, []unit.Length{p.Outside}
	}
	for _, i := range g.cores {
		d := f.sleeved(i, f.outside(i), at)
		if !usable(d) {
			return p, nil
		}
		if part := f.wire[f.net.Wires[i].Family]; part != nil {
			p.Bend = max(p.Bend, f.stated(part))
		}
		least = append(least, d)
	}
	p.Outside = trade(least) + 2*f.length("sleeve-wall", at)
	return p, least
}

func (f *finder) stated(part *design.Wire) unit.Length {
	if !usable(part.Bend) {
		return 0
	}
	return part.Bend
}

// sleeved is the outside of a wire with its own sleeve.
func (f *finder) sleeved(wire int, d unit.Length, at design.Scope) unit.Length {
	w := &f.net.Wires[wire]
	if w.Sleeve == "" || !usable(d) {
		return d
	}
	at.Circuit, at.Class = w.Circuit, w.Class
	return d + 2*f.length("sleeve-wall", at)
}

// sleeve of the run of an edge, and its wall.
func (f *finder) sleeve(edge int) (string, unit.Length) {
	if r := f.run[f.geo.Edges[edge].Run]; r != nil && r.Sleeve != "" {
		return r.Sleeve, f.length("sleeve-wall", f.scope(edge))
	}
	return "", 0
}

// length is a setting of that dimension; not set, negative or not finite is 0.
func (f *finder) length(name string, at design.Scope) unit.Length {
	x := unit.Length(f.job.Settings.Get(name, at).Value.Quantity.Value)
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

func (f *finder) scope(edge int) design.Scope {
	e := &f.geo.Edges[edge]
	s := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}
	if r := f.run[e.Run]; r != nil {
		s.Panel = r.Panel
	}
	return s
}
