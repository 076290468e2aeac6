package fit

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// neighbours knows which wires of a net lie beside which.
type neighbours struct {
	nt    *net.Net
	edges [][]int // wires by edge
	loose [][]int // by wire, of those that lie on no edge: which may lie beside it, itself among them
}

func newNeighbours(nt *net.Net) *neighbours {
	n := &neighbours{nt: nt, loose: make([][]int, len(nt.Wires))}
	if nt.Space != nil {
		n.edges = make([][]int, len(nt.Space.Edges))
	}
	up := make([]int, len(nt.Wires)) // loose wires that share a cable or both ends hang together
	root := func(i int) int {
		for up[i] != i {
			up[i] = up[up[i]]
			i = up[i]
		}
		return i
	}
	first := map[[4]string]int{}
	join := func(i int, k [4]string) {
		if j, ok := first[k]; ok {
			a, b := root(i), root(j)
			up[max(a, b)] = min(a, b)
		} else {
			first[k] = i
		}
	}
	placed := make([]bool, len(nt.Wires))
	for i := range nt.Wires {
		w := &nt.Wires[i]
		up[i] = i
		for _, s := range w.Path {
			if n.on(w, s) {
				placed[i] = true
				if l := n.edges[s.Edge]; len(l) == 0 || l[len(l)-1] != i {
					n.edges[s.Edge] = append(l, i)
				}
			}
		}
		if placed[i] {
			continue
		}
		if w.Cable != "" {
			join(i, [4]string{w.Zone, w.Section, "cable", w.Cable})
		}
		a, b := thing(&w.Ends[0]), thing(&w.Ends[1])
		join(i, [4]string{w.Zone, w.Section, min(a, b), max(a, b)})
	}
	groups := map[int][]int{}
	for i := range nt.Wires {
		if !placed[i] {
			groups[root(i)] = append(groups[root(i)], i)
		}
	}
	for i := range nt.Wires {
		if !placed[i] {
			n.loose[i] = groups[root(i)]
		}
	}
	return n
}

func (n *neighbours) on(w *net.Wire, s net.Step) bool {
	return !w.Loose && s.Edge >= 0 && s.Edge < len(n.edges)
}

// thing is what a wire ends at.
func thing(t *net.Termination) string {
	switch {
	case t.Device != "":
		return "device " + t.Device
	case t.Break != "":
		return "break " + t.Break
	}
	return "splice " + t.Splice
}

// Near is a part of a net: some wires, and all that lie beside them at the places where those lie. It holds no other place.
type Near struct {
	Net   *net.Net
	Wires []int // of the whole net, ascending
}

// of cuts out what lies around some wires.
func (n *neighbours) of(wires []int) *Near {
	var edges, all []int
	for _, i := range wires {
		w := &n.nt.Wires[i]
		all = append(all, i)
		all = append(all, n.loose[i]...)
		for _, s := range w.Path {
			if n.on(w, s) {
				edges = append(edges, s.Edge)
			}
		}
	}
	slices.Sort(edges)
	edges = slices.Compact(edges)
	for _, e := range edges {
		all = append(all, n.edges[e]...)
	}
	slices.Sort(all)
	x := &Near{Net: &net.Net{Wires: make([]net.Wire, 0, len(all))}, Wires: slices.Compact(all)}
	if n.nt.Space != nil {
		x.Net.Space = &space.Geometry{Edges: make([]space.Edge, len(edges))}
		for k, e := range edges {
			x.Net.Space.Edges[k] = n.nt.Space.Edges[e]
		}
	}
	for _, i := range x.Wires {
		w := n.nt.Wires[i]
		w.Path = nil
		for _, s := range n.nt.Wires[i].Path {
			if k, ok := slices.BinarySearch(edges, s.Edge); ok {
				s.Edge = k
				w.Path = append(w.Path, s)
			}
		}
		x.Net.Wires = append(x.Net.Wires, w)
	}
	return x
}

// At is the place of a wire of the whole net among those near.
func (x *Near) At(wire int) int {
	k, _ := slices.BinarySearch(x.Wires, wire)
	return k
}

// Sizes is the conductors of the wires near.
func (x *Near) Sizes(all size.Sizes) size.Sizes {
	out := make(size.Sizes, len(x.Wires))
	for k, i := range x.Wires {
		out[k] = all[i]
	}
	return out
}

func pick(all []unit.Current, wires []int) []unit.Current {
	out := make([]unit.Current, len(wires))
	for k, i := range wires {
		if i < len(all) {
			out[k] = all[i]
		}
	}
	return out
}

// Duty is the currents of duty of the wires near.
func (x *Near) Duty(all heat.DutyCurrents) heat.DutyCurrents {
	out := heat.DutyCurrents{}
	for c, steps := range all {
		for _, s := range steps {
			s.Amps = pick(s.Amps, x.Wires)
			out[c] = append(out[c], s)
		}
	}
	return out
}

// flows is what flows in some cases, ready to be told for a few wires.
type flows struct {
	cases []flow
	given int
	lasts map[string]unit.Time
}

type flow struct {
	c       *solve.CaseResult
	element []int   // by wire
	starts  [][]int // by wire: those that move it
}

// newFlows takes cases as heat does: after them what they become at both ends of their supplies' spreads.
func newFlows(job *design.Job, nt *net.Net, cases []*solve.CaseResult) *flows {
	f := &flows{given: len(cases), lasts: map[string]unit.Time{}}
	all := slices.Clone(cases)
	for _, c := range cases {
		all = append(all, c.Variants()[1:]...)
	}
	for _, d := range job.Devices {
		t := f.lasts[d.Name]
		for i := range d.Draws {
			if d.Draws[i].Start.Given {
				t = max(t, d.Draws[i].StartFor)
			}
		}
		for i := range d.Coils {
			if d.Coils[i].Start.Given {
				t = max(t, d.Coils[i].StartFor)
			}
		}
		if t > 0 {
			f.lasts[d.Name] = t
		}
	}
	for _, c := range all {
		x := flow{c: c, element: make([]int, len(nt.Wires)), starts: c.StartsAtWires()}
		for i := range x.element {
			x.element[i] = -1
		}
		if c.Net != nil {
			for e := range c.Net.Elements {
				if el := &c.Net.Elements[e]; el.Kind == solve.Wire && el.Wire >= 0 && el.Wire < len(x.element) {
					x.element[el.Wire] = e
				}
			}
		}
		f.cases = append(f.cases, x)
	}
	return f
}

// Near is what flows in some wires, by their places among them, in the cases and after them at the ends of the supplies' spreads; given is the number of the
// former. Of starts those are there that move some of the wires, with the currents of these alone: what a start does not move it does not heat.
func (f *flows) Near(wires []int) (cases []*solve.CaseResult, given int) {
	nw := &solve.Network{Elements: make([]solve.Element, len(wires))}
	items := make([]solve.Item, len(wires))
	for k := range wires {
		items[k] = solve.Item{Kind: solve.Wire, Wire: k}
		nw.Elements[k].Item = &items[k]
	}
	for i := range f.cases {
		x := &f.cases[i]
		c := &solve.CaseResult{Case: x.c.Case, Net: nw, WireAmps: pick(x.c.WireAmps, wires)}
		moving := make([][]int, len(x.c.Starts)) // places among wires, by start
		for k, w := range wires {
			if w < len(x.starts) && w < len(x.element) && x.element[w] >= 0 {
				for _, s := range x.starts[w] {
					moving[s] = append(moving[s], k)
				}
			}
		}
		for s := range x.c.Starts {
			st := &x.c.Starts[s]
			if len(moving[s]) == 0 || f.lasts[st.Device] <= 0 || st.Net == nil {
				continue
			}
			amps := make([]unit.Current, len(wires))
			for _, k := range moving[s] {
				amps[k] = st.Amps(x.element[wires[k]])
			}
			c.Starts = append(c.Starts, solve.Started(st.Device, nw, amps))
		}
		cases = append(cases, c)
	}
	return cases, f.given
}

// Surroundings is an outcome from which what lies around a wire is cut out.
type Surroundings struct {
	o     *Outcome
	near  *neighbours
	flows *flows
}

// NewSurroundings makes an outcome ready; it is only read.
func NewSurroundings(job *design.Job, o *Outcome) *Surroundings {
	return &Surroundings{o: o, near: newNeighbours(o.Net), flows: newFlows(job, o.Net, o.Cases)}
}

// Nearby is all that the heat of some wires turns on, by their places among those near. Cases holds, after those Given, what they become at the
// ends of their supplies' spreads.
type Nearby struct {
	*Near
	Sizes size.Sizes
	Cases []*solve.CaseResult
	Given int
	Duty  heat.DutyCurrents
}

// Of cuts out what lies around some wires.
func (x *Surroundings) Of(wires []int) *Nearby {
	n := x.near.of(wires)
	out := &Nearby{Near: n, Sizes: n.Sizes(x.o.Sizes), Duty: n.Duty(x.o.Duty)}
	out.Cases, out.Given = x.flows.Near(n.Wires)
	return out
}
