package main

import (
	"os"
	"runtime"
	"runtime/debug"
	"runtime/metrics"
)

// softLimit is the memory that the program keeps below while it can: garbage is collected sooner as it is neared. A job of which more than four fifths of
// that are in use is collected as is usual, else it would do nothing but collect.
const softLimit = 990 << 20

// saveMemory sets the limit, unless the one who runs the program has said how memory is to be used.
func saveMemory() {
	if os.Getenv("GOMEMLIMIT") != "" || os.Getenv("GOGC") != "" {
		return
	}
	debug.SetMemoryLimit(softLimit)
	debug.SetGCPercent(percentFor(0))
	afterCollecting(func(live uint64) {
		debug.SetMemoryLimit(limitFor(live))
		debug.SetGCPercent(percentFor(live))
	})
}

// smallRoom is how much a small job may leave lying before it is collected: twice what is in use, as is usual, would be too little for one that is done within
// a second.
const smallRoom = 64 << 20

// percentFor is how much may be left lying, in hundredths of what is in use.
func percentFor(live uint64) int { return int(max(100, smallRoom*100/max(live, smallRoom/16))) }

// limitFor is the limit with so many bytes in use.
func limitFor(live uint64) int64 {
	if live <= softLimit/5*4 {
		return softLimit
	}
	return 2 * int64(live)
}

// afterCollecting calls do after each collection of garbage with the bytes that are in use.
func afterCollecting(do func(live uint64)) {
	type mark struct{ at *int } // with a pointer, so that it is not put together with others that live on
	runtime.SetFinalizer(&mark{new(int)}, func(*mark) {
		s := []metrics.Sample{{Name: "/gc/heap/live:bytes"}}
		metrics.Read(s)
		if s[0].Value.Kind() == metrics.KindUint64 {
			do(s[0].Value.Uint64())
		}
		afterCollecting(do)
	})
}
