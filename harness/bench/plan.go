package bench

import (
	"slices"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/face"
	"loomsheet/harness/fix"
	"loomsheet/harness/joint"
	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Make plans the work on the bench. It changes none of its inputs and works on incomplete ones: what is
// not known (a length without coordinates, a contact that does not exist) stays zero or empty in the plan. Without a lay-up the setting take-up
// rules everywhere, without bundles no breakout is reached round.
func Make(job *design.Job, nt *net.Net, sizes size.Sizes, bundles *bundle.Bundles, lay *layup.Plan, held *fix.Plan, body *shell.Shell) *Plan {
	m := newMaker(job, nt, sizes)
	m.lie(bundles, lay)
	p := &Plan{}
	declared, at := design.Index(job.Sections, func(s *design.Section) string { return s.Name }), map[string]int{}
	for _, name := range m.sections() {
		sec := SectionPlan{Name: name, Cuts: m.cuts(name), Connectors: m.connectors(name), Splices: m.splices(name)}
		sec.Inspection = m.inspect(name, sec.Connectors, sec.Cuts)
		if s := declared[name]; s != nil {
			sec.Note = s.Note
		}
		at[name] = len(p.Sections)
		p.Sections = append(p.Sections, sec)
	}
	for i := range held.Runs {
		if k, ok := at[held.Runs[i].Section]; ok {
			p.Sections[k].Sleeves = append(p.Sections[k].Sleeves, held.Runs[i].Sleeves...)
		}
	}
	for k := range p.Sections {
		s := &p.Sections[k]
		s.Crimps = m.crimps(s)
		s.Samples = m.sampleCuts(s)
		s.Markers = m.markers(s)
		s.Pairs = m.pairs(s)
		s.Picks = m.picks(s)
		s.exact()
	}
	m.termTexts.close()
	p.Sections = design.Exact(p.Sections)
	p.Parts = m.parts(p, held, body)
	return p
}

// exact gives up the room that lists grew into.
func (s *SectionPlan) exact() {
	s.Sleeves, s.Samples, s.Picks, s.Splices = design.Exact(s.Sleeves), design.Exact(s.Samples), design.Exact(s.Picks), design.Exact(s.Splices)
	s.Inspection.Rings, s.Inspection.Isolation = design.Exact(s.Inspection.Rings), design.Exact(s.Inspection.Isolation)
	for i := range s.Connectors {
		s.Connectors[i].Rows = design.Exact(s.Connectors[i].Rows)
	}
	for i := range s.Splices {
		s.Splices[i].Wires = design.Exact(s.Splices[i].Wires)
	}
	for i := range s.Crimps {
		c := &s.Crimps[i]
		c.Wires, c.Pull = design.Exact(c.Wires), design.Exact(c.Pull)
	}
	for i := range s.Inspection.Rings {
		s.Inspection.Rings[i].To = design.Exact(s.Inspection.Rings[i].To)
	}
	for i := range s.Inspection.Isolation {
		x := &s.Inspection.Isolation[i]
		x.Ends, x.Joined = design.Exact(x.Ends), design.Exact(x.Joined)
	}
}

// at is one end of a wire.
type at struct{ wire, end int }

// maker holds the inputs with what is looked up often.
type maker struct {
	job    *design.Job
	net    *net.Net
	geo    *space.Geometry
	sizes  size.Sizes
	device map[string]*design.Device
	brk    map[string]*design.Break
	splice map[string]*design.Splice
	cable  map[string]*design.Cable
	run    map[string]*design.Run
	zone   map[string]*design.Zone

	housing map[string]*design.Housing
	contact map[string]*design.Contact
	wire    map[string]*design.Wire
	barrels map[string]*design.Barrel

	onPin  map[[2]string][]at // device, pin
	onHalf map[halfCavity][]at
	onEdge [][]int // wires by edge
	atNode [][]int // edges by node
	ends   []bool  // by node: a wire ends there in something other than a splice
	wires  []int   // all of them

	joint     map[[2]string]*net.Joint // splice, section
	made      map[string]joint.Made    // by splice
	cavities  map[halfKey][]string     // cavities of a half that wires say they are in
	thickest  map[string]unit.Length   // core of each cable
	lay       *layup.Plan
	stretch   map[stretchKey][2]int // its first and last node
	thick     []unit.Length         // by edge: the most its bundle is across, sleeve and all
	laid      map[[2]int]unit.Ratio // wire, edge: take-up of its layer
	through   map[[2]int]bool       // edge, node: a wire goes on there into another edge
	turns     map[[2]int]int        // edges: how many wires go from one into the other
	settings  *design.Rulings
	within    map[string]*ofSection
	texts     design.Once
	termTexts *termTexts
	terms     []Term // room for those of one wire
	face      map[faceKey][2]face.Face
}

type halfKey struct {
	brk  string
	half int
}

type stretchKey struct {
	run     string
	stretch int
}

// lie notes how the bundles lie.
func (m *maker) lie(bundles *bundle.Bundles, lay *layup.Plan) {
	m.lay = lay
	for i := range m.geo.Edges {
		if bundles != nil && i < len(bundles.Edges) {
			_, most := bundles.Edges[i].Over()
			m.thick[i] = positive(most)
		}
		if l := lay.Of(i); l != nil {
			for k := range l.Pieces {
				for _, w := range l.Pieces[k].Wires {
					m.laid[[2]int{w, i}] = l.Pieces[k].TakeUp
				}
			}
		}
	}
}

type halfCavity struct {
	brk    string
	half   int
	cavity string
}

func newMaker(job *design.Job, nt *net.Net, sizes size.Sizes) *maker {
	m := &maker{job: job, net: nt, geo: nt.Space, sizes: sizes, onPin: map[[2]string][]at{}, onHalf: map[halfCavity][]at{}}
	if m.geo == nil {
		m.geo = &space.Geometry{}
	}
	m.device = design.Index(job.Devices, func(d *design.Device) string { return d.Name })
	m.brk = design.Index(job.Breaks, func(b *design.Break) string { return b.Name })
	m.splice = design.Index(job.Splices, func(s *design.Splice) string { return s.Name })
	m.cable = design.Index(job.Cables, func(c *design.Cable) string { return c.Name })
	m.run = design.Index(job.Runs, func(r *design.Run) string { return r.Name })
	m.zone = design.Index(job.Zones, func(z *design.Zone) string { return z.Name })
	m.housing = design.Index(job.Parts.Housings, func(x *design.Housing) string { return x.Name })
	m.contact = design.Index(job.Parts.Contacts, func(x *design.Contact) string { return x.Name })
	m.wire = design.Index(job.Parts.Wires, func(x *design.Wire) string { return x.Name })
	m.barrels = design.Index(job.Parts.Barrels, func(x *design.Barrel) string { return x.Name })

	m.laid, m.through, m.turns, m.settings = map[[2]int]unit.Ratio{}, map[[2]int]bool{}, map[[2]int]int{}, design.NewRulings(&m.job.Settings)
	m.texts, m.termTexts, m.face = design.Once{}, newTermTexts(), map[faceKey][2]face.Face{}
	m.joint, m.cavities = map[[2]string]*net.Joint{}, map[halfKey][]string{}
	for i := range nt.Joints {
		m.joint[[2]string{nt.Joints[i].Splice, nt.Joints[i].Section}] = &nt.Joints[i]
	}
	m.made = map[string]joint.Made{}
	for _, x := range joint.Make(job, nt, sizes) {
		m.made[x.Splice] = x
	}
	m.thickest, m.stretch = map[string]unit.Length{}, map[stretchKey][2]int{}
	m.thick = make([]unit.Length, len(m.geo.Edges))
	m.onEdge = make([][]int, len(m.geo.Edges))
	m.atNode = make([][]int, len(m.geo.Nodes))
	m.ends = make([]bool, len(m.geo.Nodes))
	m.wires = make([]int, len(nt.Wires))
	for i := range m.wires {
		m.wires[i] = i
	}
	for i, e := range m.geo.Edges {
		m.atNode[e.From] = append(m.atNode[e.From], i)
		m.atNode[e.To] = append(m.atNode[e.To], i)
		k := stretchKey{e.Run, e.Stretch}
		if ends, ok := m.stretch[k]; ok {
			m.stretch[k] = [2]int{ends[0], e.To}
		} else {
			m.stretch[k] = [2]int{e.From, e.To}
		}
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		if w.Cable != "" && w.Kind == net.Plain {
			m.thickest[w.Cable] = max(m.thickest[w.Cable], positive(m.conductor(i).Outside))
		}
		for k, s := range w.Path {
			if k > 0 {
				before := w.Path[k-1].Edge
				node, _ := ends(&m.geo.Edges[s.Edge], s.Reverse)
				m.through[[2]int{before, node}], m.through[[2]int{s.Edge, node}] = true, true
				m.turns[[2]int{min(before, s.Edge), max(before, s.Edge)}]++
			}
			if on := m.onEdge[s.Edge]; len(on) == 0 || on[len(on)-1] != i {
				m.onEdge[s.Edge] = append(on, i)
			}
		}
		for e, t := range w.Ends {
			switch t.Kind {
			case net.InCavity, net.OnStud:
				m.onPin[[2]string{t.Device, t.Pin}] = append(m.onPin[[2]string{t.Device, t.Pin}], at{i, e})
			case net.InHalf, net.OnPost:
				k := halfCavity{t.Break, t.Half, t.Cavity}
				if len(m.onHalf[k]) == 0 {
					h := halfKey{t.Break, t.Half}
					m.cavities[h] = append(m.cavities[h], t.Cavity)
				}
				m.onHalf[k] = append(m.onHalf[k], at{i, e})
			}
			if t.Kind != net.InSplice && t.Node >= 0 && t.Node < len(m.ends) {
				m.ends[t.Node] = true
			}
		}
	}
	m.sort()
	return m
}

// sections is those of the job, and what wires and halves say beyond them.
func (m *maker) sections() []string {
	var out []string
	known := map[string]bool{}
	for _, s := range m.job.Sections {
		out = append(out, s.Name)
		known[s.Name] = true
	}
	for i := range m.net.Wires {
		if n := m.net.Wires[i].Section; !known[n] {
			out = append(out, n)
			known[n] = true
		}
	}
	slices.SortFunc(out, design.Natural)
	return out
}

func (m *maker) conductor(wire int) size.Conductor {
	if wire < len(m.sizes) {
		return m.sizes[wire]
	}
	return size.Conductor{}
}

// alone is a list of one wire, which all share that say so.
func (m *maker) alone(wire int) []int { return m.wires[wire : wire+1 : wire+1] }

// length is a setting of that dimension; not set, negative or not finite is 0.
func (m *maker) length(name string, at design.Scope) unit.Length {
	return positive(unit.Length(m.get(name, at).Quantity.Value))
}

// get is the value that rules in a scope.
func (m *maker) get(name string, at design.Scope) design.SettingValue {
	return m.settings.Get(name, at).Value
}

// edgeScope is the scope of a wire in an edge.
func (m *maker) edgeScope(w *net.Wire, e *space.Edge) design.Scope {
	at := design.Scope{Run: e.Run, Zone: e.Zone, Section: e.Section, Circuit: w.Circuit, Class: w.Class}
	if r := m.run[e.Run]; r != nil {
		at.Panel = r.Panel
	}
	return at
}

func positive[T ~float64](x T) T {
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

// scope of a wire as a whole.
func scope(w *net.Wire) design.Scope {
	return design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section}
}

// known is false when the length of an edge could not be worked out.
func known(e *space.Edge) bool {
	return !e.Unknown && unit.Finite(e.Length) && unit.Finite(e.Slack)
}

// or is a, or b where a is empty.
func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
