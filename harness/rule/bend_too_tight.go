package rule

import (
	"loomsheet/harness/diag"
)

// The checks a reviewer would look for that are not run. Each keeps "not for build" on the bench and shell books.

var bendTooTight = &Rule{
	Key: "bend-too-tight", Title: "a bundle is bent too tightly", Severity: diag.Finding,
	Why:     "A tight bend works the strands and opens seals.",
	Formula: "radius of the bend against a multiple of the outside diameter",
	Source:  "AC 43.13-1B 11-96, from memory: 10 times the largest wire",
	Do:      "Move the waypoint, or fit a moulded boot and accept the finding.",
	NotRun:  "bends of real radius are not built yet: check tight corners by hand",
}
