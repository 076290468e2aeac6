// Package net compiles circuit links to wires: routed along the runs, cut at the breaks they cross, with a cavity on both
// halves of each, named by their circuit and their two ends.
package net

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// TermKind is what a wire ends in.
type TermKind uint8

// Kinds of termination.
const (
	InCavity TermKind = iota // a contact in a cavity of a device's housing
	OnStud                   // a lug on a stud of a device
	InHalf                   // a contact in a cavity of a half of a break
	OnPost                   // a lug on a half of a stud post
	InSplice                 // a barrel with others
	CutBack                  // the far end of a screen or a spare
)

// Termination is one end of a wire.
type Termination struct {
	Kind    TermKind
	Status  design.Status // of the cavity
	Angled  bool          // Angle is stated
	Device  string        // InCavity, OnStud
	Pin     string
	Housing int    // index into the device's housings; InCavity
	Break   string // InHalf, OnPost
	Half    int    // 0 or 1
	Cavity  string // InHalf, OnPost; of a device its cavity's name
	Splice  string
	Near    string // CutBack: the end beside which it is cut back, as written
	// Contact and Seal stated by hand; empty until sized.
	Contact, Seal string
	Order         int         // in the stack of a stud, 1 lowest; 0 not stated
	Thread        string      // of the stud
	Torque        unit.Torque // of its nut; 0 not stated
	Angle         unit.Angle  // of the lug from its wire
	SlidOn        []string    // sleeve parts that go over the wire before its end is made
	Node          int         // of the geometry; -1 for a loose lead's end off the runs
}

// WireKind tells plain wires from screens and spares.
type WireKind uint8

// Kinds of wire.
const (
	Plain WireKind = iota
	Screen
	Spare
)

// Step is an edge of the geometry that a wire follows.
type Step struct {
	Edge    int
	Reverse bool // from the edge's To to its From
	// TakeUp is the most that the lay of the bundle may add here, as a share; the lay itself is found later and adds no more.
	TakeUp unit.Ratio
}

// Wire is what is cut, crimped and pinned: one piece with two terminations in one section.
type Wire struct {
	Name        string // circuit, then its two ends: inj-feed box.f2 - A
	Circuit     string // for a screen or a spare the cable
	From        string // end as written, a break without its cavity
	To          string
	Ordinal     int    // of parallel wires and rings, 1 and up; 0 when there is only one
	Label       string // short mark; stated or computed
	LabelStatus design.Status
	Kind        WireKind
	Loose       bool
	Unmeasured  bool // a part of its way has no known length; Length leaves it out
	Lead        bool // it is the lead of a supply with a limit

	Link   int // index into the circuit's links; -1 for a screen or a spare
	Piece  int // which piece of the link, from its From end, 0 first
	Strand int // which of the parallel wires, 0 first

	Ends        [2]Termination
	Section     string
	Class       string
	Family      string    // wire part
	Stated      unit.Size // zero: auto
	Floor       unit.Size // least size of an automatic one; zero: as the settings say
	Colour      string    // as written; empty: not stated
	Cable       string
	Core        int // in the cable; -1 none
	Path        []Step
	LooseLength unit.Length
	Zone        string       // of a loose lead, or of a wire without a way
	Length      unit.Length  // centre line, slack of the runs included
	Copper      unit.Length  // conductor between the terminations: way, take-up, tails and service loops; it feeds the resistance
	Carries     unit.Current // what the author says it carries, or the limit of the supply whose lead it is; 0 neither
	Sleeve      string
	Span        diag.Span
}

// Zones lists the zones a wire passes, without repeats, in order.
func (w *Wire) Zones(g *space.Geometry) []string {
	if len(w.Path) == 0 {
		return []string{w.Zone}
	}
	var out []string
	for _, s := range w.Path {
		z := g.Edges[s.Edge].Zone
		if len(out) == 0 || out[len(out)-1] != z {
			out = append(out, z)
		}
	}
	return out
}

// Crossing is one passage of one wire strand through a break: two wires, one cavity on both halves.
type Crossing struct {
	Break    string
	Cavity   string // empty: none was left
	Status   design.Status
	Unfused  bool      // it hangs on a supply with no fuse between, in some state of the switches
	Quiet    bool      // a signal, a screen, a sensor's wire, or metal that leads to a minus: what no unfused feed may touch
	Wires    [2]int    // on half 0 and half 1
	Span     diag.Span // of the link
	Decision diag.Span // of the stated or frozen line, if any
}

// Use is what is on a pin of a device.
type Use struct {
	Device, Pin string
	Wires       []int
}

// Joint is a splice with what meets in it.
type Joint struct {
	Splice  string
	Section string
	Node    int // of the geometry; -1 unknown
	Status  design.Status
	Wires   []int
	// Run and After say where along a run it sits, if it sits on one; To is the end of the stretch from whose beginning After counts, empty where
	// it counts from that of the run.
	Run   string
	To    string
	After unit.Length
}

// Hints is what each wire will need, by the wire's name, where that is known already. It steers which cavities are given.
type Hints map[string]Need

// Need is what a wire asks of its contacts.
type Need struct {
	Size unit.Size    // zero: not known
	Amps unit.Current // greatest steady current over all cases; 0 not known
}

// Net is the wires of a job and how they meet.
type Net struct {
	Space     *space.Geometry
	Wires     []Wire     // by name in natural order
	Crossings []Crossing // by break, then by the order of the housing's cavities
	Uses      []Use      // by device and pin
	Joints    []Joint    // by splice
	Problems  []Problem
}

// ProblemKind is what kept something from being connected.
type ProblemKind uint8

// Kinds of problem; each is worded by a rule of its own.
const (
	NoWay           ProblemKind = iota // no route along the runs
	SectionsApart                      // the ways exist but no break joins their sections
	NoCavityLeft                       // a break has no cavity left that takes the wire
	CavityTwice                        // two decisions, or a decision and a wire, want one cavity
	CavityUnknown                      // a decision names a wire that does not pass there
	CircuitsJoined                     // two circuits meet other than on a stud
	CircuitApart                       // links of one circuit do not hang together
	OneEnd                             // a circuit with fewer than two ends
	SeveralInCavity                    // several wires of one circuit in one cavity of a device
	PostShared                         // a stud post holds two circuits
	FrozenLost                         // a frozen cavity or label concerns a wire that is no longer there
	NameTwice                          // two wires would have one name
	LabelTwice                         // two wires have one label
	CableApart                         // circuits of a cable do not run together
	SpliceAlone                        // a splice with fewer than two wires
	NotAPost                           // a link ends at a break that is no stud post
	LabelUnknown                       // a label names a wire that is not there
	CoresShort                         // a bought cable has fewer cores than circuits
	SectionUnknown                     // a loose lead or a jumper off the runs, and no section said
	TwoCavities                        // two decisions give one wire two cavities of a break
)

// Problem is a fact for a rule to word.
type Problem struct {
	Kind     ProblemKind
	Circuit  string
	From, To string // ends of the link, as written
	Other    string // the other circuit, the break, the splice ...
	Break    string
	Cavity   string
	Detail   string // facts a person needs: "the nearest run to coil1 is plugs, 30 mm off"
	Span     diag.Span
	Related  []diag.Related
}
