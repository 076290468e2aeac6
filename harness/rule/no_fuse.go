package rule

import (
	"loomsheet/harness/diag"
)

// The checks a reviewer would look for that are not run. Each keeps "not for build" on the bench and shell books.

var noFuse = &Rule{
	Key: "no-fuse", Title: "a wire has nothing that protects it", Severity: diag.Finding,
	Why:     "A short on a wire without a protector ends in a fire: a battery drives over a thousand amperes into it.",
	Formula: "each conductor is traced back to its sources; a fuse or breaker must stand between, within unfused-most of the source",
	Source:  "33 CFR 183.455; common practice",
	Do:      "Put a fuse at the source, or have a competent person accept the wire with its sheath and clearance.",
	NotRun:  "tracing every wire to its protector is not built yet: check by hand that each wire is fused at its source",
}
