package solve_test

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"

	"loomsheet/harness/design"
)

// laid is a trial job up to its wires, with their first sizes.
func laid(tb testing.TB, wires int) (*design.Job, *net.Net, size.Sizes) {
	text := trial.Text(1, wires)
	job, _, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), rule.Keys())
	if said.HasMistakes() {
		tb.Fatal(said)
	}
	geo := space.Lay(job)
	if j, _ := joint.Place(job, geo); j != job {
		job, geo = j, space.Lay(j)
	}
	nt := net.Build(job, geo, nil)
	return job, nt, size.Initial(job, nt)
}

// worked reports the time of the processors, which a busy machine tells less wrongly than the clock.
func worked(b *testing.B) func() {
	b.ReportAllocs()
	var before, after syscall.Rusage
	syscall.Getrusage(syscall.RUSAGE_SELF, &before)
	return func() {
		syscall.Getrusage(syscall.RUSAGE_SELF, &after)
		ms := func(t syscall.Timeval) float64 { return float64(t.Sec)*1e3 + float64(t.Usec)/1e3 }
		b.ReportMetric((ms(after.Utime)-ms(before.Utime)+ms(after.Stime)-ms(before.Stime))/float64(b.N), "cpu-ms")
	}
}

// BenchmarkTrial solves the cases of trial jobs, and their dead shorts at every load.
func BenchmarkTrial(b *testing.B) {
	counts := []int{300, 1000}
	if s := os.Getenv("LOOMSHEET_SCALE"); s != "" {
		counts = nil
		for _, f := range strings.Split(s, ",") {
			n, err := strconv.Atoi(f)
			if err != nil {
				b.Fatal(err)
			}
			counts = append(counts, n)
		}
	}
	for _, n := range counts {
		job, nt, sizes := laid(b, n)
		for _, c := range job.Cases {
			b.Run(fmt.Sprintf("case/%d/%s", n, c.Name), func(b *testing.B) {
				defer worked(b)()
				for b.Loop() {
					if r := solve.Case(job, nt, sizes, nil, c); !r.Point.Converged {
						b.Fatal("not converged")
					}
				}
			})
		}
		c := job.Cases[1]
		b.Run(fmt.Sprintf("variants/%d", n), func(b *testing.B) {
			defer worked(b)()
			for b.Loop() {
				solve.Case(job, nt, sizes, nil, c).Variants()
			}
		})
		b.Run(fmt.Sprintf("faults/%d", n), func(b *testing.B) {
			defer worked(b)()
			for b.Loop() {
				f := solve.NewFaults(job, nt, sizes, nil, c, solve.Weakest)
				for i, e := range f.Net.Elements {
					if e.Kind == solve.Load || e.Kind == solve.Coil {
						f.AtLoad(i)
					}
				}
			}
		})
		b.Run(fmt.Sprintf("corners/%d", n), func(b *testing.B) {
			defer worked(b)()
			for b.Loop() {
				r := solve.Case(job, nt, sizes, nil, c)
				for i := range r.Loads {
					r.Corner(i, solve.LostBoth)
				}
			}
		})
	}
}
