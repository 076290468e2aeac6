package solve

import "loomsheet/harness/unit"

// Quantity is what a corner is sought for.
type Quantity uint8

// Quantities of a load; the corner is the one where it is worst: most volts lost, or least volts left.
const (
	LostBoth Quantity = iota // feed and return together
	LostFeed
	LostReturn
	LeastVolts
)

// Moved is one stated value that the corner takes at an end of its spread.
type Moved struct {
	What    string // "battery set-point", "contact A.3", "lamp draw"
	From    string // as solved in the case
	To      string
	Element int
}

// Corner is a load solved again where one of its results is worst: each spread at the end that the sign of its sensitivity asks for. There is no corner
// that is worst for all.
type Corner struct {
	Quantity Quantity
	Load     LoadResult // with ways, as in the case
	Got      unit.Voltage
	Moved    []Moved // what differs from the case's own point; natural order
}
