// Package joint puts the splices that nobody placed where they cost the least copper, keeps splices apart, and says of each joint what it is
// made of: barrel, sleeve, which wires lie on which side.
package joint

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Places is where splices were put, and what each of them is made of.
type Places struct {
	Chosen []Choice // the splices that had no place, by name
	Made   []Made   // every splice of the net, by name; found once there are sizes
	Crowds []Crowd  // splices too near to one another, by their first names
}

// Choice is a place that was found.
type Choice struct {
	Splice  string
	Section string
	Run     string
	To      string      // end of the stretch in which it lies, where the run has several
	After   unit.Length // whole millimetres from the beginning of the run, or of that stretch
	// Nowhere is set when there is no run of known length to choose a place on: the net then takes a node, if there is one.
	Nowhere bool
	// Copper is what all its wires weigh together, by the sizes guessed before there are any (see Place); Least is what they would weigh if
	// this splice were alone, at the best place in which it may lie.
	Copper, Least unit.Mass
	// Over is by how much the places of the splices that contend for room with this one, or hang on it, can weigh less together at most, on whole
	// millimetres; 0: no others weigh less. Unmet is set when they do not all find room: then nothing is said of the least.
	Over  unit.Mass
	Unmet bool
}

// MissKind is what is wrong with a place.
type MissKind string

// Kinds of miss.
const (
	NearEnd      MissKind = "end"      // too near a connector or a stud
	NearBranch   MissKind = "breakout" // too near a breakout
	FarFromBoth  MissKind = "far"      // close to neither, where it should be
	InBend       MissKind = "bend"
	InBush       MissKind = "bush"
	AtClip       MissKind = "clip"
	InHeat       MissKind = "heat"
	InWet        MissKind = "wet"
	InMotion     MissKind = "moving"
	NearSplice   MissKind = "splice"
	WithoutPlace MissKind = "nowhere"
)

// Miss is one limit that a place does not meet.
type Miss struct {
	Kind   MissKind
	What   string           // what is near: the name of a node, a clip, a splice, a zone; of heat the part that does not stand it
	Is     unit.Length      // distance to it, from the middle of the joint along the wires
	Wants  unit.Length      // the least, or for far the most, it may be
	Hot    unit.Temperature // of heat: what it gets there; the air with heat-margin, or the conductors
	Stands unit.Temperature
	Inside bool   // Hot is that of the conductors
	Source string // the setting that rules, and who set it
	wish   bool   // no limit, but better not
}

// share is by how much of the limit it is missed, from above 0 to 1.
func (m *Miss) share() float64 {
	if m.wish {
		return 0.05
	}
	switch m.Kind {
	case NearEnd, NearBranch, InBend, InBush, AtClip, NearSplice:
		if m.Wants > 0 && unit.Finite(m.Is) {
			return min(1, max(0, float64(1-m.Is/m.Wants))+1e-6)
		}
	case InMotion:
		if m.Wants > 0 {
			return min(1, max(0, float64(1-m.Is/m.Wants))+1e-6)
		}
	case FarFromBoth:
		if m.Wants > 0 && unit.Finite(m.Is) {
			return min(1, max(0, float64(m.Is/m.Wants-1))+1e-6)
		}
	}
	return 1
}

// Crowd is splices of one bundle that lie too near to one another.
type Crowd struct {
	Section string
	Splices []string    // by name
	Where   string      // of the first: "at hub", "in run rail, 60 mm along"
	Is      unit.Length // least distance of two of them, middle to middle
	Wants   unit.Length // what these two want
	Source  string
	Span    diag.Span
}

// Side of a joint by which a wire leaves it.
type Side uint8

// Sides of a joint.
const (
	Stays Side = iota // a wire whose other end is here as well, or that has no way
	Left              // towards the beginning of the run
	Right             // towards its end
)

func (s Side) String() string { return [...]string{"stays here", "left", "right"}[s] }

// Made is one joint as it is made.
type Made struct {
	Splice  string
	Section string
	Status  design.Status // of its place
	Node    int           // of the geometry; -1 not known
	Wires   []int         // of the net
	Sides   []Side        // of each of them
	Run     string        // along which left and right are told; empty: there is no way here
	Towards [2]string     // where left and right lead, as a person knows the next node; empty: nothing there
	// Lie is how the wires lie in the barrel: "from both sides" (a butt joint) or "all from one side" (a parallel joint, its blind end closed
	// by the sleeve); empty: fewer than two wires.
	Lie      string
	Area     unit.Area // of all conductors together; 0: one of them is not known
	Smallest unit.Size // of them: no pull on the joint holds more than this wire

	Barrel       string // part; empty: none takes the conductors
	Given        bool   // it was stated, else the smallest that takes them
	Fits         bool   // the conductors are in its range
	Range        [2]unit.Area
	Length       unit.Length // of the barrel; 0 not known
	Outside      unit.Length // of the barrel, crimped; 0 not known
	Strip        unit.Length // of each wire; 0 not known
	Tool         string
	Verified     bool // the barrel's figures come from a document
	Wet          bool // it lies in a wet or splashed zone
	Zone         string
	Sleeve       string      // part; empty: none
	Glued        bool        // lined with glue
	Own          bool        // the sleeve was stated for this splice, else it is that of the settings
	SleeveSize   unit.Length // as it is bought; 0: none fits, or it is not known
	SleeveLength unit.Length // to cut
	Passes       unit.Length // what the sleeve must go over before it is shrunk: the barrel, or the wires on one side; 0 not known
	Grips        unit.Length // the smallest it must close on
	SleeveWhy    string      // why no size fits, or why the sleeve will not do here; empty: nothing is wrong
	Misses       []Miss      // what is wrong with its place, in the order of the kinds above
	Span         diag.Span
}
