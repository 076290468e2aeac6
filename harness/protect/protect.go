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
	return FindFirst(job, nt, sizes, cases, h, duty, nil).Result
}

// FindAll is Find, and the curves of fuses and the courses of wires besides.
func FindAll(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents) *Result {
	return FindFirst(job, nt, sizes, cases, h, duty, nil).All()
}

// FindFirst is Find for who asks on. laid are the cases as they were laid before, by case; nil where they were not.
func FindFirst(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents, laid []*solve.Laid) *Look {
	r := &Result{}
	if job == nil || nt == nil {
		return &Look{Result: r, all: func() *Result { return r }}
	}
	var t *tracer
	var th *heat.Thermal
	var g *weigher
	solve.Each(2, func(i int) { // what protects the wires, and what they stand
		if i == 0 {
			t = newTracer(job, nt, sizes, h)
			r.Wires = t.trace(cases)
			r.Fuses = t.fuses(r.Wires, cases)
			return
		}
		th = heat.NewThermal(job, nt, sizes, cases, duty)
		g = newWeigher(job, nt, sizes, th)
	})
	g.weigh(laid, r)
	r.Unfused = t.stretches(r.Wires, r.Shorts)
	return &Look{r, g, func() *Result {
		x := *r
		x.Curves = Curves(job, nt, sizes, th, r)
		x.Wires = g.courses(th, r.Wires)
		return &x
	}}
}
