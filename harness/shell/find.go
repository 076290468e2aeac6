package shell

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/solid"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// Find gathers the work on the bare body. It changes none of its inputs and works on incomplete ones.
func Find(job *design.Job, nt *net.Net, held *fix.Plan) *Shell {
	m := newMaker(job, nt, held)
	s := &Shell{}
	m.panels(s)
	needs := m.needs()
	m.mounts(s, needs)
	needs = m.order(needs)
	m.faced(s, needs)
	m.refer(needs)
	m.close(s, needs)
	m.edges(s, needs)
	m.crowded(s, needs)
	m.misfits(s, needs)
	m.masks(s, needs)
	m.painted(s, needs)
	m.open(s, needs)
	s.Masks = slices.Clone(s.Masks) // without the room it grew into
	m.templates(s, needs)
	m.decide(s, needs)
	s.Holes = slices.Grow(s.Holes, len(needs))
	same := design.Once{}
	for i := range s.Masks {
		same.Texts(&s.Masks[i].What, &s.Masks[i].Note)
	}
	s.Decisions = design.Exact(s.Decisions)
	for i := range s.Decisions {
		same.Texts(&s.Decisions[i].Note)
	}
	for i := range needs {
		same.Texts(&needs[i].Note, &needs[i].DrillSum, &needs[i].What, &needs[i].Which)
		s.Holes = append(s.Holes, needs[i].Hole)
	}
	return s
}

// maker holds the inputs with what is looked up often.
type maker struct {
	job      *design.Job
	net      *net.Net
	geo      *space.Geometry
	held     *fix.Plan
	housing  map[string]*design.Housing
	fastener map[string]*design.Fastener
	run      map[string]*design.Run
	zone     map[string]*design.Zone
	stated   map[string]*design.Hole     // by name
	frozen   map[string][]*design.Fixing // by run, those of a revision
	near     *holeGrid
	list     []Panel               // as in the answer
	at       map[string]int        // panels by name
	free     [][][2]solid.Flat     // edges by panel
	measured map[string][]measured // on sheets that are not flat
}

func newMaker(job *design.Job, nt *net.Net, held *fix.Plan) *maker {
	if nt == nil {
		nt = &net.Net{}
	}
	if held == nil {
		held = &fix.Plan{}
	}
	m := &maker{job: job, net: nt, geo: nt.Space, held: held, at: map[string]int{}, measured: map[string][]measured{}}
	if m.geo == nil {
		m.geo = &space.Geometry{}
	}
	m.housing = design.Index(job.Parts.Housings, func(x *design.Housing) string { return x.Name })
	m.fastener = design.Index(job.Parts.Fasteners, func(x *design.Fastener) string { return x.Name })
	m.run = design.Index(job.Runs, func(x *design.Run) string { return x.Name })
	m.zone = design.Index(job.Zones, func(x *design.Zone) string { return x.Name })
	m.stated = design.Index(job.Holes, func(x *design.Hole) string { return x.Name })
	m.frozen = map[string][]*design.Fixing{}
	for _, f := range job.Fixings {
		if f.Frozen != "" {
			m.frozen[f.Run] = append(m.frozen[f.Run], f)
		}
	}
	m.near = newHoleGrid(job.Holes)
	return m
}

func (m *maker) panel(name string) *Panel {
	if i, ok := m.at[name]; ok {
		return &m.list[i]
	}
	return nil
}

// statement is the line that states a hole of that name.
func (m *maker) statement(name string) *design.Hole {
	if name == "" {
		return nil
	}
	return m.stated[name]
}

// length is a setting that is a length, and where it came from; negative or senseless is 0.
func (m *maker) length(name string, at design.Scope) (unit.Length, string) {
	x, source := m.number(name, at)
	return unit.Length(x), source
}

// number is a setting's figure in its base unit, and where it came from; negative or senseless is 0.
func (m *maker) number(name string, at design.Scope) (float64, string) {
	r := m.job.Settings.Get(name, at)
	return max(0, clean(r.Value.Quantity.Value)), r.Source()
}

// or is a, or b where a is empty.
func or(a, b string) string {
	if a != "" {
		return a
	}
	return b
}
