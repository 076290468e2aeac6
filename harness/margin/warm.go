package margin

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// heatRooms prepares the searches for a wire's heat, each filling its own room: what flows, the air, and the supply. Length is none of
// them: the heat of a metre does not turn on how many there are. What flows and the air are judged over all cases; the supply in the case
// where the wire is worst, solved again.
func heatRooms(job *design.Job, o *fit.Outcome, x *Tight) []func() {
	i := x.Wire
	r := &o.Heat.Wires[i]
	now := usedHeat(r) - 1
	again := func(job *design.Job, nt *net.Net, cases []*solve.CaseResult, duty heat.DutyCurrents) float64 {
		y := &heat.Around(job, nt, o.Sizes, cases, duty, []int{i}).Wires[i]
		if y.Runaway {
			return math.Inf(1)
		}
		return usedHeat(y) - 1
	}
	find := func(f func(by float64) float64) func(float64) float64 {
		return func(by float64) float64 {
			if by == 0 {
				return now
			}
			return f(by)
		}
	}
	x.Room = make([]Room, 2, 3)
	load, ambient := &x.Room[0], &x.Room[1]
	tasks := []func(){
		func() {
			wires, from, of := heats(o, r)
			*load = Room{What: Load, Of: of, From: from}
			at := cross(find(func(by float64) float64 {
				nt, cases, duty := carrying(o, wires, 1+by)
				return again(job, nt, cases, duty)
			}), mostFactor-1)
			load.found(at)
			load.To = load.From
			load.To.Value *= 1 + at.at
		},
		func() {
			*ambient = Room{What: Ambient, Of: "all zones", From: kelvin(0)}
			at := cross(find(func(by float64) float64 { return again(warmerAir(job, unit.Temperature(by)), o.Net, o.Cases, o.Duty) }), mostWarmer)
			ambient.found(at)
			ambient.To = kelvin(at.at)
		},
	}
	at := slices.IndexFunc(o.Cases, func(c *solve.CaseResult) bool { return c.Case == r.Case })
	if at < 0 {
		return tasks
	}
	feeds, set := feeder(o.Cases[at], i)
	t, ok := newTrial(job, o, r.Case, "")
	if !ok || feeds == "" {
		return tasks
	}
	t.job = job // starts heat as well
	x.Room = x.Room[:3]
	supply := &x.Room[2]
	return append(tasks, func() {
		supply.shift(t, feeds, set, func(y trial) float64 {
			c := y.solve()
			return again(y.job, o.Net, []*solve.CaseResult{c}, heat.DutyCurrents{c.Case: fit.Duty(y.job, c)})
		}, now)
	})
}

// heats is the wires whose currents are scaled together, and from what: the wire with its parallel ones where more than half of its rise is
// its own heat; else all that lie with it at its worst place, from 100 %.
func heats(o *fit.Outcome, r *heat.WireResult) ([]int, unit.Quantity, string) {
	if r.Edge < 0 || 2*(r.Hottest-r.Rest) > r.Hottest-r.Ambient {
		return strands(o.Net, r.Wire), amperes(r.Effective), "this wire"
	}
	var all []int
	for i := range o.Net.Wires {
		if w := &o.Net.Wires[i]; !w.Loose && slices.ContainsFunc(w.Path, func(s net.Step) bool { return s.Edge == r.Edge }) {
			all = append(all, i)
		}
	}
	return all, unit.Quantity{Value: 1, Dim: unit.DimRatio}, "of all in its bundle"
}

// carrying scales what some wires carry in every case, in starts and duty as well.
func carrying(o *fit.Outcome, wires []int, f float64) (*net.Net, []*solve.CaseResult, heat.DutyCurrents) {
	scaledIn := func(amps []unit.Current) []unit.Current {
		out := slices.Clone(amps)
		for _, i := range wires {
			if i < len(out) {
				out[i] = scale(out[i], f)
			}
		}
		return out
	}
	nt := *o.Net
	nt.Wires = slices.Clone(nt.Wires)
	for _, i := range wires {
		nt.Wires[i].Carries = scale(nt.Wires[i].Carries, f)
	}
	in := map[int]bool{}
	for _, i := range wires {
		in[i] = true
	}
	duty := heat.DutyCurrents{}
	cases := make([]*solve.CaseResult, len(o.Cases))
	for n, c := range o.Cases {
		x := *c
		x.WireAmps = scaledIn(c.WireAmps)
		x.Starts = slices.Clone(c.Starts)
		for k := range x.Starts {
			st := &x.Starts[k]
			if st.Net == nil {
				continue
			}
			st.Point.Amps = slices.Clone(st.Point.Amps)
			for e := range st.Net.Elements {
				if el := &st.Net.Elements[e]; el.Kind == solve.Wire && in[el.Wire] && e < len(st.Point.Amps) {
					st.Point.Amps[e] = scale(st.Point.Amps[e], f)
				}
			}
		}
		cases[n] = &x
		for _, s := range o.Duty[c.Case] {
			s.Amps = scaledIn(s.Amps)
			duty[c.Case] = append(duty[c.Case], s)
		}
	}
	return &nt, cases, duty
}

// warmerAir is the job with all air warmer, wherever it is said.
func warmerAir(job *design.Job, by unit.Temperature) *design.Job {
	out := *job
	out.Zones = slices.Clone(job.Zones)
	for i, z := range out.Zones {
		x := *z
		x.Air += by
		out.Zones[i] = &x
	}
	out.Cases = slices.Clone(job.Cases)
	for i, c := range out.Cases {
		x := *c
		x.Air += by
		x.ZoneAir = slices.Clone(c.ZoneAir)
		for k := range x.ZoneAir {
			x.ZoneAir[k].Air += by
		}
		out.Cases[i] = &x
	}
	out.Settings.Lines = slices.Clone(job.Settings.Lines)
	for i := range out.Settings.Lines {
		if l := &out.Settings.Lines[i]; l.Name == "air" {
			l.Value.Quantity.Value += float64(by)
		}
	}
	if v, ok := design.FindSetting("air").DefaultValue(); ok {
		v.Quantity.Value += float64(by)
		out.Settings.Lines = append(out.Settings.Lines, design.Setting{Name: "air", Value: v})
	}
	return &out
}
