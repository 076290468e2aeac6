// Package assembly solves in which order things are put on each end of each wire and bundle: what must be slid on before the next act, of what
// size a sleeve must be to pass over what is there already and to grip what it lies on, and how lugs lie on a stud.
//
// Acts are a graph: some must be done before others, and whatever is slid on must come before everything that it cannot pass over on one of its
// two sides. Where there is an order one is found; where there is none, the acts that stand against one another are named.
package assembly

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Plan is the order of assembly of every section, and the lugs of every stud.
type Plan struct {
	Sections []Section // by name
	Stacks   []Stack   // by device or break, then by pin
	Misfits  []Misfit  // by section and place
	Against  []Against // by section
}

// Section is the order of one section.
type Section struct {
	Name   string
	Things []Thing // what is slid or put on, in the order in which it goes on
	Places []Place // connectors, studs, splices, runs, as each is first worked on; those at which just the same is done are one
	Order  []Round // the whole section in working order
}

// Thing is one line of the list of sleeves and boots: pieces that are alike.
type Thing struct {
	Kind    string // mark, sleeve over a wire, sleeve over an end, sleeve over a splice, sleeve over a run, screen, boot, backshell
	Part    string
	Size    unit.Length // as the part is bought; 0: the part has none, or none fits
	Length  unit.Length // to cut one; 0: whole, or not known
	Count   int
	Where   string      // "run tail, plug to b", "splice s-feed", "A, engine half"
	From    string      // from which side it goes on: "from A"; empty: from the end it is for
	Before  string      // the first step that it must be on before: "its contacts are crimped at A"; empty: at any time
	Over    unit.Length // the most it must pass or lie over
	Grips   unit.Length // the least it must grip; 0: it need not
	Heat    bool        // it recovers when heated
	Rated   unit.Temperature
	HasHeat bool // Rated is stated
	Note    string
	Places  []int // of the section
}

// Place is where steps are done one after the other.
type Place struct {
	Title  string   // its Titles in one line
	Titles []string // "A, engine half", "stud main of block", "splice s-feed", "run tail, plug to b", "all runs"; several where just the same is done
	Kind   string   // connector, stud, splice, run, wire, cable, board, bush
	Steps  []Step
	Span   diag.Span // of the first
}

// Step is what is done at a place, in words: for all its ends at once.
type Step struct {
	Number int    // within the place, 1 first
	Do     string // "slide on the marks"
	With   []Each // the ends or pieces it is done to, those alike together; empty: the place as a whole
	After  string // what of other places must be done first: "sleeve shrink is on run tail"; empty: nothing
}

// Each is ends at which the same is done.
type Each struct {
	What string // "marker 3.2 mm", "size-16 pin, strip 6.5 mm"
	Ends string // "cavities 1 to 6, 9", "stud main: 104"
	N    int
}

// Round is steps of one kind that are done one after the other.
type Round struct {
	Do    string // "strip and crimp"
	Where string // "A, engine half; coil1, coil2" with the number of the step where it is not plain: "(step 4)"
	Turns []Turn
}

// Turn is a step of a place, both counted from 0.
type Turn struct{ Place, Step int }

// Stack is the lugs on one stud, in the order in which they are laid on.
type Stack struct {
	Title    string // "stud main of block", "stud post post-plus, rear half"
	Device   string
	Pin      string
	Break    string
	Half     int
	Sections []string
	Thread   string
	Lugs     []Lug // lowest first
	Torque   unit.Torque
	Source   string // of the torque; empty: stated
	Verified bool   // the torque is stated, or from a table that was read
	Bare     bool   // the lowest lug lies on metal of the body: bare, bright, no paint
	Nut      string // what lies above the lugs, in words
	Most     int    // lugs allowed by studs-most
	Room     bool   // the lugs can be turned so that no barrel lies on another
	Wrong    []Wrong
	Span     diag.Span
}

// Lug is one in a stack.
type Lug struct {
	Order     int // 1 lowest
	Status    design.Status
	Wire      int // of the net
	Label     string
	Name      string
	Section   string
	Size      unit.Size
	Part      string      // the lug's, where one is named
	Hole      string      // thread
	Barrel    unit.Length // across; 0 not known
	Palm      unit.Length // across; 0 not known
	Stated    bool        // Angle is stated: the form of the lug
	Angle     unit.Angle  // stated: of the lug from its wire. Else by how much it is turned from the way its wire leaves, clockwise looking at the nut, to clear the next one
	Direction string      // towards where its wire leaves: "rail towards inj2"
	Clock     unit.Angle  // the lug's barrel, clockwise looking at the nut, from the lowest lug's; valid if Turned
	Turned    bool
	Span      diag.Span
}

// Wrong is two lugs whose order cannot be as stated.
type Wrong struct {
	What         string // same, larger-above
	Lower, Upper int    // of Lugs
}

// Misfit is a sleeve or boot of which no size will do.
type Misfit struct {
	Section string
	Kind    string // as Thing.Kind
	Part    string
	Where   string
	Subject diag.Subject
	Over    unit.Length // the most it must be opened to
	Grips   unit.Length // the least it must recover to; 0: it need not
	// Recovered and Expanded are of the size that comes nearest; both 0: it has no sizes.
	Recovered, Expanded unit.Length
	What                string // of a boot: bundle or body; empty: a sleeve
	Span                diag.Span
}

// Against is things for which there is no order.
type Against struct {
	Section string
	Subject diag.Subject
	Things  []string // in words: "sleeve shrink over run tail, plug to b"
	Why     []string // for each way in which the first could go on, what is in it: "from b: plug b is 39 mm across and comes on its wires"
	Whole   bool     // every way was tried
	Spans   []diag.Span
}
