package main

import (
	"fmt"
	"io"
	"os"
	"runtime"
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
	bytes, allocs uint64 // asked of the heap meanwhile
	live          uint64 // bytes on the heap after it that are still in use
}

// and is two steps, one after the other.
func (c cost) and(d cost) cost {
	return cost{c.time + d.time, c.bytes + d.bytes, c.allocs + d.allocs, max(c.live, d.live)}
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
		c := cost{took, after.TotalAlloc - before.TotalAlloc, after.Mallocs - before.Mallocs, 0}
		runtime.GC()
		runtime.ReadMemStats(&after)
		c.live = after.HeapAlloc
		steps = append(steps, name)
		costs = append(costs, c)
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
	r.LetGo()
	got = len(r.Net.Wires)
	if books {
		step("books", func() {
			in := j.input()
			j.letGo() // as build does
			r = nil
			_, err := render.Each(in, func(f render.File) error { // as build writes them: none is held
				_, err := f.WriteTo(io.Discard)
				return err
			})
			if err != nil {
				tb.Fatal(err)
			}
		})
	}
	runtime.KeepAlive(j)
	return steps, costs, got
}

// BenchmarkScale runs trial jobs of growing size, one after another, and prints what each step costs, what is on the heap after it, what checking and
// building cost as a whole, and by what factor each grows from one size to the next. Live of a whole is the most of its steps.
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
	books := os.Getenv("LOOMSHEET_BOOKS") != ""
	for b.Loop() {
		var names []string
		var all [][]cost
		head := fmt.Sprintf("%-12s", "")
		for k, n := range sizes {
			steps, costs, got := measure(b, n, books)
			names = steps
			all = append(all, costs)
			head += fmt.Sprintf(" | %9s %10s %11s %8s", fmt.Sprint(got, " wires"), "allocated", "allocations", "live")
			if k > 0 {
				head += fmt.Sprintf(" %7s %7s %7s", "x time", "x bytes", "x count")
			}
		}
		fmt.Println("\n" + head)
		row := func(name string, of func(costs []cost) cost) {
			line := fmt.Sprintf("%-12s", name)
			for k, costs := range all {
				c := of(costs)
				line += fmt.Sprintf(" | %7.3f s %7.1f MB %11d %5.1f MB", c.time.Seconds(), float64(c.bytes)/1e6, c.allocs, float64(c.live)/1e6)
				if k > 0 {
					p := of(all[k-1])
					line += fmt.Sprintf(" x%6.1f x%6.1f x%6.1f", c.time.Seconds()/max(1e-6, p.time.Seconds()), float64(c.bytes)/float64(max(1, p.bytes)), float64(c.allocs)/float64(max(1, p.allocs)))
				}
			}
			fmt.Println(line)
		}
		for i, name := range names {
			row(name, func(costs []cost) cost { return costs[i] })
		}
		checked := len(names) // the steps of check
		if books {
			checked--
		}
		sum := func(costs []cost) (out cost) {
			for _, c := range costs {
				out = out.and(c)
			}
			return out
		}
		row("all of check", func(costs []cost) cost { return sum(costs[:checked]) })
		if books {
			row("all of build", sum)
		}
	}
}
