// Package margin tells what a result turns on: which single change would mend a limit that is missed, and by how much load, length,
// air or supply may change before one that is met is crossed.
package margin

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/unit"
)

// Subject names a result: a limit on the volts of a load in a case, or a wire's heat.
type Subject struct {
	Case   string
	Device string
	Index  int
	Coil   bool
	Start  string // device that starts
	Limit  string // name of the limit: drop, least ...; "heat" for a wire
	Wire   int    // -1
}

// Change is one single change and what the result becomes, solved again.
type Change struct {
	What  string // "circuit main-plus from post-plus to start-post: 120 mm2 in place of 95 mm2"
	Got   unit.Voltage
	Gain  unit.Voltage // in the direction that helps; may be less than nothing
	Meets bool
}

// Answer is the changes tried for a limit on volts, the one that buys most first.
type Answer struct {
	Subject
	Limit   fit.Limit
	Up      *Change // every automatic or stated wire on its way one size up
	Down    *Change // one size down
	Changes []Change
}

// Tight is one of the results with least room.
type Tight struct {
	Subject
	Title string
	Used  unit.Ratio // of the limit; 1 is at it
	Got   unit.Quantity
	Most  unit.Quantity
	Room  []Room
}

// Room is how far one cause may change before the limit is crossed, all else as it is.
type Room struct {
	What string // load, length, ambient, supply
	// From and To are the value as it is and where the limit is crossed; Beyond: not within what was tried, To is then the end of the range.
	From, To unit.Quantity
	Beyond   bool
}

// Answers tries changes for every limit on volts that is missed.
func Answers(job *design.Job, o *fit.Outcome, build func(*design.Job, net.Hints) *net.Net) []Answer {
	return nil
}

// Tightest finds the n results with least room, and what they turn on.
func Tightest(job *design.Job, o *fit.Outcome, n int) []Tight { return nil }
