package protect

import (
	"container/heap"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// ways is the shortest ways, by length of wire, from a source through its zone before the first fuse.
type ways struct {
	*tracer
	s     *source
	wires []WireResult
	*waysTo
	within []int        // elements of the zone, in order
	onward map[int]bool // elements on a way to a first fuse
}

// waysTo is how every node is met from one source.
type waysTo struct {
	length []unit.Length // by node; -1 not reached
	by     []int         // element by which a node was met; -1
}

func newWaysTo(nodes int) *waysTo {
	w := &waysTo{make([]unit.Length, nodes), make([]int, nodes)}
	for n := range w.by {
		w.length[n], w.by[n] = -1, -1
	}
	return w
}

// forget makes it ready for another source.
func (w *waysTo) forget(nodes []int) {
	for _, n := range nodes {
		w.length[n], w.by[n] = -1, -1
	}
}

// waysOf finds those of a source; met is as a source before has left it once it was told to forget.
func (t *tracer) waysOf(s *source, wires []WireResult, met *waysTo) *ways {
	zone := &t.zones[s.own]
	w := &ways{tracer: t, s: s, wires: wires, waysTo: met, within: t.touching(zone), onward: map[int]bool{}}
	done := map[int]bool{}
	w.length[s.plus] = 0
	for q := (lengths{{s.plus, 0}}); len(q) > 0; {
		p := heap.Pop(&q).(nodeLength)
		if done[p.node] {
			continue
		}
		done[p.node] = true
		for _, e := range t.at[p.node] {
			m := t.other(e, p.node)
			if !t.passes(e, p.node) || !zone.has(m) || done[m] {
				continue
			}
			if l := p.length + w.along(e); w.length[m] < 0 || l < w.length[m] {
				w.length[m], w.by[m] = l, e
				heap.Push(&q, nodeLength{m, l})
			}
		}
	}
	return w
}

type nodeLength struct {
	node   int
	length unit.Length
}

// lengths is a heap of nodes, the nearest first.
type lengths []nodeLength

func (h lengths) Len() int { return len(h) }
func (h lengths) Less(i, j int) bool {
	return h[i].length < h[j].length || h[i].length == h[j].length && h[i].node < h[j].node
}
func (h lengths) Swap(i, j int) { h[i], h[j] = h[j], h[i] }
func (h *lengths) Push(x any)   { *h = append(*h, x.(nodeLength)) }
func (h *lengths) Pop() any {
	x := (*h)[len(*h)-1]
	*h = (*h)[:len(*h)-1]
	return x
}

// open tells whether an element is a wire that the source reaches and whose limit the wire does not carry.
func (w *ways) open(e int) bool {
	x := &w.Elements[e]
	return x.Kind == solve.Wire && slices.Contains(w.wires[x.Wire].Open, w.s.Source)
}

// along is the length of conductor that an element adds to a stretch.
func (w *ways) along(e int) unit.Length {
	if !w.open(e) {
		return 0
	}
	x := &w.nt.Wires[w.Elements[e].Wire]
	l := max(x.Copper, x.Length)
	if x.Loose && l <= 0 {
		l = x.LooseLength
	}
	return max(l, 0)
}

// to is the elements on the way to a node, from the source on.
func (w *ways) to(node int) (way []int) {
	for e := w.by[node]; e >= 0; e = w.by[node] {
		way = append(way, e)
		node = w.other(e, node)
	}
	slices.Reverse(way)
	return way
}

// first is the first wire of a way that nothing but a fuse could protect, as an element; -1 if there is none.
func (w *ways) first(way []int, ok func(e int) bool) int {
	for _, e := range way {
		if w.open(e) && ok(e) {
			return e
		}
	}
	return -1
}

// beyond is where a wire comes out at its farther end, past its lug or contact: a node that another way has met, if there is one before the
// next wire. It is -1 for what is no wire or not reached.
func (w *ways) beyond(e int) (node int, meets bool) {
	x := &w.Elements[e]
	if x.Kind != solve.Wire || w.length[x.From] < 0 || w.length[x.To] < 0 {
		return -1, false
	}
	start := x.To
	if w.by[x.From] == e {
		start = x.From
	} else if w.by[x.To] != e {
		return start, true // met at both ends by others
	}
	node = start
	met := map[int]bool{start: true}
	for todo := []int{start}; len(todo) > 0; todo = todo[1:] {
		for _, k := range w.at[todo[0]] {
			m := w.other(k, todo[0])
			if w.Elements[k].Kind == solve.Wire || met[m] || !w.passes(k, todo[0]) || w.length[m] < 0 {
				continue
			}
			met[m] = true
			if !slices.Contains(w.to(m), e) {
				return m, true
			}
			if node == start {
				node = m
			}
			todo = append(todo, m)
		}
	}
	return node, false
}

// limit finds the narrowest limit on the length of a way.
func (w *ways) limit(u *Unfused, way []int) {
	u.Sheathed = true
	for _, e := range way {
		if w.open(e) {
			x := &w.nt.Wires[w.Elements[e].Wire]
			u.Sheathed = u.Sheathed && w.sheathed(w.Elements[e].Wire)
			u.Unknown = u.Unknown || x.Unmeasured
		}
	}
	name := "unfused-most"
	if u.Sheathed {
		name = "unfused-sheathed"
	}
	first := true
	for _, e := range way {
		if !w.open(e) {
			continue
		}
		x := &w.nt.Wires[w.Elements[e].Wire]
		r := w.job.Settings.Get(name, design.Scope{Circuit: x.Circuit, Class: x.Class, Section: x.Section, Zone: w.zone(x.Zone, w.Elements[e].Wire), Device: u.Source.Device})
		if l := unit.Length(r.Value.Quantity.Value); first || l < u.Most {
			u.Most, u.Ruling, first = l, r, false
		}
	}
}

// zone is the zone of a wire that lies in one only.
func (w *ways) zone(loose string, wire int) string {
	if w.nt.Space == nil {
		return loose
	}
	if z := w.nt.Wires[wire].Zones(w.nt.Space); len(z) == 1 {
		return z[0]
	}
	return ""
}

// sheathed tells whether a wire lies in a sleeve all the way: its own, or that of every run it follows.
func (w *ways) sheathed(wire int) bool {
	x := &w.nt.Wires[wire]
	if x.Sleeve != "" {
		return true
	}
	if x.Loose || len(x.Path) == 0 || w.nt.Space == nil {
		return false
	}
	for _, p := range x.Path {
		run := w.nt.Space.Edges[p.Edge].Run
		if !slices.ContainsFunc(w.job.Runs, func(r *design.Run) bool { return r.Name == run && r.Sleeve != "" }) {
			return false
		}
	}
	return true
}

// crankMost is the longest that a starting motor is run at once, from memory of makers' handbooks. It only tells how a finding is worded.
const crankMost unit.Time = 20

// starts tells whether a load starts an engine: it works for some seconds at a time, states a start of its own, and the contact straight before
// it, with no wire between, is one that a coil moves.
func (w *ways) starts(e int) bool {
	x := &w.Elements[e]
	d := w.device(x.Device)
	if x.Kind != solve.Load || d == nil {
		return false
	}
	if l := &d.Draws[x.Index]; !l.Start.Given || !(l.On > 0) || l.On > crankMost {
		return false
	}
	for n, k := x.From, w.by[x.From]; k >= 0 && w.Elements[k].Kind != solve.Wire; k = w.by[n] {
		if w.Elements[k].Kind == solve.Switch && w.coilMoves(&w.Elements[k]) {
			return true
		}
		n = w.other(k, n)
	}
	return false
}

func (w *ways) coilMoves(x *solve.Element) bool {
	d := w.device(x.Device)
	if d == nil {
		return false
	}
	s := d.States[x.Index].StateRef
	for i := range d.Coils {
		if m := d.Coils[i].Moves; m == s || m.State == "" {
			return true
		}
	}
	return false
}
