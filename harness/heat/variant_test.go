package heat

import (
	"reflect"
	"strings"
	"testing"

	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// A case that comes more than once, its supplies low and high as well: the first gives the temperatures that resistances follow, the worst
// of all gives the results, wire by wire.
func TestCasesOfOneName(t *testing.T) {
	b := newBench(1, 1)
	b.c.WireAmps = []unit.Current{6, 6}
	low := &solve.CaseResult{Case: "key-on", WireAmps: []unit.Current{5.5, 7}}
	high := &solve.CaseResult{Case: "key-on", WireAmps: []unit.Current{8, 3}}
	all := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c, low, high}, nil)
	first := b.solve(nil)
	if !reflect.DeepEqual(all.Temps, first.Temps) {
		t.Errorf("temperatures %v, of the first alone %v", all.Temps, first.Temps)
	}
	for i, want := range []struct {
		c     *solve.CaseResult
		given int
	}{{high, 2}, {low, 1}} {
		w := all.Wires[i]
		one := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{want.c}, nil)
		if w.Hottest != one.Wires[i].Hottest || w.Amps != want.c.WireAmps[i] || w.Given != want.given {
			t.Errorf("wire %d: %v with %v, case %d", i, w.Hottest, w.Amps, w.Given)
		}
		x := all.Bundle(&w)
		if x == nil || x.Temps[i] != w.Hottest || x.Run != "hot" || x.Ambient != w.Ambient || !reflect.DeepEqual(x.Amps, want.c.WireAmps) {
			t.Errorf("wire %d: its bundle is %+v", i, x)
		}
	}
	loose := all.Wires[0]
	loose.Edge = -1
	if all.Bundle(&loose) != nil || all.Bundle(&WireResult{}) != nil || all.Bundle(&WireResult{Known: true, Given: 3}) != nil {
		t.Error("a bundle for a wire in none")
	}
}

// Of each wire of a bundle the temperature stands beside its current, and the air where it is not known.
func TestTemperaturesInTheBundle(t *testing.T) {
	b := newBench(0.5, 1, 1)
	b.nt.Space.Edges[1].Station = 250
	b.conds[1].Known = false
	b.c.WireAmps = []unit.Current{6, 6, 0}
	x := b.solve(nil).Bundles[0].Bundles[1]
	if len(x.Temps) != 3 || !(x.Temps[0] > x.Temps[2] && x.Temps[2] > x.Ambient) || x.Temps[1] != x.Ambient || x.Station != 250 {
		t.Errorf("%+v", x)
	}
}

// The aircraft table is met while the balance, of a bundle that conducts badly, is not: both are told and the table judges.
func TestTableMetBalanceHot(t *testing.T) {
	b := newBench(make([]unit.Area, 30)...)
	for i := range b.conds {
		b.conds[i] = cond(unit.AWG(20), 105)
	}
	b.job.Zones[1].Air = 70
	b.c.WireAmps[0], b.c.WireAmps[1] = 4, 4
	b.set("ampacity", "aircraft", nil)
	w := b.solve(nil).Wires[0]
	if w.Ruled != Aircraft || !w.Met || w.Unjudged || strings.Contains(w.Why, "not judged") {
		t.Errorf("both met: %+v", w)
	}
	b.set("bundle-conductivity", "0.01 W/mK", nil)
	w = b.solve(nil).Wires[0]
	if w.Ruled != Aircraft || !w.Met || !w.Unjudged || w.Hottest <= w.Limit || w.Balance >= 4 || w.Ampacity != 4 ||
		!strings.Contains(w.Why, "not judged here") || !strings.Contains(w.Why, w.Hottest.String()) || !strings.Contains(w.Why, w.Balance.String()) {
		t.Errorf("balance too hot: %+v", w)
	}
	b.c.WireAmps[0] = 4.1 // now the table is missed, and that is the judgement
	if w = b.solve(nil).Wires[0]; w.Met || w.Unjudged {
		t.Errorf("neither met: %+v", w)
	}
	b.job.Settings.Lines = b.job.Settings.Lines[1:]
	if w = b.solve(nil).Wires[0]; w.Met || w.Unjudged || w.Ruled != Balance {
		t.Errorf("balance alone: %+v", w)
	}
}

// What is left when a duty load rests grows in a case of the same name that carries more.
func TestDutyInCasesOfOneName(t *testing.T) {
	b := newBench(1)
	b.c.WireAmps = []unit.Current{8}
	high := &solve.CaseResult{Case: "key-on", WireAmps: []unit.Current{10}}
	duty := DutyCurrents{"key-on": {{Device: "fan", On: 1, Off: 1e6, Amps: []unit.Current{6}}}}
	two := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c, high}, duty).Wires[0]
	scaled := DutyCurrents{"key-on": {{Device: "fan", On: 1, Off: 1e6, Amps: []unit.Current{7.5}}}}
	one := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{high}, scaled).Wires[0]
	if two.Given != 1 || two.Effective != one.Effective || two.Effective <= 7.5 {
		t.Errorf("%v in case %d, want %v", two.Effective, two.Given, one.Effective)
	}
	low := &solve.CaseResult{Case: "key-on", WireAmps: []unit.Current{7}}
	if w := Solve(b.job, b.nt, b.conds, []*solve.CaseResult{b.c, low}, duty).Wires[0]; w.Given != 0 || w.Effective <= 6 {
		t.Errorf("%v in case %d", w.Effective, w.Given)
	}
}
