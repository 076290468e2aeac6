package bench

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/layup"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/size"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Make plans the work on the bench. It changes none of its inputs and works on incomplete ones: what is
// not known (a length without coordinates, a contact that does not exist) stays zero or empty in the plan.
func Make(job *design.Job, nt *net.Net, sizes size.Sizes, lay *layup.Plan, held *fix.Plan, body *shell.Shell) *Plan {
	m := newMaker(job, nt, sizes)
	p := &Plan{}
	for _, name := range m.sections() {
		sec := SectionPlan{Name: name, Cuts: m.cuts(name), Connectors: m.connectors(name), Splices: m.splices(name)}
		sec.Inspection = m.inspect(name, sec.Connectors)
		for _, s := range job.Sections {
			if s.Name == name {
				sec.Note = s.Note
			}
		}
		p.Sections = append(p.Sections, sec)
	}
	for i := range held.Runs {
		for k := range p.Sections {
			if p.Sections[k].Name == held.Runs[i].Section {
				p.Sections[k].Sleeves = append(p.Sections[k].Sleeves, held.Runs[i].Sleeves...)
			}
		}
	}
	p.Parts = m.parts(p, held, body)
	return p
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

	onPin  map[[2]string][]at // device, pin
	onHalf map[halfCavity][]at
	onEdge [][]int // wires by edge
	atNode [][]int // edges by node
	ends   []bool  // by node: a wire ends there in something other than a splice
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

	m.onEdge = make([][]int, len(m.geo.Edges))
	m.atNode = make([][]int, len(m.geo.Nodes))
	m.ends = make([]bool, len(m.geo.Nodes))
	for i, e := range m.geo.Edges {
		m.atNode[e.From] = append(m.atNode[e.From], i)
		m.atNode[e.To] = append(m.atNode[e.To], i)
	}
	for i := range nt.Wires {
		w := &nt.Wires[i]
		for _, s := range w.Path {
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
				m.onHalf[k] = append(m.onHalf[k], at{i, e})
			}
			if t.Kind != net.InSplice && t.Node >= 0 && t.Node < len(m.ends) {
				m.ends[t.Node] = true
			}
		}
	}
	return m
}

// sections is those of the job, and what wires and halves say beyond them.
func (m *maker) sections() []string {
	var out []string
	for _, s := range m.job.Sections {
		out = append(out, s.Name)
	}
	for i := range m.net.Wires {
		if n := m.net.Wires[i].Section; !slices.Contains(out, n) {
			out = append(out, n)
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

// length is a setting of that dimension; not set, negative or not finite is 0.
func (m *maker) length(name string, at design.Scope) unit.Length {
	return positive(unit.Length(m.job.Settings.Get(name, at).Value.Quantity.Value))
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
