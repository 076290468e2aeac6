// Package crank answers starting whole: the volts at the starter, its solenoid and each control unit over the battery's temperature
// and age.
package crank

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// Place is one load watched while cranking.
type Place struct {
	Device string
	Index  int
	Coil   bool
	Role   string       // starter, solenoid, control unit
	Least  unit.Voltage // it must have; 0 none stated
	From   string       // where that limit is set, in words
}

// Volts at one place.
type Volts struct {
	Steady unit.Voltage // while cranking
	Dip    unit.Voltage // while the starter starts; 0 no start figure
	Met    bool
	Relays bool // every relay that was closed in the case stays so
}

// Row is one battery condition.
type Row struct {
	Air    unit.Temperature // of the battery
	Age    string           // new, worn
	Volts  unit.Voltage     // set-point taken
	Inside unit.Resistance
	Amps   unit.Current // of the starter, steady
	At     []Volts      // by place
}

// Sweep is one cranking case.
type Sweep struct {
	Case    string
	Battery string
	Places  []Place
	Rows    []Row
	// Source says where the battery's figures over temperature and age come from.
	Source   string
	Verified bool
}

// Find sweeps every case in which a starter turns.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult, temps map[string][]unit.Temperature) []Sweep {
	return nil
}

var _ = design.Case{}
