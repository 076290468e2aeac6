package protect

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// source is a supply that may live.
type source struct {
	Source
	element     int
	plus, minus int
	own         int // zone before the first fuse
	behind      []behind
}

// behind is a zone that a source reaches through fuses.
type behind struct {
	zone  int
	fuse  FuseRef
	ahead []FuseRef
}

// tracer follows each source of a job through its metal to what it reaches.
type tracer struct {
	*graph
	job     *design.Job
	nt      *net.Net
	sources []source
	devices map[string]*design.Device
	plus    bits  // nodes that some source reaches
	minus   bits  // nodes of the minus side
	wires   []int // element of each wire; -1
	carries []unit.Current
	own     [][]int32       // by node: the sources that reach it with no fuse between
	fused   [][]fusedSource // and those that do through fuses
	fusesOf map[*solve.Network]map[FuseRef]int
	alone   map[[2]string][]int // by device and pin: a wire that has the pin for itself
	ends    map[string][]int    // by device: the wires that end there
	airs    map[[2]string]zoneAir
	parts   map[*solve.Network][]int
}

// fusedSource is a source that comes to a node through a last fuse.
type fusedSource struct {
	source int32
	fuse   FuseRef
}

func newTracer(job *design.Job, nt *net.Net, sizes size.Sizes, h *heat.Result) *tracer {
	t := &tracer{devices: devicesOf(job), fusesOf: map[*solve.Network]map[FuseRef]int{}, alone: map[[2]string][]int{}, ends: map[string][]int{}, airs: map[[2]string]zoneAir{}, parts: map[*solve.Network][]int{}, graph: newGraph(job, solve.All(job, nt, sizes)), job: job, nt: nt, wires: make([]int, len(nt.Wires)), carries: make([]unit.Current, len(nt.Wires))}
	for i := range t.wires {
		t.wires[i] = -1
		if h != nil && i < len(h.Wires) && h.Wires[i].Known {
			t.carries[i] = h.Wires[i].Ampacity
		}
	}
	for i, e := range t.Elements {
		if e.Kind == solve.Wire {
			t.wires[e.Wire] = i
		}
	}
	for _, u := range nt.Uses {
		if len(u.Wires) == 1 {
			k := [2]string{u.Device, u.Pin}
			t.alone[k] = append(t.alone[k], u.Wires[0])
		}
	}
	for i := range nt.Wires {
		for _, e := range nt.Wires[i].Ends {
			if l := t.ends[e.Device]; len(l) == 0 || l[len(l)-1] != i {
				t.ends[e.Device] = append(l, i)
			}
		}
	}
	t.plus = newBits(len(t.Nodes))
	listed := map[string]bool{}
	for _, c := range job.Cases {
		for _, s := range c.Supplies {
			listed[s.Device] = true
		}
	}
	for i, e := range t.Elements {
		d := t.device(e.Device)
		if e.Kind != solve.Supply || d == nil {
			continue
		}
		own := len(d.Draws) > 0
		if !own && !listed[e.Device] && len(job.Cases) > 0 || e.From == e.To {
			continue
		}
		s := source{Source: Source{Device: e.Device, Index: e.Index, Own: own && !listed[e.Device]}, element: i, plus: e.From, minus: e.To}
		if f := d.Supplies[e.Index].Most; f.Given && f.Nominal > 0 {
			s.Most = max(f.Nominal, f.High)
		}
		t.follow(&s)
		t.sources = append(t.sources, s)
		for _, n := range t.zones[s.own].nodes {
			t.plus.add(n)
		}
		for _, b := range s.behind {
			for _, n := range t.zones[b.zone].nodes {
				t.plus.add(n)
			}
		}
	}
	return t
}

// devicesOf is a job's devices by name.
func devicesOf(job *design.Job) map[string]*design.Device {
	out := map[string]*design.Device{}
	for _, d := range job.Devices {
		if !d.Pattern && out[d.Name] == nil {
			out[d.Name] = d
		}
	}
	return out
}

func (t *tracer) device(name string) *design.Device { return t.devices[name] }

func (t *tracer) ref(fuse int) FuseRef {
	return FuseRef{Device: t.Elements[fuse].Device, Index: t.Elements[fuse].Index}
}

// follow finds the zones behind a source's fuses. A fuse is the last on a way to its zone only if the way has not been there before:
// current that went round a ring back to where it came from feeds nothing new.
func (t *tracer) follow(s *source) {
	s.own = t.zoneAt(-1, s.plus, 0)
	next := func(z int) []int { // exits may be added while zones are made, so by index
		var out []int
		for _, x := range t.zones[z].exits {
			out = append(out, t.zoneAt(x.fuse, x.far, x.label))
		}
		return out
	}
	all, known := []int{s.own}, map[int]bool{s.own: true}
	ways := map[int][]int{}
	for i := 0; i < len(all); i++ {
		ways[all[i]] = next(all[i])
		for _, z := range ways[all[i]] {
			if !known[z] {
				known[z] = true
				all = append(all, z)
			}
		}
	}
	from := map[int][]int{} // by zone: those that lead there
	for _, n := range all {
		for _, z := range ways[n] {
			if l := from[z]; len(l) == 0 || l[len(l)-1] != n {
				from[z] = append(l, n)
			}
		}
	}
	for _, z := range all[1:] {
		if t.holds(s.own, z) {
			continue
		}
		if on := t.leading(s.own, z, from); len(on) > 0 {
			b := behind{zone: z, fuse: t.ref(t.zones[z].fuse)}
			for _, n := range on {
				if f := t.zones[n].fuse; f >= 0 {
					b.ahead = addRef(b.ahead, t.ref(f))
				}
			}
			s.behind = append(s.behind, b)
		}
	}
}

// leading lists the zones on ways from one to another that do not meet the other's root before. from tells which zones lead to each. It looks back
// from the other, so that it sees no more than what leads there, however much the first one feeds besides.
func (t *tracer) leading(own, z int, from map[int][]int) (on []int) {
	to := map[int][]int{} // of the zones that lead there: those they lead on to
	seen := map[int]bool{z: true}
	for todo := []int{z}; len(todo) > 0; todo = todo[1:] {
		for _, n := range from[todo[0]] {
			if t.holds(n, z) {
				continue
			}
			to[n] = append(to[n], todo[0])
			if !seen[n] {
				seen[n] = true
				todo = append(todo, n)
			}
		}
	}
	if !seen[own] {
		return nil
	}
	met := map[int]bool{own: true, z: true}
	for todo := []int{own}; len(todo) > 0; todo = todo[1:] {
		on = append(on, todo[0])
		for _, n := range to[todo[0]] {
			if !met[n] {
				met[n] = true
				todo = append(todo, n)
			}
		}
	}
	return on
}

func compareRef(a, b FuseRef) int {
	return cmp.Or(design.Natural(a.Device, b.Device), cmp.Compare(a.Index, b.Index))
}

// addRef keeps a list of fuses in order, each once.
func addRef(list []FuseRef, f FuseRef) []FuseRef {
	i, found := slices.BinarySearchFunc(list, f, compareRef)
	if found {
		return list
	}
	return slices.Insert(list, i, f)
}

func addSource(list []Source, s Source) []Source {
	if slices.Contains(list, s) {
		return list
	}
	return append(list, s)
}

// reached is what feeds a node: the last fuses on the ways from every source, and the sources with no fuse between.
type reached struct {
	by   []FuseRef
	open []Source
}

// index notes at each node which sources come there.
func (t *tracer) index() {
	t.own, t.fused = make([][]int32, len(t.Nodes)), make([][]fusedSource, len(t.Nodes))
	for i := range t.sources {
		s := &t.sources[i]
		for _, n := range t.zones[s.own].nodes {
			t.own[n] = append(t.own[n], int32(i))
		}
		for _, b := range s.behind {
			for _, n := range t.zones[b.zone].nodes {
				t.fused[n] = append(t.fused[n], fusedSource{int32(i), b.fuse})
			}
		}
	}
}

func (t *tracer) reach(node int) (r reached) {
	if t.own == nil {
		t.index()
	}
	for _, i := range t.own[node] {
		r.open = addSource(r.open, t.sources[i].Source)
	}
	for _, f := range t.fused[node] {
		if !slices.Contains(t.own[node], f.source) {
			r.by = addRef(r.by, f.fuse)
		}
	}
	return r
}

func (r *reached) any() bool { return len(r.by)+len(r.open) > 0 }

func (r *reached) join(o reached) {
	for _, f := range o.by {
		r.by = addRef(r.by, f)
	}
	for _, s := range o.open {
		r.open = addSource(r.open, s)
	}
}

// set puts what feeds a wire into its result: of the sources with no fuse between those whose limit it carries, and the others.
func (t *tracer) set(w *WireResult, r reached) {
	w.Reached, w.By = true, r.by
	for _, s := range r.open {
		if s.Most > 0 && t.carries[w.Wire] >= s.Most {
			w.Limited = append(w.Limited, s)
		} else {
			w.Open = append(w.Open, s)
		}
	}
}

// trace finds what protects each wire.
func (t *tracer) trace(cases []*solve.CaseResult) []WireResult {
	out := make([]WireResult, len(t.nt.Wires))
	for i := range out {
		out[i].Wire = i
		if t.wires[i] < 0 {
			continue
		}
		if r := t.reach(t.Elements[t.wires[i]].From); r.any() {
			t.set(&out[i], r)
			t.together(&out[i])
			t.beside(&out[i])
		}
	}
	t.returns(out, cases)
	return out
}

// within is the nodes of a zone that its current meets from a node on without passing an element.
func (t *tracer) within(zone, from, besides int) map[int]bool {
	met := map[int]bool{from: true}
	for todo := []int{from}; len(todo) > 0; todo = todo[1:] {
		for _, k := range t.at[todo[0]] {
			if m := t.other(k, todo[0]); k != besides && !met[m] && t.passes(k, todo[0]) && t.zones[zone].has(m) {
				met[m] = true
				todo = append(todo, m)
			}
		}
	}
	return met
}

// beside adds up what limited sources drive into a wire at the end at which a fuse's current comes in: an overload behind a battery's fuse on a bus
// that an alternator feeds bare brings both.
func (t *tracer) beside(w *WireResult) {
	if len(w.By) == 0 || len(w.Limited) == 0 {
		return
	}
	e := t.wires[w.Wire]
	ends := [2]int{t.Elements[e].From, t.Elements[e].To}
	var sum [2]unit.Current
	for i := range t.sources {
		if s := &t.sources[i]; slices.Contains(w.Limited, s.Source) {
			met := t.within(s.own, s.plus, e)
			for k, n := range ends {
				if met[n] {
					sum[k] += s.Most
				}
			}
		}
	}
	for _, f := range w.By {
		most := unit.Current(0)
		for i := range t.sources {
			for _, b := range t.sources[i].behind {
				if b.fuse != f {
					continue
				}
				met := t.within(b.zone, t.zones[b.zone].root, e)
				for k, n := range ends {
					if met[n] {
						most = max(most, sum[k])
					}
				}
			}
		}
		w.Beside = append(w.Beside, most)
	}
}

// together leaves a wire open to limited sources whose limits it carries one by one but not in sum, where they come in at one of its ends.
func (t *tracer) together(w *WireResult) {
	if len(w.Limited) < 2 {
		return
	}
	e := t.wires[w.Wire]
	var at [2][]Source
	for i := range t.sources {
		s := &t.sources[i]
		if !slices.Contains(w.Limited, s.Source) {
			continue
		}
		met := t.within(s.own, s.plus, e)
		for k, n := range [2]int{t.Elements[e].From, t.Elements[e].To} {
			if met[n] {
				at[k] = append(at[k], s.Source)
			}
		}
	}
	for _, sources := range at {
		sum := unit.Current(0)
		for _, s := range sources {
			sum += s.Most
		}
		if sum <= t.carries[w.Wire] {
			continue
		}
		for _, s := range sources {
			w.Open = addSource(w.Open, s)
			w.Limited = slices.DeleteFunc(w.Limited, func(x Source) bool { return x == s })
		}
	}
}
