package joint

import (
	"fmt"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Judge holds every splice of a net against the limits on its place, now that wires have sizes and barrels are known, and finds those that lie
// too near to one another. What Place chose is kept. A wet place is judged with the sleeve (Made.SleeveWhy), and a stated clip with the clips.
func Judge(job *design.Job, nt *net.Net, sizes size.Sizes, hot *heat.Result, chosen *Places) *Places {
	out := &Places{}
	if chosen != nil {
		out.Chosen = chosen.Chosen
	}
	if len(nt.Joints) == 0 {
		return out
	}
	geo := nt.Space
	if geo == nil {
		geo = &space.Geometry{}
	}
	g := newGround(job, geo, nt, ladenBy(geo, nt))
	out.Made = g.make(nt, sizes)
	for i := range out.Made {
		g.judge(nt, hot, &out.Made[i])
	}
	out.Crowds = g.crowds(nt, out.Made)
	return out
}

// judge finds what is wrong with the place of a joint, on any of the edges by which its wires leave it.
func (g *ground) judge(nt *net.Net, hot *heat.Result, m *Made) {
	if m.Node < 0 || len(m.Wires) < 2 {
		return
	}
	b := g.bodyOf(m)
	c := &crimp{g: g, nt: nt, j: &net.Joint{Splice: m.Splice}, m: m}
	var edges []int
	for _, w := range m.Wires {
		if e := c.leave(w); e >= 0 && !slices.Contains(edges, e) {
			edges = append(edges, e)
		}
	}
	slices.Sort(edges)
	for _, e := range edges {
		for _, x := range g.misses(g.endOf(e, m.Node), b) {
			if x.Kind != InWet && x.Kind != AtClip {
				m.Misses = addNearest(m.Misses, x)
			}
		}
	}
	if x, ok := g.conductors(nt, hot, m, b, edges); ok {
		m.Misses = slices.DeleteFunc(m.Misses, func(o Miss) bool { return o.Kind == InHeat && o.Hot <= x.Hot })
		if !slices.ContainsFunc(m.Misses, func(o Miss) bool { return o.Kind == InHeat }) {
			m.Misses = append(m.Misses, x)
		}
	}
	order := []MissKind{NearEnd, NearBranch, FarFromBoth, InBend, InBush, InHeat, InMotion}
	slices.SortStableFunc(m.Misses, func(a, b Miss) int { return slices.Index(order, a.Kind) - slices.Index(order, b.Kind) })
	for i := range m.Misses {
		x := &m.Misses[i]
		if x.Source != "" && len(edges) > 0 {
			x.Source += ", " + g.job.Settings.Get(x.Source, g.scope(edges[0])).Source()
		}
	}
}

func (g *ground) bodyOf(m *Made) *body {
	b := &body{splice: g.splice(m.Splice), length: m.Length, barrel: m.Barrel}
	if b.length <= 0 {
		b.length = g.length("splice-room", design.Scope{Section: m.Section, Zone: m.Zone})
	}
	return b
}

// conductors tells whether the wires of a joint get hotter there, in any case, than its parts stand.
func (g *ground) conductors(nt *net.Net, hot *heat.Result, m *Made, b *body, edges []int) (worst Miss, found bool) {
	if hot == nil || len(edges) == 0 {
		return worst, false
	}
	stands, what, ok := g.stands(b, design.Scope{Run: m.Run, Zone: m.Zone, Section: m.Section})
	if !ok {
		return worst, false
	}
	if g.warm == nil {
		g.warm = map[int][]*heat.BundleResult{}
		for i := range hot.Bundles {
			for k := range hot.Bundles[i].Bundles {
				r := &hot.Bundles[i].Bundles[k]
				g.warm[r.Edge] = append(g.warm[r.Edge], r)
			}
		}
	}
	for _, e := range edges {
		for _, r := range g.warm[e] {
			for k, w := range r.Wires {
				if slices.Contains(m.Wires, w) && k < len(r.Temps) && r.Temps[k] > stands && (!found || unit.Worse(r.Temps[k], worst.Hot)) {
					worst, found = Miss{Kind: InHeat, What: what, Hot: r.Temps[k], Stands: stands, Inside: true}, true
				}
			}
		}
	}
	return worst, found
}

// crowds gathers joints of one bundle that lie too near to one another.
func (g *ground) crowds(nt *net.Net, made []Made) (out []Crowd) {
	joints := map[string]*net.Joint{}
	for i := range nt.Joints {
		joints[nt.Joints[i].Splice] = &nt.Joints[i]
	}
	group := make([]int, len(made))
	for i := range group {
		group[i] = i
	}
	type pair struct {
		a, b      int
		is, wants unit.Length
		edge      int
	}
	var pairs []pair
	at := func(i int) (loc, bool) {
		m := &made[i]
		es := g.around[nodeIn{m.Node, m.Section}]
		if m.Node < 0 || len(m.Wires) < 2 || len(es) == 0 {
			return loc{}, false
		}
		return g.endOf(es[0], m.Node), true
	}
	in := map[string][]int{} // those that have a place, by section
	for i := range made {
		p, ok := at(i)
		if !ok {
			continue
		}
		before := in[made[i].Section]
		in[made[i].Section] = append(before, i)
		for _, j := range before {
			q, _ := at(j)
			x := pair{j, i, g.far(q, p), max(g.gap(q, g.bodyOf(&made[j]).length, g.bodyOf(&made[i]).length), g.gap(p, g.bodyOf(&made[j]).length, g.bodyOf(&made[i]).length)), q.edge}
			if x.is >= x.wants-tiny {
				continue
			}
			pairs = append(pairs, x)
			from, to := max(group[i], group[j]), min(group[i], group[j])
			for k := range group {
				if group[k] == from {
					group[k] = to
				}
			}
		}
	}
	together := make([][]string, len(made))
	for i, first := range group {
		together[first] = append(together[first], made[i].Splice)
	}
	for first := range made {
		c := Crowd{Section: made[first].Section, Span: made[first].Span, Splices: together[first]}
		if len(c.Splices) < 2 {
			continue
		}
		set := false
		for _, p := range pairs {
			if group[p.a] == first && (!set || unit.WorseBy(c.Is-c.Wants, p.is-p.wants, tiny)) {
				c.Is, c.Wants, set = p.is, p.wants, true
				c.Source = "splice-apart, " + g.job.Settings.Get("splice-apart", g.rule(p.edge).at).Source()
			}
		}
		c.Where = "at " + g.geo.Text(made[first].Node)
		if j := joints[made[first].Splice]; j != nil && j.Run != "" && g.splice(g.geo.Nodes[j.Node].Key) != nil {
			c.Where = fmt.Sprintf("in run %s, %s along", j.Run, j.After)
		}
		out = append(out, c)
	}
	return out
}
