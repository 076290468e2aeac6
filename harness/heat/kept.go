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

// Kept is Solve to be asked again and again while conductors and currents change and nothing else does. It gives what Solve gives, to the bit, but works out
// only the places where a conductor or a current is another than it was when it was asked last, and the wires that lie there. It is for one user at
// a time.
type Kept struct {
	solver
	on     [][]int    // by wire: the places where it lies, as in places
	stale  [][]bool   // by case and place: a current is another than in stands
	stands [][]*stand // by case and place
	worst  []*stand   // by wire; nil of one that is not judged
	told   []bool     // by wire: its result is whole
	result *Result
}

// Keep prepares a net and its cases. Its arguments are only read.
func Keep(job *design.Job, nt *net.Net, cases []*solve.CaseResult, duty DutyCurrents) *Kept {
	k := &Kept{solver: solver{job: job, nt: nt, set: newSettings(job), places: placesOf(nt)}}
	k.on = lying(nt, k.places)
	k.flows(cases, duty, nil)
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
	x.flows(cases, duty, nil)
	return x
}

// Carry goes on with other currents. Places where they are the same to the bit stay as they are.
func (k *Kept) Carry(cases []*solve.CaseResult, duty DutyCurrents) {
	names, was := k.cases, k.cur
	k.flows(cases, duty, was)
	if k.result == nil {
		return
	}
	if !slices.Equal(names, k.cases) {
		k.result = nil
		return
	}
	for ci := range k.cur {
		k.differ(&was[ci], &k.cur[ci], k.stale[ci])
	}
}

// differ marks the places where what heats is another than it was.
func (k *Kept) differ(was, now *current, stale []bool) {
	rhythm := func(a, b DutyStep) bool { return a.Device == b.Device && a.On == b.On && a.Off == b.Off }
	all, same := !slices.EqualFunc(was.steps, now.steps, rhythm), alike(was.starts, now.starts)
	for i, places := range k.on {
		other := all || was.full[i] != now.full[i]
		for n := 0; !other && n < len(now.steps); n++ {
			other = was.steps[n].Amps[i] != now.steps[n].Amps[i]
		}
		if !other { // where others start, their numbers tell nothing
			a, b := was.lifts.of(i), now.lifts.of(i)
			other = !slices.Equal(a, b) || !same && len(a) > 0
		}
		if other {
			for _, pi := range places {
				stale[pi] = true
			}
		}
	}
}

// flows reads the currents of cases; was: those they had before, by case.
func (k *Kept) flows(cases []*solve.CaseResult, duty DutyCurrents, was []current) {
	all := spread(cases)
	names := k.cases
	k.duty, k.first = duty, firsts(all)
	k.cases, k.cur = make([]string, len(all)), make([]current, len(all))
	solve.Each(len(all), func(i int) {
		k.cases[i] = all[i].Case
		k.cur[i] = k.currents(all[i])
		var before *current
		if i < len(was) && names[i] == all[i].Case {
			before = &was[i]
		}
		k.starts(all[i], &k.cur[i], before)
	})
	k.duty, k.first = nil, nil
}

// Solve is the heat of all cases with these conductors.
func (k *Kept) Solve(conds size.Sizes) *Result { return k.solve(conds, true) }

// Judge is Solve but for what a wire that is met may carry, what it rests at, and the words of it: most are asked only whether they are met.
func (k *Kept) Judge(conds size.Sizes) *Result { return k.solve(conds, false) }

func (k *Kept) solve(conds size.Sizes, whole bool) *Result {
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
	if first {
		k.conds = make(size.Sizes, len(conds))
	}
	copy(k.conds, conds)
	old := k.result
	res := &Result{Temps: map[string][]unit.Temperature{}, Wires: make([]WireResult, len(k.nt.Wires))}
	if first {
		old = &Result{Bundles: make([]CaseBundles, len(k.cases)), Wires: res.Wires, Temps: map[string][]unit.Temperature{}}
		k.stands, k.stale = make([][]*stand, len(k.cases)), make([][]bool, len(k.cases))
		k.worst, k.told = make([]*stand, len(k.nt.Wires)), make([]bool, len(k.nt.Wires))
		for ci := range k.cases {
			k.stands[ci], k.stale[ci] = make([]*stand, len(k.places)), make([]bool, len(k.places))
		}
	}
	edges := len(k.places) // those on an edge come first
	for edges > 0 && k.places[edges-1].edge < 0 {
		edges--
	}
	var some []int
	other := make([]bool, len(k.cases)) // one of its bundles is
	for pi := range k.places {
		again := touched[pi]
		for ci := range k.cases {
			if touched[pi] || k.stale[ci][pi] {
				again = true
				other[ci] = other[ci] || pi < edges
			}
		}
		if again {
			some = append(some, pi)
		}
	}
	for ci, c := range k.cases {
		b := old.Bundles[ci].Bundles
		if other[ci] {
			b = make([]BundleResult, edges)
			copy(b, old.Bundles[ci].Bundles)
		}
		res.Bundles = append(res.Bundles, CaseBundles{c, b})
	}
	inParts(len(some), func(n int) {
		pi := some[n]
		if touched[pi] {
			p := k.places[pi]
			p.made = nil
			p.lay(k.set, k.nt, k.conds)
			k.places[pi] = p
		}
		for ci := range k.cases {
			if !touched[pi] && !k.stale[ci][pi] {
				continue
			}
			x := k.stand(&k.places[pi], ci)
			k.stands[ci][pi], k.stale[ci][pi] = x, false
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
		k.worst[i], k.told[i] = x, whole || x == nil
		switch {
		case x == nil:
			res.Wires[i] = nowhere(i)
		case whole:
			res.Wires[i] = k.solver.result(x, at)
		default:
			if res.Wires[i] = k.solver.verdict(x, at); !res.Wires[i].Met {
				res.Wires[i], k.told[i] = k.solver.result(x, at), true
			}
		}
	})
	if whole {
		k.tell(res)
	}
	for ci, c := range k.cases {
		if _, twice := res.Temps[c]; twice {
			continue
		}
		temps := slices.Clone(old.Temps[c])
		if temps == nil {
			temps = make([]unit.Temperature, len(k.nt.Wires))
		}
		for _, i := range wires {
			temps[i] = k.mean(ci, i)
		}
		res.Temps[c] = temps
	}
	k.result = res
	return res
}

// tell makes the results whole that are not.
func (k *Kept) tell(res *Result) {
	inParts(len(k.told), func(i int) {
		if x := k.worst[i]; !k.told[i] {
			m, _ := slices.BinarySearch(x.place.known, i)
			res.Wires[i], k.told[i] = k.solver.result(x, m), true
		}
	})
}

// Around is the results of the wires at the places where some wires lie, in order, each told only of those places; nothing is kept of it.
func (k *Kept) Around(conds size.Sizes, wires []int) []WireResult {
	return k.around(conds, wires, (*solver).result)
}

// JudgeAround is Around as Judge tells it.
func (k *Kept) JudgeAround(conds size.Sizes, wires []int) []WireResult {
	return k.around(conds, wires, (*solver).verdict)
}

func (k *Kept) around(conds size.Sizes, wires []int, tell func(*solver, *stand, int) WireResult) []WireResult {
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
		for ci := range k.cases {
			stands[ci][n] = s.stand(&p, ci)
		}
	}
	slices.Sort(all)
	out := make([]WireResult, len(all))
	for n, i := range all {
		if x, m := worstOf(stands, at[i], i); x != nil {
			out[n] = tell(&s, x, m)
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
			sum += float64(x.temps[m]) * l
			length += l
		}
	}
	if length > 0 {
		return unit.Temperature(sum / length)
	}
	amb := k.set.ambient(design.Scope{Zone: k.nt.Wires[wire].Zone, Section: k.nt.Wires[wire].Section, Case: k.cases[ci]})
	return unit.Temperature(within(float64(amb), coolest, hottest))
}

// bundle is the place as it is told.
func (x *stand) bundle() BundleResult {
	p := x.place
	return BundleResult{Edge: p.edge, Run: p.run, Station: p.station, Wires: p.wires, Amps: p.amps(x.sq), Temps: x.all(), Outside: p.diameter + 2*p.wall, Bare: p.diameter, Ambient: x.amb,
		Surface: unit.Temperature(x.surface), Watts: unit.LinearPower(x.watts), Runaway: x.runaway}
}

// all spreads the temperatures of the known wires over all of the place.
func (x *stand) all() []unit.Temperature {
	p := x.place
	if len(p.known) == len(p.wires) {
		return x.temps
	}
	out := make([]unit.Temperature, len(p.wires))
	k := 0
	for j, i := range p.wires {
		out[j] = unit.Temperature(x.air())
		if k < len(p.known) && p.known[k] == i {
			out[j] = x.temps[k]
			k++
		}
	}
	return out
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
