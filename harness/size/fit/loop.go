package fit

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Outcome is a job with all wires sized, solved and heated.
type Outcome struct {
	Net   *net.Net
	Sizes size.Sizes
	Cases []*solve.CaseResult // by case, in the job's order
	Heat  *heat.Result
	Duty  heat.DutyCurrents
	// Idle lists wires whose size is left to the program and that carry current in no case, nor say what they carry, nor are of class
	// signal: they keep their smallest size, and nothing was judged.
	Idle []int
	// Beyond lists limits on volts that no allowed size would meet; nothing was grown for them.
	Beyond []Reach
	// Settled is false when sizes and temperatures still moved after the last round.
	Settled bool
	Rounds  int
	// Districts are those of the net.
	Districts *solve.Districts
	// Protect is how all of it is protected as it came out (protect.Find); nil where that was not looked at, since it did not settle.
	Protect *protect.Result
}

const (
	mostRounds  = 60
	mostNets    = 4
	mostTrims   = 4
	mostGuards  = 16
	settledWhen = unit.Temperature(0.1) // K between two rounds
)

// Loop sizes a job: build makes its net from what is known of the sizes; the net is solved at the temperatures of the round before,
// heated, grown where short, and solved again, until nothing changes. Where a cavity that the program chose is too small the net is
// built again with the sizes found. It is a pure function, bounded, and gives the same result however many processors work on it.
func Loop(job *design.Job, build func(net.Hints) *net.Net) *Outcome {
	nt := build(nil)
	var before map[string]size.Conductor
	for n := 1; ; n++ {
		f := size.NewFitter(job, nt)
		sizes := f.Initial()
		if before != nil {
			sizes = size.Raise(job, nt, sizes, before)
		}
		o := run(job, nt, f, sizes, before == nil)
		hints, misfit := size.Needs(job, nt, o.Sizes, greatest(nt, o.Cases))
		if !misfit || n == mostNets || before != nil && same(nt, o.Sizes, before) {
			for _, c := range o.Cases {
				c.LetGo()
			}
			return o
		}
		before = map[string]size.Conductor{}
		for i := range nt.Wires {
			before[nt.Wires[i].Name] = o.Sizes[i]
		}
		nt = build(hints)
	}
}

// greatest is the greatest steady current of each wire over all cases, and what its link says that it carries.
func greatest(nt *net.Net, cases []*solve.CaseResult) []unit.Current {
	out := make([]unit.Current, len(nt.Wires))
	for i := range out {
		out[i] = nt.Wires[i].Carries
	}
	for _, c := range cases {
		for _, v := range c.Variants() {
			for i := range min(len(out), len(v.WireAmps)) {
				out[i] = max(out[i], unit.Current(math.Abs(float64(v.WireAmps[i]))))
			}
		}
	}
	return out
}

// same tells whether every wire has the size it had in the net before: building that once more would change nothing.
func same(nt *net.Net, sizes size.Sizes, before map[string]size.Conductor) bool {
	for i := range nt.Wires {
		if b, ok := before[nt.Wires[i].Name]; !ok || b.Size != sizes[i].Size {
			return false
		}
	}
	return true
}

// run settles sizes and temperatures of one net. Each part of it goes its own way: what needs more rounds elsewhere neither grows nor trims it again. All of
// it is solved and heated in each round, but of what did not change since the round before that costs next to nothing (solve.Laid.Again, heat.Kept).
func run(job *design.Job, nt *net.Net, f *size.Fitter, sizes size.Sizes, fresh bool) *Outcome {
	guards := 0
	o := &Outcome{Net: nt, Sizes: sizes}
	g := newGrower(job, nt, f, sizes)
	o.Districts = g.parts.districts
	var older, temps map[string][]unit.Temperature
	if fresh {
		o.Sizes = g.begin(sizes)
	}
	for o.Rounds = 1; ; o.Rounds++ {
		o.Cases = g.solveAll(o.Sizes, temps)
		o.Duty = g.dutyAll(o.Cases)
		grown, h, beyond := g.grow(o.Sizes, temps, o.Cases, o.Duty)
		o.Heat, o.Beyond = h, beyond
		if g.looked != nil {
			g.looked.Keep(g.sameSinceLook())
		}
		if o.Rounds >= mostRounds {
			break // the last growth was not solved again: what was is shown
		}
		g.parts.look(o.Sizes, grown, temps, h.Temps)
		next, ok := g.trim(o, grown)
		if !ok && g.parts.done() {
			if guards < mostGuards {
				guards++
				next, ok = g.guard(o)
			}
			if !ok {
				o.Settled = true
				break
			}
		}
		for _, c := range o.Cases { // what the next round takes over of starts was asked of them by now
			c.LetGo()
		}
		stay := g.parts.differing(grown, next)
		g.parts.again(stay)
		o.Sizes = next
		older, temps = g.parts.step(older, temps, h.Temps, stay)
	}
	o.Heat = g.kept.Solve(o.Sizes)
	if temps != nil { // those the resistances were taken at; the last balance is within settledWhen of them
		o.Heat.Temps = temps
	}
	o.Idle = idle(nt, o)
	return o
}

// leeway is by how much the first guess falls short on purpose, so that no size is larger than the rounds that follow would ask for.
const leeway = 0.85

// begin guesses sizes from the currents that flow when every automatic wire is at its largest. From the smallest sizes the loads
// would not even be fed.
func (g *grower) begin(sizes size.Sizes) size.Sizes {
	large := slices.Clone(sizes)
	for i, l := range g.ladders {
		if len(l) > 0 {
			large[i] = l[len(l)-1]
		}
	}
	cases := g.solveAll(large, nil)
	less := make([]*solve.CaseResult, len(cases))
	duty := heat.DutyCurrents{}
	for i, c := range cases {
		x := *c
		x.WireAmps, x.Starts = scaled(c.WireAmps), nil
		less[i] = &x
		for _, s := range dutyOf(g.judge, c) {
			s.Amps = scaled(s.Amps)
			duty[c.Case] = append(duty[c.Case], s)
		}
	}
	out, _ := g.growHeat(sizes, less, duty)
	v := &volts{grower: g, solved: large, cases: cases}
	v.grow(out, 1/leeway)
	g.fitter.Adjust(out)
	return out
}

func scaled(amps []unit.Current) []unit.Current {
	out := make([]unit.Current, len(amps))
	for i, a := range amps {
		out[i] = a * leeway
	}
	return out
}

// layAll lays every case once; the rounds differ in sizes and temperatures alone.
func layAll(job *design.Job, nt *net.Net, sizes size.Sizes) []*solve.Laid {
	return solve.LayAll(job, nt, sizes)
}

// solveAll solves every case, two at a time; each result depends on its own case alone. What stands as it did the last time is taken from there.
func (g *grower) solveAll(sizes size.Sizes, temps map[string][]unit.Temperature) []*solve.CaseResult {
	out := make([]*solve.CaseResult, len(g.job.Cases))
	g.temps = make([][]unit.Temperature, len(out))
	solve.Each(len(out), func(i int) {
		c := g.job.Cases[i]
		t := temps[c.Name]
		if t == nil {
			t = g.air[i]
		}
		g.temps[i] = t
		var before *solve.CaseResult
		if g.solved != nil {
			before, g.solved[i] = g.solved[i], nil // it is of no more use
		}
		out[i] = g.laid[i].Again(before, solve.Figures{Job: g.job, Net: g.nt, Sizes: sizes, Temps: t, Case: c})
	})
	g.solved = out
	return out
}

func (g *grower) dutyAll(cases []*solve.CaseResult) heat.DutyCurrents {
	steps := make([][]heat.DutyStep, len(cases))
	solve.Each(len(cases), func(i int) { steps[i] = dutyOf(g.judge, cases[i]) })
	out := heat.DutyCurrents{}
	for i, c := range cases {
		out[c.Case] = steps[i]
	}
	return out
}

// idleBelow is a current that means nothing.
const idleBelow unit.Current = 1e-6

func idle(nt *net.Net, o *Outcome) []int {
	var out []int
	for i := range nt.Wires {
		w := &nt.Wires[i]
		if !size.Auto(w, &o.Sizes[i]) || w.Carries > 0 || w.Class == "signal" {
			continue
		}
		most := unit.Current(0)
		for _, c := range o.Cases {
			if i < len(c.WireAmps) {
				most = max(most, c.WireAmps[i], -c.WireAmps[i])
			}
		}
		if most <= idleBelow {
			out = append(out, i)
		}
	}
	return out
}
