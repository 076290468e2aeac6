package protect_test

import (
	"os"
	"strconv"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// plain is a trial job whose wires were sized by a rule of thumb in place of the sizing, which costs more than what is timed here.
type plain struct {
	job   *design.Job
	nt    *net.Net
	sizes size.Sizes
	cases []*solve.CaseResult
	duty  heat.DutyCurrents
	heat  *heat.Result
}

// density in amperes per mm2 is the rule of thumb.
const density = 6

func trialJob(tb testing.TB, seed uint64, wires int) *plain {
	tb.Helper()
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(trial.Text(seed, wires)), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		tb.Fatal(said)
	}
	geo := space.Lay(job)
	if placed, _ := joint.Place(job, geo); placed != job {
		job, geo = placed, space.Lay(placed)
	}
	p := &plain{job: job, nt: net.Build(job, geo, nil), duty: heat.DutyCurrents{}}
	p.sizes = size.Initial(job, p.nt)
	ladders := make([][]size.Conductor, len(p.nt.Wires))
	for i := range p.nt.Wires {
		if w := &p.nt.Wires[i]; size.Auto(w, &p.sizes[i]) {
			if ladders[i] = size.Ladder(job, p.nt, w); len(ladders[i]) > 0 {
				p.sizes[i] = ladders[i][len(ladders[i])-1]
			}
		}
	}
	p.solve(nil)
	most := make([]unit.Current, len(p.nt.Wires))
	for _, c := range p.cases {
		for i, a := range c.WireAmps {
			most[i] = max(most[i], a, -a)
		}
	}
	for i, l := range ladders {
		for k := range l {
			p.sizes[i] = l[k]
			if float64(most[i]) <= density*float64(l[k].Size.Area()) {
				break
			}
		}
	}
	p.solve(nil)
	for _, c := range p.cases {
		p.duty[c.Case] = fit.Duty(job, c)
	}
	p.heat = heat.Solve(job, p.nt, p.sizes, p.cases, p.duty)
	return p
}

func (p *plain) solve(temps []unit.Temperature) {
	p.cases = make([]*solve.CaseResult, len(p.job.Cases))
	solve.Each(len(p.cases), func(i int) {
		t := make([]unit.Temperature, len(p.nt.Wires))
		for k := range t {
			t[k] = heat.MeanAmbient(p.job, p.nt, &p.nt.Wires[k], p.job.Cases[i].Name)
		}
		p.cases[i] = solve.Case(p.job, p.nt, p.sizes, t, p.job.Cases[i])
	})
}

// BenchmarkProtect times what warms and what protects on trial jobs of growing size; LOOMSHEET_WIRES adds one of another size.
func BenchmarkProtect(b *testing.B) {
	sizes := []int{300, 1000}
	if n, err := strconv.Atoi(os.Getenv("LOOMSHEET_WIRES")); err == nil {
		sizes = []int{n}
	}
	for _, n := range sizes {
		p := trialJob(b, 1, n)
		b.Logf("%d wires, %d cases", len(p.nt.Wires), len(p.cases))
		for _, what := range []struct {
			name string
			do   func()
		}{
			{"heat", func() { heat.Solve(p.job, p.nt, p.sizes, p.cases, p.duty) }},
			{"thermal", func() { heat.NewThermal(p.job, p.nt, p.sizes, p.cases, p.duty) }},
			{"find", func() { protect.Find(p.job, p.nt, p.sizes, p.cases, p.heat, p.duty) }},
		} {
			b.Run(what.name+strconv.Itoa(n), func(b *testing.B) {
				for b.Loop() {
					what.do()
				}
			})
		}
	}
}
