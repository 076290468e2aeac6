package solve

import (
	"cmp"
	"slices"

	"loomsheet/harness/unit"
)

// Strike is the operating point with one dead short in place, asked element by element. It costs no more than what current can run in: the core of the island in
// which the short lies, and the ways by which it hangs from that.
type Strike struct {
	Amps    unit.Current // through the short
	Forward bool         // it runs from the first place given to the second: of a load from its From to its To
	f       *Faults
	island  int32 // of the net; -1: nothing flows
	core    *core
	p       *point // of the core
	part    int32  // the island of the core in which the short lies
	out, in []hung
	hung    []hung // both, by element
}

// Current is that of an element, in the sense of Point.Amps.
func (s *Strike) Current(element int) unit.Current {
	l := s.f.layout
	if l.ofE[element] != s.island {
		return unit.Current(s.f.point().amps(element))
	}
	e := l.atE[element]
	if k := s.core.branch[e]; k >= 0 {
		return unit.Current(s.p.amps(int(k)))
	}
	if k, ok := slices.BinarySearchFunc(s.hung, e, func(h hung, e int32) int { return cmp.Compare(h.element, e) }); ok {
		return unit.Current(s.hung[k].amps)
	}
	return 0
}

// Volts is that of a node, in the sense of Point.Volts.
func (s *Strike) Volts(node int) unit.Voltage {
	l := s.f.layout
	if l.of[node] != s.island {
		return unit.Voltage(s.f.point().volts(node))
	}
	for n, br := l.at[node], s.f.laws(s.island); ; n = br[s.core.up[n]].other(n) { // what hangs has the volts of what it hangs from
		if k := s.core.node[n]; k >= 0 {
			return unit.Voltage(s.p.volts(int(k)))
		}
		for _, way := range [2][]hung{s.out, s.in} {
			for i := range way {
				if way[i].node == n {
					return unit.Voltage(way[i].volts)
				}
			}
		}
	}
}

// Done says that a strike is asked no more: the next one is worked out in its place.
func (f *Faults) Done(s *Strike) {
	if s.island < 0 {
		return
	}
	if r := &s.core.room; r.has(s.p.patch(s.part)) {
		r.lent = false
	}
}

// Elements lists those that can carry current of the short, in the order of the net; none where nothing flows.
func (s *Strike) Elements() []int32 {
	if s.island < 0 {
		return nil
	}
	all, core := s.f.layout.islands[s.island].elements, s.core.islands[s.part].elements
	out := make([]int32, 0, len(core)+len(s.hung))
	k := 0
	for _, e := range core {
		at := s.core.elements[e]
		for ; k < len(s.hung) && s.hung[k].element < at; k++ {
			out = append(out, all[s.hung[k].element])
		}
		out = append(out, all[at])
	}
	for ; k < len(s.hung); k++ {
		out = append(out, all[s.hung[k].element])
	}
	return out
}

// Together tells whether current can run from one node to another and back at all: else a short between them brings nothing.
func (f *Faults) Together(a, b int) bool {
	n := len(f.Net.Nodes)
	if a < 0 || b < 0 || a >= n || b >= n || f.layout.of[a] != f.layout.of[b] {
		return false
	}
	i := f.layout.of[a]
	c, br := f.core(i), f.laws(i)
	x, y := c.node[c.root(br, f.layout.at[a])], c.node[c.root(br, f.layout.at[b])]
	return c.p.together(int(x), int(y))
}

// Strike is Between. Where both places hang from one node of the core nothing drives a current.
func (f *Faults) Strike(from, to int, through unit.Resistance) Strike {
	if from == to || !f.Together(from, to) {
		return Strike{f: f, island: -1}
	}
	s := Strike{f: f, island: f.layout.of[from]}
	c, br := f.core(s.island), f.laws(s.island)
	a, b := f.layout.at[from], f.layout.at[to]
	x, y := c.node[c.root(br, a)], c.node[c.root(br, b)]
	if x == y {
		return Strike{f: f, island: -1}
	}
	out, r := c.way(br, a)
	in, q := c.way(br, b)
	s.core, s.part, s.out, s.in = c, c.of[x], out, in
	patch := c.bridged(c.p, int(x), int(y), max(float64(through), float64(ShortResistance))+r+q)
	s.p = c.p.but(owned{s.part, patch})
	carry(br, s.out, patch.bridge, s.p.volts(int(x)))
	carry(br, s.in, -patch.bridge, s.p.volts(int(y)))
	s.hung = append(slices.Clone(s.out), s.in...)
	slices.SortFunc(s.hung, func(a, b hung) int { return cmp.Compare(a.element, b.element) })
	s.Amps, s.Forward = unit.Current(abs(patch.bridge)), patch.bridge >= 0
	return s
}

// StrikeLoad is AtLoad, but for the load itself, which carries nothing: it is open in the net of faults, and the short lies between its ends. A supply is
// taken out.
func (f *Faults) StrikeLoad(element int) Strike {
	if element < 0 || element >= len(f.layout.ofE) {
		return Strike{f: f, island: -1}
	}
	i, at := f.layout.ofE[element], f.layout.atE[element]
	c := f.core(i)
	k := c.branch[at]
	if k < 0 {
		e := &f.Net.Elements[element]
		return f.Strike(e.From, e.To, 0)
	}
	old := c.p.branch(int(k))
	p := c.again(c.p, []change{{int(k), resistor(old.from, old.to, float64(ShortResistance))}})
	a := p.amps(int(k)) // a resistor by now, whatever it was
	return Strike{Amps: unit.Current(abs(a)), Forward: a >= 0, f: f, island: i, core: c, p: p, part: c.ofE[k]}
}
