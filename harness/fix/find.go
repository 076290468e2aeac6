package fix

import (
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Find places the clips of every run. It changes none of its inputs and works on incomplete ones.
func Find(job *design.Job, nt *net.Net, bundles *bundle.Bundles) *Plan {
	m := newMaker(job, nt, bundles)
	return &Plan{Runs: m.runs()}
}

// maker holds the inputs with what is looked up often.
type maker struct {
	job      *design.Job
	net      *net.Net
	geo      *space.Geometry
	bundles  *bundle.Bundles
	run      map[string]*design.Run
	clip     map[string]*design.Clip
	fastener map[string]*design.Fastener
	atNode   [][]int // edges by node
	ends     []bool  // by node: a wire ends there in something other than a splice
}

func newMaker(job *design.Job, nt *net.Net, bundles *bundle.Bundles) *maker {
	m := &maker{job: job, net: nt, geo: nt.Space, bundles: bundles}
	if m.geo == nil {
		m.geo = &space.Geometry{}
	}
	m.run = index(job.Runs, func(r *design.Run) string { return r.Name })
	m.clip = index(job.Parts.Clips, func(x *design.Clip) string { return x.Name })
	m.fastener = index(job.Parts.Fasteners, func(x *design.Fastener) string { return x.Name })
	m.atNode = make([][]int, len(m.geo.Nodes))
	m.ends = make([]bool, len(m.geo.Nodes))
	for i, e := range m.geo.Edges {
		m.atNode[e.From] = append(m.atNode[e.From], i)
		m.atNode[e.To] = append(m.atNode[e.To], i)
	}
	for i := range nt.Wires {
		for _, t := range nt.Wires[i].Ends {
			if t.Kind != net.InSplice && t.Node >= 0 && t.Node < len(m.ends) {
				m.ends[t.Node] = true
			}
		}
	}
	return m
}

// index looks things up by name; of two with one name the first counts.
func index[T any](list []*T, name func(*T) string) map[string]*T {
	out := make(map[string]*T, len(list))
	for _, x := range list {
		if out[name(x)] == nil {
			out[name(x)] = x
		}
	}
	return out
}

// length is a setting of that dimension; not set, negative or not finite is 0.
func (m *maker) length(name string, at design.Scope) unit.Length {
	x := unit.Length(m.job.Settings.Get(name, at).Value.Quantity.Value)
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

// edgeScope is the scope of what belongs to a run rather than to a wire.
func (m *maker) edgeScope(e *space.Edge) design.Scope {
	s := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}
	if r := m.run[e.Run]; r != nil {
		s.Panel = r.Panel
	}
	return s
}

// known is false when the length of an edge could not be worked out.
func known(e *space.Edge) bool {
	return !e.Unknown && unit.Finite(e.Length) && unit.Finite(e.Slack)
}

// sleeved is the largest outside of a bundle with the sleeve of its run.
func (m *maker) sleeved(edge int) unit.Length {
	_, most := m.bundles.Edges[edge].Over()
	return most
}

// sleeves is what goes over the bundle of a stretch, where there is one.
func (m *maker) sleeves(r *design.Run, stretch int) (out []SleeveCut) {
	if r.Sleeve == "" {
		return nil
	}
	for _, part := range m.bundles.Laden(m.geo.Stretch(r.Name, stretch)) {
		c := SleeveCut{Part: r.Sleeve, Run: r.Name, From: m.geo.Text(m.geo.Edges[part[0]].From), To: m.geo.Text(m.geo.Edges[part[len(part)-1]].To)}
		for _, e := range part {
			c.Length += m.geo.Edges[e].Length + m.geo.Edges[e].Slack
			c.Over = max(c.Over, m.bundles.Edges[e].Most)
		}
		out = append(out, c)
	}
	return out
}
