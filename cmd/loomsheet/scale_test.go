package main

import (
	"fmt"
	"os"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"loomsheet/harness"
	"loomsheet/harness/rule"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
	"loomsheet/lang/trial"
	"loomsheet/render"
)

// cost is what one step took.
type cost struct {
	time          time.Duration
	bytes, allocs uint64
	live          uint64 // bytes on the heap after it
}

// measure runs the whole of a trial job once, from text to books, and tells the cost of each step in order.
func measure(tb testing.TB, wires int, books bool) (steps []string, costs []cost, got int) {
	text := trial.Text(1, wires)
	step := func(name string, do func()) {
		var before, after runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&before)
		start := time.Now()
		do()
		took := time.Since(start)
		runtime.ReadMemStats(&after)
		steps = append(steps, name)
		costs = append(costs, cost{took, after.TotalAlloc - before.TotalAlloc, after.Mallocs - before.Mallocs, after.HeapAlloc})
	}
	r := &harness.Result{}
	j := &job{Result: r}
	step("read", func() {
		job, read, said := resolve.Job("trial.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), rule.Keys())
		if said.HasMistakes() {
			tb.Fatal(said)
		}
		r.Declared, j.Sources, j.Text = job, read, said
	})
	for _, s := range harness.Stages {
		step(s.Name, func() { s.Run(r) })
	}
	if books {
		step("books", func() {
			if _, err := render.Books(j.input()); err != nil {
				tb.Fatal(err)
			}
		})
	}
	return steps, costs, len(r.Net.Wires)
}

// BenchmarkScale runs trial jobs of growing size, one after another, and prints what each step costs and how that grows.
func BenchmarkScale(b *testing.B) {
	sizes := []int{300, 3000}
	if s := os.Getenv("LOOMSHEET_SCALE"); s != "" {
		sizes = nil
		for _, f := range strings.Split(s, ",") {
			n, err := strconv.Atoi(f)
			if err != nil {
				b.Fatal(err)
			}
			sizes = append(sizes, n)
		}
	}
	for b.Loop() {
		var names []string
		var all [][]cost
		for _, n := range sizes {
			steps, costs, got := measure(b, n, os.Getenv("LOOMSHEET_BOOKS") != "")
			names = steps
			all = append(all, costs)
			b.Logf("%d wires", got)
		}
		for i, name := range names {
			line := fmt.Sprintf("%-9s", name)
			for k, costs := range all {
				c := costs[i]
				line += fmt.Sprintf(" | %9.3f s %8.1f MB %9d", c.time.Seconds(), float64(c.bytes)/1e6, c.allocs)
				if k > 0 {
					line += fmt.Sprintf(" x%5.1f", c.time.Seconds()/max(1e-6, all[k-1][i].time.Seconds()))
				}
			}
			fmt.Println(line)
		}
		total := func(costs []cost) (t time.Duration) {
			for _, c := range costs {
				t += c.time
			}
			return t
		}
		fmt.Println(slices.Collect(func(yield func(time.Duration) bool) {
			for _, c := range all {
				yield(total(c))
			}
		}))
	}
}
