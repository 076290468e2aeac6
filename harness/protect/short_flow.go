package protect

import (
	"math"
	"slices"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// flowShare of the current of a short is the least that counts as part of its way; below are remainders of the solution and what creeps
// through loads that count as open.
const flowShare = 1e-4

// flow is the ways of the current of one short through the net: what carries a share of it, in the direction in which it runs. Supplies
// are part of it, from minus to plus, so that the ways close round the short.
type flow struct {
	live  []int     // elements, as the net has them; the short itself is none
	amps  []float64 // by place in live, as all that follow
	from  []int     // node where the current enters the element
	to    []int
	opens []float64 // latest time at which it opens, +Inf never
	nodes []int     // that are met, ascending
	enter []int32   // places of from among the nodes
	leave []int32   // of to
	into  joined    // elements that bring current to a node
	outof joined
	up    []float64 // by node; NaN not known
	down  []float64
	// Where the current leaves the net for the short, and comes back.
	leaves, returns int
}

// joined is which elements meet each node, those of one node one after the other.
type joined struct{ first, all []int32 }

func (j *joined) at(node int32) []int32 {
	if node < 0 {
		return nil
	}
	return j.all[j.first[node]:j.first[node+1]]
}

func joinedBy(node []int32, nodes int) joined {
	j := joined{make([]int32, nodes+2), make([]int32, len(node))}
	for _, n := range node {
		j.first[n+2]++
	}
	for n := range nodes {
		j.first[n+2] += j.first[n+1]
	}
	for k, n := range node {
		j.all[j.first[n+1]] = int32(k)
		j.first[n+1]++
	}
	return j
}

// newFlow reads the ways of a short between two nodes off the currents of some elements, those that hang together with it. short is the element
// that stands for it, -1 if none does.
func newFlow(nw *solve.Network, elements []int32, current func(int) unit.Current, short, leaves, returns int, total float64) *flow {
	f := &flow{leaves: leaves, returns: returns}
	for _, x := range elements {
		i := int(x)
		a := float64(current(i))
		if i == short || !(math.Abs(a) > flowShare*total) {
			continue
		}
		e := &nw.Elements[i]
		from, to := e.From, e.To
		if (a < 0) != (e.Kind == solve.Supply) { // what a supply delivers enters at its minus
			from, to = to, from
		}
		f.live, f.amps, f.from, f.to = append(f.live, i), append(f.amps, math.Abs(a)), append(f.from, from), append(f.to, to)
	}
	f.nodes = append(append(make([]int, 0, 2*len(f.live)), f.from...), f.to...)
	slices.Sort(f.nodes)
	f.nodes = slices.Compact(f.nodes)
	f.enter, f.leave, f.opens = make([]int32, len(f.live)), make([]int32, len(f.live)), make([]float64, len(f.live))
	for k := range f.live {
		f.enter[k], f.leave[k], f.opens[k] = f.place(f.from[k]), f.place(f.to[k]), math.Inf(1)
	}
	f.into, f.outof = joinedBy(f.leave, len(f.nodes)), joinedBy(f.enter, len(f.nodes))
	f.up, f.down = make([]float64, len(f.nodes)), make([]float64, len(f.nodes))
	for n := range f.nodes {
		f.up[n], f.down[n] = math.NaN(), math.NaN()
	}
	return f
}

// place is where a node is among those met; -1 it is not.
func (f *flow) place(node int) int32 {
	if k, ok := slices.BinarySearch(f.nodes, node); ok {
		return int32(k)
	}
	return -1
}

// cleared is when no current comes to a node any more (back false), or none can leave it (back true): each way that brings some must be cut
// by a fuse on it, so of parallel ways the last counts, along one way the first. Where one of two sources is cut the other's current does not
// fall, so its fuse opens no later than reckoned. The short itself cuts nothing.
func (f *flow) cleared(node int32, back bool) float64 {
	memo, ways, next := f.up, &f.into, f.enter
	if back {
		memo, ways, next = f.down, &f.outof, f.leave
	}
	list := ways.at(node)
	if len(list) == 0 {
		return math.Inf(1)
	}
	if t := memo[node]; !math.IsNaN(t) {
		return t
	}
	memo[node] = math.Inf(1) // a ring cuts nothing by itself
	t := 0.0
	for _, k := range list {
		t = max(t, min(f.cleared(next[k], back), f.opens[k]))
	}
	memo[node] = t
	return t
}

// clears is when the short itself carries nothing any more.
func (f *flow) clears() float64 {
	return min(f.cleared(f.place(f.leaves), false), f.cleared(f.place(f.returns), true))
}

// bears is how long an element bears its current: until what brings it or what takes it away is cut. It is told by its place.
func (f *flow) bears(k int) float64 {
	return min(f.cleared(f.enter[k], false), f.cleared(f.leave[k], true), f.opens[k])
}

// sources are the supplies whose current comes through an element, by its place.
func (f *flow) sources(nw *solve.Network, k int) (out []int) {
	f.before(k, func(x int) bool {
		if nw.Elements[f.live[x]].Kind == solve.Supply {
			out = append(out, f.live[x])
			return false
		}
		return true
	}, false)
	return out
}

// ahead is the fuses through which the current of an element, by its place, comes on its way from the supplies.
func (f *flow) ahead(nw *solve.Network, k int) (out []FuseRef) {
	f.before(k, func(x int) bool {
		e := &nw.Elements[f.live[x]]
		if e.Kind == solve.Fuse {
			out = addRef(out, FuseRef{e.Device, e.Index})
		}
		return e.Kind != solve.Supply
	}, true)
	return out
}

// before visits the elements through which the current of one comes, by their places, and goes on before those for which visit says so; past the short too,
// if that is asked.
func (f *flow) before(k int, visit func(k int) bool, past bool) {
	met := make([]bool, len(f.nodes))
	leaves, returns := f.place(f.leaves), f.place(f.returns)
	for todo := append(make([]int32, 0, 16), f.enter[k]); len(todo) > 0; {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if n < 0 || met[n] {
			continue
		}
		met[n] = true
		if past && n == returns {
			todo = append(todo, leaves)
		}
		for _, x := range f.into.at(n) {
			if visit(int(x)) {
				todo = append(todo, f.enter[x])
			}
		}
	}
}
