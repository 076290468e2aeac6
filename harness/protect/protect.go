package protect

import (
	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
)

// Find weighs the protection of a job whose net is sized, solved and heated.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents) *Result {
	r := &Result{}
	if job == nil || nt == nil {
		return r
	}
	t := newTracer(job, nt, sizes, h)
	r.Wires = t.trace(cases)
	r.Fuses = t.fuses(r.Wires, cases)
	weigh(job, nt, sizes, heat.NewThermal(job, nt, sizes, cases, duty), r)
	r.Unfused = t.stretches(r.Wires, r.Shorts)
	return r
}
