package protect

import (
	"math"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// flowShare of the current of a short is the least that counts as part of its way; below are remainders of the solution and what creeps
// through loads that count as open.
const flowShare = 1e-4

// flow is the ways of the current of one short through the net: what carries a share of it, in the direction in which it runs. Supplies
// are part of it, from minus to plus, so that the ways close round the short.
type flow struct {
	live  []int // elements, as the net has them; the short itself is none
	amps  map[int]float64
	from  map[int]int // node where the current enters the element
	to    map[int]int
	into  map[int][]int // by node: elements that bring current
	outof map[int][]int
	opens map[int]float64 // by fuse element: latest time, +Inf never
	up    map[int]float64
	down  map[int]float64
	// Where the current leaves the net for the short, and comes back.
	leaves, returns int
}

// newFlow reads the ways of a short between two nodes off the currents of some elements, those that hang together with it. short is the element
// that stands for it, -1 if none does.
func newFlow(nw *solve.Network, elements []int32, current func(int) unit.Current, short, leaves, returns int, total float64) *flow {
	f := &flow{leaves: leaves, returns: returns, amps: map[int]float64{}, from: map[int]int{}, to: map[int]int{}, into: map[int][]int{}, outof: map[int][]int{},
		opens: map[int]float64{}, up: map[int]float64{}, down: map[int]float64{}}
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
		f.live = append(f.live, i)
		f.amps[i], f.from[i], f.to[i] = math.Abs(a), from, to
		f.into[to] = append(f.into[to], i)
		f.outof[from] = append(f.outof[from], i)
	}
	return f
}

// cleared is when no current comes to a node any more (back false), or none can leave it (back true): each way that brings some must be cut
// by a fuse on it, so of parallel ways the last counts, along one way the first. Where one of two sources is cut the other's current does not
// fall, so its fuse opens no later than reckoned. The short itself cuts nothing.
func (f *flow) cleared(node int, back bool) float64 {
	memo, ways, next := f.up, f.into, f.from
	if back {
		memo, ways, next = f.down, f.outof, f.to
	}
	if t, ok := memo[node]; ok {
		return t
	}
	memo[node] = math.Inf(1) // a ring cuts nothing by itself
	t := 0.0
	for _, e := range ways[node] {
		cut := f.cleared(next[e], back)
		if o, ok := f.opens[e]; ok {
			cut = min(cut, o)
		}
		t = max(t, cut)
	}
	if len(ways[node]) == 0 {
		t = math.Inf(1)
	}
	memo[node] = t
	return t
}

// clears is when the short itself carries nothing any more.
func (f *flow) clears() float64 { return min(f.cleared(f.leaves, false), f.cleared(f.returns, true)) }

// bears is how long an element bears its current: until what brings it or what takes it away is cut.
func (f *flow) bears(e int) float64 {
	t := min(f.cleared(f.from[e], false), f.cleared(f.to[e], true))
	if o, ok := f.opens[e]; ok {
		t = min(t, o)
	}
	return t
}

// sources are the supplies whose current comes through an element.
func (f *flow) sources(nw *solve.Network, e int) (out []int) {
	met := map[int]bool{}
	todo := []int{f.from[e]}
	for len(todo) > 0 {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if met[n] {
			continue
		}
		met[n] = true
		for _, x := range f.into[n] {
			if nw.Elements[x].Kind == solve.Supply {
				out = append(out, x)
			} else {
				todo = append(todo, f.from[x])
			}
		}
	}
	return out
}

// ahead is the fuses through which the current of an element comes on its way from the supplies.
func (f *flow) ahead(nw *solve.Network, e int) (out []FuseRef) {
	met := map[int]bool{}
	for todo := []int{f.from[e]}; len(todo) > 0; {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if met[n] {
			continue
		}
		met[n] = true
		if n == f.returns {
			todo = append(todo, f.leaves)
		}
		for _, x := range f.into[n] {
			switch k := nw.Elements[x].Kind; k {
			case solve.Supply:
				continue
			case solve.Fuse:
				out = addRef(out, FuseRef{nw.Elements[x].Device, nw.Elements[x].Index})
			}
			todo = append(todo, f.from[x])
		}
	}
	return out
}
