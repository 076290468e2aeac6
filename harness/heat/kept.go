package heat

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Kept is Solve to be asked again and again while conductors change and nothing else does. It gives what Solve gives, to the bit, but works out
// only the places where a conductor is another than it was when it was asked last, and the wires that lie there. It is for one user at a time.
type Kept struct {
	solver
	cases  []*solve.CaseResult // with their spreads
	cur    []current
	on     [][]int    // by wire: the places where it lies, as in places
	stands [][]*stand // by case and place
	worst  []*stand   // by wire; nil of one that is not judged
	result *Result
}

// Keep prepares a net and its cases. Its arguments are only read.
func Keep(job *design.Job, nt *net.Net, cases []*solve.CaseResult, duty DutyCurrents) *Kept {
	k := &Kept{solver: solver{job: job, nt: nt, set: newSettings(job), places: placesOf(nt)}, on: make([][]int, len(nt.Wires))}
	for pi := range k.places {
		for _, i := range k.places[pi].wires {
			k.on[i] = append(k.on[i], pi)
		}
	}
	k.flows(cases, duty)
	return k
}

// With is the same with other currents, or another job whose settings, air and limits differ: nt must have the wires and the ways of the net that
// was kept.
func (k *Kept) With(job *design.Job, nt *net.Net, cases []*solve.CaseResult, duty DutyCurrents) *Kept {
	x := &Kept{solver: solver{job: job, nt: nt, set: k.set, places: slices.Clone(k.places)}, on: k.on}
	if job != k.job {
		x.set = newSettings(job)
	}
	for i := range x.places {
		x.places[i].made = nil
	}
	x.flows(cases, duty)
	return x
}

func (k *Kept) flows(cases []*solve.CaseResult, duty DutyCurrents) {
	k.duty, k.cases = duty, spread(cases)
	k.first = firsts(k.cases)
	k.cur = make([]current, len(k.cases))
	for i, c := range k.cases {
		cur := k.currents(c)
		cur.at = map[int][]int{}
		for si := range cur.starts {
			for w := range cur.starts[si].amps { // each place is given each start once, in order
				for _, pi := range k.on[w] {
					if l := cur.at[pi]; len(l) == 0 || l[len(l)-1] != si {
						cur.at[pi] = append(l, si)
					}
				}
			}
		}
		k.cur[i] = cur
	}
}

// Solve is the heat of all cases with these conductors.
func (k *Kept) Solve(conds size.Sizes) *Result {
	first := k.result == nil
	touched := make([]bool, len(k.places))
	again := make([]bool, len(k.nt.Wires))
	for i := range k.nt.Wires {
		if first || k.conds[i] != conds[i] {
			again[i] = true
			for _, pi := range k.on[i] {
				touched[pi] = true
			}
		}
	}
	k.conds = slices.Clone(conds)
	old := k.result
	res := &Result{Temps: map[string][]unit.Temperature{}, Wires: make([]WireResult, len(k.nt.Wires))}
	if first {
		old = &Result{Bundles: make([]CaseBundles, len(k.cases)), Wires: res.Wires, Temps: map[string][]unit.Temperature{}}
		k.stands, k.worst = make([][]*stand, len(k.cases)), make([]*stand, len(k.nt.Wires))
		for ci := range k.cases {
			k.stands[ci] = make([]*stand, len(k.places))
		}
	}
	edges := len(k.places) // those on an edge come first
	for edges > 0 && k.places[edges-1].edge < 0 {
		edges--
	}
	for ci, c := range k.cases {
		b := make([]BundleResult, edges)
		copy(b, old.Bundles[ci].Bundles)
		if edges == 0 {
			b = nil
		}
		res.Bundles = append(res.Bundles, CaseBundles{c.Case, b})
	}
	some := listed(touched)
	inParts(len(some), func(n int) {
		pi := some[n]
		p := k.places[pi]
		p.made = nil
		p.lay(k.set, k.nt, k.conds)
		k.places[pi] = p
		for ci, c := range k.cases {
			x := k.stand(&k.places[pi], pi, ci, c, &k.cur[ci])
			k.stands[ci][pi] = x
			if pi < edges {
				res.Bundles[ci].Bundles[pi] = x.bundle()
			}
		}
	})
	for _, pi := range some {
		for _, i := range k.places[pi].wires {
			again[i] = true
		}
	}
	wires := listed(again)
	copy(res.Wires, old.Wires)
	inParts(len(wires), func(n int) {
		i := wires[n]
		x, at := worstOf(k.stands, k.on[i], i)
		if x != nil && x == k.worst[i] { // the place it was last time, untouched
			return
		}
		if k.worst[i] = x; x == nil {
			res.Wires[i] = nowhere(i)
		} else {
			res.Wires[i] = k.solver.result(x, at)
		}
	})
	for ci, c := range k.cases {
		if _, twice := res.Temps[c.Case]; twice {
			continue
		}
		temps := slices.Clone(old.Temps[c.Case])
		if temps == nil {
			temps = make([]unit.Temperature, len(k.nt.Wires))
		}
		for _, i := range wires {
			temps[i] = k.mean(ci, i)
		}
		res.Temps[c.Case] = temps
	}
	k.result = res
	return res
}

// Around is the results of the wires at the places where some wires lie, in order, each told only of those places; nothing is kept of it.
func (k *Kept) Around(conds size.Sizes, wires []int) []WireResult {
	var some []int
	for _, i := range wires {
		some = append(some, k.on[i]...)
	}
	slices.Sort(some)
	some = slices.Compact(some)
	s := k.solver
	s.conds = conds
	stands := make([][]*stand, len(k.cases))
	for ci := range k.cases {
		stands[ci] = make([]*stand, len(some))
	}
	at := map[int][]int{} // by wire: indices of some
	var all []int
	for n, pi := range some {
		p := k.places[pi]
		p.made = nil
		p.lay(s.set, s.nt, conds)
		for _, i := range p.wires {
			if at[i] == nil {
				all = append(all, i)
			}
			at[i] = append(at[i], n)
		}
		for ci, c := range k.cases {
			stands[ci][n] = s.stand(&p, pi, ci, c, &k.cur[ci])
		}
	}
	slices.Sort(all)
	out := make([]WireResult, len(all))
	for n, i := range all {
		if x, m := worstOf(stands, at[i], i); x != nil {
			out[n] = s.result(x, m)
		} else {
			out[n] = nowhere(i)
		}
	}
	return out
}

// worstOf is a wire's worst place and case, and which of the wires there it is; nil where its conductor is not known.
func worstOf(stands [][]*stand, places []int, wire int) (worst *stand, at int) {
	for ci := range stands {
		for _, pi := range places {
			x := stands[ci][pi]
			m, ok := slices.BinarySearch(x.place.known, wire)
			if ok && (worst == nil || x.scores[m].worse(worst.scores[at])) {
				worst, at = x, m
			}
		}
	}
	return worst, at
}

// mean is the temperature of a wire along its way in a case.
func (k *Kept) mean(ci, wire int) unit.Temperature {
	sum, length := 0.0, 0.0
	for _, pi := range k.on[wire] {
		x := k.stands[ci][pi]
		if m, ok := slices.BinarySearch(x.place.known, wire); ok {
			l := math.Max(float64(x.place.length), 1e-6)
			sum += x.st.temps[m] * l
			length += l
		}
	}
	if length > 0 {
		return unit.Temperature(sum / length)
	}
	amb := k.set.ambient(design.Scope{Zone: k.nt.Wires[wire].Zone, Section: k.nt.Wires[wire].Section, Case: k.cases[ci].Case})
	return unit.Temperature(within(float64(amb), coolest, hottest))
}

// bundle is the place as it is told.
func (x *stand) bundle() BundleResult {
	p := x.place
	return BundleResult{Edge: p.edge, Run: p.run, Station: p.station, Wires: p.wires, Amps: p.amps(x.sq), Temps: p.temps(x.st, x.ta), Outside: p.diameter + 2*p.wall, Bare: p.diameter, Ambient: x.amb,
		Surface: unit.Temperature(x.st.surface), Watts: unit.LinearPower(x.st.watts), Runaway: x.st.runaway}
}

func listed(set []bool) (out []int) {
	for i, in := range set {
		if in {
			out = append(out, i)
		}
	}
	return out
}

// inParts runs tasks some at a time, so that handing them out costs little.
func inParts(n int, do func(i int)) {
	const part = 32
	if n <= part {
		for i := range n {
			do(i)
		}
		return
	}
	solve.Each((n+part-1)/part, func(k int) {
		for i := k * part; i < min(n, (k+1)*part); i++ {
			do(i)
		}
	})
}
