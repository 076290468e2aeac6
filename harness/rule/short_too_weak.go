package rule

import (
	"loomsheet/harness/diag"
)

// The checks a reviewer would look for that are not run. Each keeps "not for build" on the bench and shell books.

var shortTooWeak = &Rule{
	Key: "short-too-weak", Title: "a dead short at the far end does not blow the fuse", Severity: diag.Finding,
	Why:     "On a long thin wire the loop itself limits the short, and the wire cooks before the fuse opens.",
	Formula: "short current through the whole loop, clearing time, let-through I2t against k2S2",
	Source:  "IEC 60364-5-54",
	Do:      "Take a thicker wire, a smaller fuse, or a fuse nearer to the load.",
	NotRun:  "far-end shorts are not built yet: check long thin wires by hand",
}
