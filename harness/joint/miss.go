package joint

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// body is what a joint needs of its place.
type body struct {
	splice *design.Splice
	length unit.Length // of its barrel
	barrel string      // empty: not chosen yet
	// planned: its place is sought, so that what is only better counts too
	planned bool
}

// sleeveAt is the sleeve of a joint on an edge: its own, else what the settings say; the sleeve may be missing from the parts.
func (g *ground) sleeveAt(s *design.Splice, at design.Scope) (name string, own bool) {
	if s != nil && s.Sleeve != "" {
		return s.Sleeve, true
	}
	setting := "splice-sleeve"
	if g.wet(at.Zone) {
		setting = "splice-sleeve-wet"
	}
	return g.job.Settings.Get(setting, at).Value.Name, false
}

// stands is the least heat that the parts of a joint stand on an edge, and which of them it is; ok is false where none says.
func (g *ground) stands(b *body, at design.Scope) (t unit.Temperature, what string, ok bool) {
	sleeve, _ := g.sleeveAt(b.splice, at)
	if s := g.sleeve[sleeve]; s != nil && s.Heat.Given {
		t, what, ok = s.Heat.Nominal, "sleeve "+sleeve, true
	}
	if k := g.barrel[b.barrel]; k != nil && k.Heat.Given && (!ok || k.Heat.Nominal < t) {
		t, what, ok = k.Heat.Nominal, "barrel "+b.barrel, true
	}
	return t, what, ok
}

// fitted is what the parts of a joint have to do with an edge.
type fitted struct {
	edge   int
	of     body
	stands unit.Temperature
	what   string
	ok     bool // it is known what it stands
	glued  bool // its sleeve
}

// partsOf is that of a joint on an edge. The one asked for last is remembered: one place after the other is asked for.
func (g *ground) partsOf(edge int, b *body) *fitted {
	if g.last == nil || g.last.edge != edge || g.last.of != *b {
		at := g.rule(edge).at
		p := &fitted{edge: edge, of: *b}
		p.stands, p.what, p.ok = g.stands(b, at)
		name, _ := g.sleeveAt(b.splice, at)
		p.glued = g.sleeve[name] != nil && g.sleeve[name].Glued
		g.last = p
	}
	return g.last
}

// misses lists what is wrong with a place for a joint. Source is the name of the setting that rules.
func (g *ground) misses(at loc, b *body) []Miss { return g.missesIn(nil, at, b) }

// missesIn is misses with room for the list.
func (g *ground) missesIn(out []Miss, at loc, b *body) []Miss {
	out = out[:0]
	e := &g.geo.Edges[at.edge]
	l := g.rule(at.edge)
	nearest := Miss{Kind: FarFromBoth, Is: unit.Length(inf), Wants: l.near, Source: "splice-close"}
	sights := g.seen(at.edge)
	for i := range sights {
		v := &sights[i]
		m := &g.marks[v.mark]
		d := min(v.from+at.into, v.to+e.Length-at.into)
		if v.here {
			d = min(d, max(at.into-m.at.into, m.at.into-at.into))
		}
		d = max(0, d-m.reach)
		if (m.kind == NearEnd || m.kind == NearBranch) && d < nearest.Is {
			nearest.Is, nearest.What = d, m.what
		}
		if m.kind == NearBranch && l.close {
			continue
		}
		wants, source := g.wants(l, m, at.edge, b)
		if d < wants-tiny {
			out = addNearest(out, Miss{Kind: m.kind, What: m.what, Is: d, Wants: wants, Source: source, wish: m.wish})
		}
		if b.planned && !l.close && (m.kind == NearEnd || m.kind == NearBranch) && unheld(l, v, d) {
			out = append(out, Miss{Kind: AtClip, What: m.what, Is: d, Source: "clip-end", wish: true})
		}
	}
	if l.close && nearest.Is > nearest.Wants+tiny {
		out = append(out, nearest)
	}
	p := g.partsOf(at.edge, b)
	if p.ok && l.hot > p.stands {
		out = append(out, Miss{Kind: InHeat, What: p.what, Hot: l.hot, Stands: p.stands, Source: "heat-margin"})
	}
	if l.wet && !p.glued || b.planned && g.low(at) {
		out = append(out, Miss{Kind: InWet, What: e.Zone})
	}
	if e.Moves > 0 {
		out = append(slices.DeleteFunc(out, func(m Miss) bool { return m.Kind == InMotion }), Miss{Kind: InMotion, What: e.Run})
	}
	return out
}

// wants is how far a joint on an edge keeps off a mark, and the setting that rules.
func (g *ground) wants(l *limits, m *mark, edge int, b *body) (wants unit.Length, source string) {
	switch {
	case m.kind == NearEnd && l.close:
	case m.kind == NearEnd, m.kind == NearBranch:
		return l.clear, "splice-clear"
	case m.kind == NearSplice:
		return max(g.gap(loc{edge: edge}, b.length, m.length), 2*l.clip), "splice-apart"
	case m.kind == AtClip:
		return l.clip, "clip-splice"
	}
	return b.length/2 + l.off, "splice-off"
}

// missesAll is the same at a node as well, where what is wrong on any of the edges that meet there counts.
func (g *ground) missesAll(at loc, b *body) []Miss { return g.missesAllIn(nil, at, b) }

// missesAllIn is missesAll with room for the list.
func (g *ground) missesAllIn(room []Miss, at loc, b *body) []Miss {
	e := &g.geo.Edges[at.edge]
	node := -1
	switch {
	case at.into <= tiny:
		node = e.From
	case at.into >= e.Length-tiny:
		node = e.To
	default:
		return g.missesIn(room, at, b)
	}
	var out []Miss
	for _, o := range g.around[nodeIn{node, e.Section}] {
		for _, x := range g.misses(g.endOf(o, node), b) {
			out = addNearest(out, x)
		}
	}
	return out
}

// unheld tells whether a splice so far from a connector or a breakout leaves no room for the clip that is to hold the bundle there, where there was some.
func unheld(l *limits, v *sight, d unit.Length) bool {
	return l.room <= v.held && d-l.clip < l.room-tiny && d+l.clip > v.held+tiny
}

// heldBy is how far from a mark the bundle is to be held: where it is at an end of this edge, what is at the other end wants its room as well.
func (g *ground) heldBy(l *limits, v *sight, edge int, sights []sight) unit.Length {
	to := l.end
	if min(v.from, v.to) > tiny {
		return to
	}
	for i := range sights {
		o := &sights[i]
		k := g.marks[o.mark].kind
		if (k == NearEnd || k == NearBranch) && (v.from <= tiny && o.to <= tiny || v.to <= tiny && o.from <= tiny) {
			to = min(to, g.geo.Edges[edge].Length-l.room)
		}
	}
	return to
}

// addNearest keeps of each kind what misses the most; of equals the first.
func addNearest(list []Miss, x Miss) []Miss {
	for i := range list {
		if list[i].Kind != x.Kind {
			continue
		}
		if unit.Worse(x.share(), list[i].share()) {
			list[i] = x
		}
		return list
	}
	return append(list, x)
}

// shares is by how much of its limits a place misses them in all.
func shares(list []Miss) (sum float64) {
	for i := range list {
		sum += list[i].share()
	}
	return sum
}

// gap is what two joints of one bundle want from middle to middle where the first of them lies.
func (g *ground) gap(at loc, one, two unit.Length) unit.Length {
	return one/2 + two/2 + g.rule(at.edge).apart
}

var inf = math.Inf(1)
