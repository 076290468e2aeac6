package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// softLimit is the memory that the program keeps below while it can: garbage is collected sooner as it is neared. A job of which more than four fifths of
// that are in use is collected as is usual, else it would do nothing but collect.
const softLimit = 960 << 20

// saveMemory sets the limit, unless the one who runs the program has said how memory is to be used.
func saveMemory() {
	if os.Getenv("GOMEMLIMIT") != "" || os.Getenv("GOGC") != "" {
		return
	}
	debug.SetMemoryLimit(softLimit)
	debug.SetGCPercent(percentFor(0))
	afterCollecting(func(live, goal uint64) {
		debug.SetMemoryLimit(limitFor(live, goal, debug.SetMemoryLimit(-1)))
		debug.SetGCPercent(percentFor(live))
	})
}

// smallRoom is how much a small job may leave lying before it is collected: twice what is in use, as is usual, would be too little for one that is done within
// a second.
const smallRoom = 64 << 20

// percentFor is how much may be left lying, in hundredths of what is in use.
func percentFor(live uint64) int { return int(max(100, smallRoom*100/max(live, smallRoom/16))) }

// limitFor is the limit with so many bytes in use, where under the present limit garbage is next collected at the goal. What lies unused between things in
// use counts against a limit as well, more than a fifth of a large job: so the goal tells whether there is room, and an eighth of what is in use there must be.
func limitFor(live, goal uint64, limit int64) int64 {
	switch {
	case live > softLimit/5*4:
		return 2 * int64(live)
	case goal >= 2*live: // not nearer than is usual: the limit does not show
		return softLimit
	}
	least := int64(live) + int64(live)/8
	return softLimit + max(0, least-(int64(goal)-(limit-softLimit)))
}

// afterCollecting calls do after each collection of garbage with the bytes that are in use, and those at which the next begins.
func afterCollecting(do func(live, goal uint64)) {
	type mark struct{ at *int } // with a pointer, so that it is not put together with others that live on
	runtime.SetFinalizer(&mark{new(int)}, func(*mark) {
		s := []metrics.Sample{{Name: "/gc/heap/live:bytes"}, {Name: "/gc/heap/goal:bytes"}}
		metrics.Read(s)
		if s[0].Value.Kind() == metrics.KindUint64 && s[1].Value.Kind() == metrics.KindUint64 {
			do(s[0].Value.Uint64(), s[1].Value.Uint64())
		}
		afterCollecting(do)
	})
}
