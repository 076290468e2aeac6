package resolve

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
)

// aboveZero reports lengths that are stated as nothing although there must be something.
func (b *builder) aboveZero(s *sense.Stmt, option, what string) {
	o := s.Find(option)
	if o == nil {
		return
	}
	for _, v := range o.Values {
		if q, ok := quantity(v); ok && q.Value == 0 {
			b.zero(s, v, what)
		}
	}
}

// mirrorAlone reports a mirror with nothing to be like.
func (b *builder) mirrorAlone(t *thing) {
	if o := t.st.Find("mirror"); o != nil && t.st.Missing("like") {
		b.mistake(t.st, o.Span, "option-missing", fmt.Sprintf("`%s %s` says `mirror`, but not what it is like", t.kind, t.name), fmt.Sprintf("Name the %s of the other hand: `like %s-right mirror y`.", t.kind, t.kind))
	}
}

func (b *builder) panel(t *thing) {
	b.mirrorAlone(t)
	s := b.merged[t]
	p := &design.Panel{Name: t.name, Common: own(t.st), Corners: points3(s, "corners"), Points: points3(s, "points"), Thickness: length(s, "thickness"),
		Skin: s.Text("skin"), KeepOuts: keepOuts(s)}
	b.outline(t.st, "corners", "panel "+t.name)
	if o, q := s.Find("points"), s.Find("corners"); o != nil && q != nil {
		b.mistake(s, o.Span, "place-twice", fmt.Sprintf("panel %s has two shapes", t.name), "Write `corners` if it is flat, `points` if it is not.").Point(q.Span, "the other shape")
		p.Points = nil
	}
	if o := s.Find("zone"); o != nil {
		for _, v := range o.Values {
			if z := b.find(s, v, "zone"); z != nil {
				p.Zones = append(p.Zones, z.name)
			}
		}
	}
	if o := s.Find("seen"); o != nil {
		for _, v := range o.Values {
			z := b.find(s, v, "zone")
			if z == nil {
				continue
			}
			if len(p.Zones) == 2 && !slices.Contains(p.Zones, z.name) {
				b.mistake(s, v.Span, "seen-elsewhere", fmt.Sprintf("panel %s has no side in zone %s", t.name, z.name), fmt.Sprintf("Its sides are in %s.", join(p.Zones, "and")))
				continue
			}
			p.Seen = append(p.Seen, z.name)
		}
	}
	b.job.Panels = append(b.job.Panels, p)
}

// keepOuts are the areas of a panel in which nothing may be drilled, in an order of their own.
func keepOuts(s *sense.Stmt) [][]design.Point3 {
	var out [][]design.Point3
	for _, o := range s.All("keep-out") {
		if ps := pointsOf(o); len(ps) > 0 {
			out = append(out, ps)
		}
	}
	slices.SortStableFunc(out, func(x, y []design.Point3) int { return slices.CompareFunc(x, y, comparePoints) })
	return out
}

func comparePoints(p, q design.Point3) int {
	return cmp.Or(cmp.Compare(p.X, q.X), cmp.Compare(p.Y, q.Y), cmp.Compare(p.Z, q.Z))
}

func (b *builder) tube(t *thing) {
	b.mirrorAlone(t)
	s := b.merged[t]
	u := &design.Tube{Name: t.name, Common: own(t.st), Outside: length(s, "outside")}
	b.aboveZero(s, "outside", "an outside diameter")
	u.Nodes, _ = b.line(t, s)
	b.job.Tubes = append(b.job.Tubes, u)
}

// line is the places of a line, `from` first; whole tells whether all of them are known. A line without its other end is told.
func (b *builder) line(t *thing, s *sense.Stmt) (nodes []design.Spot, whole bool) {
	from, to := s.Find("from"), s.All("to")
	switch {
	case from == nil && len(to) > 0 && s.Missing("from"):
		b.mistake(t.st, to[0].Span, "option-missing", fmt.Sprintf("%s %s says `to` but not `from`", t.kind, t.name), "A line has two ends.")
	case from != nil && len(to) == 0 && s.Missing("to"):
		b.mistake(t.st, from.Span, "option-missing", fmt.Sprintf("%s %s says `from` but not `to`", t.kind, t.name), "A line has two ends.")
	}
	if from == nil || len(to) == 0 {
		return nil, false
	}
	whole = true
	for _, o := range append([]*sense.Opt{from}, to...) {
		sp := b.at(s, o.Values[0])
		if o.Flip != [3]bool{} && sp.Known {
			sp.At = flipped(sp.At, o.Flip)
			sp.Node = node(sp.At)
		}
		whole = whole && sp.Known
		if sp.Node != "" {
			nodes = append(nodes, sp)
		}
	}
	return nodes, whole
}

func (b *builder) hazard(t *thing) {
	b.mirrorAlone(t)
	s := b.merged[t]
	h := &design.Hazard{Name: t.name, Kind: s.Text("as"), Common: own(t.st), Outside: length(s, "outside"), Clearance: length(s, "clearance"), Sleeved: length(s, "sleeved")}
	if f, ok := b.lies(t, s); ok {
		h.Shapes = append(h.Shapes, f)
	}
	at := map[string]*sense.Stmt{}
	positions := 0
	for _, l := range s.Block {
		if l.Word.Name != "position" {
			continue
		}
		positions++
		if first := at[l.Name()]; first != nil {
			b.mistake(l, l.NameSpan(), "name-twice", fmt.Sprintf("hazard %s has position %q twice", t.name, l.Name()), "Give one of the two another name.").Point(first.NameSpan(), "first said here")
			continue
		}
		at[l.Name()] = l
		if f, ok := b.lies(t, l); ok {
			f.Position = l.Name()
			h.Shapes = append(h.Shapes, f)
		} else if l.Missing("between", "from", "to") {
			b.mistake(l, l.Span, "option-missing", fmt.Sprintf("this position of hazard %s does not say where it is", t.name), "Say `between` two corners of a box, or `from` and `to` of a line.")
		}
	}
	if positions == 0 && s.Missing("between", "from", "to") {
		b.mistake(t.st, t.st.NameSpan(), "option-missing", fmt.Sprintf("`hazard %s` does not say where it is", t.name), "Say `between` two corners of a box, or `from` and `to` of a line; of what moves write a line `position` for each of its positions.")
	}
	slices.SortStableFunc(h.Shapes, func(x, y design.Shape) int { return design.Natural(x.Position, y.Position) })
	if len(h.Shapes) > 0 {
		b.job.Hazards = append(b.job.Hazards, h)
	}
	if o := s.Find("outside"); o != nil && slices.ContainsFunc(h.Shapes, func(f design.Shape) bool { return f.Box }) && !slices.ContainsFunc(h.Shapes, func(f design.Shape) bool { return !f.Box }) {
		b.mistake(s, o.Span, "wrong-value", fmt.Sprintf("hazard %s is a box, which has no outside diameter", t.name), "`outside` is of what the line is the middle of.")
	}
	if h.Sleeved > h.Clearance && s.Find("clearance") != nil {
		b.mistake(s, s.Find("sleeved").Span, "least-above-most", fmt.Sprintf("hazard %s wants more room with a sleeve than without", t.name), "`sleeved` is the clearance that is enough with a heat sleeve on.")
	}
}

// lies is the box or the line that a hazard, or one of its positions, says; false if there is none that can be used.
func (b *builder) lies(t *thing, s *sense.Stmt) (design.Shape, bool) {
	line, between := s.Find("from"), s.Find("between")
	if line == nil {
		line = s.Find("to")
	}
	switch {
	case between != nil && line != nil:
		b.mistake(s, line.Span, "place-twice", fmt.Sprintf("hazard %s has two shapes", t.name), "Write either `between` two corners of a box, or `from` and `to` of a line.").Point(between.Span, "the other shape")
	case between != nil:
		ps := pointsOf(between)
		return design.Shape{Box: true, Points: ps, Span: between.Span}, len(ps) == 2
	case line != nil:
		nodes, whole := b.line(t, s)
		return design.Shape{Points: middles(nodes), Span: line.Span}, whole
	}
	return design.Shape{}, false
}

// middles is the coordinates of places.
func middles(nodes []design.Spot) []design.Point3 {
	out := make([]design.Point3, len(nodes))
	for i, n := range nodes {
		out[i] = n.At
	}
	return out
}

// flange is the zone on whose side of its panel the flange of a break sits.
func (b *builder) flange(t *thing, s *sense.Stmt) string {
	o := s.Find("flange")
	if o == nil {
		return ""
	}
	z := b.find(s, o.Values[0], "zone")
	if s.Missing("panel") {
		b.mistake(s, o.Span, "option-missing", fmt.Sprintf("`break %s` has a flange but no panel", t.name), "Say which panel it sits on: `panel firewall`. In line it has no flange.")
		return ""
	}
	if z == nil {
		return ""
	}
	for _, p := range b.job.Panels {
		if p.Name == s.Text("panel") && len(p.Zones) == 2 && !slices.Contains(p.Zones, z.name) {
			b.mistake(s, o.Span, "flange-elsewhere", fmt.Sprintf("panel %s has no side in zone %s", p.Name, z.name), fmt.Sprintf("Its sides are in %s: the flange of %s sits on one of them.", join(p.Zones, "and"), t.name)).
				Point(p.Span, "the panel")
			return ""
		}
	}
	return z.name
}

// turn is how far a key is turned, less than once round.
func turn(s *sense.Stmt) unit.Angle {
	a, _ := amount[float64](s, "turn")
	return unit.Angle(math.Mod(a, 360))
}
