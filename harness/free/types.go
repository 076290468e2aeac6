// Package free proves that undoing what a removal lists frees its sections, or names what still ties them; and says what each step of undoing
// takes away from what stays connected.
//
// The proof is a graph: what comes away on one side, what stays on the other, and between them every place where a wire, a core, a screen or
// a lug of the one meets the other. Undone places are left out; what is left is a tie. From space come what wires cannot tell: clips that
// sit on the body or share a hole, bundles threaded through a bush, halves of breaks that are let into a panel, tails too short to draw a
// plug back. What a step takes away is solved, not guessed: the net of every case again with all undone so far (net.Parted).
package free

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Proof is what was found of every removal and of every section by itself.
type Proof struct {
	Removals []Part // in the job's order
	Sections []Part // by section, undone everywhere it meets another; the order is the program's
}

// Part is what comes away at once.
type Part struct {
	Name     string   // of the removal, or of the section
	Alone    bool     // a section by itself: nobody listed what is undone
	Sections []string // that come away
	Devices  []string // that come away with them, natural order
	Free     bool     // nothing ties it once all is undone
	Verdict  string   // that in a sentence
	Ties     []Tie    // what still ties it, by what would undo it
	Steps    []Step   // in the order to undo
	Clips    []Clips  // to take off after the last step, by run
	Assumed  []string // sentences: what no fact of the job tells and was taken for granted
	Span     diag.Span
}

// TieKind is what ties.
type TieKind uint8

// Kinds of tie.
const (
	ByWire   TieKind = iota // a wire
	ByCore                  // a core of a cable
	ByScreen                // the screen of a cable
	ByEarth                 // a wire whose lug is on a stud that leads to a supply's minus
	ByLead                  // a loose lead
	BySplice                // a wire crimped into a splice with others
	ByLay                   // a wire that lies in a bundle of the other side
	ByClip                  // a clip that shares its hole or its screw with one that stays
	ByBush                  // a bundle threaded through a bush, with ends that do not pass it
	ByHalf                  // a half of a break that is let into a panel from the side that stays
)

func (k TieKind) String() string {
	return [...]string{"wire", "core", "screen", "earth", "loose lead", "splice", "wire in another bundle", "clip", "bush", "half of a break"}[k]
}

// Tie is one thing that still holds what should come away.
type Tie struct {
	Kind  TieKind
	Name  string    // wire, clip, bush or break
	Label string    // mark of the wire
	Cable string    // its cable
	Ends  [2]string // of the wire, as written
	At    string    // where it ties: "break N, cavity 5", "stud shell.nose"
	Place string    // in words: panel and coordinates; empty where not known
	Group string    // what its fellows share: "break N", "device map", "splice s"; ties of one group stand together
	Mend  string    // what would undo it, a sentence
	Text  string    // the whole in a sentence
	Span  diag.Span
}

// Line is one wire of a step.
type Line struct {
	Wire   string // name
	Label  string // mark
	Cable  string
	At     string       // "cavity 5", or "lug on the tub half", "lug on battery.neg"
	Off    bool         // it comes away from what it meets; false: a lug that only is loose meanwhile and goes back
	Role   Role         // what it is to what it feeds
	Amps   unit.Current // through it just before, with all earlier steps done: the most over the cases, never negative
	InCase string       // in which; empty where it carries nothing
}

// Role is what a wire does in the cases.
type Role uint8

// Roles.
const (
	Signal Role = iota // carries no load's current in any case
	Feed               // on the way of some load's feed
	Return             // on the way of some load's return
)

func (r Role) String() string { return [...]string{"signal", "feed", "return"}[r] }

// Step is one thing undone.
type Step struct {
	Number  int // from 1
	Undo    design.Undo
	Title   string   // what is undone, an order: "Pull the engine half of break A off the tub half"
	Place   string   // where: panel and coordinates
	Size    string   // of what a spanner is put on: "nut M10, 16 mm across (from memory)"; empty for a plug
	First   []string // what must be done before, sentences: clips to take off so that the plug can be drawn back, what does not reach
	After   []string // what is done with it then, sentences: a half to unscrew from its panel, lugs that go back
	Lines   []Line   // its wires, by cavity or by name
	Feeds   []string // circuits whose feed it opens
	Returns []string // circuits whose return it opens
	Signals []string // circuits that carry signals or nothing in the cases
	Losses  []Loss   // what loses its feed, its earth ... with this step, worst kind first
	Needed  bool     // it is on the border, or takes the last of a supply away; false: it undoes nothing
	Why     string   // of one that is not needed: what is wrong with it
	Span    diag.Span

	// What flows through its worst contact or lug just before, with all earlier steps done.
	Pulled     unit.Current
	PulledAt   string // "cavity 5", "lug of wire ..."
	PulledWire string
	PulledCase string
	Lug        bool           // it is a lug, not a contact
	Kills      bool           // afterwards nothing is fed in any case in which something was before: current through its lugs is expected
	Limit      unit.Current   // set pull-current
	Ruling     *design.Ruling // of the limit; one for all steps with the same
	Over       bool           // it breaks more than the limit, and does not kill by its lugs
	Dead       bool           // afterwards no supply can feed anything, in any case, nor one that no case lists
	Live       []string       // devices whose supplies can still feed something afterwards, in some case, or that no case lists
	Cautions   []string       // sentences for the fitter: what to switch off first, from where on all is dead, what still feeds

	Tails []Tail // of its plugs, worst first
}

// LossKind is what happens to a load.
type LossKind uint8

// Kinds of loss, worst first.
const (
	Backward LossKind = iota // current runs through it the wrong way round
	Through                  // it gets current through another load
	Risen                    // it gets more volts than its supply was set to, by more than set undone-volts
	Earth                    // it keeps its feed, but its return is gone
	Wakes                    // it gets current that it had not before
	Weak                     // it gets fewer volts, by more than set undone-volts
	Relay                    // its relay lets go
	Off                      // it is off: its feed is gone, or all is
)

func (k LossKind) String() string {
	return [...]string{"fed backward", "fed through another load", "too many volts", "earth lost", "comes on", "fewer volts", "relay lets go", "off"}[k]
}

// Loss is what one load loses with a step.
type Loss struct {
	Kind     LossKind
	Device   string
	Load     string // in words: the device, and of several loads its ends
	Index    int    // into the device's draws, or coils when Coil is set
	Coil     bool
	InCase   string // the case in which it is worst
	Volts    unit.Voltage
	Was      unit.Voltage // with all earlier steps done
	Amps     unit.Current // as the load is written: negative is the wrong way
	WasAmps  unit.Current
	Switched bool   // Off: its feed is there still, its switched return is gone
	By       string // Through: the other load; Earth: the supply that it hangs on; Risen: the supply
	Text     string // a sentence
	Span     diag.Span
}

// Tail is whether the free half of a plug can be drawn back.
type Tail struct {
	Half     string      // section of the half that is drawn back, or the device whose plug it is
	Draw     unit.Length // by how much: set draw-back
	Bundle   unit.Length // outside diameter at the plug, sleeved, by the trade's figure
	Radius   unit.Length // least radius of the bow that it then makes: set bend-bundle times the bundle
	Loop     unit.Length // service loop and slack, which give way first
	Need     unit.Length // free length that such a bow takes
	Free     unit.Length // from the plug to the first clip, or to what else holds it
	Holds    string      // what does
	Undo     []string    // clips to take off first, nearest first
	Fast     string      // what holds it nearer than Need and cannot be taken off; empty: nothing
	Short    bool        // it cannot be drawn back: Fast holds it, or both halves are fixed
	Rigid    bool        // both halves are fixed
	Ruling   design.Ruling
	Position string // of Fast or of the plug in words
}

// Clips is the clips of one run to take off.
type Clips struct {
	Run   string
	Marks []string
	On    string // "panel firewall-high", "tube chassis-left"; empty: not stated
	Stays bool   // they are on a run that stays, and on what comes away
	Text  string // a sentence
}
