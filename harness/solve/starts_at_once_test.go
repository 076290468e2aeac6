package solve

import (
	"sync"
	"testing"
	"time"

	"loomsheet/harness/size"
)

// Starts that are let go of, with all that is remembered, while others ask for them tell all the same.
func TestStartsAtOnce(t *testing.T) {
	job, nt := trialNet(t, 7, 150)
	res := Case(job, nt, size.Initial(job, nt), nil, job.Cases[0])
	if len(res.Starts) == 0 {
		t.Fatal("nothing starts")
	}
	want := make([][]float64, len(res.Starts))
	for i := range res.Starts {
		for e := range res.Net.Elements {
			want[i] = append(want[i], float64(res.Starts[i].Amps(e)))
		}
	}
	done := make(chan bool)
	go func() {
		var wg sync.WaitGroup
		for w := range 4 {
			wg.Add(1)
			go func() {
				defer wg.Done()
				for n := range 40 {
					if w == 0 {
						Forget([]*CaseResult{res})
						continue
					}
					i := (n + w) % len(res.Starts)
					s := &res.Starts[i]
					for e := range want[i] {
						if got := float64(s.Amps(e)); got != want[i][e] {
							t.Errorf("%s starts: element %d carries %v, want %v", s.Device, e, got, want[i][e])
							return
						}
					}
					s.Point()
					s.Volts(0)
					if len(s.index) > 0 {
						s.Load(int(s.index[n%len(s.index)]))
						s.Corner(int(s.index[n%len(s.index)]), LostBoth)
					}
				}
			}()
		}
		wg.Wait()
		close(done)
	}()
	select {
	case <-done:
	case <-time.After(time.Minute):
		t.Fatal("they wait for each other")
	}
}
