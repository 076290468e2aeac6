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
	set := func(k knob) bool { return k.turns == setPoint && a.p.branch(k.element).law == source }
	if !slices.ContainsFunc(a.knobs, set) {
		return nil
	}
	for n, end := range []int{atLow, atHigh} {
		b := &builder{Network: a.nw, br: a.p.laws(), pos: a.pos}
		var changes []change
		for _, k := range a.knobs {
			if set(k) {
				k.turn(&b.br[k.element], end)
				changes = append(changes, change{k.element, b.br[k.element]})
			} else {
				b.knobs = append(b.knobs, k)
			}
		}
		s := &settled{b: b, g: newGrid(a.p.layout), relays: slices.Clone(a.relays), joints: a.among.jointsOf(a.nw)}
		v, was := *a.values(), (*CaseResult)(nil)
		s.p, was = a.before.turned(n, s.g, a.p, changes, b.br)
		v.past = pastOf(was, &v)
		coils := coilsOf(b.Network)
		for i := range s.relays {
			r := &s.relays[i]
			if e, ok := coils[coil{r.Device, r.Coil}]; ok {
				r.Volts = unit.Voltage(s.p.drop(e))
			}
		}
		out = append(out, v.result(s))
	}
	a.before = nil
	return out
}

type coil struct {
	device string
	index  int
}

// coilsOf are the elements that are coils.
func coilsOf(nw *Network) map[coil]int {
	out := map[coil]int{}
	for i := range nw.Elements {
		if e := &nw.Elements[i]; e.Kind == Coil {
			out[coil{e.Device, e.Index}] = i
		}
	}
	return out
}
