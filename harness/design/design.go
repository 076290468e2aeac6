// Package design holds the declared facts of a job: what a person decided, with units checked, names resolved and the place in
// the text kept. It knows neither the syntax of the text nor anything computed. All lists are in the natural order of their
// names, so that the order of statements in a file never shows.
package design

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Status tells how a fact came to be.
type Status uint8

// A decision hardens from computed to measured.
const (
	Computed Status = iota
	Stated
	Frozen
	Built
	Measured
)

func (s Status) String() string {
	return [...]string{"computed", "stated", "frozen", "built", "measured"}[s]
}

// Common is what every statement may carry.
type Common struct {
	Span   diag.Span
	Note   string
	Source string
	// Only is the condition under which the statement holds; kept for variants.
	Only   string
	Frozen string // the revision since which this is copper or holes; empty if it is not
}

// Status of a decision written by hand.
func (c Common) Status() Status {
	if c.Frozen != "" {
		return Frozen
	}
	return Stated
}

// Fact is a stated value with its spread and where it came from. The zero Fact was not given.
type Fact[T ~float64] struct {
	unit.Spread[T]
	Given  bool
	Source string // empty: the line that states it
	Span   diag.Span
}

// Or is the nominal value if given, else x.
func (f Fact[T]) Or(x T) T {
	if f.Given {
		return f.Nominal
	}
	return x
}

// Point3 is a point in job coordinates, from the datum.
type Point3 struct{ X, Y, Z unit.Length }

// Spot is where a thing sits. Node is the canonical name under which runs meet there: things put at the name of another
// place, without an offset, share that place's node.
type Spot struct {
	Node  string
	At    Point3
	Known bool
	Where diag.Span
}

// Job is everything declared.
type Job struct {
	Title, Date, Datum string
	Revision           string
	Sheet              string // A4, A3 or letter
	Up                 string // the axis that points up: x, y or z; empty is z
	Painted            string // the revision since which nothing may be drilled or welded; empty: the shell is bare
	Common

	Sections []*Section
	Zones    []*Zone
	Panels   []*Panel
	Tubes    []*Tube
	Points   []*Point
	Runs     []*Run
	Hazards  []*Hazard
	Devices  []*Device
	Breaks   []*Break
	Splices  []*Splice
	Circuits []*Circuit
	Cables   []*Cable
	Cases    []*Case
	Removals []*Removal
	Stocks   []*Stock
	Accepts  []*Accept

	Cavities []*CavityDecision
	Labels   []*LabelDecision
	Seats    []*SeatDecision
	Holes    []*Hole
	Fixings  []*Fixing

	Settings Settings
	Parts    Parts
}

// Section comes away and is built on the bench as one piece.
type Section struct {
	Name string
	Common
}

// Zone is a region with its highest ambient.
type Zone struct {
	Name   string
	Air    unit.Temperature
	HasAir bool
	With   []string // wet, splash, oil, salt, abrasion, engine-space
	Common
}

// Panel is a sheet of the body.
type Panel struct {
	Name      string
	Corners   []Point3 // of a flat sheet, in order round
	Points    []Point3 // places measured on a sheet that is not flat, in any order; used where there are no Corners
	Thickness unit.Length
	Skin      string     // sheet or bonded (nothing is drilled or welded for a clip); empty is sheet
	Zones     []string   // its two sides
	Seen      []string   // zones from which it will be seen
	KeepOuts  [][]Point3 // areas in which nothing may be drilled
	Common
}

// Tube is a round member of the frame that runs are tied to.
type Tube struct {
	Name    string
	Nodes   []Spot // ends and bends in order
	Outside unit.Length
	Common
}

// Point is a named place.
type Point struct {
	Name string
	Spot
	Panel string
	Bush  unit.Length // bore of a bush through which wires may cross the panel here; 0 is none
	Common
}

// Run is a way a harness takes.
type Run struct {
	Name      string
	Section   string
	Zone      string
	Panel     string
	Tube      string // the tube it is tied to, instead of a panel
	Sleeve    string
	Clip      string
	Fastener  string
	Bend      Fact[unit.Length] // radius of its centre line at its waypoints; not given: set bend-radius
	Stretches []Stretch
	Common
}

// Stretch is one way of a run through two or more nodes in order. The parts between its nodes are straight.
type Stretch struct {
	Nodes  []Spot
	Length Fact[unit.Length] // by string, over the whole stretch
	Slack  unit.Length
	Date   string
	Moves  unit.Length // how far one end moves against the other in use
	Span   diag.Span
}

// Hazard is something to keep away from.
type Hazard struct {
	Name      string
	Kind      string // exhaust, fuel, brake, moving, edge; empty: none of these
	Shapes    []Shape
	Outside   unit.Length // diameter of what the lines are the middle of; 0: a line
	Clearance unit.Length // 0: by kind, from the settings
	Sleeved   unit.Length // clearance with a heat sleeve; 0 is none allowed
	Common
}

// Shape is a hazard in one of its positions.
type Shape struct {
	Position string // such as "full lock left"; empty: where it is
	Box      bool   // Points are two opposite corners of a box, else a line through all of them
	Points   []Point3
	Span     diag.Span
}

// Break is where two sections part.
type Break struct {
	Name string
	Spot
	Panel  string
	Key    string
	Class  string     // the class it is kept for; empty takes all
	Flange string     // zone on whose side of the panel the flange sits; empty: the side of the half that is fixed
	Turn   unit.Angle // of the key about the hole's axis, clockwise seen from the flange's side; 0: up
	Faces  Spot       // where its wire side looks; not Known: along the run that leaves it
	Halves [2]Half
	Common
}

// Half is one half of a break.
type Half struct {
	Section  string
	Contacts string // pins, sockets or empty (a stud post)
	Mount    string // fixed or free
	Housing  string
	Boot     string // over its back; empty: that of the housing
	Fitted   bool   // it comes on its wires, moulded or crimped by its maker: nothing is slid on after it
	Span     diag.Span
}

// Splice is a permanent joint.
type Splice struct {
	Name    string
	Section string
	Spot           // not Known and Along empty: chosen by the program
	Along   string // run
	To      string // the node at which the stretch ends in which it lies, After being counted from the beginning of that stretch; empty: from the beginning of the run
	After   unit.Length
	Sleeve  string
	Barrel  string // part; empty: the smallest that takes its wires
	Chosen  bool   // the program chose Along, To and After; never set in a job as it is declared
	Common
}

// SeatDecision is the place of a splice said outside its own line. One that holds is in the splice already; one that is frozen outlives its splice and its run.
type SeatDecision struct {
	Splice string
	Along  string
	To     string
	After  unit.Length
	Lost   bool // frozen, and the splice or the run is no longer there
	Common
}

// Circuit is wires of one name, written as links.
type Circuit struct {
	Name  string
	Class string
	Links []Link
	Common
}

// EndKind is what an end of a link is.
type EndKind uint8

// Kinds of end.
const (
	AtPin    EndKind = iota // a pin of a device
	AtSplice                // a splice
	AtBreak                 // the stud of a break
)

// End is one end of a link.
type End struct {
	Kind EndKind
	Name string // of the device, splice or break
	Pin  string // of the device
	Span diag.Span
}

// String is the end as it is written: device.pin, splice or break.
func (e End) String() string {
	if e.Kind == AtPin {
		return e.Name + "." + e.Pin
	}
	return e.Name
}

// Via is a thing a link must pass.
type Via struct {
	Kind string // point, run or break (any other placed thing counts as a point)
	Name string
	Node string // for all but a run
	Span diag.Span
}

// Link is one from .. to ..; options of its circuit are already merged in.
type Link struct {
	From, To End
	Via      []Via
	Size     unit.Size // zero is auto
	SizeSpan diag.Span
	Floor    unit.Size // least size an automatic wire may get; not of the language, set when a stated size is tried larger
	Wire     string    // family; empty: set wire
	Colour   string    // as written: red/white
	Class    string
	Parallel int // 1 or more
	Carries  Fact[unit.Current]
	Sleeve   string
	// A loose lead follows no run.
	Loose        bool
	LooseLength  Fact[unit.Length]
	LooseSection string
	LooseZone    string
	Common
}

// Cable is circuits that stay together.
type Cable struct {
	Name   string
	Holds  []string // circuits in order of cores
	As     string   // pair, multicore, bus
	Wire   string   // bought cable; empty is made up on the bench
	Twist  unit.Length
	Screen []PinRef // pins that earth the screen; empty: no screen, or one cut back at both ends
	From   *End     // where it is not the whole circuit
	To     *End
	Common
}

// PinRef names a pin of a device.
type PinRef struct {
	Device, Pin string
	Span        diag.Span
}

func (p PinRef) String() string { return p.Device + "." + p.Pin }

// Case is an operating condition.
type Case struct {
	Name     string
	Air      unit.Temperature // outside, for zones without their own
	HasAir   bool
	For      unit.Time
	Supplies []CaseSupply
	States   []CaseState
	Off      []string // devices that rest although fed, or supplies that are disconnected
	Works    []string // devices that must run
	ZoneAir  []ZoneAir
	Common
}

// CaseSupply is a live supply, all supplies of the named device.
type CaseSupply struct {
	Device string
	At     Fact[unit.Voltage]
	Inside Fact[unit.Resistance]
	Span   diag.Span
}

// CaseState sets a switch or relay.
type CaseState struct {
	Device, Group, State string
	Span                 diag.Span
}

// ZoneAir overrides a zone's ambient in a case.
type ZoneAir struct {
	Zone string
	Air  unit.Temperature
	Span diag.Span
}

// Removal is what comes away and what is undone for it.
type Removal struct {
	Name     string
	Sections []string
	Undo     []Undo
	Common
}

// Undo is one thing undone, in order.
type Undo struct {
	Kind string // break, device or stud
	Name string
	Pin  string
	Span diag.Span
}

// Stock is reels of one wire that are at hand.
type Stock struct {
	Wire    string        // part: a family, or a bought cable
	Size    unit.Size     // zero for a bought cable
	Colour  string        // as written; empty for a bought cable
	Lengths []unit.Length // what is on each reel, longest first
	Common
}

// Accept is a finding a named person takes responsibility for.
type Accept struct {
	Key      string
	Subject  diag.Subject
	Value    unit.Quantity
	HasValue bool
	Reason   string
	By       string
	Until    string
	Common
}

// CavityDecision gives a cavity of a break or a device to a wire.
type CavityDecision struct {
	Break, Device string // one of the two
	Cavity        string // of a break; of a device the pin
	Circuit       string // empty for a spare
	From, To      string // one wire of the circuit, ends as written; empty: the circuit's next wire there
	Contact, Seal string
	Order         int
	Angle         Fact[unit.Angle] // of a lug from its wire
	SlidOn        []string         // sleeve parts that go over the wire before its end is made
	Spare         string           // class
	Common
}

// LabelDecision gives a wire its short mark.
type LabelDecision struct {
	Text              string
	Circuit, From, To string
	Common
}

// Hole is a hole decided by hand.
type Hole struct {
	Name string
	Spot
	Panel    string
	Drill    unit.Length // its diameter, or its width where High is given
	High     unit.Length // height of a rectangular one; 0: round
	Fastener string
	Common
}

// Fixing is a clip decided by hand.
type Fixing struct {
	Name     string
	Run      string
	After    unit.Length
	Clip     string
	Hole     string
	Fastener string
	Screw    unit.Length // of its screw, or of the stud; 0: worked out
	Panel    string
	Common
}
