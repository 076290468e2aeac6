package heat

import (
	"math/rand"
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
)

// TestStartsCarried: what is carried on while some wires of a vehicle change, with all that starts in it, is what is worked out anew.
func TestStartsCarried(t *testing.T) {
	text := trial.Text(5, 400)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if said.HasMistakes() {
		t.Fatal(said)
	}
	nt := net.Build(job, space.Lay(job), nil)
	sizes := size.Initial(job, nt)
	some := rand.New(rand.NewSource(2))
	laid := make([]*solve.Laid, len(job.Cases))
	for i, c := range job.Cases {
		laid[i] = solve.Lay(job, nt, sizes, c)
	}
	temps := make([][]unit.Temperature, len(job.Cases))
	for i := range temps {
		temps[i] = slices.Repeat([]unit.Temperature{20}, len(nt.Wires))
	}
	var cases []*solve.CaseResult
	solved := func() []*solve.CaseResult {
		out := make([]*solve.CaseResult, len(job.Cases))
		for i, c := range job.Cases {
			var before *solve.CaseResult
			if cases != nil {
				before = cases[i]
			}
			out[i] = laid[i].Again(before, solve.Figures{Job: job, Net: nt, Sizes: sizes, Temps: temps[i], Case: c})
		}
		return out
	}
	cases = solved()
	k := Keep(job, nt, cases, nil)
	same, others := 0, 0
	for round := range 6 {
		if got, want := k.Solve(sizes), Keep(job, nt, cases, nil).Solve(sizes); !reflect.DeepEqual(got, want) {
			t.Fatalf("round %d: carried on is not anew", round)
		}
		for range round % 3 {
			n := some.Intn(len(job.Cases))
			temps[n] = slices.Clone(temps[n])
			temps[n][some.Intn(len(nt.Wires))] += 10
		}
		was := k.cur
		cases = solved()
		k.Carry(cases, nil)
		for ci := range k.cur {
			moves, _ := k.moves(cases[ci], startsOf(k, cases[ci]), k.elements(cases[ci].Net))
			other, some := k.others(&was[ci], &k.cur[ci], moves)
			for i := range nt.Wires {
				switch {
				case len(k.cur[ci].lifts.of(i)) == 0:
				case some && !other[i]:
					same++
				default:
					others++
				}
			}
		}
	}
	if same == 0 || others == 0 {
		t.Errorf("%d wires that starts lift were left as they were, %d were not: too few to tell", same, others)
	}
}

func startsOf(k *Kept, c *solve.CaseResult) (out []*solve.StartResult) {
	for n := range c.Starts {
		if st := &c.Starts[n]; k.set.startTime(st.Device) > 0 && st.Net != nil {
			out = append(out, st)
		}
	}
	return out
}
