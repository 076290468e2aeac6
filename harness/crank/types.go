// Package crank answers starting whole: the volts at the starter, its solenoid and each control unit over the battery's temperature
// and age.
package crank

import "loomsheet/harness/unit"

// Roles of a place.
const (
	Starter     = "starter"
	Solenoid    = "solenoid" // the coil of the starter itself, else the one whose contact is nearest to it
	RelayCoil   = "relay"    // another coil on which the starter's way depends
	ControlUnit = "control unit"
	OtherLoad   = "load" // one with a limit on its volts
)

// Place is one load watched while cranking.
type Place struct {
	Device string
	Index  int
	Coil   bool
	Role   string
	Least  unit.Voltage // it must have while the starter turns; 0 none stated
	From   string       // where that limit is set, in words
	// LeastDip is the same for the moment in which the starter starts.
	LeastDip unit.Voltage
	FromDip  string
}

// Volts at one place.
type Volts struct {
	Steady    unit.Voltage // while cranking
	Dip       unit.Voltage // while the starter starts; 0 no start figure
	Fed       bool
	MetSteady bool // it is fed and has the least it must have
	MetDip    bool
	Met       bool // both
}

// Row is one battery condition.
type Row struct {
	Air    unit.Temperature // of the battery
	Age    string           // new, worn; AsCase of the case's own figures
	Own    bool             // the case as it stands
	Cold   unit.Ratio       // factor on the inside resistance for the air, against the case's own air
	Worn   unit.Ratio       // factor on the inside resistance for the age
	Volts  unit.Voltage     // set-point taken: that of the case + cells x volts per kelvin x (air - the case's air)
	Inside unit.Resistance  // that of the case x Cold x Worn
	Turns  bool             // the starter is fed
	Amps   unit.Current     // of the starter, steady
	Start  unit.Current     // of the starter while it starts; 0 no start figure
	Relays bool             // every relay that was closed in the case stays so
	Lets   []string         // relays that do not, natural order
	At     []Volts          // by place
}

// AsCase is the age of the row that holds the case's own figures.
const AsCase = "as the case says"

// Sweep is one cranking case.
type Sweep struct {
	Case      string
	Motor     string           // the device that cranks
	Battery   string           // that feeds it
	Besides   []string         // other batteries that live in the case and get as cold and old, natural order
	Air       unit.Temperature // of the battery in the case
	AirFrom   string
	Volts     unit.Voltage    // its set-point in the case
	Inside    unit.Resistance // in the case
	Cells     int
	PerKelvin unit.Voltage // of one cell
	Places    []Place
	Rows      []Row // the case's own first, then by age, warm to cold
	// Source says where the battery's figures over temperature and age come from.
	Source   string
	Verified bool
}
