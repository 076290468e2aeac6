package assembly

import (
	"slices"

	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// maker holds the inputs with what is looked up often.
type maker struct {
	job      *design.Job
	net      *net.Net
	geo      *space.Geometry
	sizes    size.Sizes
	bundles  *bundle.Bundles
	device   map[string]*design.Device
	brk      map[string]*design.Break
	cable    map[string]*design.Cable
	run      map[string]*design.Run
	housing  map[string]*design.Housing
	contact  map[string]*design.Contact
	wire     map[string]*design.Wire
	sleeve   map[string]*design.Sleeve
	boot     map[string]*design.Boot
	cut      map[at]bench.CutEnd
	length   map[int]unit.Length // cut length, by wire
	text     map[string]string   // titles of connectors, by their key and section
	blanks   map[string]int      // cavities to be plugged, by title and section
	made     []joint.Made
	bushes   []bush
	misfits  []Misfit
	atNode   [][]int // edges by node, with wires
	endsHere []bool  // by node: a wire ends there in something other than a splice
	same     design.Once
}

// at is one end of a wire.
type at struct{ wire, end int }

// Find solves every section, and stacks the lugs of every stud. It changes none of its inputs, and works on incomplete ones: of what is not
// known how large it is, everything that must pass goes on before it.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, bundles *bundle.Bundles, plan *bench.Plan, joints *joint.Places, body *shell.Shell) *Plan {
	m := newMaker(job, nt, sizes, bundles, plan)
	if joints != nil {
		m.made = joints.Made
	}
	p := &Plan{Stacks: m.stacks(body)}
	for i := range plan.Sections {
		s := newSheet(m, plan.Sections[i].Name)
		s.build()
		sec, against := s.solve()
		m.exact(&sec)
		p.Sections = append(p.Sections, sec)
		p.Against = append(p.Against, against...)
	}
	p.Misfits = m.misfits
	return p
}

// exact gives up the room that lists grew into, and holds once what many steps say.
func (m *maker) exact(s *Section) {
	s.Things, s.Places, s.Order = design.Exact(s.Things), design.Exact(s.Places), design.Exact(s.Order)
	for i := range s.Things {
		m.same.Texts(&s.Things[i].Where, &s.Things[i].From, &s.Things[i].Before, &s.Things[i].Note)
	}
	for i := range s.Places {
		p := &s.Places[i]
		p.Titles, p.Steps = design.Exact(p.Titles), design.Exact(p.Steps)
		for k := range p.Steps {
			x := &p.Steps[k]
			x.With = design.Exact(x.With)
			m.same.Texts(&x.Do, &x.After)
			for e := range x.With {
				m.same.Texts(&x.With[e].What, &x.With[e].Ends)
			}
		}
	}
	for i := range s.Order {
		o := &s.Order[i]
		m.same.Texts(&o.Do, &o.Where)
		o.Turns = design.Exact(o.Turns)
	}
}

func newMaker(job *design.Job, nt *net.Net, sizes size.Sizes, bundles *bundle.Bundles, plan *bench.Plan) *maker {
	m := &maker{job: job, net: nt, geo: nt.Space, sizes: sizes, bundles: bundles, cut: map[at]bench.CutEnd{}, length: map[int]unit.Length{}, text: map[string]string{}, blanks: map[string]int{}, same: design.Once{}}
	if m.geo == nil {
		m.geo = &space.Geometry{}
	}
	m.device = design.Index(job.Devices, func(x *design.Device) string { return x.Name })
	m.brk = design.Index(job.Breaks, func(x *design.Break) string { return x.Name })
	m.run = design.Index(job.Runs, func(x *design.Run) string { return x.Name })
	m.cable = design.Index(job.Cables, func(x *design.Cable) string { return x.Name })
	m.housing = design.Index(job.Parts.Housings, func(x *design.Housing) string { return x.Name })
	m.contact = design.Index(job.Parts.Contacts, func(x *design.Contact) string { return x.Name })
	m.wire = design.Index(job.Parts.Wires, func(x *design.Wire) string { return x.Name })
	m.sleeve = design.Index(job.Parts.Sleeves, func(x *design.Sleeve) string { return x.Name })
	m.boot = design.Index(job.Parts.Boots, func(x *design.Boot) string { return x.Name })
	for i := range plan.Sections {
		s := &plan.Sections[i]
		for k := range s.Cuts {
			c := &s.Cuts[k]
			if len(c.Cores) == 0 {
				m.cut[at{c.Wire, 0}], m.cut[at{c.Wire, 1}], m.length[c.Wire] = c.Ends[0], c.Ends[1], c.Length
			}
			for _, o := range c.Cores {
				m.cut[at{o.Wire, 0}], m.cut[at{o.Wire, 1}], m.length[o.Wire] = o.Ends[0], o.Ends[1], c.Length
			}
		}
		for k := range s.Connectors {
			c := &s.Connectors[k]
			if c.Break != "" {
				m.text[halfKey(c)+"\n"+s.Name] = c.Title
			}
			for _, r := range c.Rows {
				if r.Blank == bench.PlugIt || r.Blank == bench.LeftEmpty+"; plug it" {
					m.blanks[c.Title+"\n"+s.Name]++
				}
			}
		}
	}
	m.atNode, m.endsHere = make([][]int, len(m.geo.Nodes)), make([]bool, len(m.geo.Nodes))
	for e := range m.geo.Edges {
		if x := &m.geo.Edges[e]; len(bundles.On(e)) > 0 {
			m.atNode[x.From] = append(m.atNode[x.From], e)
			if x.To != x.From {
				m.atNode[x.To] = append(m.atNode[x.To], e)
			}
		}
	}
	for i := range nt.Wires {
		for _, t := range nt.Wires[i].Ends {
			if t.Kind != net.InSplice && t.Node >= 0 && t.Node < len(m.endsHere) {
				m.endsHere[t.Node] = true
			}
		}
	}
	m.bushes = m.findBushes()
	return m
}

// conductor of a wire; the zero one where it is not known.
func (m *maker) conductor(wire int) size.Conductor {
	if wire < len(m.sizes) {
		return m.sizes[wire]
	}
	return size.Conductor{}
}

// setting is one that is a length; not set, negative or not finite is 0.
func (m *maker) setting(name string, at design.Scope) unit.Length {
	x := unit.Length(m.job.Settings.Get(name, at).Value.Quantity.Value)
	if !unit.Finite(x) || x < 0 {
		return 0
	}
	return x
}

func scope(w *net.Wire) design.Scope {
	return design.Scope{Circuit: w.Circuit, Class: w.Class, Section: w.Section}
}

// sections of a stud or anything else that several may share, without repeats.
func once(list []string, s string) []string {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}
