package protect

import (
	"slices"

	"loomsheet/harness/heat"
)

// courses is the wires of a result, each with how it warms in its worst overload and its worst short: what Reaches is found by, where not by all heat kept.
func courses(th *heat.Thermal, wires []WireResult) []WireResult {
	out := slices.Clone(wires)
	inParts(len(out), func(i int) {
		w := &out[i]
		if o := w.Overload; o != nil && o.Latest != Never {
			w.OverloadCourse = th.Course(w.Wire, o.Amps, o.Latest)
		}
		if s := w.Short; s != nil && s.Latest != Never && len(s.Steps) == 0 {
			w.ShortCourse = th.Course(w.Wire, s.Amps, s.Latest)
		}
	})
	return out
}
