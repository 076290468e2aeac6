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
	return FindAgain(job, nt, sizes, cases, h, duty, Again{}).Result
}

// FindAgain is Find for who asks on, or has asked before.
func FindAgain(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, h *heat.Result, duty heat.DutyCurrents, from Again) *Look {
	r := &Result{}
	if job == nil || nt == nil {
		return &Look{Result: r}
	}
	last := from.Last
	if last != nil && (last.by == nil || last.by.job != job || last.by.nt != nt) {
		last = nil
	}
	var t *tracer
	var g *weigher
	var parts *apart
	solve.Each(2, func(i int) { // what protects the wires, and what they stand
		if i == 0 {
			t = newTracer(job, nt, sizes, h)
			r.Wires = t.trace(cases)
			r.Fuses = t.fuses(r.Wires, cases)
			if last == nil {
				parts = newApart(t.Network, len(nt.Wires))
			} else {
				parts = last.by.apart
			}
			return
		}
		g = newWeigherLike(job, nt, sizes, heat.NewThermal(job, nt, sizes, cases, duty), last, from.Same)
	})
	g.apart = parts
	orders := g.weigh(from.Laid, r, last, from.Same)
	r.Unfused = t.stretches(r.Wires, r.Shorts)
	return &Look{r, g, orders}
}
