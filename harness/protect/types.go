// Package protect traces every conductor back to what protects it, and weighs each fuse against its load, its wires, and a dead
// short at the far end of what it feeds.
package protect

import (
	"sort"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/heat"
	"loomsheet/harness/unit"
)

// Never is a time that is never reached.
const Never unit.Time = 0

// FuseRef names a fuse: a device and the index into its fuses.
type FuseRef struct {
	Device string
	Index  int
}

// FuseResult is one fuse over all cases.
type FuseResult struct {
	FuseRef
	Part     string
	Kind     string // of time-current gate
	Rating   unit.Current
	From, To string          // pins
	Gate     []data.FuseGate // rising multiple; empty: none is at hand
	Verified bool            // the gate and the ambient factor are verified for this very fuse
	Return   bool            // it lies on the minus side: no source reaches it but through a load
	Zone     string
	Ambient  unit.Temperature // highest air over all cases
	Factor   unit.Ratio       // what the ambient leaves of the rating
	Steady   unit.Current     // greatest steady current
	Case     string           // in which it flows; empty where Lead
	Lead     bool             // Steady is the limit of the charging supply in whose lead it lies: no case shows what an empty battery takes in
	Margin   unit.Ratio       // asked: setting fuse-load
	Need     unit.Current     // least rating that is asked: Steady x Margin / Factor
	Ruling   design.Ruling    // of fuse-load
	LoadMet  bool
	Starts   []Hold    // every start that passes it, the one with least room first
	Loads    []string  // devices whose draws or coils it feeds in some case, natural order
	Wires    []int     // every wire that has it in WireResult.By
	Ahead    []FuseRef // the fuses before it on the way from a source
	Span     diag.Span
}

// Hold is a holding claim: a starting current must not open the fuse. It reads the gate's earliest time at the next higher listed
// percent.
type Hold struct {
	Case, Device string
	Works        bool // not a start: the on-time of a load that works on and off
	Amps         unit.Current
	For          unit.Time
	Times        unit.Ratio // Amps over the rating
	Listed       unit.Ratio // the listed multiple that was read; 0: above all listed, nothing can be claimed
	Earliest     unit.Time  // 0: not stated there
	ByEnergy     bool       // above all listed multiples: Earliest follows from the energy at the highest
	Met          bool
}

// Clearing is an interrupting claim: it reads the gate's latest time at the next lower listed percent. Beyond the last listed one the
// energy counts as constant: an element that melts without losing heat needs a fixed amount.
type Clearing struct {
	Fuse   FuseRef
	Amps   unit.Current
	Times  unit.Ratio
	Listed unit.Ratio  // 0: below all listed, or no gate: never
	Latest unit.Time   // Never when nothing forces it to open
	Energy data.Energy // Amps squared x Latest, A2s
	// ByEnergy: beyond the highest listed multiple, Latest follows from the energy there.
	ByEnergy bool
}

// Source is a supply that drives into a net.
type Source struct {
	Device string
	Index  int
	Most   unit.Current // its limit; 0 none
	Own    bool         // it lives on what its own device draws: the 5 V of a control unit
}

// WireResult is what protects one wire.
type WireResult struct {
	Wire   int
	Return bool // it lies on the minus side
	// By is the last protectors on the ways from every source: the fuses that must suit it. On the minus side those of the loads whose
	// current comes back through it.
	By []FuseRef
	// Open is the sources that reach it with no fuse between, whose limit it does not carry either.
	Open []Source
	// Limited is the sources that reach it with no fuse between but whose own limit it carries.
	Limited []Source
	// Beside is, for each fuse of By, what limited sources drive in at the same end besides; empty where none do.
	Beside []unit.Current
	// Reached is false when no source reaches it in any state of any switch, nor returns anything through it: it needs no protector.
	Reached bool
	// Unfused is, of a wire with no fuse between it and a source, the stretch it lies in that is worst.
	Unfused  *Unfused
	Overload *Overload  // the worst, nil if nothing can overload it
	Short    *ShortHeat // the worst short that heats it; nil if none does
	Met      bool       // overload and short both
	// How it warms in that overload and that short, until they end; only in All. Nothing where it hardly warms or hardly loses anything, or currents follow one another.
	OverloadCourse, ShortCourse []heat.Leg
}

// Unfused is the stretch between a source and the first protectors behind it, or what there is where none is. The wires of it that carry
// the source's own limit are left out: they need no other protector.
type Unfused struct {
	Source   Source
	Fuses    []FuseRef   // the first ones on its ways; none: nothing protects it
	Loads    []string    // devices that it feeds with no protector, natural order
	Far      string      // what its longest way ends at, as device.pin or the like
	Length   unit.Length // along the wires, by the longest of its ways
	Unknown  bool        // a wire of it has no known length: Length leaves that out
	Sheathed bool        // every wire of that way in a sleeve
	Most     unit.Length // limit that holds
	Ruling   design.Ruling
	Wires    []int        // from the source on; those also on the way to a fuse stand with the fuse
	Amps     unit.Current // that a dead short at its far end draws
	Loop     bool         // Amps counts the whole loop; else only the source and the way out, so that less flows
	Met      bool         // never with Loads
	Starter  bool         // it feeds a starting motor and nothing else
}

// Overload is one wire at a multiple of its fuse's rating.
type Overload struct {
	Fuse     FuseRef
	Times    unit.Ratio       // multiple of the rating: just below a listed one, or one listed
	Beside   unit.Current     // of Amps, what limited sources drive in besides the fuse
	Amps     unit.Current     // in this wire
	Latest   unit.Time        // the fuse may take so long; Never: it need not open
	Reaches  unit.Temperature // of the conductor by then, or at rest
	Limit    unit.Temperature // insulation rating + overload-rise or short-rise
	Stands   unit.Current     // steady: what the wire stands at the limit; 0 where time decides
	Start    unit.Temperature // where it begins
	Area     unit.Area        // of copper, as in ShortHeat
	Lasts    unit.Time        // until Limit is reached at Amps; Never: not reached
	Used     unit.Ratio       // share of the room to Limit: of the temperature, or for good of the heat
	Met      bool
	Verified bool
}

// ShortHeat is one wire while a short is cleared.
type ShortHeat struct {
	Short   int          // index into Result.Shorts
	Amps    unit.Current // in this wire
	Latest  unit.Time
	Energy  data.Energy // let through, in this wire
	Stands  data.Energy // k2 S2 of the wire from its steady temperature to the limit
	Start   unit.Temperature
	Reaches unit.Temperature
	Limit   unit.Temperature
	Met     bool
	// What Stands is worked out from: (K x Area)2.
	K    data.Adiabatic
	Area unit.Area // of copper
	// Adiabatic: Reaches is with all heat kept in the copper; else with what is lost on the way, which is lower.
	Adiabatic bool
	Sustained unit.Current // what it stands for good, where nothing clears the short
	Used      unit.Ratio   // share of the room to Limit
	// Steps is given where the current changes on the way, since fuses open one after the other: Amps is then the greatest of them, Latest and
	// Energy their sum.
	Steps []Step
}

// Short is a dead short at one far end.
type Short struct {
	Case   string
	At     string // the load, or the wire's end
	Device string
	Index  int
	Coil   bool
	Wire   int    // -1, or the wire whose far end is shorted where it feeds no load
	Supply bool   // Index is a supply of the device: it is shorted itself, and the others drive into it
	Metal  string // a main feed shorted to the metal of the body there, a stud; else empty
	Strong bool   // solved at its strongest, for the energy; else at its weakest
	Amps   unit.Current
	Loop   unit.Resistance // set-point over amps
	Source string
	Fuses  []Clearing // on the way, the one that clears first first
	Clears unit.Time  // Never
	Met    bool       // some fuse clears it before anything is past its limit, or every wire on the way bears it for good
	Hot    int        // the wire that stands it least; -1
	Worst  ShortHeat  // what it does to Hot
	Wires  []int      // on the way there and back, by index
	// Limited: every supply that drives what flows in the end stands at its own limit, so that no larger wire blows a fuse.
	Limited bool
	On      *Onward // what flows on for good after fuses have opened; nil where the short is cleared, or no fuse opens
	Span    diag.Span
}

// Step is a stretch of time in which one current flows in a wire.
type Step struct {
	Amps unit.Current
	For  unit.Time // at most; Never: for good
}

// Onward is what is left of a short once every fuse on its way that opens for certain has opened: an alternator's limit behind a battery's fuse.
type Onward struct {
	After  unit.Time // from the start of the short, at most
	Amps   unit.Current
	Source string     // that drives most of it
	Fuses  []Clearing // still on its way, none of which need open
	Wires  []int      // on its way, by index
	Met    bool       // every wire on its way bears it for good
	Hot    int        // the wire that stands it least; -1
	Worst  ShortHeat  // what it does to Hot
}

// Pair is two fuses in series.
type Pair struct {
	Up, Down   FuseRef
	Case       string
	At         string
	Amps       unit.Current // greatest short behind Down
	UpEarliest unit.Time    // of the upper one, at the next higher listed percent; 0 not stated
	DownLatest unit.Time
	// Energy judges where the current is beyond the gate of the upper one: what the lower one lets through at most, what the upper one stands at least.
	ByEnergy             bool
	UpEnergy, DownEnergy data.Energy
	Met                  bool
	Known                bool // false: no gate says
}

// Result is the protection of a job.
type Result struct {
	Fuses   []FuseResult // by device and index
	Wires   []WireResult // by wire of the net
	Unfused []Unfused    // by source and first wire
	Shorts  []Short      // by case, weakest before strongest, place; ends of wires that feed nothing last
	Pairs   []Pair       // by upper fuse, lower fuse; the worst case of each
	Curves  []Curve      // by fuse

	rests []unit.Current // by wire: what it stands for ever at its insulation's rating and overload-rise; nil where that is not known
}

// Fuse finds a fuse's result, nil if there is none.
func (r *Result) Fuse(f FuseRef) *FuseResult {
	i, ok := sort.Find(len(r.Fuses), func(i int) int { return compareRef(f, r.Fuses[i].FuseRef) })
	if !ok {
		return nil
	}
	return &r.Fuses[i]
}
