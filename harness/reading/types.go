// Package reading finds by how much a sensor reads wrong because its return shares metal with other current.
package reading

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Error is one sensor at one device that reads it, in its worst case.
type Error struct {
	Device   string // sensor
	Index    int    // into its reads
	From, To string // its signal and reference pin
	Reader   string // device that measures
	At       string // the pin it measures against, as written: device.pin
	Why      string // why that pin
	Case     string
	Start    string       // device that starts then; empty: steady
	Volts    unit.Voltage // the sensor's reference above the reader's: by so much it reads too high
	Most     unit.Voltage // setting reading-error
	Ruling   design.Ruling
	Value    unit.Quantity // the sensor reads so much
	Per      unit.Voltage  // per so many volts
	Off      unit.Quantity // the error in the sensor's own unit: Volts / Per x Value; of a temperature a difference
	Own      unit.Current  // what the sensor itself sends back through its reference pin
	Way      []Part        // from the sensor's reference to the reader's; the drops add up to Volts
	Shares   []string      // wires and joints on the way that carry other current, the largest drop first
	Met      bool
	Span     diag.Span
}

// Part is one element on the way of a sensor's reference, counted in the direction from the sensor.
type Part struct {
	Kind   solve.ElementKind
	Name   string
	Drop   unit.Voltage
	Amps   unit.Current
	Shared bool // it carries more than the sensor's own current
}
