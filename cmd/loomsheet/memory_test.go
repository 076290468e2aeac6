package main

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"
)

// The limit leaves room above what is in use and what is lost between, is the usual one where that leaves room, and comes to rest.
func TestLimitLeavesRoom(t *testing.T) {
	for live := uint64(0); live < 8<<30; live += 10 << 20 {
		for lost := int64(0); lost < 400<<20; lost += 20 << 20 {
			goal := func(limit int64) uint64 { return min(2*live, uint64(limit-lost)) }
			room := func(limit int64) bool { return goal(limit) >= live+live/8 }
			for _, from := range []int64{softLimit, softLimit + 200<<20, 2 * softLimit} {
				limit := limitFor(live, goal(from), from)
				limit = limitFor(live, goal(limit), limit)
				limit = limitFor(live, goal(limit), limit)
				if again := limitFor(live, goal(limit), limit); again != limit {
					t.Fatalf("%d and then %d bytes for %d in use and %d lost", limit, again, live, lost)
				}
				if limit < softLimit || !room(limit) || live <= softLimit/5*4 && room(softLimit) && limit != softLimit {
					t.Fatalf("%d bytes for %d in use and %d lost", limit, live, lost)
				}
			}
		}
	}
}

// A small job may leave as much lying as it likes up to a bound, a large one as much as it uses.
func TestSmallJobsAreCollectedSeldom(t *testing.T) {
	for live := uint64(0); live < 1<<30; live += 1 << 20 {
		p := percentFor(live)
		room := live * uint64(p) / 100
		if p < 100 || p > 1600 || live >= smallRoom && p != 100 || live >= smallRoom/16 && live < smallRoom && (room > smallRoom || room < smallRoom*9/10) {
			t.Errorf("%d %% for %d bytes in use", p, live)
		}
	}
}

// What is in use is told after each collection, not only after the first.
func TestToldAfterCollecting(t *testing.T) {
	told := make(chan uint64, 100)
	afterCollecting(func(live, _ uint64) {
		select {
		case told <- live:
		default:
		}
	})
	hold := make([]byte, 30<<20)
	for n := range 3 {
		runtime.GC()
		select {
		case live := <-told:
			if live < uint64(len(hold)) {
				t.Errorf("%d bytes in use", live)
			}
		case <-time.After(10 * time.Second):
			t.Fatalf("told %d times", n)
		}
	}
	runtime.KeepAlive(hold)
}

// Who says how memory is to be used is not overruled.
func TestMemoryAsAsked(t *testing.T) {
	was, percent := debug.SetMemoryLimit(-1), debug.SetGCPercent(100)
	defer debug.SetMemoryLimit(was)
	defer debug.SetGCPercent(percent)
	for _, name := range []string{"GOMEMLIMIT", "GOGC"} {
		t.Setenv("GOMEMLIMIT", "")
		t.Setenv("GOGC", "")
		t.Setenv(name, "50")
		debug.SetMemoryLimit(5 << 30)
		saveMemory()
		if debug.SetMemoryLimit(-1) != 5<<30 {
			t.Errorf("%s is overruled", name)
		}
	}
	t.Setenv("GOMEMLIMIT", "")
	t.Setenv("GOGC", "")
	saveMemory()
	if got := debug.SetMemoryLimit(-1); got < softLimit || got == 5<<30 {
		t.Errorf("the limit is %d", got)
	}
}
