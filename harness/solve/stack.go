package solve

import (
	"slices"

	"loomsheet/harness/unit"
)

// Stack is the greatest volts between two places of a part of the net that hangs together.
type Stack struct {
	Volts unit.Voltage
	// Supplies are the elements whose set-points add up, from the lowest on: what lies there with nothing drawn. Of a stack that only the loads of
	// the case hold together (a supply behind a lamp) they are that of the highest place and that of the lowest.
	Supplies []int
	High     int  // node: the plus of a supply
	Low      int  // node: the minus of one
	Adds     bool // by set-points, through wires and the like alone
}

// Stacks is those of more than some volts, one for each part of the net, in its order. Loads, wires and diodes only take volts, so the highest
// place of a part is the plus of a supply and the lowest the minus of one, and no two places are further apart than the set-points of all its
// supplies together: where that is little enough nothing is looked at. Relays and switches stand as in the case; set-points as in the result
// (Variants has those at their ends).
func (c *CaseResult) Stacks(over unit.Voltage) (out []Stack) {
	if c.again == nil || c.again.p == nil {
		return nil
	}
	p := c.again.p
	together := map[int32]float64{} // set-points by island
	var islands []int32
	supplies := map[int32][]int{}
	for _, s := range c.Supplies {
		b := p.branch(s.element)
		if b.law != source || !(b.e > 0) {
			continue
		}
		i := p.ofE[s.element]
		if supplies[i] == nil {
			islands = append(islands, i)
		}
		supplies[i] = append(supplies[i], s.element)
		together[i] += b.e
	}
	for _, i := range islands {
		if together[i] > float64(over)+nothing {
			out = append(out, stacks(c.Net, p, i, supplies[i], float64(over))...)
		}
	}
	return out
}

// stacks is those of an island with its supplies.
func stacks(nw *Network, p *point, island int32, supplies []int, over float64) (out []Stack) {
	x := p.patch(island)
	var parts []int32
	of := map[int32][]int{} // supplies by part
	for _, e := range supplies {
		r := x.part[p.at[nw.Elements[e].From]]
		if of[r] == nil {
			parts = append(parts, r)
		}
		of[r] = append(of[r], e)
	}
	joined := metal(nw, p, island)
	for _, r := range parts {
		s, sum := added(nw, p, joined, of[r]), 0.0
		for _, e := range of[r] {
			sum += p.branch(e).e
		}
		if t := solved(nw, p, of[r], sum); float64(t.Volts) > float64(s.Volts)+nothing {
			s = t
		}
		if float64(s.Volts) > over+nothing {
			out = append(out, s)
		}
	}
	return out
}

// metal is what is one place by wires, contacts, fuses and the like: by place in the island its root.
func metal(nw *Network, p *point, island int32) []int32 {
	x, s := p.patch(island), &p.islands[island]
	up := make([]int32, len(s.nodes))
	for i := range up {
		up[i] = int32(i)
	}
	for k, e := range s.elements {
		if b := &x.br[k]; b.law == ohmic && passes(nw.Elements[e].Kind) {
			join(up, b.from, b.to)
		}
	}
	for i := range up {
		up[i] = up[up[i]] // roots come first
	}
	return up
}

// added is the longest chain of supplies, plus to minus. What leads round in a ring is shorted, which is told elsewhere: it is left out.
func added(nw *Network, p *point, metal []int32, supplies []int) Stack {
	from := func(e int) int32 { return metal[p.at[nw.Elements[e].To]] } // its minus
	to := func(e int) int32 { return metal[p.at[nw.Elements[e].From]] }
	out, waits := map[int32][]int{}, map[int32]int{}
	for _, e := range supplies {
		out[from(e)] = append(out[from(e)], e)
		waits[to(e)]++
	}
	var todo []int32
	begun := map[int32]bool{}
	for _, e := range supplies {
		if m := from(e); waits[m] == 0 && !begun[m] {
			begun[m] = true
			todo = append(todo, m)
		}
	}
	high, by := map[int32]float64{}, map[int32]int{} // volts above the foot, and the supply below
	best, most := -1, 0.0
	for len(todo) > 0 {
		m := todo[0]
		todo = todo[1:]
		for _, e := range out[m] {
			n := to(e)
			if v := high[m] + p.branch(e).e; v > high[n] {
				high[n], by[n] = v, e
				if v > most {
					best, most = e, v
				}
			}
			if waits[n]--; waits[n] == 0 {
				todo = append(todo, n)
			}
		}
	}
	if best < 0 {
		return Stack{}
	}
	s := Stack{Volts: unit.Voltage(most), High: nw.Elements[best].From, Adds: true}
	for e, ok := best, true; ok; e, ok = by[from(e)] {
		s.Supplies = append(s.Supplies, e)
		s.Low = nw.Elements[e].To
	}
	slices.Reverse(s.Supplies)
	return s
}

// solved is the greatest volts between the ends of the supplies of a part as they stand, never more than their set-points together.
func solved(nw *Network, p *point, supplies []int, together float64) Stack {
	top, foot := supplies[0], supplies[0]
	for _, e := range supplies[1:] {
		if p.volts(nw.Elements[e].From) > p.volts(nw.Elements[top].From) {
			top = e
		}
		if p.volts(nw.Elements[e].To) < p.volts(nw.Elements[foot].To) {
			foot = e
		}
	}
	s := Stack{Supplies: []int{foot, top}, High: nw.Elements[top].From, Low: nw.Elements[foot].To}
	if foot == top {
		s.Supplies = s.Supplies[:1]
	}
	if v := p.volts(s.High) - p.volts(s.Low); unit.Finite(v) {
		s.Volts = unit.Voltage(min(v, together))
	}
	return s
}
