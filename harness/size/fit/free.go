package fit

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Freed is what would pass in place of stated sizes that are short: the outcome with the wires in question left to the program, none
// smaller than stated. It is how "the smallest that passes" is found where several wires share a limit.
type Freed struct {
	Sizes map[string]unit.Size // by wire, of the wires that were freed
	Unmet map[string]bool      // by device: a limit on its volts is missed all the same
	Hot   map[string]bool      // by wire: too hot all the same
	Loose map[string]bool      // by wire: no contact of its ends takes that size
}

// Free tries the stated sizes that stand in the way of a limit larger; p is the protection of the outcome. It is nil when none does. It costs
// one more loop.
func Free(job *design.Job, o *Outcome, p *protect.Result, build func(*design.Job, net.Hints) *net.Net) *Freed {
	short := offenders(job, o, p)
	if len(short) == 0 {
		return nil
	}
	free := *job
	free.Circuits = slices.Clone(job.Circuits)
	for i, c := range free.Circuits {
		x := *c
		x.Links = slices.Clone(c.Links)
		for k := range x.Links {
			if short[linkKey{c.Name, k}] {
				x.Links[k].Floor, x.Links[k].Size = x.Links[k].Size, unit.Size{}
			}
		}
		free.Circuits[i] = &x
	}
	n := Loop(&free, func(h net.Hints) *net.Net { return build(&free, h) })
	out := &Freed{Sizes: map[string]unit.Size{}, Unmet: map[string]bool{}, Hot: map[string]bool{}, Loose: map[string]bool{}}
	for i := range n.Net.Wires {
		w := &n.Net.Wires[i]
		if short[linkKey{w.Circuit, w.Link}] {
			out.Sizes[w.Name] = n.Sizes[i].Size
			out.Loose[w.Name] = n.Sizes[i].Fits != [2]bool{true, true}
		}
		if n.Heat != nil && i < len(n.Heat.Wires) && !n.Heat.Wires[i].Met {
			out.Hot[w.Name] = true
		}
	}
	unmet(&free, n, func(_ *solve.CaseResult, l, _ *solve.LoadResult) { out.Unmet[l.Device] = true })
	return out
}

type linkKey struct {
	circuit string
	link    int
}

// offenders are the links whose stated size stands in the way of a limit: too hot, or on the way of a load that misses one.
func offenders(job *design.Job, o *Outcome, p *protect.Result) map[linkKey]bool {
	out := map[linkKey]bool{}
	take := func(i int) {
		if w := &o.Net.Wires[i]; !w.Stated.IsZero() && w.Link >= 0 && o.Sizes[i].Why == size.ByHand {
			out[linkKey{w.Circuit, w.Link}] = true
		}
	}
	if o.Heat != nil {
		for i := range o.Heat.Wires {
			if !o.Heat.Wires[i].Met && i < len(o.Net.Wires) {
				take(i)
			}
		}
	}
	if p != nil {
		for _, n := range p.Needs() {
			take(n.Wire)
		}
	}
	unmet(job, o, func(c *solve.CaseResult, _, way *solve.LoadResult) {
		for _, steps := range [2][]solve.Step{way.Feed, way.Return} {
			for _, s := range steps {
				if i := wireOf(c, s); i >= 0 && i < len(o.Net.Wires) {
					take(i)
				}
			}
		}
	})
	return out
}

// unmet visits each load that misses a limit on its volts, with the load that holds its way.
func unmet(job *design.Job, o *Outcome, visit func(c *solve.CaseResult, l, way *solve.LoadResult)) {
	missed := func(ls []Limit) bool {
		return slices.ContainsFunc(ls, func(l Limit) bool { return !l.Met() })
	}
	j := NewJudge(job, o.Net)
	for _, c := range o.Cases {
		moves, quiet := c.StartsAt()
		for i := range c.Loads {
			l := &c.Loads[i]
			if missed(j.Limits(c, i)) {
				visit(c, l, l)
			}
			for _, k := range solve.Telling(moves[i], quiet[i]) {
				if missed(j.StartLimits(c, k, i)) {
					visit(c, l, l)
				}
			}
		}
	}
}
