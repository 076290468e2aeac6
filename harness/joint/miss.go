package joint

import (
	"cmp"
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// body is what a joint needs of its place.
type body struct {
	splice *design.Splice
	length unit.Length // of its barrel
	barrel string      // empty: not chosen yet
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

// misses lists what is wrong with a place for a joint. Source is the name of the setting that rules.
func (g *ground) misses(at loc, b *body) (out []Miss) {
	e := &g.geo.Edges[at.edge]
	l := g.rule(at.edge)
	off := b.length/2 + l.off
	nearest := Miss{Kind: FarFromBoth, Is: unit.Length(inf), Wants: l.near, Source: "splice-close"}
	for _, v := range g.seen(at.edge) {
		m := &g.marks[v.mark]
		d := min(v.from+at.into, v.to+e.Length-at.into)
		if v.here {
			d = min(d, max(at.into-m.at.into, m.at.into-at.into))
		}
		d = max(0, d-m.reach)
		if (m.kind == NearEnd || m.kind == NearBranch) && d < nearest.Is {
			nearest.Is, nearest.What = d, m.what
		}
		x := Miss{Kind: m.kind, What: m.what, Is: d}
		switch {
		case m.kind == NearEnd && l.close:
			x.Wants, x.Source = off, "splice-off"
		case m.kind == NearBranch && l.close:
			continue
		case m.kind == NearEnd, m.kind == NearBranch:
			x.Wants, x.Source = l.clear, "splice-clear"
		case m.kind == NearSplice:
			x.Wants, x.Source = g.gap(at, b.length, m.length), "splice-apart"
		case m.kind == AtClip:
			x.Wants, x.Source = l.clip, "clip-splice"
		default:
			x.Wants, x.Source = off, "splice-off"
		}
		if d < x.Wants-tiny {
			out = addNearest(out, x)
		}
	}
	if l.close && nearest.Is > nearest.Wants+tiny {
		out = append(out, nearest)
	}
	if stands, what, ok := g.stands(b, l.at); ok && l.hot > stands {
		out = append(out, Miss{Kind: InHeat, What: what, Hot: l.hot, Stands: stands, Source: "heat-margin"})
	}
	if name, _ := g.sleeveAt(b.splice, l.at); l.wet && (g.sleeve[name] == nil || !g.sleeve[name].Glued) {
		out = append(out, Miss{Kind: InWet, What: e.Zone})
	}
	if e.Moves > 0 {
		out = append(out, Miss{Kind: InMotion, What: e.Run})
	}
	return out
}

// addNearest keeps of each kind the nearest thing; of equals the first.
func addNearest(list []Miss, x Miss) []Miss {
	for i := range list {
		if list[i].Kind != x.Kind {
			continue
		}
		if cmp.Compare(x.Is-x.Wants, list[i].Is-list[i].Wants) < 0 {
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
