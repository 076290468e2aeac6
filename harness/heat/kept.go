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
	wires  []WireResult
	temps  map[string][]unit.Temperature
	begun  bool  // all that stands is of these cases
	asked  int   // how often it was
	other  []int // by place: when something there was another than the time before
}

// Keep prepares a net and its cases. Its arguments are only read.
func Keep(job *design.Job, nt *net.Net, cases []*solve.CaseResult, duty DutyCurrents) *Kept {
	k := &Kept{solver: solver{job: job, nt: nt, set: newSettings(job), places: placesOf(nt)}}
	k.on = lying(nt, k.places)
	k.flows(cases, duty, nil)
	return k
}

// Carry goes on with other currents. Places where they are the same to the bit stay as they are.
func (k *Kept) Carry(cases []*solve.CaseResult, duty DutyCurrents) {
	names, was := k.cases, k.cur
	k.flows(cases, duty, was)
	if !k.begun {
		return
	}
	if !slices.Equal(names, k.cases) {
		k.begun = false
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
func (k *Kept) Solve(conds size.Sizes) *Result {
	k.solve(conds, true)
	res := &Result{Wires: slices.Clone(k.wires), Temps: k.means()}
	edges := k.edges()
	first, most := make([]int, edges+1), 0 // of each place among the temperatures of all
	for i := range edges {
		n := len(k.places[i].wires)
		first[i+1], most = first[i]+n, max(most, n)
	}
	still := make([]unit.Current, most)
	for ci, c := range k.cases {
		var b []BundleResult
		if edges > 0 {
			b = make([]BundleResult, edges)
		}
		temps := make([]unit.Temperature, first[edges])
		inParts(edges, func(pi int) {
			b[pi] = k.stands[ci][pi].bundle(still, temps[first[pi]:first[pi+1]:first[pi+1]])
		})
		res.Bundles = append(res.Bundles, CaseBundles{c, b})
	}
	return res
}

// Judge is Solve but for the bundles (see Bundle), and for what a wire that is met may carry, what it rests at, and the words of it: most are asked only whether
// they are met. Its Wires are good until the next is asked for.
func (k *Kept) Judge(conds size.Sizes) *Result {
	k.solve(conds, false)
	return &Result{Wires: k.wires, Temps: k.means()}
}

// Tell is Solve but for the bundles. Its Wires are good until the next is asked for.
func (k *Kept) Tell(conds size.Sizes) *Result {
	k.solve(conds, true)
	return &Result{Wires: k.wires, Temps: k.means()}
}

// Bundle is the one in which a wire's result was found when all were asked for last; nil for a loose lead and for a wire that was not judged.
func (k *Kept) Bundle(wire int) *BundleResult {
	x := k.worst[wire]
	if x == nil || x.place.edge < 0 {
		return nil
	}
	n := len(x.place.wires)
	b := x.bundle(make([]unit.Current, n), make([]unit.Temperature, n))
	return &b
}

// edges is how many places lie on one; they come first.
func (k *Kept) edges() int {
	n := len(k.places)
	for n > 0 && k.places[n-1].edge < 0 {
		n--
	}
	return n
}

func (k *Kept) means() map[string][]unit.Temperature {
	out := make(map[string][]unit.Temperature, len(k.temps))
	for c, t := range k.temps {
		out[c] = slices.Clone(t)
	}
	return out
}

func (k *Kept) solve(conds size.Sizes, whole bool) {
	first := !k.begun
	k.asked++
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
		k.begin()
	}
	copy(k.conds, conds)
	var some []int
	for pi := range k.places {
		again := touched[pi]
		for ci := range k.cases {
			again = again || k.stale[ci][pi]
		}
		if again {
			some = append(some, pi)
		}
	}
	inParts(len(some), func(n int) {
		pi := some[n]
		if touched[pi] {
			p := k.places[pi]
			p.made = nil
			p.lay(k.set, k.nt, k.conds)
			k.places[pi] = p
		}
		d := desks.Get().(*desk)
		defer desks.Put(d)
		for ci := range k.cases {
			if touched[pi] || k.stale[ci][pi] {
				x := k.stand(&k.places[pi], ci, d)
				k.stands[ci][pi], k.stale[ci][pi] = x.kept(), false
			}
		}
	})
	for _, pi := range some {
		k.other[pi] = k.asked
		for _, i := range k.places[pi].wires {
			again[i] = true
		}
	}
	wires := listed(again)
	inParts(len(wires), func(n int) {
		i := wires[n]
		x, at := k.worstOf(k.stands, k.on[i], i)
		if x != nil && x == k.worst[i] { // the place it was last time, untouched
			return
		}
		k.worst[i], k.told[i] = x, whole || x == nil
		switch {
		case x == nil:
			k.wires[i] = nowhere(i)
		case whole:
			k.wires[i] = k.solver.result(x, at)
		default:
			if k.wires[i] = k.solver.verdict(x, at); !k.wires[i].Met {
				k.wires[i], k.told[i] = k.solver.result(x, at), true
			}
		}
	})
	if whole {
		k.tell()
	}
	for ci, c := range k.cases {
		if slices.Index(k.cases, c) == ci {
			for _, i := range wires {
				k.temps[c][i] = k.mean(ci, i)
			}
		}
	}
}

// begin makes room for all that stands.
func (k *Kept) begin() {
	n := len(k.nt.Wires)
	k.conds, k.wires, k.worst, k.told, k.temps = make(size.Sizes, n), make([]WireResult, n), make([]*stand, n), make([]bool, n), map[string][]unit.Temperature{}
	k.other = make([]int, len(k.places))
	k.stands, k.stale = make([][]*stand, len(k.cases)), make([][]bool, len(k.cases))
	for ci, c := range k.cases {
		k.stands[ci], k.stale[ci], k.temps[c] = make([]*stand, len(k.places)), make([]bool, len(k.places)), make([]unit.Temperature, n)
	}
	k.begun = true
}

// tell makes the results whole that are not.
func (k *Kept) tell() {
	inParts(len(k.told), func(i int) {
		if x := k.worst[i]; !k.told[i] {
			m, _ := slices.BinarySearch(x.place.known, i)
			k.wires[i], k.told[i] = k.solver.result(x, m), true
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
	d := desks.Get().(*desk)
	defer desks.Put(d)
	d.heap = d.heap[:0]
	var all []int
	places, own := make([]place, len(some)), make([]stand, len(some)*len(k.cases))
	for n, pi := range some {
		p := &places[n]
		*p = k.places[pi]
		p.made = nil
		p.lay(s.set, s.nt, conds)
		all = append(all, p.wires...)
		for ci := range k.cases {
			stands[ci][n], own = &own[0], own[1:]
			s.stand(p, ci, d).beside(stands[ci][n], d)
		}
	}
	slices.Sort(all)
	all = slices.Compact(all)
	out := make([]WireResult, len(all))
	var at []int // of some
	for n, i := range all {
		at = at[:0]
		for _, pi := range k.on[i] {
			if m, ok := slices.BinarySearch(some, pi); ok {
				at = append(at, m)
			}
		}
		if x, m := s.worstOf(stands, at, i); x != nil {
			out[n] = tell(&s, x, m)
		} else {
			out[n] = nowhere(i)
		}
	}
	return out
}

// worstOf is a wire's worst place and case, and which of the wires there it is; nil where its conductor is not known.
func (s *solver) worstOf(stands [][]*stand, places []int, wire int) (worst *stand, at int) {
	var most score
	for ci := range stands {
		for _, pi := range places {
			x := stands[ci][pi]
			m, ok := slices.BinarySearch(x.place.known, wire)
			if !ok {
				continue
			}
			if y := x.score(m, s.limit(x.place, wire, s.cases[x.given])); worst == nil || y.worse(most) {
				worst, at, most = x, m, y
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
			sum += x.figure(m).temp * l
			length += l
		}
	}
	if length > 0 {
		return unit.Temperature(sum / length)
	}
	amb := k.set.ambient(design.Scope{Zone: k.nt.Wires[wire].Zone, Section: k.nt.Wires[wire].Section, Case: k.cases[ci]})
	return unit.Temperature(within(float64(amb), coolest, hottest))
}

// bundle is the place as it is told, its temperatures in room for them. Where nothing flows its currents are those of still, which many places share.
func (x *stand) bundle(still []unit.Current, temps []unit.Temperature) BundleResult {
	p := x.place
	b := BundleResult{Edge: p.edge, Run: p.run, Station: p.station, Wires: p.wires, Amps: still[:len(p.wires):len(p.wires)], Temps: temps,
		Outside: p.diameter + 2*p.wall, Bare: p.diameter, Ambient: x.amb, Surface: unit.Temperature(x.surface), Watts: unit.LinearPower(x.watts), Runaway: x.runaway}
	flows := slices.ContainsFunc(x.of, func(f figure) bool { return f.sq != 0 })
	if flows {
		b.Amps = make([]unit.Current, len(p.wires))
	}
	k := 0
	for j, i := range p.wires {
		b.Temps[j] = unit.Temperature(x.air())
		if k < len(p.known) && p.known[k] == i {
			b.Temps[j] = unit.Temperature(x.figure(k).temp)
			if flows {
				b.Amps[j] = x.effective(k)
			}
			k++
		}
	}
	return b
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
