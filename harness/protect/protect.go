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
	_, all := FindFirst(job, nt, sizes, cases, h, duty)
	return all()
}

// FindFirst is Find, and what makes FindAll of it for who wants that in the end.
func FindFirst(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents) (r *Result, all func() *Result) {
	r, th := find(job, nt, sizes, cases, h, duty)
	return r, func() *Result {
		if th == nil {
			return r
		}
		x := *r
		x.Curves = Curves(job, nt, sizes, th, r)
		return &x
	}
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
