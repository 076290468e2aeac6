// Package reading finds by how much a sensor reads wrong because its return shares metal with other current.
package reading

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Error is one sensor in its worst case.
type Error struct {
	Device string // sensor
	Index  int    // into its reads
	Reader string // device that measures
	Case   string
	Start  string       // device that starts then; empty: steady
	Volts  unit.Voltage // its reference against the reader's
	Most   unit.Voltage // setting reading-error
	Ruling design.Ruling
	Off    unit.Quantity // the error in the sensor's own unit
	Shares []string      // wires and joints on the way that carry other current, the largest drop first
	Met    bool
	Span   diag.Span
}

// Find weighs every sensor that says how it reads.
func Find(job *design.Job, nt *net.Net, cases []*solve.CaseResult) []Error { return nil }
