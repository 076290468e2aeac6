// Package margin tells what a result turns on: which single change would mend a limit that is missed, and by how much load, length,
// air or supply may change before one that is met is crossed.
//
// Every figure on volts and heat is a solution of the net with something in it changed, none is a linear estimate. Conductors keep the temperatures of
// the outcome, but where the air itself is what changes. Fuses, contacts and batteries have closed forms.
package margin

import (
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

// Heat is the name of the limit of a wire's heat.
const Heat = "heat"

// Kind is what sort of change it is.
type Kind uint8

// Kinds of change.
const (
	Larger      Kind = iota // a wire one size up
	Smaller                 // one size down
	SecondEarth             // a wire of the return doubled
	BetterJoint             // a joint of half the resistance
	OwnFeed                 // fed from further upstream
)

// Change is one single change and what the result becomes, solved again.
type Change struct {
	Kind  Kind
	What  string // "main-plus post-plus - start-post 120 mm2 in place of 95 mm2"
	Note  string // what stands in its way or goes with it: "its contacts do not take it"; empty: nothing
	Got   unit.Voltage
	Gain  unit.Voltage // in the direction that helps; may be less than nothing
	Meets bool
}

// Answer is the changes tried for a limit on volts, the one that buys most first.
type Answer struct {
	Subject
	Limit   fit.Limit
	Up      *Change // every wire on its way one size up; nil where none has a larger one
	Down    *Change // one size down
	Changes []Change
	Left    int  // changes that were not tried, there being too many
	Skipped bool // no change was tried: too many limits are missed
}

// Tight is one of the results with least room.
type Tight struct {
	Subject
	Title string
	// Used is the share of the room between the value without load and the limit that is used; 1 is at it. Without load nothing is lost
	// on the way, a load has the set-point of its supply, and a conductor has the temperature of the air. Where a published table rules, it
	// is the square of the share of its current, since heat goes by the square.
	Used unit.Ratio
	Got  unit.Quantity
	Most unit.Quantity
	// Least is set where Most is the least allowed.
	Least bool
	Held  fit.Limit // of volts
	// Asked is what the limit holds, in words; empty for volts and heat.
	Asked string
	Also  []string // results with the same way, case and limit that have as much room or more
	Room  []Room
}

// Room is how far one cause may change before the limit is crossed, all else as it is, the case too.
type Room struct {
	What string // load, length, ambient, supply
	Of   string // what is varied, in words: "lamp", "out and back", "battery set-point"
	// From and To are the value as it is and where the limit is crossed; Beyond: not within what was tried, To is then the end of the range.
	// Ambient is told as warmer by so many K: From is then 0 K. The load of a wire that its neighbours warm is told as a share of what all of
	// them carry: From is then 100 %.
	From, To unit.Quantity
	Beyond   bool
	// Stops: the limit is not crossed by degrees; past To a relay lets go, another supply takes over, the load is no longer fed, or a fuse's
	// gate goes on to its next step.
	Stops bool
	// Own: a closed form of a fuse, contact or battery; Of says what is meant.
	Own bool
	// Missed: the limit is missed as it is once solved to the last digit; there is no room.
	Missed bool
}

// Factor is To over From; 0 where From is none.
func (r Room) Factor() unit.Ratio {
	if r.From.Value == 0 {
		return 0
	}
	return unit.Ratio(r.To.Value / r.From.Value)
}
