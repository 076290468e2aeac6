package margin

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// heatRooms prepares the searches for a wire's heat, each filling its own room: what flows, the air, and the supply. Length is none of
// them: the heat of a metre does not turn on how many there are. What flows and the air are judged over all cases; the supply in the case
// where the wire is worst, solved again. Only what lies beside the wire is looked at.
func heatRooms(cut *parted, around *fit.Surroundings, x *Tight) []func() {
	job, o, i := cut.job, cut.o, x.Wire
	r := &o.Heat.Wires[i]
	now := usedHeat(r) - 1
	near := around.Of([]int{i})
	again := func(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, duty heat.DutyCurrents, wire int) float64 {
		y := &heat.Around(job, nt, sizes, cases, duty, []int{wire}).Wires[wire]
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
			var here []int
			for _, w := range wires {
				if k, ok := slices.BinarySearch(near.Wires, w); ok {
					here = append(here, k)
				}
			}
			at := cross(find(func(by float64) float64 {
				nt, cases, duty := carrying(near, here, 1+by)
				return again(job, nt, near.Sizes, cases, duty, near.At(i))
			}), mostFactor-1)
			load.found(at)
			load.To = load.From
			load.To.Value *= 1 + at.at
		},
		func() {
			*ambient = Room{What: Ambient, Of: "all zones", From: kelvin(0)}
			at := cross(find(func(by float64) float64 {
				return again(warmerAir(job, unit.Temperature(by)), near.Net, near.Sizes, near.Cases, near.Duty, near.At(i))
			}), mostWarmer)
			ambient.found(at)
			ambient.To = kelvin(at.at)
		},
	}
	at := slices.IndexFunc(o.Cases, func(c *solve.CaseResult) bool { return c.Case == r.Case })
	if at < 0 {
		return tasks
	}
	feeds, set := feeder(o.Cases[at], i)
	t, p, ok := newTrial(cut, r.Case, "", nil, near.Wires)
	wire, here := slices.BinarySearch(p.wires, i)
	if !ok || !here || feeds == "" {
		return tasks
	}
	t.job = p.job // starts heat as well
	t.lay()
	x.Room = x.Room[:3]
	supply := &x.Room[2]
	return append(tasks, func() {
		supply.shift(t, feeds, set, func(y trial) float64 {
			c := y.solve()
			z := fit.NewSurroundings(y.job, &fit.Outcome{Net: t.nt, Sizes: t.sizes, Cases: []*solve.CaseResult{c}, Duty: heat.DutyCurrents{c.Case: fit.Duty(y.job, c)}}).Of([]int{wire})
			return again(y.job, z.Net, z.Sizes, z.Cases, z.Duty, z.At(wire))
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

// carrying scales what some wires carry in every case, in starts and duty as well; not what they carry at the ends of the supplies' spreads.
func carrying(o *fit.Nearby, wires []int, f float64) (*net.Net, []*solve.CaseResult, heat.DutyCurrents) {
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
	cases := slices.Clone(o.Cases)
	for n, c := range cases[:o.Given] {
		x := *c
		x.WireAmps = scaledIn(c.WireAmps)
		x.Starts = slices.Clone(c.Starts)
		for k := range x.Starts {
			st := &c.Starts[k]
			x.Starts[k] = solve.Started(st.Device, st.Net, scaledIn(st.Point().Amps))
		}
		cases[n] = &x
	}
	duty := heat.DutyCurrents{}
	for c, steps := range o.Duty {
		for _, s := range steps {
			s.Amps = scaledIn(s.Amps)
			duty[c] = append(duty[c], s)
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
