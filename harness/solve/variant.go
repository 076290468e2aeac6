package solve

import (
	"slices"

	"loomsheet/harness/unit"
)

// Variants is the case itself and, where a supply that lives has a spread, the case with all set-points at their low ends and with all at
// their high ends: a lamp's wire is hottest at high volts, a converter's at low ones. The greatest current of a wire is the greatest over them.
// Relays and switches stand as in the case; starts are solved too.
func (c *CaseResult) Variants() []*CaseResult {
	out := []*CaseResult{c}
	if c.again == nil {
		return out
	}
	c.again.lock()
	defer c.again.unlock()
	if !c.again.varied {
		c.again.sides, c.again.varied = c.again.vary(), true
	}
	return append(out, c.again.sides...)
}

func (a *again) vary() (out []*CaseResult) {
	set := func(k knob) bool { return k.turns == setPoint && a.br[k.element].law == source }
	if !slices.ContainsFunc(a.knobs, set) {
		return nil
	}
	for _, end := range []int{atLow, atHigh} {
		b := *a.s.b
		b.br, b.knobs = slices.Clone(a.br), nil
		for _, k := range a.knobs {
			if set(k) {
				k.turn(&b.br[k.element], end)
			} else {
				b.knobs = append(b.knobs, k)
			}
		}
		s := &settled{b: &b, g: newGrid(len(b.Nodes), b.br), relays: slices.Clone(a.s.relays)}
		s.p = s.g.solve(a.p.hi).delivers(b.Network)
		for i := range s.relays {
			r := &s.relays[i]
			for e, x := range b.Elements {
				if x.Kind == Coil && x.Device == r.Device && x.Index == r.Coil {
					r.Volts = unit.Voltage(s.p.drop[e])
				}
			}
		}
		out = append(out, a.v.result(s))
	}
	return out
}
