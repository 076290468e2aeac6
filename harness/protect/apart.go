package protect

import (
	"slices"

	"loomsheet/harness/solve"
)

// apart is what of a net shares no metal in any position: no short, no fuse and no overload in one part has to do with another.
type apart struct {
	of    []int32         // by wire
	pos   []int32         // by wire: which of its part's it is
	wires joined          // of each part, ascending
	at    map[thing]int32 // the part in which something lies
	n     int
}

// thing is a load, a coil, a supply or a fuse.
type thing struct {
	kind   solve.ElementKind
	device string
	index  int
}

func thingOf(e *solve.Element) thing { return thing{e.Kind, e.Device, e.Index} }

func placed(k solve.ElementKind) bool {
	return k == solve.Load || k == solve.Coil || k == solve.Supply || k == solve.Fuse
}

// newApart parts a net as it is in all positions at once. Wires that are not in it are one part, the last.
func newApart(nw *solve.Network, wires int) *apart {
	up := make([]int32, len(nw.Nodes))
	for i := range up {
		up[i] = int32(i)
	}
	root := func(i int) int32 {
		x := int32(i)
		for up[x] != x {
			up[x] = up[up[x]]
			x = up[x]
		}
		return x
	}
	for i := range nw.Elements {
		a, b := root(nw.Elements[i].From), root(nw.Elements[i].To)
		up[max(a, b)] = min(a, b)
	}
	first := map[thing]int{}
	for i := range nw.Elements {
		if e := &nw.Elements[i]; placed(e.Kind) {
			if n, twice := first[thingOf(e)]; twice {
				a, b := root(n), root(e.From)
				up[max(a, b)] = min(a, b)
			} else {
				first[thingOf(e)] = e.From
			}
		}
	}
	a := &apart{of: make([]int32, wires), pos: make([]int32, wires), at: map[thing]int32{}}
	number := make([]int32, len(up))
	for i := range number {
		number[i] = -1
	}
	for i := range a.of {
		a.of[i] = -1
	}
	for i := range nw.Elements {
		e := &nw.Elements[i]
		r := root(e.From)
		if number[r] < 0 {
			number[r] = int32(a.n)
			a.n++
		}
		if e.Kind == solve.Wire && e.Wire >= 0 && e.Wire < wires {
			a.of[e.Wire] = number[r]
		} else if placed(e.Kind) {
			a.at[thingOf(e)] = number[r]
		}
	}
	for i, p := range a.of {
		if p < 0 {
			a.of[i] = int32(a.n)
		}
	}
	a.n++
	a.wires = joinedBy(a.of, a.n)
	for p := range a.n {
		for k, w := range a.wires.at(int32(p)) {
			a.pos[w] = int32(k)
		}
	}
	return a
}

// part is that of a thing; of one that the net does not have the last.
func (a *apart) part(x thing) int32 {
	if p, ok := a.at[x]; ok {
		return p
	}
	return int32(a.n - 1)
}

// sites is where a net of faults is shorted, by the part of it.
type sites struct {
	loads    listed // loads, coils and supplies
	supplies listed
	wires    []int32 // by wire: its element; -1
	mains    []int32 // by main fuse: its element; -1
	metal    []int32 // by stud: its node; -1
}

// listed is elements by part, in the order of the net.
type listed struct {
	joined
	elements []int32
}

func (g *weigher) listed(nw *solve.Network, elements []int32) listed {
	of := make([]int32, len(elements))
	for k, e := range elements {
		of[k] = g.apart.part(thingOf(&nw.Elements[e]))
	}
	return listed{joinedBy(of, g.apart.n), elements}
}

func (g *weigher) sitesOf(nw *solve.Network) *sites {
	s := &sites{wires: make([]int32, len(g.nt.Wires)), mains: make([]int32, len(g.mains)), metal: make([]int32, len(g.metal))}
	for _, list := range [][]int32{s.wires, s.mains, s.metal} {
		for i := range list {
			list[i] = -1
		}
	}
	var loads, supplies []int32
	for i := range nw.Elements {
		switch e := &nw.Elements[i]; e.Kind {
		case solve.Load, solve.Coil:
			loads = append(loads, int32(i))
		case solve.Supply: // a dead alternator is a short itself: its lead is fed backwards by the battery
			loads, supplies = append(loads, int32(i)), append(supplies, int32(i))
		case solve.Wire:
			if e.Wire >= 0 && e.Wire < len(s.wires) {
				s.wires[e.Wire] = int32(i)
			}
		}
	}
	s.loads, s.supplies = g.listed(nw, loads), g.listed(nw, supplies)
	if len(g.mains) == 0 || len(g.metal) == 0 {
		return s
	}
	fuses := fuseElements(nw)
	for k, i := range g.mains {
		if e, ok := fuses[g.res.Fuses[i].FuseRef]; ok {
			s.mains[k] = int32(e)
		}
	}
	at := map[string]int{}
	for k, name := range g.metal {
		at[name] = k
	}
	for i, name := range nw.Nodes {
		if k, ok := at[name]; ok {
			s.metal[k] = int32(i)
		}
	}
	return s
}

// allSites is that of each net; nets of the same elements share it.
func (g *weigher) allSites() {
	g.sites = make([]*sites, len(g.nets))
	for n, f := range g.nets {
		if k := slices.IndexFunc(g.nets[:n], func(x *solve.Faults) bool { return alike(x.Net, f.Net) }); k >= 0 {
			g.sites[n] = g.sites[k]
		} else {
			g.sites[n] = g.sitesOf(f.Net)
		}
	}
}

// alike tells whether two nets have the same elements in the same places. How their supplies live, and what flows, may differ.
func alike(a, b *solve.Network) bool {
	return len(a.Elements) == len(b.Elements) && (len(a.Elements) == 0 || &a.Elements[0] == &b.Elements[0])
}
