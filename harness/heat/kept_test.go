package heat

import (
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// anywhere is a bench with wires over several edges and off the runs, of all kinds, in two cases with duty and a start.
func anywhere(t *rapid.T) (*bench, []*solve.CaseResult, DutyCurrents) {
	n := rapid.IntRange(1, 12).Draw(t, "wires")
	b := newBench(make([]unit.Area, n)...)
	b.nt.Space.Edges = nil
	for range 5 {
		b.nt.Space.Edges = append(b.nt.Space.Edges, space.Edge{Run: rapid.SampledFrom([]string{"main", "hot"}).Draw(t, "run"), Zone: rapid.SampledFrom([]string{"cabin", "bay"}).Draw(t, "zone"),
			Section: "tub", Length: unit.Length(rapid.IntRange(10, 900).Draw(t, "length"))})
	}
	b.job.Runs[1].Sleeve = rapid.SampledFrom([]string{"", "braid"}).Draw(t, "sleeve")
	if rapid.Bool().Draw(t, "scoped") {
		b.set("emissivity", "0.5", map[string]string{"zone": "bay"})
		b.set("heat-margin", "20 K", map[string]string{"circuit": "c0", "case": "night"})
		b.set("ampacity", "aircraft", map[string]string{"circuit": "c1"})
	}
	b.job.Devices = []*design.Device{{Name: "motor", Draws: []design.Draw{{Start: design.Fact[unit.Current]{Given: true}, StartFor: 3}}}}
	night := &solve.CaseResult{Case: "night", Starts: []solve.StartResult{{Device: "motor", Net: &solve.Network{}}}}
	duty := DutyCurrents{"night": {{Device: "wiper", On: 5, Off: 20}}}
	amps := rapid.Float64Range(-9, 9)
	for i := range b.nt.Wires {
		w := &b.nt.Wires[i]
		w.Path = nil
		for e := range b.nt.Space.Edges {
			if rapid.IntRange(0, 2).Draw(t, "on") == 0 {
				w.Path = append(w.Path, net.Step{Edge: e})
			}
		}
		if len(w.Path) == 0 {
			w.Zone = rapid.SampledFrom([]string{"cabin", "bay"}).Draw(t, "loose in")
			w.Ends[0].Device, w.Ends[1].Device = "motor", rapid.SampledFrom([]string{"a", "b"}).Draw(t, "to")
		}
		b.conds[i] = anyCond(t)
		b.c.WireAmps[i] = unit.Current(amps.Draw(t, "amps"))
		night.WireAmps = append(night.WireAmps, unit.Current(amps.Draw(t, "amps")))
		duty["night"][0].Amps = append(duty["night"][0].Amps, unit.Current(amps.Draw(t, "rest")))
		st := &night.Starts[0]
		st.Net.Elements = append(st.Net.Elements, solve.Element{Item: &solve.Item{Kind: solve.Wire, Wire: i}})
		*st = solve.Started(st.Device, st.Net, append(st.Point().Amps, 3*unit.Current(amps.Draw(t, "start"))))
	}
	return b, []*solve.CaseResult{b.c, night}, duty
}

func anyCond(t *rapid.T) (c size.Conductor) {
	c = cond(unit.Metric(unit.Area(rapid.SampledFrom([]float64{0.35, 0.75, 2, 6}).Draw(t, "area"))), 105)
	c.Known = rapid.IntRange(0, 7).Draw(t, "known") > 0
	return c
}

// What is kept and asked again after some conductors changed is what is worked out anew.
func TestKeptAsAnew(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cases, duty := anywhere(t)
		k := Keep(b.job, b.nt, cases, duty)
		for range 4 {
			got, want := k.Solve(b.conds), Solve(b.job, b.nt, b.conds, cases, duty)
			if !reflect.DeepEqual(got, want) {
				t.Fatalf("kept\n%+v\nanew\n%+v", got, want)
			}
			// Judged alone a wire tells the same of whether it is met.
			for i, w := range Keep(b.job, b.nt, cases, duty).Judge(b.conds).Wires {
				x := want.Wires[i]
				if w.Met && (w.Hottest != x.Hottest || w.Limit != x.Limit || w.Case != x.Case || w.Edge != x.Edge || w.Ruled != x.Ruled || !x.Met || w.Unjudged != x.Unjudged) || !w.Met && !reflect.DeepEqual(w, x) {
					t.Fatalf("judged\n%+v\nwhole\n%+v", w, x)
				}
			}
			if rapid.Bool().Draw(t, "other currents") {
				cases, duty = others(t, cases, duty)
				k.Carry(cases, duty)
				if rapid.Bool().Draw(t, "judged first") {
					k.Judge(b.conds)
				}
				if got, want := k.Solve(b.conds), Solve(b.job, b.nt, b.conds, cases, duty); !reflect.DeepEqual(got, want) {
					t.Fatalf("carried on\n%+v\nanew\n%+v", got, want)
				}
			}
			b.conds = slices.Clone(b.conds)
			for range rapid.IntRange(0, 3).Draw(t, "changes") {
				b.conds[rapid.IntRange(0, len(b.conds)-1).Draw(t, "which")] = anyCond(t)
			}
		}
	})
}

// others are the cases with some currents changed: of a case, of a start, of what rests.
func others(t *rapid.T, cases []*solve.CaseResult, duty DutyCurrents) ([]*solve.CaseResult, DutyCurrents) {
	amps := rapid.Float64Range(-9, 9)
	n := len(cases[0].WireAmps)
	change := func(of []unit.Current) []unit.Current {
		out := slices.Clone(of)
		for range rapid.IntRange(0, 2).Draw(t, "currents") {
			out[rapid.IntRange(0, n-1).Draw(t, "of wire")] = unit.Current(amps.Draw(t, "other amps"))
		}
		return out
	}
	out := make([]*solve.CaseResult, len(cases))
	for i, c := range cases {
		x := *c
		x.WireAmps, x.Starts = change(c.WireAmps), nil
		for k := range c.Starts {
			st := &c.Starts[k]
			x.Starts = append(x.Starts, solve.Started(st.Device, st.Net, change(st.Point().Amps)))
		}
		out[i] = &x
	}
	step := duty["night"][0]
	step.Amps = change(step.Amps)
	if rapid.IntRange(0, 5).Draw(t, "other rhythm") == 0 {
		step.Off += 3
	}
	return out, DutyCurrents{"night": {step}}
}

// Around a wire is told what is told where there are no places but its own.
func TestAroundAsThere(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		b, cases, duty := anywhere(t)
		i := rapid.IntRange(0, len(b.conds)-1).Draw(t, "wire")
		here := b.nt.Wires[i].Path
		k := Keep(b.job, b.nt, cases, duty)
		if rapid.Bool().Draw(t, "solved before") {
			k.Solve(b.conds)
			b.conds = slices.Clone(b.conds)
			b.conds[i] = anyCond(t)
		}
		only := *b.nt
		only.Wires = slices.Clone(b.nt.Wires)
		for j := range only.Wires {
			w := &only.Wires[j]
			w.Path = slices.DeleteFunc(slices.Clone(w.Path), func(s net.Step) bool { return !slices.Contains(here, s) })
			if len(here) > 0 && len(w.Path) == 0 {
				w.Zone = "open" // apart from all that is asked for
			}
		}
		want := Solve(b.job, &only, b.conds, cases, duty)
		n := 0
		for _, got := range k.Around(b.conds, []int{i}) {
			if w := want.Wires[got.Wire]; !reflect.DeepEqual(got, w) {
				t.Fatalf("around\n%+v\nthere\n%+v", got, w)
			}
			if got.Wire == i {
				n++
			}
		}
		if n != 1 {
			t.Fatalf("told %d times", n)
		}
	})
}
