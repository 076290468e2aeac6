package fix

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// runs lists every stretch with its clips. Clips are named run-1, run-2 ... along the run; fixed ones keep their names, and a computed
// one never takes the name of a fixed one or of a hole.
func (m *maker) runs() []RunPlan {
	fixed := m.fixings()
	taken := map[string]bool{}
	for _, f := range m.job.Fixings {
		taken[f.Name] = true
	}
	for _, h := range m.job.Holes {
		taken[h.Name] = true
	}
	var out []RunPlan
	for _, r := range m.job.Runs {
		next := 1
		for i := range r.Stretches {
			es := m.geo.Stretch(r.Name, i)
			if len(es) == 0 {
				continue
			}
			rp := m.runPlan(r, i, es)
			for _, c := range m.clips(r, i, es, fixed) {
				if c.Why != "fixed" {
					for taken[mark(r.Name, next)] {
						next++
					}
					c.Mark = mark(r.Name, next)
					taken[c.Mark] = true
					next++
				} else if n, ok := ordinal(r.Name, c.Mark); ok && n >= next {
					next = n + 1
				}
				rp.Clips = append(rp.Clips, c)
			}
			out = append(out, rp)
		}
	}
	return out
}

func mark(run string, n int) string { return run + "-" + strconv.Itoa(n) }

// ordinal is the number in a mark of that run.
func ordinal(run, name string) (int, bool) {
	rest, ok := strings.CutPrefix(name, run+"-")
	n, err := strconv.Atoi(rest)
	return n, ok && err == nil && n > 0 && n < math.MaxInt32
}

func (m *maker) runPlan(r *design.Run, i int, es []int) RunPlan {
	first := &m.geo.Edges[es[0]]
	s := m.edgeScope(first)
	ruling := m.job.Settings.Get("clip-span", s)
	rp := RunPlan{Run: r.Name, Stretch: i, Section: first.Section, Zone: first.Zone, Panel: r.Panel, LengthStatus: first.Status,
		SpanLimit: m.length("clip-span", s), SpanSource: ruling.Source()}
	for _, e := range es {
		ed := &m.geo.Edges[e]
		if known(ed) {
			rp.Length += ed.Length
		}
		rp.Outside, rp.Wires = max(rp.Outside, m.sleeved(e)), max(rp.Wires, m.bundles.Edges[e].Wires)
		if len(rp.Nodes) == 0 {
			rp.Nodes = append(rp.Nodes, m.station(ed.From, ed.Station))
		}
		rp.Nodes = append(rp.Nodes, m.station(ed.To, ed.Station+ed.Length))
	}
	var notes []string
	if l, ok := m.geo.StretchLength(r.Name, i); !ok || !unit.Finite(l) {
		rp.Length = 0
		notes = append(notes, "length not known: no clips")
	}
	if rp.Wires == 0 {
		notes = append(notes, "no wire lies here: no clips")
	}
	if first.Moves > 0 {
		notes = append(notes, "one end moves "+first.Moves.String()+" in use: see that no clip ties it")
	}
	if rp.Wires > 0 {
		rp.Sleeves = m.sleeves(r, i)
	}
	rp.Note = strings.Join(notes, "; ")
	return rp
}

func (m *maker) station(node int, after unit.Length) Station {
	n := m.geo.Nodes[node]
	return Station{After: after, At: n.At, Known: n.Known, What: m.geo.Text(node)}
}

// seat is a fixed clip on its stretch.
type seat struct {
	*design.Fixing
	after unit.Length
	known bool // it lies on the run
}

type stretchKey struct {
	run     string
	stretch int
}

// fixings finds the stretch of every fixed clip. One beyond its run's end stays listed, with the first stretch, at an unknown place.
func (m *maker) fixings() map[stretchKey][]seat {
	out := map[stretchKey][]seat{}
	for _, f := range m.job.Fixings {
		k, s := stretchKey{run: f.Run}, seat{f, f.After, false}
		if st, after, ok := m.geo.Along(f.Run, f.After); ok {
			k.stretch, s.after, s.known = st, after, true
		}
		out[k] = append(out[k], s)
	}
	return out
}

// clips places the clips of one stretch. Only the parts in which wires lie are held.
func (m *maker) clips(r *design.Run, stretch int, es []int, fixed map[stretchKey][]seat) []Clip {
	seats := fixed[stretchKey{r.Name, stretch}]
	var out []Clip
	done := make([]bool, len(seats))
	add := func(s spot) {
		c := Clip{After: s.after, Why: s.why}
		if s.fixed >= 0 {
			done[s.fixed] = true
			c.Mark, c.Status, c.Hole = seats[s.fixed].Name, seats[s.fixed].Status(), seats[s.fixed].Hole
		}
		out = append(out, m.dress(c, r, stretch, es, s.fixed, seats))
	}
	if _, ok := m.geo.StretchLength(r.Name, stretch); ok {
		var at []unit.Length
		for _, s := range seats {
			if !s.known {
				s.after = unit.Length(math.Inf(-1))
			}
			at = append(at, s.after)
		}
		for _, part := range m.bundles.Laden(es) {
			for _, s := range m.spots(part, at) {
				if s.fixed < 0 || !done[s.fixed] {
					add(s)
				}
			}
		}
	}
	for i, s := range seats {
		if !done[i] {
			add(spot{s.after, "fixed", i})
		}
	}
	slices.SortStableFunc(out, func(a, b Clip) int { return cmp.Compare(a.After, b.After) })
	return out
}

// spots places the clips of a part of a stretch.
func (m *maker) spots(part []int, fixed []unit.Length) []spot {
	first, last := &m.geo.Edges[part[0]], &m.geo.Edges[part[len(part)-1]]
	a, b := first.Station, last.Station+last.Length
	s := m.edgeScope(first)
	span, reach := m.length("clip-span", s), m.length("clip-end", s)
	bend := m.job.Settings.Get("clip-bend", s).Value.Quantity.Value
	heldA, heldB := m.held(first.From, part), m.held(last.To, part)
	if b <= a {
		return nil
	}
	if heldA && heldB && b-a <= m.length("clip-short", s) {
		return place(a, b, 0, nil, fixed)
	}
	end := func(at unit.Length, held bool, side int, other bool) hold {
		if held {
			return hold{at: at, reach: reach, why: "end", side: side, lone: !other}
		}
		return hold{at: at, reach: span / 2, why: "span", side: side}
	}
	// A short tail is held at its connector; the clips on what it leaves hold its root.
	if b-a <= reach+min(m.length("clip-short", s), span/2) {
		heldA, heldB = heldA && !m.rooted(first.From, last.To, part, b-a), heldB && !m.rooted(last.To, first.From, part, b-a)
	}
	holds := []hold{end(a, heldA, 1, heldB), end(b, heldB, -1, heldA)}
	for i := range part[1:] {
		e, f := &m.geo.Edges[part[i]], &m.geo.Edges[part[i+1]]
		if m.held(e.To, part) {
			side := 1 // one clip may serve the next breakout too; but what is heavy is held before it thins out
			if m.sleeved(part[i]) > 1.25*m.sleeved(part[i+1]) {
				side = -1
			}
			holds = append(holds, hold{at: f.Station, reach: reach, why: "breakout", side: side})
		} else if t, ok := m.turn(e, f); ok && t >= bend-1e-9 {
			holds = append(holds, hold{at: f.Station, reach: reach / 2, why: "bend"})
		}
	}
	return place(a, b, span, holds, fixed)
}

// rooted tells whether a part is a tail that leaves something longer at its root and ends in a connector at its tip.
func (m *maker) rooted(root, tip int, part []int, length unit.Length) bool {
	if m.ends[root] || !m.ends[tip] {
		return false
	}
	longer := false
	for _, e := range m.atNode[root] {
		if ed := &m.geo.Edges[e]; len(m.bundles.On(e)) > 0 && !slices.Contains(part, e) {
			l, ok := m.geo.StretchLength(ed.Run, ed.Stretch)
			longer = longer || ok && l > length
		}
	}
	return longer
}

// held tells whether a node wants a clip near it: wires end there at a device or a break, or a branch with wires leaves there. A
// node at which the harness merely goes on in another run wants one only where it turns.
func (m *maker) held(node int, part []int) bool {
	if m.ends[node] {
		return true
	}
	var others, own []int
	for _, e := range m.atNode[node] {
		switch {
		case slices.Contains(part, e):
			own = append(own, e)
		case len(m.bundles.On(e)) > 0:
			others = append(others, e)
		}
	}
	if len(own) != 1 {
		return len(others) > 0
	}
	if len(others) != 1 {
		return true
	}
	e, f := &m.geo.Edges[own[0]], &m.geo.Edges[others[0]]
	t, ok := m.turn(e, f)
	return ok && t >= m.job.Settings.Get("clip-bend", m.edgeScope(e)).Value.Quantity.Value-1e-9
}

// turn is the change of direction, in degrees, from one edge to another that meets it; ok is false where coordinates are missing.
func (m *maker) turn(e, f *space.Edge) (deg float64, ok bool) {
	mid := e.To
	if mid != f.From && mid != f.To {
		mid = e.From
	}
	p, q, r := m.geo.Nodes[e.Other(mid)], m.geo.Nodes[mid], m.geo.Nodes[f.Other(mid)]
	if !p.Known || !q.Known || !r.Known {
		return 0, false
	}
	ux, uy, uz := diff(p.At, q.At)
	vx, vy, vz := diff(q.At, r.At)
	dot := float64(ux*vx) + float64(uy*vy) + float64(uz*vz)
	cx, cy, cz := float64(uy*vz)-float64(uz*vy), float64(uz*vx)-float64(ux*vz), float64(ux*vy)-float64(uy*vx)
	cross := math.Hypot(math.Hypot(cx, cy), cz)
	if cross == 0 && dot == 0 || !unit.Finite(cross) || !unit.Finite(dot) {
		return 0, false
	}
	return math.Atan2(cross, dot) * 180 / math.Pi, true
}

func diff(a, b design.Point3) (x, y, z float64) {
	return float64(b.X - a.X), float64(b.Y - a.Y), float64(b.Z - a.Z)
}

// dress gives a clip its coordinates, part, size and fastener.
func (m *maker) dress(c Clip, r *design.Run, stretch int, es []int, n int, seats []seat) Clip {
	s := m.edgeScope(&m.geo.Edges[es[0]])
	c.Panel, c.Part, c.Fastener = r.Panel, r.Clip, r.Fastener
	onRun := true
	if n >= 0 {
		f := seats[n]
		onRun = f.known
		c.Part, c.Fastener = or(f.Clip, c.Part), or(f.Fastener, c.Fastener)
		c.Panel = or(f.Panel, c.Panel)
		s.Panel = c.Panel
	}
	if h := m.hole(c.Hole); h != nil {
		c.Fastener = or(h.Fastener, c.Fastener)
		c.Drill, c.Panel = h.Drill, or(h.Panel, c.Panel)
	}
	c.Part = or(c.Part, m.job.Settings.Get("clip", s).Value.Name)
	part := m.clip[c.Part]
	if ruling := m.job.Settings.Get("fastener", s); c.Fastener == "" {
		if part != nil && !ruling.Set {
			c.Fastener = part.Fastener
		}
		c.Fastener = or(c.Fastener, ruling.Value.Name)
	}
	if f := m.fastener[c.Fastener]; f != nil && c.Drill == 0 {
		c.Drill = f.Drill
	}
	if onRun {
		c.At, c.Known = m.geo.Position(r.Name, stretch, c.After)
		c.Bundle = m.bundleAt(es, c.After)
	}
	if part != nil && c.Bundle > 0 {
		for _, h := range part.Holds {
			if h >= c.Bundle && (c.ClipSize == 0 || h < c.ClipSize) {
				c.ClipSize = h
			}
		}
	}
	return c
}

// bundleAt is the bundle's outside at a station; where two pieces meet the larger one.
func (m *maker) bundleAt(es []int, after unit.Length) unit.Length {
	var out unit.Length
	for _, e := range es {
		ed := &m.geo.Edges[e]
		if ed.Station-1e-6 <= after && after <= ed.Station+ed.Length+1e-6 {
			out = max(out, m.sleeved(e))
		}
	}
	return out
}

func (m *maker) hole(name string) *design.Hole {
	for _, h := range m.job.Holes {
		if name != "" && h.Name == name {
			return h
		}
	}
	return nil
}

// or is a, or b where a is empty.
func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
