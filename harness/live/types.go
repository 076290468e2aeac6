// Package live finds what of a connector is still live once it is unplugged: over every state of every switch and relay, with every supply
// of the job attached, those that no case lists as well.
package live

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// Kind is how live a cavity is in the worst of all states.
type Kind uint8

// Kinds, worst first.
const (
	Fed     Kind = iota // a source reaches it over metal: what it gives can burn
	Through             // a source reaches it through a load, which limits what flows
	Earth               // only a minus reaches it
	Dead                // nothing reaches it
)

func (k Kind) String() string {
	return [...]string{"fed", "through a load", "earth", "dead"}[k]
}

// State is a state of the job that proves something, with as few things switched as can be.
type State struct {
	Throws []protect.Throw // all that the way uses, those at rest as well; what is not named is off
	// Words is the state for a person: "ignition on, kill on; relay box.main pulled in; alternator supplies".
	Words string
	Moved int // how many things are not at rest in it, a source that is no battery counted
	// Against names the relays whose coil would have them stand otherwise in this state: what then still proves it is a relay that sticks,
	// or a coil that is fed by other switches.
	Against []string
}

// Feed is one way by which a cavity stays live.
type Feed struct {
	Source protect.Source
	Fuse   *protect.FuseRef // the last one before the cavity; nil: none between it and the source
	Ahead  []protect.FuseRef
	Rating unit.Current // of Fuse
	Behind string       // in words: "fuse box inj, blade-7-5, 7.5 A", or "no fuse: battery"
	Loads  []string     // passed on the way, of what is live through a load
	State  State
	Volts  unit.Voltage // solved in State with every supply attached, against the source's minus
	Amps   unit.Current // of a dead short from the cavity to that minus in State
	// Attained is a state of the switches alone in which the relays of State pull in by themselves and it is live; nil where State asks for no
	// relay, or none was found.
	Attained *State
	Against  string // the minus that Volts and Amps are counted to, as device.pin
}

// Cavity is one cavity of a half, one pin of a plug, or one stud.
type Cavity struct {
	Name    string // of the cavity; of a device the pin
	Wires   []int  // of the net
	Wire    string // name of the first wire there
	Label   string // its label
	Circuit string
	Contact string // pin, socket, stud, lug, or contact where the text does not say which
	Exposed bool   // a finger or a tool meets it: a pin, a bare stud, a loose lug
	Kind    Kind
	Feeds   []Feed       // Fed and Through: by fuse, the one with the fewest things switched first
	Volts   unit.Voltage // the highest of the feeds
	Amps    unit.Current // the highest of the feeds
	// Counts tells whether it is one that must not lie open. It is false where the source's own volts, or what a load holds up, are below
	// live-least, and behind loads of more than live-through.
	Counts bool
	// Faint is live, but below live-least in every state.
	Faint   bool
	Earthed State // Earth: in which state; with nothing moved it is earth always
	// Bounded: the states were too many to try all; it counts as live although none was found to prove it.
	Bounded bool
}

// Half is what hangs on one side once it is undone.
type Half struct {
	Title    string // "A, half tub (sockets)"
	Section  string
	Contacts string // pins, sockets, stud, or empty where the text does not say
	Exposed  bool   // what is live on it lies open
	Live     []Cavity
	Earths   []Cavity
	Dead     []Cavity
	// Counted is how many of Live count.
	Counted int
	Span    diag.Span // of the half's line, else of the break or device
}

// Unplugged is everything about one thing undone.
type Unplugged struct {
	Undo     design.Undo
	Title    string // "break A" ...
	Place    string // panel or section
	Post     bool   // a stud post
	Halves   [2]Half
	Cautions []string // for the person who undoes it, in the order of what matters
	Bounded  bool
	Span     diag.Span
}

// Result is what stays live at every break, in the natural order of their names.
type Result struct {
	Breaks []Unplugged
	// Sources is what was taken to be attached, in words.
	Sources string
	// States is how many sets of states of switches and of relays were gone through.
	Switches, Relays int
	Least            design.Ruling // setting live-least, of the job
	Through          design.Ruling // setting live-through, of the job
}

// Break finds the result of a break; nil if there is none.
func (r *Result) Break(name string) *Unplugged {
	if r == nil {
		return nil
	}
	for i := range r.Breaks {
		if r.Breaks[i].Undo.Name == name {
			return &r.Breaks[i]
		}
	}
	return nil
}

// Anything tells whether any cavity is live.
func (u *Unplugged) Anything() bool { return len(u.Halves[0].Live)+len(u.Halves[1].Live) > 0 }

// end is where a wire ends in a net.
func end(nt *net.Net, wire, k int) *net.Termination { return &nt.Wires[wire].Ends[k] }
