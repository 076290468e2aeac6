package solve

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// fedShare of the current it was measured at is the least by which a load counts as fed. What creeps through a neighbour that shares its
// feed while earths differ by some millivolts is below it; what works a load is far above.
const fedShare = 0.02

// ladder finds the way of current through a solved network: from a supply's plus out to a load and back to its minus.
type ladder struct {
	*Network
	br    []branch
	p     *point
	first []int // elements at node n: at[first[n]:first[n+1]]
	at    []int
	down  map[int][]bool // by supply: nodes from which current runs down to its minus through wires and the like
}

func newLadder(nw *Network, br []branch, p *point) *ladder {
	l := &ladder{Network: nw, br: br, p: p, first: make([]int, len(nw.Nodes)+1), down: map[int][]bool{}}
	each := func(do func(node, e int)) {
		for i, e := range nw.Elements {
			if br[i].law != open && e.From != e.To {
				do(e.From, i)
				do(e.To, i)
			}
		}
	}
	each(func(n, _ int) { l.first[n+1]++ })
	for n := range nw.Nodes {
		l.first[n+1] += l.first[n]
	}
	l.at = make([]int, l.first[len(nw.Nodes)])
	fill := slices.Clone(l.first)
	each(func(n, e int) {
		l.at[fill[n]] = e
		fill[n]++
	})
	return l
}

// out is the current of an element out of a node.
func (l *ladder) out(e, node int) float64 {
	a := l.p.amps[e]
	if l.Elements[e].Kind == Supply {
		a = -a
	}
	if l.Elements[e].From != node {
		a = -a
	}
	return a
}

func (l *ladder) other(e, node int) int {
	if l.Elements[e].From == node {
		return l.Elements[e].To
	}
	return l.Elements[e].From
}

// fed tells whether current runs through a load.
func (l *ladder) fed(e int) bool {
	b := &l.br[e]
	usual := b.most
	switch b.law {
	case open:
		return false
	case ohmic:
		usual = b.g * 12
	case steadyPower:
		usual = b.most / (2 * b.e)
	}
	return abs(l.p.amps[e]) > fedShare*usual
}

// step is the element passed from a node.
func (l *ladder) step(e, from int) Step {
	s := Step{Element: e, Drop: unit.Voltage(l.p.drop[e]), Amps: unit.Current(l.out(e, from))}
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
	for _, e := range l.at[l.first[node]:l.first[node+1]] {
		if a := sign * l.out(e, node); e != besides && a > most*(1+1e-9) && ok(e) {
			best, most = e, a
		}
	}
	return best
}

// feed follows the strongest current upstream from a load to a supply's plus; steps are in the direction from the supply.
func (l *ladder) feed(node, load int) (supply int, steps []Step) {
	besides := load
	for range l.Nodes {
		e := l.strongest(node, besides, -1, func(int) bool { return true })
		if e < 0 {
			return -1, nil
		}
		if l.Elements[e].Kind == Supply {
			slices.Reverse(steps)
			return e, steps
		}
		up := l.other(e, node)
		steps = append(steps, l.step(e, up))
		node, besides = up, e
	}
	return -1, nil
}

// back finds the way from a load's minus to a supply's minus: down the strongest current among the ways that end there; where
// none does (of two batteries in parallel the other may take the current back) the shortest way over metal, else through
// other supplies in series, else through anything.
func (l *ladder) back(node, load, supply int) []Step {
	target := l.Elements[supply].To
	reach := l.reach(supply)
	var steps []Step
	for n, besides := node, load; reach[n] && len(steps) <= len(l.Nodes); {
		if n == target {
			return steps
		}
		e := l.strongest(n, besides, 1, func(e int) bool { return passes(l.Elements[e].Kind) && reach[l.other(e, n)] })
		if e < 0 {
			break
		}
		steps = append(steps, l.step(e, n))
		n, besides = l.other(e, n), e
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
	r := make([]bool, len(l.Nodes))
	l.down[supply] = r
	todo := []int{l.Elements[supply].To}
	r[todo[0]] = true
	for len(todo) > 0 {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, e := range l.at[l.first[n]:l.first[n+1]] {
			if up := l.other(e, n); !r[up] && passes(l.Elements[e].Kind) && l.out(e, n) < 0 {
				r[up] = true
				todo = append(todo, up)
			}
		}
	}
	return r
}

// shortest is the way with fewest elements from a node to another over elements that ok allows to be passed from a node.
func (l *ladder) shortest(from, to int, ok func(e, from int) bool) []Step {
	by := make([]int, len(l.Nodes)) // element by which a node was met, and one more
	by[from] = -1
	todo := []int{from}
	for len(todo) > 0 && by[to] == 0 {
		n := todo[0]
		todo = todo[1:]
		for _, e := range l.at[l.first[n]:l.first[n+1]] {
			if m := l.other(e, n); by[m] == 0 && ok(e, n) {
				by[m] = e + 1
				todo = append(todo, m)
			}
		}
	}
	if by[to] == 0 {
		return nil
	}
	steps := []Step{}
	for n := to; n != from; {
		e := by[n] - 1
		n = l.other(e, n)
		steps = append(steps, l.step(e, n))
	}
	slices.Reverse(steps)
	return steps
}

// loads works out every draw and coil. Steps are kept for the loads of one device, or with all set for every load.
func (v *values) loads(l *ladder, device string, all bool) []LoadResult {
	var out []LoadResult
	for i, e := range l.Elements {
		if e.Kind != Load && e.Kind != Coil {
			continue
		}
		d := v.byName[e.Device]
		var draw *design.Draw
		if e.Kind == Coil {
			draw = &d.Coils[e.Index].Draw
		} else {
			draw = &d.Draws[e.Index]
		}
		r := LoadResult{Device: e.Device, Index: e.Index, Coil: e.Kind == Coil, Class: d.Class, From: written(d, draw.From), To: written(d, draw.To),
			Rests: v.off[d.Name], At: v.measuredAt(d, draw), Fed: l.fed(i), Span: e.Span, element: i}
		if l.p.part[e.From] == l.p.part[e.To] {
			r.Volts = unit.Voltage(l.p.volts(e.From) - l.p.volts(e.To))
		}
		if r.Fed {
			r.Amps = unit.Current(l.p.amps[i])
			l.ways(i, &r)
			if !all && e.Device != device {
				r.Feed, r.Return = nil, nil
			}
		}
		out = append(out, r)
	}
	return out
}

// ways fills in the feeding supply and what is lost on the way. SupplyVolts = Volts + FeedDrop + ReturnDrop always, for a load
// fed the way round it was written; for one fed the other way round with its volts turned.
func (l *ladder) ways(i int, r *LoadResult) {
	plus, minus := l.ends(i, l.p.amps[i] < 0)
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
	volts := l.p.drop[supply]
	r.FeedDrop, r.ReturnDrop, r.SupplySet = 0, 0, unit.Voltage(l.br[supply].e)
	after := func(steps []Step, at int, lost *unit.Voltage) {
		for k := range steps {
			s := &steps[k]
			e := &l.Elements[s.Element]
			*s = l.step(s.Element, at)
			at = l.other(s.Element, at)
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
func shorts(l *ladder) (out []Problem) {
	for i, e := range l.Elements {
		if e.Kind != Supply || l.br[i].law != source {
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
		out = append(out, Problem{Kind: Shorted, Device: e.Device, Index: e.Index, Amps: unit.Current(l.p.amps[i]), Detail: detail, Span: e.Span})
	}
	return out
}
