// Package bench turns the wires into work: what to cut, how long, what goes into which cavity, and what to buy.
package bench

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/face"
	"loomsheet/harness/fix"
	"loomsheet/harness/joint"
	"loomsheet/harness/unit"
)

// Plan is everything a builder does.
type Plan struct {
	Sections []SectionPlan // by name
	Parts    []PartCount   // by kind and name
}

// SectionPlan is one section's work on the bench.
type SectionPlan struct {
	Name       string
	Note       string
	Cuts       []Cut // in cutting order: family, size largest first, colour, longest first
	Connectors []Connector
	Splices    []Splice
	Sleeves    []fix.SleeveCut // over the runs of the section
	Crimps     []Crimp         // by set-up of the tool
	Samples    []Sample        // wire for the crimps that are pulled off, in the order of Crimps
	Markers    []Marker        // in the order of Cuts
	Pairs      []Pair          // made up on the bench, by cable
	Picks      []PartCount     // what to take from the shelf, by kind and name
	Inspection Inspection
}

// Cut is one piece to cut: a wire, or a bought cable with its cores. Length is 0 when it is not known: never guess it.
type Cut struct {
	Wire   int // of the net; of a bought cable its longest core
	Name   string
	Label  string
	Family string
	Size   unit.Size
	Colour string // as written, or by the rule of func Colour; empty for a bought cable
	Code   string // IEC 60757 letters
	// ColourStatus is computed when nobody stated the colour.
	ColourStatus design.Status
	Length       unit.Length // rounded up; their sum is Terms
	Screen       bool        // a screen that is put over its cores on the bench
	Planned      unit.Length // of Length what the wire takes at its planned way; the rest is tolerance, waste and rounding
	Terms        Terms
	Ends         [2]CutEnd
	Cable        string
	Cores        []Core // of a bought cable, cut once to Length; they are listed nowhere else
	Note         string
}

// Core is one core, or the screen, of a bought cable.
type Core struct {
	Wire         int // of the net
	Name         string
	Label        string
	Colour, Code string
	ColourStatus design.Status
	Size         unit.Size
	Ends         [2]CutEnd
	Screen       bool
}

// Term is one part of a cut length.
type Term struct {
	What   string // "tunnel 0 to 1490", "take-up 2 %", "tail A", ...
	Length unit.Length
	Kind   TermKind
}

// TermKind is what a part of a cut length is for.
type TermKind uint8

// Kinds of terms, in the order of a sum.
const (
	WayTerm       TermKind = iota // a piece of the way, or its slack
	TakeUpTerm                    // of the lay of the bundle, or of a twist
	BreakoutTerm                  // from the middle of a bundle to its surface
	EndTerm                       // a tail
	LoopTerm                      // a service loop
	WasteTerm                     // what is cut off and lost at a crimp
	ToleranceTerm                 // by how much the way may be longer than planned
	RoundTerm                     // up to a whole multiple
)

// CutEnd is one end of a cut wire.
type CutEnd struct {
	Text    string      // "A, cavity 4", "splice s-inj", "stud main of block"
	Contact string      // contact part with its half ("size-20 socket"), "M8 lug", "barrel", "cut back"
	Seal    string      // slid on before the contact, or NoSeal; empty: none
	Strip   unit.Length // 0 not known
	Tool    string
}

// Connector is a connector half, or a device's housing, as it is pinned.
type Connector struct {
	Title    string // "A, engine half" or "ecu housing a"
	Break    string
	Half     int
	Device   string
	Housing  string // part
	Contacts string // pins, sockets or as the device has it
	Key      string
	Mount    string
	Panel    string
	Rows     []PinRow // every cavity, in the housing's order; a row for each wire where several share a stud
	// Wire and Mating are its face from both sides; without cavities where the housing states no places.
	Wire, Mating face.Face
	// Cavities and Free count the housing's cavities and those without a wire, for a break that is no stud post; SpareShare is their ratio.
	Cavities, Free int
	SpareShare     unit.Ratio
	Span           diag.Span
}

// PinRow is one cavity, or one lug on a stud.
type PinRow struct {
	Cavity       string // of a stud its pin
	Pin          string // of a device, where it has a name of its own
	Wires        []int  // of the net; empty is blank
	Label        string
	Name         string
	Colour, Code string
	ColourStatus design.Status
	Status       design.Status
	Size         unit.Size
	Cable        string
	GoesTo       string
	Contact      string
	Seal         string
	Blank        string // "blank: plug it", "left empty on purpose"; empty when a wire is there
	Plug         string // blanking plug part of an empty cavity that wants one; empty: none is known
}

// Splice is a joint as it is made.
type Splice struct {
	Name   string
	Where  string // "rail, 60 mm from valley" or "at dash-hub"
	Status design.Status
	Wires  []SpliceWire
	Area   unit.Area // of all conductors together
	Sleeve string
	// Ready to print; empty where it is not known.
	Lie        string    // "wires from both sides" or "all wires from one side"
	Left       string    // where its left leads: "rail towards inj2"; left is towards the beginning of the run
	Right      string    // where its right leads
	Barrel     string    // "barrel-2, 8 mm long, 4 mm across, for 1.04 mm2 to 2.65 mm2"
	Strip      string    // of every wire: "9 mm"
	Tool       string    // tool, locator and setting
	Smallest   unit.Size // the smallest wire: a pull on the joint counts by it
	SleeveSize string    // size and length to cut: "shrink 6.35 mm, 35 mm long"
	SleeveOver string    // what it passes and closes on: "passes over 5.4 mm, closes on 2.2 mm"
	Wrong      []string  // what is still open: no barrel, no size of the sleeve
	Made       joint.Made
}

// SpliceWire is one wire in a splice.
type SpliceWire struct {
	Wire  int
	Label string
	Name  string
	Code  string
	Size  unit.Size
	To    string
	// Leaves is the way it leaves the splice: "rail towards inj2".
	Leaves string
	Side   string // "left", "right" or "stays here"
}

// PartCount is one line of the purchase list, or of what is picked for a section.
type PartCount struct {
	Kind    string
	Name    string
	Count   int         // of wire in pieces; samples and scrap included
	Samples int         // of Count, crimped to be pulled off, or cut for that
	Scrap   int         // of Count, for crimps that are spoiled
	Length  unit.Length // of wire, sleeve and filler; samples included
	Unknown int         // pieces whose length is not known, and which Length leaves out
	Own     bool
	Source  string
}
