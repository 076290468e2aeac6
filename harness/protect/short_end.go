package protect

import (
	"math"

	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// unseen is the wires of a part, by which of it they are, that may be live and that carry the current of no short seen.
func (g *weigher) unseen(part int32, seen []bool) (wires []int) {
	for k, i := range g.apart.wires.at(part) {
		live := int(i) < len(g.res.Wires) && g.res.Wires[i].Wire == int(i) && g.res.Wires[i].Reached && !g.res.Wires[i].Return
		if !seen[k] && live && g.nt.Wires[i].Kind == net.Plain {
			wires = append(wires, k)
		}
	}
	return wires
}

// deadEnds shorts the far end of each wire that leads to no load in any case, straight to the source's minus. At its weakest the return counts as
// long as the feed: nobody knows what metal the short would find.
func (g *weigher) deadEnds(f *solve.Faults, at *sites, part int32, wires []int, strong bool, tell func(int, trial, bool)) {
	if len(wires) == 0 {
		return
	}
	var supplies []int
	for _, k := range at.supplies.at(part) {
		supplies = append(supplies, int(at.supplies.elements[k]))
	}
	for _, nth := range wires {
		i := g.apart.wires.at(part)[nth]
		if at.wires[i] < 0 {
			continue
		}
		fault, supply, node := g.farEnd(f, int(at.wires[i]), supplies)
		if supply < 0 {
			continue
		}
		s := &f.Net.Elements[supply]
		where := site{load: -1, from: node, to: s.To}
		if !strong {
			where.through = unit.Resistance(max(g.setPoint(f.Net, &fault, supply)/float64(fault.Amps)-float64(f.Net.Resistance(supply)), 0))
		}
		f.Done(&fault)
		w := &g.nt.Wires[i]
		t, ok := g.try(f, where, Short{Case: f.Case, At: "end of " + w.Name, Index: -1, Wire: int(i), Strong: strong, Span: w.Span})
		tell(nth, t, ok)
	}
}

// farEnd shorts both ends of a wire, an element of the net, each to the minus of the supply that drives most into it, and returns the end with less
// current; where a supply's limit makes both alike, the one whose short comes through more of the wire. Supply is -1 where nothing drives any.
func (g *weigher) farEnd(f *solve.Faults, wire int, supplies []int) (far solve.Strike, supply, node int) {
	supply = -1
	own := func(x *solve.Strike) float64 { return math.Abs(float64(x.Current(wire))) }
	for _, n := range []int{f.Net.Elements[wire].From, f.Net.Elements[wire].To} {
		x, by := driven(f, n, supplies)
		if by < 0 {
			if supply >= 0 {
				f.Done(&far)
			}
			return x, -1, 0
		}
		if supply < 0 || unit.Worse(far.Amps, x.Amps) || !unit.Worse(x.Amps, far.Amps) && unit.WorseBy(own(&x), own(&far), float64(noise)) {
			if supply >= 0 {
				f.Done(&far)
			}
			far, supply, node = x, by, n
		} else {
			f.Done(&x)
		}
	}
	return far, supply, node
}

// driven shorts a node to the minus of the supply that drives most of such a short. The first minus that brings anything tells which that is.
func driven(f *solve.Faults, node int, supplies []int) (x solve.Strike, supply int) {
	for _, s := range supplies {
		to := f.Net.Elements[s].To
		if to == node {
			continue
		}
		if x = f.Strike(node, to, 0); !(x.Amps > leastShort) {
			f.Done(&x)
			continue
		}
		most := s
		for _, k := range supplies {
			if unit.Worse(x.Current(k), x.Current(most)) {
				most = k
			}
		}
		if back := f.Net.Elements[most].To; back != to && back != node {
			if y := f.Strike(node, back, 0); y.Amps > leastShort {
				f.Done(&x)
				x = y
			} else {
				f.Done(&y)
				most = s
			}
		}
		return x, most
	}
	return x, -1
}
