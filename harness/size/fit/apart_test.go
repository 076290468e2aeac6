package fit_test

import (
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/heat"
	"loomsheet/harness/rule"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// sized is a job read, laid and sized.
func sized(t *testing.T, name, text string) *harness.Result {
	t.Helper()
	read := func(file string) ([]byte, error) {
		if file == name {
			return []byte(text), nil
		}
		return os.ReadFile(filepath.Join(filepath.Dir(name), file))
	}
	job, _, said := resolve.Job(name, read, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		t.Fatal(said)
	}
	r := &harness.Result{Declared: job}
	for _, s := range harness.Stages[:2] {
		s.Run(r)
	}
	return r
}

// plain is a case of which only the currents are known, in each start those of what it moves, so that every wire is asked in every start.
func plain(c *solve.CaseResult) *solve.CaseResult {
	out := &solve.CaseResult{Case: c.Case, Net: c.Net, WireAmps: c.WireAmps}
	moved := c.StartsAtWires()
	for s := range c.Starts {
		st := &c.Starts[s]
		amps := make([]unit.Current, len(st.Net.Elements))
		for e := range amps {
			if el := &st.Net.Elements[e]; el.Kind == solve.Wire && slices.Contains(moved[el.Wire], s) {
				amps[e] = st.Amps(e)
			}
		}
		out.Starts = append(out.Starts, solve.Started(st.Device, st.Net, amps))
	}
	return out
}

// Each start heats only where it moves something.
func TestStartsWhereTheyMove(t *testing.T) {
	file := filepath.Join("..", "..", "..", "examples", "car", "rook.loom")
	rook, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{"trial.loom": trial.Text(3, 150), file: string(rook)} {
		r := sized(t, name, text)
		var all []*solve.CaseResult
		starts := 0
		for _, c := range r.Cases {
			all = append(all, plain(c))
			starts += len(c.Starts)
		}
		for _, c := range r.Cases {
			for _, v := range c.Variants()[1:] {
				all = append(all, plain(v))
			}
		}
		got, want := heat.Solve(r.Job, r.Net, r.Sizes, r.Cases, r.Fit.Duty), heat.Solve(r.Job, r.Net, r.Sizes, all, r.Fit.Duty)
		if !reflect.DeepEqual(got, want) || starts == 0 {
			t.Errorf("%s, %d starts: heat differs", name, starts)
		}
	}
}

// What the loop ends with is what its sizes give, solved and heated anew at the temperatures it tells, and those it balances at are near them.
func TestOutcomeStands(t *testing.T) {
	r := sized(t, "trial.loom", trial.Text(5, 250))
	o := r.Fit
	if !o.Settled {
		t.Fatal("not settled")
	}
	var cases []*solve.CaseResult
	for i, c := range r.Job.Cases {
		x := solve.Case(r.Job, r.Net, r.Sizes, o.Heat.Temps[c.Name], c)
		if !reflect.DeepEqual(x.WireAmps, o.Cases[i].WireAmps) {
			t.Errorf("%s: currents are not those of the temperatures told", c.Name)
		}
		cases = append(cases, x)
	}
	duty := heat.DutyCurrents{}
	for _, c := range cases {
		duty[c.Case] = fit.Duty(r.Job, c)
	}
	h := heat.Solve(r.Job, r.Net, r.Sizes, cases, duty)
	if !reflect.DeepEqual(h.Wires, o.Heat.Wires) || !reflect.DeepEqual(h.Bundles, o.Heat.Bundles) {
		t.Error("heat is not that of the currents")
	}
	for c, temps := range h.Temps {
		for i, x := range temps {
			if d := x - o.Heat.Temps[c][i]; d > 0.1 || d < -0.1 {
				t.Errorf("%s, %s: %v, solved at %v", c, r.Net.Wires[i].Name, x, o.Heat.Temps[c][i])
			}
		}
	}
}
