package rule

import (
	"loomsheet/harness/diag"
)

// The checks a reviewer would look for that are not run. Each keeps "not for build" on the bench and shell books.

var notFree = &Rule{
	Key: "not-free", Title: "a section is not free after its breaks are undone", Severity: diag.Finding,
	Why:     "The engine hangs on the crane before anyone finds the wire that still ties it.",
	Formula: "every wire, pair, earth and clip that still joins the section to another is named",
	Source:  "common practice",
	Do:      "Add the break to `undo`, or a connector to the wire.",
	NotRun:  "removals are not proved yet: follow each wire of the section by hand",
}
