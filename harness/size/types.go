// Package size gives each wire its conductor: the smallest purchasable size of its family that meets ampacity, drop, contact and
// the mechanical minimum, or the stated one checked.
package size

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Reason is what decided a size.
type Reason string

// The reasons a size can have.
const (
	ByHand       Reason = "stated"
	ByMechanical Reason = "least size"
	ByHeat       Reason = "heat"
	ByDrop       Reason = "drop"
	ByContact    Reason = "contact"
	ByCable      Reason = "bought cable"
	ByParallel   Reason = "equal parallel wires"
	ByProtection Reason = "protection"
	ByRating     Reason = "contact rating"
)

// Conductor is what a wire is made of.
type Conductor struct {
	Family     string // wire part; the wire's own, else what `set wire` says
	Size       unit.Size
	Resistance unit.LinearResistance // greatest, at 20 C
	Outside    unit.Length
	Heat       unit.Temperature // rating of the insulation
	Source     string           // of the resistance
	Verified   bool             // false: the figure is from memory or typical
	Why        Reason
	Status     design.Status
	// Contacts chosen for the two ends; empty where none is needed.
	Contacts [2]string
	// Fits is false when no contact of the end's cavity takes the size.
	Fits [2]bool
	// Known is false when the family has no such size, and nothing could be worked out. So it is for a screen as well, whose
	// resistance is known at most.
	Known bool
}

// Sizes is a conductor for each wire of the net, by its index.
type Sizes []Conductor
