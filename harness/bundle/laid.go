package bundle

import (
	"slices"

	"loomsheet/harness/unit"
)

// Trade is the outside of circles laid together by hand: 1.2 sqrt(sum d2), a cable maker's rule for unequal wires, but at least the two largest
// side by side; a single one has its own.
func Trade(ds []unit.Length) unit.Length { return trade(ds) }

// Raised is the bundles with the most that each edge can be raised to what it is as laid up, where that is more; laid gives it, 0 where nothing
// is known. What passes from one edge into another is raised with an edge whose wires all pass.
func (b *Bundles) Raised(laid func(edge int) unit.Length) *Bundles {
	if b == nil {
		return nil
	}
	out := &Bundles{Edges: slices.Clone(b.Edges), on: b.on, turns: slices.Clone(b.turns)}
	raise := func(m *MakeUp, edge int) {
		if l := laid(edge); m.Most > 0 && unit.Finite(l) {
			m.Most = max(m.Most, l)
		}
	}
	for e := range out.Edges {
		raise(&out.Edges[e], e)
	}
	for i := range out.turns {
		t := &out.turns[i]
		for _, e := range t.Edges {
			if len(t.Wires) == len(b.On(e)) {
				raise(&t.MakeUp, e)
			}
		}
	}
	return out
}
