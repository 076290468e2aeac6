package protect

import (
	"cmp"
	"container/heap"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// ways is the shortest ways, by length of wire, from a source through its zone before the first fuse.
type ways struct {
	*tracer
	s      *source
	wires  []WireResult
	length []unit.Length // by node; -1 not reached
	by     []int         // element by which a node was met; -1
	onward map[int]bool  // elements on a way to a first fuse
}

func (t *tracer) waysOf(s *source, wires []WireResult) *ways {
	w := &ways{tracer: t, s: s, wires: wires, length: make([]unit.Length, len(t.Nodes)), by: make([]int, len(t.Nodes)), onward: map[int]bool{}}
	for n := range w.by {
		w.length[n], w.by[n] = -1, -1
	}
	zone := &t.zones[s.own]
	done := newBits(len(t.Nodes))
	w.length[s.plus] = 0
	for q := (lengths{{s.plus, 0}}); len(q) > 0; {
		p := heap.Pop(&q).(nodeLength)
		if done.has(p.node) {
			continue
		}
		done.add(p.node)
		for _, e := range t.at[p.node] {
			m := t.other(e, p.node)
			if !t.passes(e, p.node) || !zone.in.has(m) || done.has(m) {
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

// stretchKey is what makes one stretch of several ways: one cause, one finding.
type stretchKey struct {
	first int // element of the first wire
	fused bool
}

// stretches finds what lies before the first protectors of each source: the ways to the first fuses, those to loads that have none, and those
// that end at nothing or at another supply.
func (t *tracer) stretches(wires []WireResult, shorts []Short) []Unfused {
	var out []Unfused
	for i := range t.sources {
		w := t.waysOf(&t.sources[i], wires)
		out = append(out, w.stretches(shorts)...)
	}
	for k := range out {
		for _, i := range out[k].Wires {
			if u := wires[i].Unfused; u == nil || worse(&out[k], u) {
				wires[i].Unfused = &out[k]
			}
		}
	}
	return out
}

func worse(a, b *Unfused) bool {
	if a.Met != b.Met {
		return b.Met
	}
	return a.Length > b.Length
}

func (w *ways) stretches(shorts []Short) []Unfused {
	found := map[stretchKey]*Unfused{}
	var order []stretchKey
	far := map[stretchKey][]int{} // the longest way
	in := map[stretchKey]map[int]bool{}
	add := func(k stretchKey, node int, way []int) *Unfused {
		u := found[k]
		if u == nil {
			u = &Unfused{Source: w.s.Source, Length: -1}
			found[k], in[k] = u, map[int]bool{}
			order = append(order, k)
		}
		for _, e := range way {
			if w.open(e) && (k.fused || e == k.first || !w.onward[e]) && !in[k][e] {
				in[k][e] = true
				u.Wires = append(u.Wires, w.Elements[e].Wire)
			}
		}
		l := unit.Length(0)
		for _, e := range way {
			l += w.along(e)
		}
		if l > u.Length {
			u.Length, u.Far, far[k] = l, w.Nodes[node], way
		}
		return u
	}
	every := func(int) bool { return true }
	for _, x := range w.zones[w.s.own].exits {
		way := w.to(x.near)
		for _, e := range way {
			w.onward[e] = true
		}
		if first := w.first(way, every); first >= 0 {
			u := add(stretchKey{first, true}, x.near, way)
			u.Fuses = addRef(u.Fuses, w.ref(x.fuse))
		}
	}
	// A load's own wires are the cause, where it has some; a supply that states no limit is the cause itself.
	own := func(way []int) (stretchKey, bool) {
		k := stretchKey{first: w.first(way, func(e int) bool { return !w.onward[e] })}
		if w.s.Own {
			k.first = -1
		} else if k.first < 0 {
			for _, e := range way {
				if w.open(e) {
					k.first = e
				}
			}
		}
		return k, w.first(way, every) >= 0
	}
	starters := w.starters()
	others := map[stretchKey]bool{} // something on it is no starting motor
	used := map[int]bool{}
	for e := range w.Elements {
		x := &w.Elements[e]
		if x.Kind != solve.Load && x.Kind != solve.Coil {
			continue
		}
		for _, n := range [2]int{x.From, x.To} {
			if w.length[n] < 0 {
				continue
			}
			way := w.to(n)
			if k, ok := own(way); ok {
				u := add(k, n, way)
				if i, met := slices.BinarySearchFunc(u.Loads, x.Device, design.Natural); !met {
					u.Loads = slices.Insert(u.Loads, i, x.Device)
				}
				others[k] = others[k] || !starters[e]
				for _, e := range way {
					used[e] = true
				}
			}
			break
		}
	}
	w.rest(used, others, own, add)
	out := w.judge(found, order, far, others)
	for i := range out {
		loop(&out[i], shorts)
	}
	return out
}

// rest adds the wires on no way to a fuse or a load. One that comes out where a way has passed counts with that way: a second cable beside the
// first. The others end at nothing or lead to another supply, and what they leave a starter's cable with is more than the starter.
func (w *ways) rest(used map[int]bool, others map[stretchKey]bool, own func([]int) (stretchKey, bool), add func(stretchKey, int, []int) *Unfused) {
	for e := range w.Elements {
		if used[e] || w.onward[e] || !w.open(e) {
			continue
		}
		far, meets := w.beyond(e)
		if far < 0 || !meets {
			continue
		}
		beside := w.to(far)
		k, ok := own(beside)
		if w.first(beside, func(x int) bool { return !w.onward[x] }) < 0 {
			k = stretchKey{w.first(beside, func(int) bool { return true }), true}
			ok = k.first >= 0
		}
		if ok {
			near := w.Elements[e].From
			if w.by[near] == e {
				near = w.Elements[e].To
			}
			way := append(w.to(near), e)
			add(k, far, way)
			for _, x := range way {
				used[x] = true
			}
		}
	}
	for e := range w.Elements {
		if used[e] || w.onward[e] || !w.open(e) {
			continue
		}
		if far, _ := w.beyond(e); far >= 0 {
			way := w.to(far)
			if k, ok := own(way); ok {
				add(k, far, way)
				others[k] = true
			}
		}
	}
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

// judge holds each stretch against its limit. A way to a load that has no wire of its own beside the way to a fuse that is too long already has the
// same cause and is told with it.
func (w *ways) judge(found map[stretchKey]*Unfused, order []stretchKey, far map[stretchKey][]int, others map[stretchKey]bool) []Unfused {
	var out []Unfused
	late := map[int]int{} // wire on too long a way to a fuse: index in out
	slices.SortStableFunc(order, func(a, b stretchKey) int {
		if a.fused != b.fused {
			if a.fused {
				return -1
			}
			return 1
		}
		return cmp.Compare(a.first, b.first)
	})
	for _, k := range order {
		u := found[k]
		u.Length = max(u.Length, 0)
		w.limit(u, far[k])
		u.Amps = w.most(far[k])
		u.Met = len(u.Loads) == 0 && u.Length <= u.Most && !u.Unknown
		u.Starter = len(u.Loads) > 0 && !others[k] && !(k.first >= 0 && w.onward[k.first])
		if len(u.Loads) > 0 && k.first >= 0 && w.onward[k.first] {
			if i, told := late[w.Elements[k.first].Wire]; told {
				for _, l := range u.Loads {
					if j, met := slices.BinarySearchFunc(out[i].Loads, l, design.Natural); !met {
						out[i].Loads = slices.Insert(out[i].Loads, j, l)
					}
				}
				continue
			}
		}
		if k.fused && !u.Met {
			for _, i := range u.Wires {
				late[i] = len(out)
			}
		}
		out = append(out, *u)
	}
	return out
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

// starters is the loads that start an engine: they work for some seconds at a time, state a start of their own, and the contact straight before
// them, with no wire between, is one that a coil moves.
func (w *ways) starters() map[int]bool {
	out := map[int]bool{}
	for e := range w.Elements {
		x := &w.Elements[e]
		d := w.device(x.Device)
		if x.Kind != solve.Load || d == nil {
			continue
		}
		if l := &d.Draws[x.Index]; !l.Start.Given || !(l.On > 0) || l.On > crankMost {
			continue
		}
		for n, k := x.From, w.by[x.From]; k >= 0 && w.Elements[k].Kind != solve.Wire; k = w.by[n] {
			if w.Elements[k].Kind == solve.Switch && w.coilMoves(&w.Elements[k]) {
				out[e] = true
				break
			}
			n = w.other(k, n)
		}
	}
	return out
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

// most is what the source drives into a dead short at the end of a way at most: its set-point over its inside and the way out.
func (w *ways) most(way []int) unit.Current {
	d := w.device(w.s.Device)
	if d == nil || w.s.Index >= len(d.Supplies) {
		return 0
	}
	ohms := w.Elements[w.s.element].Resistance
	for _, e := range way {
		ohms += w.Elements[e].Resistance
	}
	volts := d.Supplies[w.s.Index].Volts.Nominal
	if !(ohms > 0) || !(volts > 0) {
		return 0
	}
	amps := unit.Current(float64(volts) / float64(ohms))
	if w.s.Most > 0 {
		amps = min(amps, w.s.Most)
	}
	return amps
}

// loop puts in the greatest short solved at what a stretch feeds, where there is one.
func loop(u *Unfused, shorts []Short) {
	for i := range shorts {
		s := &shorts[i]
		if slices.Contains(u.Loads, s.Device) && s.Source == u.Source.Device && (!u.Loop || s.Amps > u.Amps) {
			u.Amps, u.Loop = s.Amps, true
		}
	}
}
