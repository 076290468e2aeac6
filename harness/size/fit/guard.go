package fit

import (
	"slices"

	"loomsheet/harness/contact"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
)

// guard steps up the wires that their protection finds too thin, an overload or a short heating them past their limit or a loop too weak to
// clear, and those too thin for the contacts they sit in. What it lifts is never trimmed: the floor goes up with it. It is asked only
// where volts and heat are met.
func (g *grower) guard(o *Outcome) (size.Sizes, bool) {
	out := slices.Clone(o.Sizes)
	changed := false
	lift := func(i int, why size.Reason) {
		if i < 0 || i >= len(out) || g.ladders[i] == nil || out[i].Size != o.Sizes[i].Size {
			return
		}
		step := g.room(i, out[i].Size)
		if step < 0 {
			return
		}
		g.lift(out, i, step, why)
		for _, j := range g.strands[i] {
			g.floor[j] = out[j]
		}
		changed = true
	}
	p := protect.Find(g.job, g.nt, o.Sizes, o.Cases, o.Heat, o.Duty)
	for _, n := range p.Needs() {
		if !n.Loop {
			lift(n.Wire, size.ByProtection)
		}
	}
	for i := range p.Shorts {
		if s := &p.Shorts[i]; s.TooWeak() {
			lift(g.cheapest(out, s.Wires), size.ByProtection)
		}
	}
	ends := contact.Find(g.job, g.nt, o.Sizes, o.Cases).Ends
	for i := range ends {
		if e := &ends[i]; !e.Met && e.Wired > 0 && e.Wired < 1 {
			lift(e.Wire, size.ByRating)
		}
	}
	if !changed {
		return o.Sizes, false
	}
	return size.Settle(g.job, g.nt, out), true
}

// cheapest is the wire of a loop that takes most resistance out of it per volume of copper; -1 where none can grow.
func (g *grower) cheapest(sizes size.Sizes, loop []int) int {
	best, most := -1, 0.0
	for _, i := range loop {
		if g.ladders[i] == nil || g.strands[i][0] != i {
			continue
		}
		step := g.room(i, sizes[i].Size)
		if step < 0 {
			continue
		}
		up := &g.ladders[i][step]
		length := max(g.nt.Wires[i].Copper, g.nt.Wires[i].Length)
		gain := float64(sizes[i].Resistance.Over(length) - up.Resistance.Over(length))
		copper := float64(up.Size.Area()-sizes[i].Size.Area()) * float64(length) * float64(len(g.strands[i]))
		if copper > 0 && gain/copper > most {
			best, most = i, gain/copper
		}
	}
	return best
}
