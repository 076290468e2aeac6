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
	m.findChains()
	for _, c := range m.chains {
		m.demand(c)
	}
	m.placeGivens()
	m.findSheets()
	m.findEars()
	m.findShut()
	m.findSeats()
	all := m.dressAll(m.settle())
	return &Plan{Runs: m.runs(all), Misses: m.misses(all)}
}

// maker holds the inputs with what is looked up often.
type maker struct {
	job      *design.Job
	net      *net.Net
	geo      *space.Geometry
	bundles  *bundle.Bundles
	run      map[string]*design.Run
	panel    map[string]*design.Panel
	clip     map[string]*design.Clip
	fastener map[string]*design.Fastener
	holes    map[string]*design.Hole
	holeID   map[*design.Hole]int // for the optimiser
	housing  map[string]*design.Housing
	sheet    map[string]*sheet
	loose    []thing // holes of no panel
	air      map[string]warmth

	tips         [][]tip // by node: the ends of edges that meet there
	ends         []bool  // by node: a wire ends there in something other than a splice
	ending       [][]int // by node: those wires
	spliceAt     []string
	knownStretch map[stretchKey]bool

	lengths    *design.Rulings
	sideOf     *side // last asked for
	chains     []*chain
	chainAt    []place // by edge
	onChain    map[*design.Fixing]bool
	stated     map[[2]string]*design.Fixing // by run and name, the first
	bends      map[stretchKey][]BendAt
	reachMost  unit.Length // the largest clip-reach of the job
	besideMost unit.Length // the largest clip-beside
	widest     unit.Length // the largest hole of a fastener
	earMost    unit.Length // how far a clip's hole is from its bundle's middle, at most
}

type stretchKey struct {
	run     string
	stretch int
}

func newMaker(job *design.Job, nt *net.Net, bundles *bundle.Bundles) *maker {
	m := &maker{job: job, net: nt, geo: nt.Space, bundles: bundles, air: airs(job), lengths: design.NewRulings(&job.Settings)}
	if m.geo == nil {
		m.geo = &space.Geometry{}
	}
	m.run = design.Index(job.Runs, func(r *design.Run) string { return r.Name })
	m.panel = design.Index(job.Panels, func(p *design.Panel) string { return p.Name })
	m.clip = design.Index(job.Parts.Clips, func(x *design.Clip) string { return x.Name })
	m.fastener = design.Index(job.Parts.Fasteners, func(x *design.Fastener) string { return x.Name })
	m.holes = design.Index(job.Holes, func(h *design.Hole) string { return h.Name })
	m.housing = design.Index(job.Parts.Housings, func(h *design.Housing) string { return h.Name })
	m.stated = map[[2]string]*design.Fixing{}
	for _, f := range job.Fixings {
		if k := [2]string{f.Run, f.Name}; m.stated[k] == nil {
			m.stated[k] = f
		}
	}
	m.bends = map[stretchKey][]BendAt{}
	for _, b := range m.geo.Bends {
		k := stretchKey{b.Run, b.Stretch}
		m.bends[k] = append(m.bends[k], BendAt{After: b.Station, Turn: b.Turn, Radius: b.Radius})
	}
	m.tips = make([][]tip, len(m.geo.Nodes))
	m.knownStretch = map[stretchKey]bool{}
	for i := range m.geo.Edges {
		e := &m.geo.Edges[i]
		m.tips[e.From] = append(m.tips[e.From], tip(2*i))
		m.tips[e.To] = append(m.tips[e.To], tip(2*i+1))
		k := stretchKey{e.Run, e.Stretch}
		if _, seen := m.knownStretch[k]; !seen {
			m.knownStretch[k] = true
		}
		m.knownStretch[k] = m.knownStretch[k] && known(e)
	}
	m.ends, m.ending = endings(nt, m.geo)
	m.spliceAt = make([]string, len(m.geo.Nodes))
	for _, j := range nt.Joints {
		if j.Node >= 0 && j.Node < len(m.spliceAt) && m.spliceAt[j.Node] == "" {
			m.spliceAt[j.Node] = j.Splice
		}
	}
	for _, f := range job.Parts.Fasteners {
		m.widest = max(m.widest, wide(f))
	}
	m.reachMost, m.besideMost = m.mostOf("clip-reach"), m.mostOf("clip-beside")
	return m
}

func (m *maker) mostOf(name string) unit.Length { return m.lengths.MostLength(name) }

func (m *maker) length(name string, at design.Scope) unit.Length { return m.lengths.Length(name, at) }

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

// scopeOf is the scope of a part of a chain.
func (m *maker) scopeOf(c *chain, part int) design.Scope {
	return m.edgeScope(&m.geo.Edges[c.parts[part].edge])
}

// or is a, or b where a is empty.
func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
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
