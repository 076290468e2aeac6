package fit

import (
	"cmp"
	"slices"

	"loomsheet/harness/heat"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// dutyOf takes the loads that work on and off out of a case, those with the least share of time on first: what each wire carries after
// every step. Loads of one rhythm go together.
func dutyOf(j *Judge, c *solve.CaseResult) []heat.DutyStep {
	type beat struct{ on, off unit.Time }
	loads := map[beat][]int{}
	names := map[beat]string{}
	var beats []beat
	for i := range c.Loads {
		l := &c.Loads[i]
		d := j.draw(l)
		if d == nil || d.On <= 0 || !l.Fed || l.Rests {
			continue
		}
		b := beat{d.On, max(d.Off, 0)}
		if loads[b] == nil {
			beats = append(beats, b)
			names[b] = l.Device
		} else {
			names[b] += ", " + l.Device
		}
		loads[b] = append(loads[b], i)
	}
	share := func(b beat) float64 {
		if b.off <= 0 {
			return 0
		}
		return float64(b.on / (b.on + b.off))
	}
	slices.SortStableFunc(beats, func(a, b beat) int {
		return cmp.Or(cmp.Compare(share(a), share(b)), cmp.Compare(a.on, b.on), cmp.Compare(a.off, b.off))
	})
	var out []heat.DutyStep
	var rest []int
	for _, b := range beats {
		rest = append(rest, loads[b]...)
		out = append(out, heat.DutyStep{Device: names[b], On: b.on, Off: b.off, Amps: solve.WithoutLoads(c, rest)})
	}
	return out
}
