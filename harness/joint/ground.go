package joint

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// tiny is a length that nobody measures.
const tiny unit.Length = 1e-6

// loc is a place on an edge: so far from its From.
type loc struct {
	edge int
	into unit.Length
}

// ground is the ways of a job with all that splices keep away from.
type ground struct {
	job     *design.Job
	geo     *space.Geometry
	run     map[string]*design.Run
	zone    map[string]*design.Zone
	sleeve  map[string]*design.Sleeve
	barrel  map[string]*design.Barrel
	splices map[string]*design.Splice    // once wanted
	marksOn [][]int                      // by edge, once all marks are there
	warm    map[int][]*heat.BundleResult // by edge, once wanted
	around  map[nodeIn][]int             // edges by node and section
	laden   []bool                       // by edge
	ends    map[nodeIn]bool              // a wire of the section ends there in something other than a splice
	marks   []mark
	sights  [][]sight // by edge, once wanted
	last    *fitted   // asked for
	near    map[nodeIn][]step
	reach   unit.Length // no limit is longer
	lengths *design.Rulings
	airs    map[string]unit.Temperature
	rules   []*limits // by edge
	apart   []uint8   // by two edges: 1 within reach of one another, 2 not; empty: not kept
}

// limits is the settings that rule on an edge.
type limits struct {
	at                            design.Scope
	close                         bool // the school
	clear, near, apart, off, clip unit.Length
	end, room                     unit.Length      // clip-end, clip-clear
	hot                           unit.Temperature // air and margin
	wet                           bool
}

// rule is the settings that rule on an edge.
func (g *ground) rule(edge int) *limits {
	if g.rules == nil {
		g.rules = make([]*limits, len(g.geo.Edges))
	}
	if l := g.rules[edge]; l != nil {
		return l
	}
	s := g.scope(edge)
	l := &limits{at: s, close: g.job.Settings.Get("splice-school", s).Value.Name == "close", clear: g.length("splice-clear", s), near: g.length("splice-close", s),
		apart: g.length("splice-apart", s), off: g.length("splice-off", s), clip: g.length("clip-splice", s), end: g.length("clip-end", s), room: g.length("clip-clear", s), wet: g.wet(s.Zone)}
	l.hot = g.air(s.Zone) + unit.Temperature(g.job.Settings.Get("heat-margin", s).Value.Quantity.Value)
	g.rules[edge] = l
	return l
}

type nodeIn struct {
	node    int
	section string
}

func newGround(job *design.Job, geo *space.Geometry, nt *net.Net, laden []bool) *ground {
	g := &ground{job: job, geo: geo, laden: laden, around: map[nodeIn][]int{}, ends: map[nodeIn]bool{}, near: map[nodeIn][]step{},
		lengths: design.NewRulings(&job.Settings), airs: map[string]unit.Temperature{}}
	g.run = design.Index(job.Runs, func(r *design.Run) string { return r.Name })
	g.zone = design.Index(job.Zones, func(z *design.Zone) string { return z.Name })
	g.sleeve = design.Index(job.Parts.Sleeves, func(s *design.Sleeve) string { return s.Name })
	g.barrel = design.Index(job.Parts.Barrels, func(b *design.Barrel) string { return b.Name })
	for i := range geo.Edges {
		e := &geo.Edges[i]
		for _, n := range []int{e.From, e.To} {
			k := nodeIn{n, e.Section}
			if list := g.around[k]; len(list) == 0 || list[len(list)-1] != i {
				g.around[k] = append(list, i)
			}
		}
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for _, t := range w.Ends {
			if t.Kind != net.InSplice && t.Kind != net.CutBack && t.Node >= 0 {
				g.ends[nodeIn{t.Node, w.Section}] = true
			}
		}
	}
	longest := unit.Length(0)
	for _, b := range job.Parts.Barrels {
		longest = max(longest, b.Length)
	}
	longest = max(longest, g.mostOf("splice-room"))
	g.reach = max(g.mostOf("splice-clear"), g.mostOf("splice-close"), g.mostOf("clip-splice"), 2*g.mostOf("clip-splice"), g.mostOf("clip-clear")+g.mostOf("clip-splice"), longest+g.mostOf("splice-apart"), longest/2+g.mostOf("splice-off"))
	g.findMarks()
	return g
}

// ladenBy tells in which edges wires lie.
func ladenBy(geo *space.Geometry, nt *net.Net) []bool {
	out := make([]bool, len(geo.Edges))
	for i := range nt.Wires {
		for _, s := range nt.Wires[i].Path {
			if s.Edge >= 0 && s.Edge < len(out) {
				out[s.Edge] = true
			}
		}
	}
	return out
}

func (g *ground) mostOf(name string) unit.Length { return g.lengths.MostLength(name) }

func (g *ground) length(name string, at design.Scope) unit.Length { return g.lengths.Length(name, at) }

func (g *ground) scope(edge int) design.Scope {
	e := &g.geo.Edges[edge]
	s := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section}
	if r := g.run[e.Run]; r != nil {
		s.Panel = r.Panel
	}
	return s
}

func known(e *space.Edge) bool { return !e.Unknown && unit.Finite(e.Length) && unit.Finite(e.Slack) }

// wet tells whether wires get wet in a zone.
func (g *ground) wet(zone string) bool {
	z := g.zone[zone]
	return z != nil && (slices.Contains(z.With, "wet") || slices.Contains(z.With, "splash"))
}

// air is the hottest air of a zone in any case.
func (g *ground) air(zone string) unit.Temperature {
	t, ok := g.airs[zone]
	if ok {
		return t
	}
	if len(g.job.Cases) == 0 {
		t, _ = heat.Ambient(g.job, design.Scope{Zone: zone})
	}
	for i, c := range g.job.Cases {
		if x, _ := heat.Ambient(g.job, design.Scope{Zone: zone, Case: c.Name}); i == 0 || x > t {
			t = x
		}
	}
	g.airs[zone] = t
	return t
}
