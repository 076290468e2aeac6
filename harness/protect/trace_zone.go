package protect

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
)

// graph is the elements of a job in every state of every switch, to be walked from node to node.
type graph struct {
	*solve.Network
	at     [][]int       // elements at each node
	round  map[int][]int // and those that go from a node to itself
	throws []throw       // by element; group -1 where it excludes nothing
	labels [][]throw     // by label: what a way has used, in order; 0 is nothing
	ids    map[string]int
	zones  []zone
	zoneOf map[zoneKey]int
	roots  map[zoneKey]int // labels met at a fuse's far side
}

// throw is a state of a set of states that has others besides: a way uses one of them.
type throw struct{ group, state int }

// mostLabels is how many different uses of throws are followed through one node. Beyond it the throws count as free there, which finds
// more ways than there are, never fewer.
const mostLabels = 8

func newGraph(job *design.Job, nw *solve.Network) *graph {
	g := &graph{Network: nw, at: make([][]int, len(nw.Nodes)), round: map[int][]int{}, labels: [][]throw{nil},
		ids: map[string]int{"": 0}, zoneOf: map[zoneKey]int{}, roots: map[zoneKey]int{}}
	for i, e := range nw.Elements {
		if e.From != e.To {
			g.at[e.From] = append(g.at[e.From], i)
			g.at[e.To] = append(g.at[e.To], i)
		} else {
			g.round[e.From] = append(g.round[e.From], i)
		}
	}
	throws, sets := throwsOf(job, nw)
	g.throws = throws
	for i := range g.throws {
		if t := g.throws[i]; t.group >= 0 && len(sets[t.group].states) < 2 {
			g.throws[i].group = -1
		}
	}
	return g
}

// set is a set of states of a device, with those that join something.
type set struct {
	device, group string
	states        []string
}

// throwsOf is the throw of each element, group -1 of what is no switch, and the sets that the groups index.
func throwsOf(job *design.Job, nw *solve.Network) (throws []throw, sets []set) {
	devices := map[string]*design.Device{}
	for _, d := range job.Devices {
		if !d.Pattern && devices[d.Name] == nil {
			devices[d.Name] = d
		}
	}
	groups := map[[2]string]int{}
	throws = make([]throw, len(nw.Elements))
	for i, e := range nw.Elements {
		throws[i] = throw{-1, 0}
		d := devices[e.Device]
		if e.Kind != solve.Switch || d == nil || e.Index < 0 || e.Index >= len(d.States) {
			continue
		}
		s := &d.States[e.Index]
		k := [2]string{e.Device, s.Group}
		n, ok := groups[k]
		if !ok {
			n = len(sets)
			groups[k] = n
			sets = append(sets, set{device: e.Device, group: s.Group})
		}
		state := slices.Index(sets[n].states, s.State)
		if state < 0 {
			state = len(sets[n].states)
			sets[n].states = append(sets[n].states, s.State)
		}
		throws[i] = throw{n, state}
	}
	return throws, sets
}

func (g *graph) other(e, node int) int { return g.Elements[e].From + g.Elements[e].To - node }

// with is a label with one throw more; ok is false if the way has used another state of that set.
func (g *graph) with(label int, t throw) (int, bool) {
	if t.group < 0 {
		return label, true
	}
	used := g.labels[label]
	i, found := slices.BinarySearchFunc(used, t.group, func(u throw, group int) int { return u.group - group })
	if found {
		return label, used[i] == t
	}
	more := slices.Insert(slices.Clone(used), i, t)
	key := make([]byte, 0, 8*len(more))
	for _, u := range more {
		for _, x := range [2]int{u.group, u.state} {
			key = append(key, byte(x), byte(x>>8), byte(x>>16), byte(x>>24))
		}
	}
	id, ok := g.ids[string(key)]
	if !ok {
		id = len(g.labels)
		g.labels = append(g.labels, more)
		g.ids[string(key)] = id
	}
	return id, true
}

// within tells whether a label asks for nothing that another does not.
func (g *graph) within(a, b int) bool {
	if a == b || a == 0 {
		return true
	}
	for _, t := range g.labels[a] {
		if !slices.Contains(g.labels[b], t) {
			return false
		}
	}
	return true
}

// zone is what current reaches from a root with no fuse between.
type zone struct {
	zoneKey
	nodes []int         // in the order met
	met   map[int][]int // labels at a node, none within another
	exits []exit
}

type zoneKey struct{ fuse, root, label int }

// exit is a fuse at the border of a zone, and the zone that it begins.
type exit struct{ fuse, near, far, label int }

// has tells whether a node lies in the zone.
func (z *zone) has(node int) bool { return len(z.met[node]) > 0 }

// touching lists the elements that begin or end in a zone, in the order of the net.
func (g *graph) touching(z *zone) (out []int) {
	for _, n := range z.nodes {
		out = append(append(out, g.at[n]...), g.round[n]...)
	}
	slices.Sort(out)
	return slices.Compact(out)
}

type bits []uint64

func newBits(n int) bits      { return make(bits, (n+63)/64) }
func (b bits) has(i int) bool { return b[i>>6]>>(i&63)&1 == 1 }
func (b bits) add(i int)      { b[i>>6] |= 1 << (i & 63) }

// passes tells whether current that comes from a node goes on through an element over metal.
func (g *graph) passes(e, from int) bool {
	switch x := &g.Elements[e]; x.Kind {
	case solve.Load, solve.Coil, solve.Supply, solve.Fuse:
		return false
	case solve.Diode:
		return x.From == from
	}
	return true
}

// zoneAt floods a zone once; fuse is -1 for that of a source.
func (g *graph) zoneAt(fuse, root, label int) int {
	if label != 0 {
		_, known := g.zoneOf[zoneKey{fuse, root, label}]
		at := zoneKey{fuse, root, 0}
		if !known && g.roots[at] >= mostLabels {
			label = 0
		} else if !known {
			g.roots[at]++
		}
	}
	k := zoneKey{fuse, root, label}
	if n, ok := g.zoneOf[k]; ok {
		return n
	}
	n := len(g.zones)
	g.zoneOf[k] = n
	g.zones = append(g.zones, g.flood(k))
	return n
}

func (g *graph) flood(k zoneKey) zone {
	z := zone{zoneKey: k, met: map[int][]int{}}
	type place struct{ node, label int }
	met := z.met
	enter := func(node, label int) (int, bool) {
		have := met[node]
		for _, l := range have {
			if g.within(l, label) {
				return 0, false
			}
		}
		if len(have) >= mostLabels {
			label = 0
		}
		met[node] = append(have, label)
		if len(have) == 0 {
			z.nodes = append(z.nodes, node)
		}
		return label, true
	}
	enter(k.root, k.label)
	for todo := []place{{k.root, k.label}}; len(todo) > 0; todo = todo[1:] {
		p := todo[0]
		for _, e := range g.at[p.node] {
			far := g.other(e, p.node)
			if g.Elements[e].Kind == solve.Fuse {
				if x := (exit{e, p.node, far, p.label}); e != k.fuse && !slices.Contains(z.exits, x) {
					z.exits = append(z.exits, x)
				}
				continue
			}
			if !g.passes(e, p.node) {
				continue
			}
			label, ok := g.with(p.label, g.throws[e])
			if !ok {
				continue
			}
			if label, ok = enter(far, label); ok {
				todo = append(todo, place{far, label})
			}
		}
	}
	return z
}

// holds tells whether a zone has the root of another in it, by throws that the other allows.
func (g *graph) holds(z, other int) bool {
	o := &g.zones[other]
	for _, l := range g.zones[z].met[o.root] {
		if g.within(l, o.label) {
			return true
		}
	}
	return false
}
