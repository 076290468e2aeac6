// Package solve finds the DC operating point of the whole net in a case by nodal analysis.
package solve

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// ElementKind is what lies between two nodes.
type ElementKind uint8

// Kinds of element.
const (
	Wire        ElementKind = iota
	Contact                 // at a device's cavity, or the mated pair in a break
	Lug                     // on a stud
	SpliceJoint             // a wire's crimp in a splice
	Post                    // through a stud post
	Switch                  // a closed contact of a state
	Join                    // metal inside a device, or the body
	Fuse
	Diode
	Supply
	Load
	Coil
)

func (k ElementKind) String() string {
	return [...]string{"wire", "contact", "lug", "splice", "stud post", "switch", "joint", "fuse", "diode", "supply", "load", "coil"}[k]
}

// Item is what an element is, wherever it lies. It is shared by the networks of a case in all its positions, and never changed.
type Item struct {
	Kind   ElementKind
	Name   string // wire name, device.pin, device fuse from - to ...
	Wire   int    // index into the net's wires; -1
	Device string
	Index  int // into the device's supplies, draws, coils, states, joins, fuses or diodes; -1 of anything else
	Span   diag.Span
}

// Element lies between two nodes. From is the plus side of a supply, load or coil, the anode of a diode.
type Element struct {
	*Item
	From, To int // nodes
}

// Network is the elements of a job in one case and switch position. Networks that differ in figures alone share all but those.
type Network struct {
	Nodes    []string // names: device.pin, splice, break half and cavity ...
	Elements []Element
	Ohms     []unit.Resistance // by element; see Resistance
}

// Resistance is that of a passive element at the temperature solved, of a supply its inside as the job says it, of a diode what it has above its
// forward volts; none of anything else.
func (n *Network) Resistance(element int) unit.Resistance {
	if element < 0 || element >= len(n.Ohms) {
		return 0
	}
	return n.Ohms[element]
}

// Point is one operating point: by node and by element.
type Point struct {
	Volts []unit.Voltage // by node, against the reference
	Amps  []unit.Current // by element, from From to To (a supply delivers: positive out of From)
	// Residual is the largest current that does not add up at a node.
	Residual  unit.Current
	Converged bool
}

// Step is one element on the way from a supply to a load or back.
type Step struct {
	Element int
	Reverse bool // passed from To to From
	Drop    unit.Voltage
	Volts   unit.Voltage // after it, against the supply's minus terminal
	Amps    unit.Current // in the direction of the way
}

// LoadResult is one draw or coil in a case.
type LoadResult struct {
	Device   string
	Index    int // into the device's draws, or coils when Coil is set
	Coil     bool
	Class    string
	From, To string // pins as written
	// At is the volts it is taken to be measured at: its own, else drop-of, else those of the highest live supply.
	At unit.Voltage
	// Fed is false when no live supply drives current through it.
	Fed          bool
	Rests        bool // the case says off
	Volts        unit.Voltage
	Amps         unit.Current
	Supply       string       // device whose supply feeds it most
	SupplyVolts  unit.Voltage // at that supply's terminals; of supplies in series, together
	SupplySet    unit.Voltage // its set-point
	FeedDrop     unit.Voltage
	ReturnDrop   unit.Voltage
	Feed, Return []Step // ways; Feed from the supply's plus to the load, Return from the load to the supply's minus
	Span         diag.Span

	element int // of the net
	supply  int // element, where Supply is known
}

// SupplyResult is one supply in a case.
type SupplyResult struct {
	Device  string
	Index   int
	Live    bool
	Volts   unit.Voltage // at its terminals
	Amps    unit.Current // it delivers
	Limited bool         // demand above its current limit
	Idle    bool         // another supply holds the volts above its own
	Follows bool         // no case lists it: it lives while a draw of its own device is fed
	Span    diag.Span

	element int // of the net
}

// RelayResult is one coil that moves a state.
type RelayResult struct {
	Device  string
	Coil    int
	State   string
	Volts   unit.Voltage
	On      bool
	Stated  bool // by the case
	Against bool // the stated state disagrees with the coil
	Hunts   bool // neither on nor off is steady
	PullIn  unit.Voltage
	DropOut unit.Voltage
	Assumed bool // pull-in or drop-out is not stated: PullInShare or DropOutShare of its volts, from memory
	Span    diag.Span
}

// CaseResult is everything solved for one case.
type CaseResult struct {
	Case      string
	Net       *Network
	Point     Point
	Loads     []LoadResult // by device and index
	Supplies  []SupplyResult
	Relays    []RelayResult
	Starts    []StartResult
	WireAmps  []unit.Current // by wire of the net, from its first end to its second
	WireWatts []unit.Power
	Problems  []Problem

	bare  *bare
	again *again
}

// Alone is what was found and no more: of it no corner, no variant, no law and no start can be asked, and nothing is kept for that.
func (c *CaseResult) Alone() *CaseResult {
	x := *c
	x.again, x.bare, x.Starts = nil, nil, nil
	return &x
}

// ProblemKind is why a net has no sensible answer.
type ProblemKind uint8

// Kinds of problem; each is worded by a rule of its own.
const (
	NoSupply   ProblemKind = iota // a case with no live supply
	Shorted                       // a supply shorted: plus and minus joined by next to nothing
	CannotFeed                    // a power load that no volts can feed
	NotConverged
	OverLimit // demand above a supply's limit
)

// Problem is a fact for a rule to word.
type Problem struct {
	Kind   ProblemKind
	Device string
	Index  int
	Coil   bool
	Amps   unit.Current
	Limit  unit.Current
	Detail string
	Span   diag.Span
}
