package solve

import (
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Lack is why no current can run through a load.
type Lack uint8

// What a load lacks.
const (
	NoPlus   Lack = iota // its plus side joins no supply
	NoMinus              // its minus side joins no supply
	OneSide              // both its sides join each other
	NoCommon             // they join supplies, but nothing leads round
)

// Cut is a load that no supply can ever reach: in no position of its switches and relays is there a way through metal, diodes and supplies in
// series from its plus round to its minus. Ways through other loads do not count.
type Cut struct {
	Device string
	Index  int // into the device's draws, or coils when Coil is set
	Coil   bool
	Lacks  Lack
	Pin    string   // the end in question, as the node is named; of OneSide and NoCommon both, joined by " and "
	Joins  []string // pins and splices which that end does join, itself left out; natural order
}

// CutOff lists, among the loads asked for, those that no supply can reach in a network with every contact in place (All), in the order of the
// elements. Which way round a load is fed makes no difference.
func CutOff(nw *Network, among func(device string, index int, coil bool) bool) (out []Cut) {
	r := &reacher{Network: nw, at: make([][]int, len(nw.Nodes))}
	for i, e := range nw.Elements {
		r.at[e.From] = append(r.at[e.From], i)
		r.at[e.To] = append(r.at[e.To], i)
	}
	for _, e := range nw.Elements {
		if e.Kind != Load && e.Kind != Coil || !among(e.Device, e.Index, e.Kind == Coil) || r.round(e.From, e.To) || r.round(e.To, e.From) {
			continue
		}
		c := Cut{Device: e.Device, Index: e.Index, Coil: e.Kind == Coil, Lacks: NoCommon, Pin: nw.Nodes[e.From] + " and " + nw.Nodes[e.To]}
		switch {
		case !r.terminal(e.From):
			c.Lacks, c.Pin, c.Joins = NoPlus, nw.Nodes[e.From], r.names(e.From)
		case !r.terminal(e.To):
			c.Lacks, c.Pin, c.Joins = NoMinus, nw.Nodes[e.To], r.names(e.To)
		case r.from(e.From, true, false, -1)[e.To]:
			c.Lacks = OneSide
		}
		out = append(out, c)
	}
	return out
}

type reacher struct {
	*Network
	at [][]int // elements by node
}

// from is the nodes that current can come to from one (or come from, upstream), over metal, diodes and, where asked, other supplies.
func (r *reacher) from(node int, upstream, supplies bool, besides int) []bool {
	seen := make([]bool, len(r.Nodes))
	seen[node] = true
	for todo := []int{node}; len(todo) > 0; {
		n := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		for _, i := range r.at[n] {
			e := &r.Elements[i]
			next := e.From + e.To - n
			ok := false
			switch e.Kind {
			case Load, Coil:
			case Supply: // runs from its minus through to its plus
				ok = supplies && i != besides && (e.To == n) != upstream
			case Diode:
				ok = (e.From == n) != upstream
			default:
				ok = true
			}
			if ok && !seen[next] {
				seen[next] = true
				todo = append(todo, next)
			}
		}
	}
	return seen
}

// round tells whether a supply's current can come in at one node and go back from the other.
func (r *reacher) round(plus, minus int) bool {
	up := r.from(plus, true, false, -1)
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Kind == Supply && e.From != e.To && up[e.From] && r.from(minus, false, true, i)[e.To] {
			return true
		}
	}
	return false
}

// terminal tells whether a node joins any terminal of a supply.
func (r *reacher) terminal(node int) bool {
	up, down := r.from(node, true, false, -1), r.from(node, false, false, -1)
	for i := range r.Elements {
		if e := &r.Elements[i]; e.Kind == Supply && (up[e.From] || up[e.To] || down[e.From] || down[e.To]) {
			return true
		}
	}
	return false
}

// names are the pins and splices that a node joins.
func (r *reacher) names(node int) (out []string) {
	seen := r.from(node, true, false, -1)
	named := map[string]bool{r.Nodes[node]: true}
	for i := range r.Elements {
		e := &r.Elements[i]
		name := ""
		switch e.Kind {
		case Contact, Lug, SpliceJoint:
			name = e.Name
		}
		if name != "" && (seen[e.From] || seen[e.To]) && !named[name] {
			named[name] = true
			out = append(out, name)
		}
	}
	slices.SortFunc(out, design.Natural)
	return out
}

// Feedable is what the way to a load lets through at most.
type Feedable struct {
	Volts      unit.Voltage    // with the load open
	Resistance unit.Resistance // of its way, that of the supply included
	Most       unit.Power      // volts squared over four times the resistance, at half the volts
}

// Feedable opens a load, by its index, and works out what its way would let through at most; linear about that point, everything else as it
// stands. It is zero for a load that is not there.
func (c *CaseResult) Feedable(load int) Feedable {
	if c.again == nil || load < 0 || load >= len(c.Loads) {
		return Feedable{}
	}
	c.again.lock()
	defer c.again.unlock()
	e := c.Loads[load].element
	g, p := c.again.grid(), c.again.p
	p = g.again(p, []change{{e, resistor(0, 0, mostResistance)}}) // next to open, so that what would feed it does not idle
	i := p.ofE[e]
	x := p.patch(i)
	s := g.solver(i, x.br)
	b := &x.br[p.atE[e]]
	if !s.live || x.part[b.from] != x.part[b.to] || !s.factorAt(x.drop, restSlope*restSlope) {
		return Feedable{}
	}
	volts := (x.hi[b.from] + x.lo[b.from]) - (x.hi[b.to] + x.lo[b.to])
	clear(s.rest)
	s.add(b, -1)
	s.f.solve(s.rest)
	r := max(s.step(b), leastResistance)
	return Feedable{Volts: unit.Voltage(volts), Resistance: unit.Resistance(r), Most: unit.Power(volts * volts / (4 * r))}
}
