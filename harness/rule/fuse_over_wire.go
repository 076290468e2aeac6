package rule

import (
	"loomsheet/harness/diag"
)

// The checks a reviewer would look for that are not run. Each keeps "not for build" on the bench and shell books.

var fuseOverWire = &Rule{
	Key: "fuse-over-wire", Title: "a fuse does not protect its thinnest wire", Severity: diag.Finding,
	Why:     "A fuse protects every thinner wire downstream of it up to the next fuse, or none.",
	Formula: "time-current gate of the fuse against the transient temperature of the wire, 1.1 to 6 times rating",
	Source:  "ISO 8820-3 gates as makers print them",
	Do:      "Take a smaller fuse or a thicker wire.",
	NotRun:  "fuse gates against wires are not built yet: check each fuse against its thinnest wire by hand",
}
