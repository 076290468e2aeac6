package rule

import (
	"loomsheet/harness/diag"
)

// The checks a reviewer would look for that are not run. Each keeps "not for build" on the bench and shell books.

var hazardNear = &Rule{
	Key: "hazard-near", Title: "a run passes too close to a hazard", Severity: diag.Finding,
	Why:     "Exhausts, belts, fuel lines and steering shafts destroy a harness or are set alight by it.",
	Formula: "least distance in space between the surface of the bundle and the hazard against its clearance",
	Source:  "AC 43.13-1B 11-96w; common practice",
	Do:      "Move the run, or shield it.",
	NotRun:  "clearance to hazards is not built yet: measure it on the shell",
}
