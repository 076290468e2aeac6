package protect

import (
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Warming answers how single wires warm past their steady state, several that ask at a time, as heat.Thermal does.
type Warming interface {
	Steady(wire int) unit.Temperature
	Sustained(wire int, limit unit.Temperature) unit.Current
	After(wire int, amps unit.Current, d unit.Time) unit.Temperature
	Lasts(wire int, amps unit.Current, limit unit.Temperature) (d unit.Time, ok bool)
}

// FindPart is Find for a job and net cut out of larger ones, districts of them as package solve knows them: what lies beside their wires is in warm, what their
// wires may carry in h.
func FindPart(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, warm Warming) *Look {
	r := &Result{}
	t := newTracer(job, nt, sizes, h)
	r.Wires = t.trace(cases)
	r.Fuses = t.fuses(r.Wires, cases)
	g := newWeigher(job, nt, sizes, warm)
	g.weigh(nil, r)
	r.Unfused = t.stretches(r.Wires, r.Shorts)
	return &Look{Result: r, by: g, all: func() *Result { return r }}
}
