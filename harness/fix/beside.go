package fix

import (
	"cmp"
	"math"

	"loomsheet/harness/clip"
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"slices"
)

// leastBeside is how far two chains must go on side by side to count, in millimetres: shorter is a crossing.
const leastBeside = 10

// sides finds where two chains of one section lie side by side on one panel, so that two clips face to face can share a hole. What comes
// away shares none with what stays.
func (m *maker) sides() (out []clip.Side) {
	// By where they begin across, so that what is far off is not looked at; what lies on no panel faces nothing.
	var by []int
	lies := make([][]onPanel, len(m.chains))
	for i, c := range m.chains {
		if lies[i] = m.panelsOf(c); !c.moves && c.box.some && len(lies[i]) > 0 {
			by = append(by, i)
		}
	}
	slices.SortStableFunc(by, func(i, j int) int { return cmp.Compare(m.chains[i].box.lo[0], m.chains[j].box.lo[0]) })
	var pairs [][2]int
	for n, i := range by {
		a := m.chains[i]
		for _, j := range by[n+1:] {
			if m.chains[j].box.lo[0] > a.box.hi[0]+float64(m.besideMost) {
				break
			}
			if i, j := min(i, j), max(i, j); m.chains[i].box.meets(&m.chains[j].box, m.besideMost) && meet(lies[i], lies[j]) {
				pairs = append(pairs, [2]int{i, j})
			}
		}
	}
	slices.SortFunc(pairs, func(a, b [2]int) int { return cmp.Or(a[0]-b[0], a[1]-b[1]) })
	found := make([][]clip.Side, len(pairs))
	m.halves(len(pairs), func(m *maker, k int) { found[k] = m.besides(pairs[k][0], pairs[k][1]) })
	return slices.Concat(found...)
}

// onPanel is a panel and a section of which some edge of a chain is clipped to it: two places face one another only where both are the same.
type onPanel struct{ panel, section string }

// panelsOf lists them, none twice.
func (m *maker) panelsOf(c *chain) (out []onPanel) {
	for _, p := range c.parts {
		e := &m.geo.Edges[p.edge]
		if on := (onPanel{m.panelOf(e), e.Section}); on.panel != "" && !slices.Contains(out, on) {
			out = append(out, on)
		}
	}
	return out
}

func meet(a, b []onPanel) bool {
	return slices.ContainsFunc(a, func(on onPanel) bool { return slices.Contains(b, on) })
}

// halves does n tasks on both processors, each with a maker that remembers for itself which side it was last asked for: a task may read what is there and write what is only its own.
func (m *maker) halves(n int, do func(m *maker, k int)) {
	solve.Each(2, func(half int) {
		own := *m
		for k := half; k < n; k += 2 {
			do(&own, k)
		}
	})
}

// besides is the pieces of chain i that lie beside chain j, each as long as their places keep step and a hole can be between them.
func (m *maker) besides(i, j int) (out []clip.Side) {
	a, b := m.chains[i], m.chains[j]
	var row []clip.Side
	length := 0
	at := look(a, b)
	for p := range at.spots {
		q, back, ok := m.facing(&at, p)
		if !ok {
			if length >= leastBeside {
				out = append(out, row...)
			}
			row, length = nil, 0
			continue
		}
		length++
		if !m.sharable(a, b, p, q) {
			continue
		}
		if n := len(row) - 1; n >= 0 && row[n].Back == back && p == row[n].A+row[n].Length+1 {
			step := p - row[n].A
			if !back && q == row[n].B+step || back && q == row[n].B-step {
				row[n].Length = step
				continue
			}
		}
		row = append(row, clip.Side{TrackA: i, TrackB: j, A: p, B: q, Back: back})
	}
	if length >= leastBeside {
		out = append(out, row...)
	}
	return out
}

// sharable tells whether one hole can hold both clips: one that is there, or a new one half way between them.
func (m *maker) sharable(a, b *chain, p, q int) bool {
	if a.seatAt(p) || b.seatAt(q) {
		return true
	}
	e := &m.geo.Edges[a.parts[a.partAt(a.real(p))].edge]
	mid := halfWay(a.spots()[p].at, b.spots()[q].at)
	return m.shutAt(m.under(e, mid), mid, wide(m.fastener[m.choose(e, nil, nil, 0, mid).fastener]), false) == ""
}

// looking is what is known while the places of a chain are looked at, one after the other, for what faces them on another.
type looking struct {
	a, b   *chain
	spots  []spot // of a
	part   int    // of the place before, -1
	edge   *space.Edge
	panel  string
	beside unit.Length // clip-beside
	wide   float64     // clip-parallel
	last   int         // what was nearest to a place before: a good guess; -1
	alone  round       // where the other chain is too far off
}

// look begins at the first place of chain a.
func look(a, b *chain) looking { return looking{a: a, b: b, spots: a.spots(), part: -1, last: -1} }

// facing is the place of chain b that faces place p of chain a, and whether b runs the other way there.
func (m *maker) facing(l *looking, p int) (q int, back, ok bool) {
	a, b, at := l.a, l.b, &l.spots[p]
	if !at.known || !b.box.near(at.at, m.besideMost) {
		return -1, false, false
	}
	if k := a.partAt(a.real(p)); k != l.part {
		l.part, l.edge, l.alone = k, &m.geo.Edges[a.parts[k].edge], round{}
		s := m.edgeScope(l.edge)
		l.panel, l.beside, l.wide = m.panelOf(l.edge), m.length("clip-beside", s), m.job.Settings.Get("clip-parallel", s).Value.Quantity.Value
	}
	if l.panel == "" || l.beside <= 0 || !b.box.near(at.at, l.beside) || l.alone.holds(at.at) {
		return -1, false, false
	}
	q, best := b.nearestTo(at.at, l.last)
	l.last = q
	if best > l.beside+tiny {
		l.alone = round{at.at, best - l.beside - hair}
		return q, false, false
	}
	if q <= 0 || q >= len(b.spots())-1 {
		return q, false, false
	}
	f := &m.geo.Edges[b.parts[b.partAt(b.real(q))].edge]
	if m.panelOf(f) != l.panel || f.Section != l.edge.Section {
		return q, false, false
	}
	u, okU := a.heading(p)
	v, okV := b.heading(q)
	between, okT := solid.Angle(u, v)
	turn := float64(between)
	if !okU || !okV || !okT || turn > l.wide && turn < 180-l.wide {
		return q, false, false
	}
	return q, turn > 90, true
}

// nearestTo is the place of a chain nearest to a point, of equals the first, and how far off it is; -1 where none is known. What is guessed makes it quicker.
func (c *chain) nearestTo(at design.Point3, guess int) (q int, best unit.Length) {
	spots := c.spots()
	q = -1
	most := math.Inf(1) // the nearest is no further off than what is guessed
	if guess >= 0 && guess < len(spots) && spots[guess].known {
		most = float64(space.Between(at, spots[guess].at) + tiny)
	}
	const slip = 1e-9              // more than floating point leaves open between a square and the distance itself
	within := most*(1+slip) + tiny // what is further off is not the nearest
	for i := 0; i < len(spots); {
		if !spots[i].known {
			i++
			continue
		}
		v := solid.Minus(at, spots[i].at)
		far := math.Sqrt(float64(v.X)*float64(v.X) + float64(v.Y)*float64(v.Y) + float64(v.Z)*float64(v.Z))
		if !(far > within) {
			if d := space.Between(at, spots[i].at); q < 0 || d < best {
				q, best = i, d
				within = float64(best)*(1+slip) + tiny
				most = min(most, float64(best))
			}
		}
		// The places lie a millimetre apart, or less: none of the next ones is nearer than that.
		i += max(1, int(min(far*(1-slip)-most, 1e6)*c.dense))
	}
	return q, best
}

// heading is the direction of a chain at a place.
func (c *chain) heading(p int) (solid.Vector, bool) {
	spots := c.spots()
	i, j := max(0, p-1), min(len(spots)-1, p+1)
	if i == j || !spots[i].known || !spots[j].known {
		return solid.Vector{}, false
	}
	return solid.Minus(spots[j].at, spots[i].at), true
}

// panelOf is the panel that an edge is clipped to; a tube is none.
func (m *maker) panelOf(e *space.Edge) string {
	if r := m.run[e.Run]; r != nil && r.Tube == "" {
		return r.Panel
	}
	return ""
}

func (c *chain) seatAt(p int) bool {
	return slices.ContainsFunc(c.seats, func(s seat) bool { return s.at == p })
}

func halfWay(a, b design.Point3) design.Point3 {
	return design.Point3{X: (a.X + b.X) / 2, Y: (a.Y + b.Y) / 2, Z: (a.Z + b.Z) / 2}
}
