package solve

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// fedShare of the current it was measured at is the least by which a load counts as fed. What creeps through a neighbour that shares its
// feed while earths differ by some millivolts is below it; what works a load is far above.
const fedShare = 0.02

// joints is the elements at each node, in their order: at node n at[first[n]:first[n+1]].
type joints struct{ first, at []int32 }

func newJoints(nw *Network) *joints {
	j := &joints{first: make([]int32, len(nw.Nodes)+2)}
	n := 0
	for i := range nw.Elements {
		if e := &nw.Elements[i]; e.From != e.To {
			j.first[e.From+2]++
			j.first[e.To+2]++
			n += 2
		}
	}
	for n := 2; n < len(j.first); n++ {
		j.first[n] += j.first[n-1]
	}
	j.at = make([]int32, n)
	for i := range nw.Elements {
		if e := &nw.Elements[i]; e.From != e.To {
			for _, n := range [2]int{e.From, e.To} {
				j.at[j.first[n+1]] = int32(i)
				j.first[n+1]++
			}
		}
	}
	return j
}

func (j *joints) of(n int) []int32 { return j.at[j.first[n]:j.first[n+1]] }

// ladder finds the way of current through a solved network: from a supply's plus out to a load and back to its minus.
type ladder struct {
	*Network
	*joints
	p    *point
	lean *lean // of a start
	// passed is the elements of the way that is being followed.
	passed []int32
	down   map[int][]bool // by supply: places in its island from which current runs down to its minus through wires and the like
}

func newLadder(nw *Network, p *point, j *joints) *ladder {
	return &ladder{Network: nw, joints: j, p: p, down: map[int][]bool{}}
}

// out is the current of an element out of a node.
func (l *ladder) out(e, node int) float64 {
	a := l.p.amps(e)
	if l.Elements[e].Kind == Supply {
		a = -a
	}
	if l.Elements[e].From != node {
		a = -a
	}
	return a
}

func (l *ladder) across(e, node int) int {
	if l.Elements[e].From == node {
		return l.Elements[e].To
	}
	return l.Elements[e].From
}

// fed tells whether current runs through a load.
func (l *ladder) fed(e int) bool {
	b := l.p.branch(e)
	usual := b.most
	switch b.law {
	case open:
		return false
	case ohmic:
		usual = b.g * 12
	case steadyPower:
		usual = b.most / (2 * b.e)
	}
	return abs(l.p.amps(e)) > fedShare*usual
}

// step is the element passed from a node.
func (l *ladder) step(e, from int) Step {
	s := Step{Element: e, Drop: unit.Voltage(l.p.drop(e)), Amps: unit.Current(l.out(e, from))}
	if l.Elements[e].From != from {
		s.Reverse, s.Drop = true, -s.Drop
	}
	return s
}

func passes(k ElementKind) bool { return k != Supply && k != Load && k != Coil }

// strongest is the element with the most current into (sign -1) or out of (sign 1) a node, besides one and where ok allows. Of
// currents equal but for rounding the first element counts.
func (l *ladder) strongest(node, besides int, sign float64, ok func(e int) bool) int {
	best, most := -1, 0.0
	for _, i := range l.of(node) {
		e := int(i)
		if e == besides || l.p.branch(e).law == open {
			continue
		}
		if a := sign * l.out(e, node); a > most*(1+1e-9) && ok(e) {
			best, most = e, a
		}
	}
	return best
}

// feed follows the strongest current upstream from a load to a supply's plus; steps are in the direction from the supply.
func (l *ladder) feed(node, load int) (supply int, steps []Step) {
	besides, first := load, node
	l.passed = l.passed[:0]
	for range l.Nodes {
		e := l.strongest(node, besides, -1, func(int) bool { return true })
		if e < 0 {
			return -1, nil
		}
		if l.Elements[e].Kind == Supply {
			return e, l.upstream(first)
		}
		l.passed = append(l.passed, int32(e))
		node, besides = l.across(e, node), e
	}
	return -1, nil
}

// upstream is the elements passed from a node up, as steps down to it.
func (l *ladder) upstream(node int) []Step {
	if len(l.passed) == 0 {
		return nil
	}
	steps := make([]Step, len(l.passed))
	for k, e := range l.passed {
		up := l.across(int(e), node)
		steps[len(steps)-1-k] = l.step(int(e), up)
		node = up
	}
	return steps
}

// downstream is the elements passed from a node, as steps.
func (l *ladder) downstream(node int) []Step {
	if len(l.passed) == 0 {
		return nil
	}
	steps := make([]Step, len(l.passed))
	for k, e := range l.passed {
		steps[k] = l.step(int(e), node)
		node = l.across(int(e), node)
	}
	return steps
}

// back finds the way from a load's minus to a supply's minus: down the strongest current among the ways that end there; where
// none does (of two batteries in parallel the other may take the current back) the shortest way over metal, else through
// other supplies in series, else through anything.
func (l *ladder) back(node, load, supply int) []Step {
	target := l.Elements[supply].To
	reach := l.reach(supply)
	l.passed = l.passed[:0]
	same := l.p.of[node] == l.p.of[target]
	for n, besides := node, load; same && reach[l.p.at[n]] && len(l.passed) <= len(l.Nodes); {
		if n == target {
			return l.downstream(node)
		}
		e := l.strongest(n, besides, 1, func(e int) bool { return passes(l.Elements[e].Kind) && reach[l.p.at[l.across(e, n)]] })
		if e < 0 {
			break
		}
		l.passed = append(l.passed, int32(e))
		n, besides = l.across(e, n), e
	}
	for _, ok := range []func(ElementKind) bool{
		passes,
		func(k ElementKind) bool { return passes(k) || k == Supply },
		func(ElementKind) bool { return true },
	} {
		if steps := l.shortest(node, target, func(e, _ int) bool { return e != supply && e != load && ok(l.Elements[e].Kind) }); steps != nil {
			return steps
		}
	}
	return nil
}

// reach is the nodes from which current runs down to the minus of a supply.
func (l *ladder) reach(supply int) []bool {
	if r, ok := l.down[supply]; ok {
		return r
	}
	at := l.p.at
	todo := []int{l.Elements[supply].To}
	r := make([]bool, len(l.p.islands[l.p.of[todo[0]]].nodes))
	l.down[supply] = r
	r[at[todo[0]]] = true
	for len(todo) > 0 {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, i := range l.of(n) {
			e := int(i)
			if up := l.across(e, n); !r[at[up]] && passes(l.Elements[e].Kind) && l.p.branch(e).law != open && l.out(e, n) < 0 {
				r[at[up]] = true
				todo = append(todo, up)
			}
		}
	}
	return r
}

// shortest is the way with fewest elements from a node to another over elements that ok allows to be passed from a node.
func (l *ladder) shortest(from, to int, ok func(e, from int) bool) []Step {
	if l.p.of[from] != l.p.of[to] {
		return nil
	}
	at := l.p.at
	by := make([]int32, len(l.p.islands[l.p.of[from]].nodes)) // element by which a node was met, and one more
	by[at[from]] = -1
	todo := []int{from}
	for len(todo) > 0 && by[at[to]] == 0 {
		n := todo[0]
		todo = todo[1:]
		for _, i := range l.of(n) {
			e := int(i)
			if m := l.across(e, n); by[at[m]] == 0 && l.p.branch(e).law != open && ok(e, n) {
				by[at[m]] = i + 1
				todo = append(todo, m)
			}
		}
	}
	if by[at[to]] == 0 {
		return nil
	}
	l.passed = l.passed[:0]
	for n := to; n != from; {
		e := int(by[at[n]]) - 1
		n = l.across(e, n)
		l.passed = append(l.passed, int32(e))
	}
	if len(l.passed) == 0 {
		return []Step{}
	}
	return l.upstream(to)
}

// loads works out every draw and coil.
func (v *values) loads(l *ladder) []LoadResult {
	n := 0
	for i := range l.Elements {
		if k := l.Elements[i].Kind; k == Load || k == Coil {
			n++
		}
	}
	out := make([]LoadResult, 0, n)
	for i := range l.Elements {
		if k := l.Elements[i].Kind; k != Load && k != Coil {
			continue
		}
		if e := &l.Elements[i]; v.past.same(l.p.ofE[i]) {
			out = append(out, v.past.res.Loads[len(out)])
		} else if v.wanted(e.Device) {
			out = append(out, v.load1(l, i))
		} else {
			out = append(out, LoadResult{Device: e.Device, Index: e.Index, Coil: e.Kind == Coil, element: i})
		}
	}
	return out
}

func (v *values) load1(l *ladder, i int) LoadResult {
	e := &l.Elements[i]
	d := v.byName[e.Device]
	draw := drawOf(d, e)
	r := LoadResult{Device: e.Device, Index: e.Index, Coil: e.Kind == Coil, Class: d.Class, From: written(d, draw.From), To: written(d, draw.To),
		Rests: v.off[d.Name], At: v.measuredAt(d, draw), Span: e.Span, element: i}
	l.judge(&r)
	return r
}

func drawOf(d *design.Device, e *Element) *design.Draw {
	if e.Kind == Coil {
		return &d.Coils[e.Index].Draw
	}
	return &d.Draws[e.Index]
}

// judge fills in what a load gets at the ladder's point.
func (l *ladder) judge(r *LoadResult) {
	i := r.element
	e := &l.Elements[i]
	r.Fed, r.Volts, r.Amps, r.Supply, r.supply = l.fed(i), 0, 0, "", 0
	r.SupplyVolts, r.SupplySet, r.FeedDrop, r.ReturnDrop, r.Feed, r.Return = 0, 0, 0, 0, nil, nil
	if l.p.together(e.From, e.To) {
		r.Volts = unit.Voltage(l.p.volts(e.From) - l.p.volts(e.To))
	}
	if r.Fed {
		r.Amps = unit.Current(l.p.amps(i))
		l.ways(i, r)
	}
}

// ways fills in the feeding supply and what is lost on the way. SupplyVolts = Volts + FeedDrop + ReturnDrop always, for a load
// fed the way round it was written; for one fed the other way round with its volts turned.
func (l *ladder) ways(i int, r *LoadResult) {
	plus, minus := l.ends(i, l.p.amps(i) < 0)
	supply, feed := l.feed(plus, i)
	if supply < 0 {
		return
	}
	r.Supply, r.supply = l.Elements[supply].Device, supply
	r.Feed, r.Return = feed, l.back(minus, i, supply)
	l.measure(minus, r)
}

// ends is where current enters a load and where it leaves.
func (l *ladder) ends(i int, turned bool) (plus, minus int) {
	e := &l.Elements[i]
	if turned {
		return e.To, e.From
	}
	return e.From, e.To
}

// measure works out what is lost along the ways of a load at the ladder's point. The steps are the load's own.
func (l *ladder) measure(minus int, r *LoadResult) {
	supply := r.supply
	zero := l.p.volts(l.Elements[supply].To)
	volts := l.p.drop(supply)
	r.FeedDrop, r.ReturnDrop, r.SupplySet = 0, 0, unit.Voltage(l.p.branch(supply).e)
	after := func(steps []Step, at int, lost *unit.Voltage) {
		for k := range steps {
			s := &steps[k]
			e := &l.Elements[s.Element]
			*s = l.step(s.Element, at)
			at = l.across(s.Element, at)
			s.Volts = unit.Voltage(l.p.volts(at) - zero)
			if e.Kind == Supply {
				volts -= float64(s.Drop)
			} else {
				*lost += s.Drop
			}
		}
	}
	after(r.Feed, l.Elements[supply].From, &r.FeedDrop)
	after(r.Return, minus, &r.ReturnDrop)
	r.SupplyVolts = unit.Voltage(volts)
}

// shorts finds supplies whose plus meets a minus with no load between: their own, or round through another supply the right way.
func (v *values) shorts(l *ladder) (out []Problem) {
	for i, e := range l.Elements {
		if e.Kind != Supply || l.p.branch(i).law != source {
			continue
		}
		if v.past.same(l.p.ofE[i]) {
			if k := slices.IndexFunc(v.past.res.Problems, func(p Problem) bool { return p.Kind == Shorted && p.Device == e.Device && p.Index == e.Index }); k >= 0 {
				out = append(out, v.past.res.Problems[k])
			}
			continue
		}
		way := []Step{}
		if e.From != e.To {
			way = l.shortest(e.From, e.To, func(k, from int) bool {
				x := &l.Elements[k]
				switch x.Kind {
				case Load, Coil:
					return false
				case Supply:
					return k != i && x.To == from
				case Diode:
					return x.From == from
				}
				return true
			})
		}
		if way == nil {
			continue
		}
		detail := ""
		for _, s := range way {
			switch x := &l.Elements[s.Element]; x.Kind {
			case Wire, Switch, Fuse, Join, Supply, Diode:
				if detail != "" {
					detail += ", "
				}
				detail += x.Name
			}
		}
		out = append(out, Problem{Kind: Shorted, Device: e.Device, Index: e.Index, Amps: unit.Current(l.p.amps(i)), Detail: detail, Span: e.Span})
	}
	return out
}
