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
	r, _ := find(job, nt, sizes, cases, h, duty)
	return r
}

// FindAll is Find, and Curves besides.
func FindAll(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents) *Result {
	r, th := find(job, nt, sizes, cases, h, duty)
	if th != nil {
		r.Curves = Curves(job, nt, sizes, th, r)
	}
	return r
}

func find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents) (*Result, *heat.Thermal) {
	r := &Result{}
	if job == nil || nt == nil {
		return r, nil
	}
	t := newTracer(job, nt, sizes, h)
	r.Wires = t.trace(cases)
	r.Fuses = t.fuses(r.Wires, cases)
	th := heat.NewThermal(job, nt, sizes, cases, duty)
	weigh(job, nt, sizes, th, r)
	r.Unfused = t.stretches(r.Wires, r.Shorts)
	return r, th
}
