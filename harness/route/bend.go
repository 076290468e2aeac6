package route

import (
	"fmt"
	"math"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// noTurn is how far a way may turn at a node and still go straight on: less is not seen in a laid bundle, and no radius can be measured.
const noTurn unit.Angle = 5

// corner is a turn of some wires at a node, as the straight pieces beside it show it.
type corner struct {
	*bundle.Turn
	turn   unit.Angle
	tan    float64     // of half of it: the arc takes radius x tan of the piece on either side
	radius unit.Length // of the centre line: as laid, or as asked where it is passed through
	stated bool        // a person said that radius
	sides  [2]side     // beside Edges
}

// side is the straight piece of the way beside a corner.
type side struct {
	length unit.Length
	far    int // node at its other end
	last   int // edge there
}

// bends judges every turn by more than noTurn. Radii are those of the inner side, centre line less half the bundle: there the wires are bent
// tightest, and a limit that holds there holds for the whole bundle. Wires that end at a node do not bend there.
func (f *finder) bends() []Bend {
	turns := f.bundles.Turns()
	corners := make([]*corner, len(turns))
	for i := range turns {
		corners[i] = f.corner(&turns[i])
	}
	var out []Bend
	for i, c := range corners {
		if c == nil {
			continue
		}
		m := &turns[i].MakeUp
		_, most := m.Over()
		if c.turn <= noTurn || m.Unknown || most <= 0 {
			continue
		}
		room := unit.Length(math.Inf(1))
		for k := range c.sides {
			room = min(room, f.room(c, k, corners))
		}
		fits := room / unit.Length(c.tan)
		e, g := &f.geo.Edges[c.Edges[0]], &f.geo.Edges[c.Edges[1]]
		b := Bend{Run: e.Run, Onto: g.Run, Place: f.geo.Text(c.Node), Stretch: e.Stretch, After: e.Station,
			Edges: c.Edges, Turn: c.turn, Inside: inner(min(c.radius, fits), most), Fits: inner(fits, most), Wire: -1, Flexes: e.Moves > 0 || g.Moves > 0, Span: e.Span}
		if way := f.geo.EdgeWay(c.Edges[0]); c.Node == e.To {
			b.After = e.Station + e.Length
			b.At, _ = way.At(way.Length())
		} else {
			b.At, _ = way.At(0)
		}
		f.need(&b, m, f.scope(e))
		if g.Run != e.Run {
			f.need(&b, m, f.scope(g))
		}
		b.Stated = c.stated
		if !c.stated { // nobody said a radius: it is laid as it needs, where there is room
			b.Inside = max(b.Inside, min(b.Needed, b.Fits))
		}
		if b.Inside < b.Needed {
			for _, p := range m.Pieces {
				b.turned = append(b.turned, p.Wire)
			}
		}
		out = append(out, b)
	}
	inOrder(f, out, func(b *Bend) (string, int, unit.Length) { return b.Run, b.Stretch, b.After })
	return out
}

// inner is the radius of the inner side of a bundle.
func inner(radius, outside unit.Length) unit.Length { return max(0, radius-outside/2) }

// corner is nil where coordinates are missing.
func (f *finder) corner(t *bundle.Turn) *corner {
	if t.Node < 0 {
		return nil
	}
	a, okA := f.away(t.Edges[0], t.Node)
	b, okB := f.away(t.Edges[1], t.Node)
	if !okA || !okB {
		return nil
	}
	between, ok := solid.Angle(a, b)
	if !ok {
		return nil
	}
	c := &corner{Turn: t, turn: 180 - between}
	c.tan = math.Tan(float64(c.turn) * math.Pi / 360)
	if !(c.tan > 0) {
		c.turn, c.tan = 0, 0
	}
	e, g := &f.geo.Edges[t.Edges[0]], &f.geo.Edges[t.Edges[1]]
	for k := range c.sides {
		c.sides[k] = f.straight(t.Edges[k], t.Node)
	}
	c.radius, c.stated = f.asked(t.Edges[0], t.Edges[1])
	if e.Run == g.Run && e.Stretch == g.Stretch {
		if laid := f.arc[bendKey{stretchKey{e.Run, e.Stretch}, t.Node}]; laid != nil {
			c.radius = laid.Radius
		}
	}
	return c
}

// asked is the radius of the centre line where wires go from one edge into another: what the runs state, the smaller of two, else bend-radius;
// stated tells that a person said so, on a run or by setting bend-radius.
func (f *finder) asked(e, g int) (radius unit.Length, stated bool) {
	r := unit.Length(-1)
	for _, x := range []int{e, g} {
		if run := f.run[f.geo.Edges[x].Run]; run != nil && run.Bend.Given && unit.Finite(run.Bend.Nominal) && run.Bend.Nominal >= 0 {
			if r < 0 || run.Bend.Nominal < r {
				r = run.Bend.Nominal
			}
		}
	}
	if r >= 0 {
		return r, true
	}
	at, to := f.scope(&f.geo.Edges[e]), f.scope(&f.geo.Edges[g])
	return min(f.length("bend-radius", at), f.length("bend-radius", to)), f.rulings.Get("bend-radius", at).Set || f.rulings.Get("bend-radius", to).Set
}

// straight follows an edge away from a node as far as its stretch goes straight on: a splice on the way is no corner.
func (f *finder) straight(edge, node int) side {
	s := side{far: node, last: edge}
	first, _ := f.away(edge, node)
	for next := edge; next >= 0; {
		e := &f.geo.Edges[next]
		to := e.Other(s.far)
		a, okA := f.node(s.far)
		b, okB := f.node(to)
		if !okA || !okB {
			return s
		}
		s.length += solid.Between(a, b)
		forward := e.From == s.far
		s.far, s.last = to, next
		next = f.beside(next, forward)
		if next < 0 {
			break
		}
		d, ok := f.away(next, s.far)
		if by, known := solid.Angle(first, d); !ok || !known || by > 1e-3 {
			break
		}
	}
	return s
}

// beside is the edge after or before one on its stretch, -1 at its end.
func (f *finder) beside(edge int, after bool) int {
	i, e := edge-1, &f.geo.Edges[edge]
	if after {
		i = edge + 1
	}
	if i < 0 || i >= len(f.geo.Edges) {
		return -1
	}
	g := &f.geo.Edges[i]
	if g.Run != e.Run || g.Stretch != e.Stretch || after && g.From != e.To || !after && g.To != e.From {
		return -1
	}
	return i
}

// room is how much of the straight piece on one side of a corner its arc may take: all but what the bends at the other end take, and half of it
// in any case.
func (f *finder) room(c *corner, k int, all []*corner) unit.Length {
	s := &c.sides[k]
	taken := unit.Length(0)
	for _, i := range f.turnsAt[s.far] {
		o := all[i]
		if o == nil || o == c || o.turn <= noTurn || o.Edges[0] != s.last && o.Edges[1] != s.last {
			continue
		}
		taken = max(taken, o.radius*unit.Length(o.tan))
	}
	return s.length - min(taken, s.length/2)
}

// need sets what a bend needs where the rules in a scope ask for more than it has.
func (f *finder) need(b *Bend, m *bundle.MakeUp, at design.Scope) {
	_, most := m.Over()
	ask := func(needed unit.Length, wire int, setting, source, rule string) {
		if needed > b.Needed && unit.Finite(needed) {
			b.Needed, b.Wire, b.Setting, b.Source, b.Rule = needed, wire, setting, source, rule
		}
	}
	times := func(setting string, at design.Scope, d unit.Length, wire int, what string) {
		x := f.number(setting, at)
		ask(d*unit.Length(x), wire, setting, f.rulings.Get(setting, at).Source(), fmt.Sprintf("%s times %s, %s", unit.Number(x, 3), what, d))
	}
	if b.Flexes {
		times("bend-flexing", at, most, -1, "the bundle that moves")
	} else {
		times("bend-bundle", at, most, -1, "the bundle")
	}
	thickest := true
	for _, p := range m.Pieces {
		w := &f.net.Wires[p.Wire]
		own := at
		own.Circuit, own.Class = w.Circuit, w.Class
		switch {
		case p.Lead:
			continue
		case p.Bend > 0:
			ask(p.Bend, p.Wire, "", f.partSource(p.Wire), "stated for "+f.what(p))
		case p.Cable != "":
			times("bend-cable", own, p.Outside, p.Wire, "cable "+p.Cable)
		}
		if p.Cable == "" && thickest { // pieces come thickest first
			thickest = false
			times("bend-wire", own, p.Outside, p.Wire, "the thickest wire")
		}
	}
}

func (f *finder) what(p *bundle.Piece) string {
	if p.Cable != "" {
		return "cable " + p.Cable
	}
	return "wire " + f.net.Wires[p.Wire].Family
}

// partSource is where the part of a wire says its least radius from.
func (f *finder) partSource(wire int) string {
	part := f.wire[f.net.Wires[wire].Family]
	if part == nil {
		return "the part"
	}
	if part.Source != "" {
		return "part " + part.Name + ", " + part.Source
	}
	return "part " + part.Name
}
