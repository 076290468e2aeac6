package protect

import (
	"math"
	"slices"

	"loomsheet/harness/solve"
)

// returnShare of a load's current is the least by which a wire counts as one of its returns where ways divide. Less runs through earths
// side by side with the load's own.
const returnShare = 0.02

// returns finds what protects the wires on the minus side: what protects the loads whose current comes back through them. Those are the
// loads whose way back in some case leads there; for a wire on no such way those whose current it shares; for one that no case uses
// those for which it lies on the shortest way over metal to the minus of what feeds them.
func (t *tracer) returns(out []WireResult, cases []*solve.CaseResult) {
	t.minus = t.minusSide()
	for i := range out {
		e := t.wires[i]
		out[i].Return = e >= 0 && !out[i].Reached && t.minus.has(t.Elements[e].From)
	}
	got := make([]reached, len(out))
	loads := map[loadKey]int{}
	for i, e := range t.Elements {
		if e.Kind == solve.Load || e.Kind == solve.Coil {
			loads[loadKey{e.Device, e.Index, e.Kind == solve.Coil}] = i
		}
	}
	for _, c := range cases {
		if c == nil || c.Net == nil {
			continue
		}
		for i := range c.Loads {
			l := &c.Loads[i]
			e, ok := loads[loadKey{l.Device, l.Index, l.Coil}]
			if !ok {
				continue
			}
			for _, s := range l.Return {
				x := &c.Net.Elements[s.Element]
				if x.Kind == solve.Supply || x.Kind == solve.Load || x.Kind == solve.Coil {
					break
				}
				if x.Wire >= 0 && x.Wire < len(out) && out[x.Wire].Return {
					got[x.Wire].join(t.loadReach(e))
				}
			}
		}
	}
	var runs []*downhill
	for i := range out {
		if out[i].Return && !got[i].any() {
			if runs == nil {
				runs = make([]*downhill, len(cases))
				for k, c := range cases {
					runs[k] = newDownhill(c)
				}
			}
			for _, d := range runs {
				t.shared(d, i, loads, &got[i])
			}
		}
	}
	unused := make([]bool, len(out))
	for i := range out {
		unused[i] = out[i].Return && !got[i].any()
	}
	t.shortest(unused, got)
	for i := range out {
		if got[i].any() {
			t.set(&out[i], got[i])
		}
	}
}

type loadKey struct {
	device string
	index  int
	coil   bool
}

// loadReach is what feeds a load, from whichever of its ends a source reaches.
func (t *tracer) loadReach(e int) reached {
	r := t.reach(t.Elements[e].From)
	r.join(t.reach(t.Elements[e].To))
	return r
}

// drains is the elements by which current comes into a node on its way to a minus; fuses let it through.
func (t *tracer) drains(e, into int) bool {
	switch x := &t.Elements[e]; x.Kind {
	case solve.Load, solve.Coil, solve.Supply:
		return false
	case solve.Diode:
		return x.To == into
	}
	return true
}

// minusSide is the nodes from which metal leads to a minus and that no plus reaches.
func (t *tracer) minusSide() bits {
	in := newBits(len(t.Nodes))
	for i := range t.sources {
		t.upstream(t.sources[i].minus, func(node, _ int) bool {
			if in.has(node) {
				return false
			}
			in.add(node)
			return true
		})
	}
	return in
}

// upstream walks from a minus against the current, over metal that no plus reaches, nearest first. enter is told each node and the
// element by which it was met, -1 at the start, and whether to go on is its answer: it must refuse what it has met.
func (t *tracer) upstream(minus int, enter func(node, by int) bool) {
	if t.plus.has(minus) || !enter(minus, -1) {
		return
	}
	for todo := []int{minus}; len(todo) > 0; todo = todo[1:] {
		n := todo[0]
		for _, e := range t.at[n] {
			if m := t.other(e, n); t.drains(e, n) && !t.plus.has(m) && enter(m, e) {
				todo = append(todo, m)
			}
		}
	}
}

// shortest gives the unused wires the loads for which they lie on the shortest way to the minus of a source that feeds them.
func (t *tracer) shortest(unused []bool, got []reached) {
	any := false
	for _, u := range unused {
		any = any || u
	}
	if !any {
		return
	}
	for i := range t.sources {
		s := &t.sources[i]
		by := map[int]int{}
		t.upstream(s.minus, func(node, e int) bool {
			if _, met := by[node]; met {
				return false
			}
			by[node] = e
			return true
		})
		for e := range t.Elements {
			x := &t.Elements[e]
			if x.Kind != solve.Load && x.Kind != solve.Coil {
				continue
			}
			for _, n := range [2]int{x.To, x.From} {
				if _, ok := by[n]; !ok || !t.feeds(s, t.other(e, n)) {
					continue
				}
				r := t.loadReach(e)
				for k := by[n]; k >= 0; k = by[n] {
					if w := t.Elements[k].Wire; t.Elements[k].Kind == solve.Wire && unused[w] {
						got[w].join(r)
					}
					n = t.other(k, n)
				}
				break
			}
		}
	}
}

// feeds tells whether a source reaches a node.
func (t *tracer) feeds(s *source, node int) bool {
	if t.own == nil {
		t.index()
	}
	is := func(i int32) bool { return &t.sources[i] == s }
	return slices.ContainsFunc(t.own[node], is) || slices.ContainsFunc(t.fused[node], func(f fusedSource) bool { return is(f.source) })
}

// downhill is which elements bring current to each node of a case, and the node from which each wire takes its own.
type downhill struct {
	*solve.CaseResult
	into  map[int][]int
	upper map[int]int
}

// newDownhill is nil of a case that was not solved.
func newDownhill(c *solve.CaseResult) *downhill {
	if c == nil || c.Net == nil {
		return nil
	}
	d := &downhill{c, map[int][]int{}, map[int]int{}}
	for i, e := range c.Net.Elements {
		a := float64(c.Point.Amps[i])
		if e.Kind == solve.Supply || a == 0 {
			continue
		}
		lower, upper := e.To, e.From
		if a < 0 {
			lower, upper = upper, lower
		}
		d.into[lower] = append(d.into[lower], i)
		if e.Kind == solve.Wire {
			d.upper[e.Wire] = upper
		}
	}
	return d
}

// shared finds the loads of a case whose current comes down to a wire, by what flows into each node from above.
func (t *tracer) shared(c *downhill, wire int, loads map[loadKey]int, got *reached) {
	if c == nil || wire >= len(c.WireAmps) || c.WireAmps[wire] == 0 {
		return
	}
	start, ok := c.upper[wire]
	if !ok {
		return
	}
	amps := math.Abs(float64(c.WireAmps[wire]))
	met := map[int]bool{start: true}
	for todo := []int{start}; len(todo) > 0; todo = todo[1:] {
		for _, i := range c.into[todo[0]] {
			e := &c.Net.Elements[i]
			if e.Kind == solve.Load || e.Kind == solve.Coil {
				if k, ok := loads[loadKey{e.Device, e.Index, e.Kind == solve.Coil}]; ok && amps >= returnShare*math.Abs(float64(c.Point.Amps[i])) {
					got.join(t.loadReach(k))
				}
				continue
			}
			if m := e.From + e.To - todo[0]; !met[m] {
				met[m] = true
				todo = append(todo, m)
			}
		}
	}
}
