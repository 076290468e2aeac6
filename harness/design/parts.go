package design

import "loomsheet/harness/unit"

// Parts is the library a job sees: its own parts first, the built-in ones where the job has none of that name.
type Parts struct {
	Housings  []*Housing
	Contacts  []*Contact
	Seals     []*Seal
	Wires     []*Wire
	Fuses     []*Fuse
	Sleeves   []*Sleeve
	Clips     []*Clip
	Fasteners []*Fastener
}

// Part is what every part carries. Source of a built-in part names a document or says "typical".
type Part struct {
	Name string
	Own  bool // the job's own, not of the built-in library
	Common
}

// Housing is a connector body, or a stud.
type Housing struct {
	Part
	CutOut   unit.Length    // diameter of the hole in the panel, or its width where CutHigh is given
	CutHigh  unit.Length    // height of a rectangular cut-out; 0: round
	Flange   [2]unit.Length // width and height of what covers the cut-out, or diameter and 0; both 0: not known
	Nut      unit.Length    // across what is turned to fasten it; 0: by screws, or a snap
	Grips    [2]unit.Length // least and most thickness of the panel; 0 not known
	Behind   unit.Length    // how far it stands out on the far side of the panel
	Room     unit.Length    // diameter that must stay free about its middle, for a hand, a spanner, a strain boot; 0: set connector-room beyond the flange
	Metal    bool           // its shell carries a screen to the panel
	Fixings  []HousingHole
	Rating   Fact[unit.Current]
	Heat     Fact[unit.Temperature]
	Keys     []string
	Cavities []HousingCavity
}

// HousingHole is a hole for a screw beside the cut-out, from its middle: across, up.
type HousingHole struct {
	Name  string
	At    [2]unit.Length
	Drill unit.Length
}

// HousingCavity is one hole for a contact, or a stud.
type HousingCavity struct {
	Name       string
	Takes      []string // contact parts
	Stud       string   // thread
	At         [2]unit.Length
	Placed     bool
	Resistance Fact[unit.Resistance]
}

// Contact is a crimp terminal. A pin and its socket are one part with one rating; Resistance is of the mated pair.
type Contact struct {
	Part
	Rating     Fact[unit.Current]
	WireLeast  unit.Size
	WireMost   unit.Size
	RatedOn    unit.Size   // the wire on which Rating holds; zero: WireMost
	InsulLeast unit.Length // 0: any
	InsulMost  unit.Length
	Strip      unit.Length
	Resistance Fact[unit.Resistance]
	Tool       string
	Plating    string
}

// Seal closes a cavity around one wire.
type Seal struct {
	Part
	InsulLeast, InsulMost unit.Length
}

// Wire is a family of wires, or a bought cable when it has cores.
type Wire struct {
	Part
	Heat    unit.Temperature // highest conductor temperature of its insulation
	Outside unit.Length      // of a bought cable
	Bend    unit.Length
	Sizes   []WireSize // smallest first
	Cores   []WireCore
	Screen  *WireScreen
}

// WireSize is one size of a family.
type WireSize struct {
	Size       unit.Size
	Resistance unit.LinearResistance // greatest, at 20 C
	Outside    unit.Length
	Source     string
}

// WireCore is one core of a bought cable.
type WireCore struct {
	Colour string
	WireSize
}

// WireScreen is the screen of a bought cable.
type WireScreen struct {
	Kind       string // braid or foil
	Resistance unit.LinearResistance
}

// Fuse is a protector.
type Fuse struct {
	Part
	Rating     unit.Current
	Resistance Fact[unit.Resistance]
	Kind       string // of time-current gate
}

// Sleeve covers a bundle or a joint.
type Sleeve struct {
	Part
	Grows unit.Ratio // expanded over recovered
	Heat  Fact[unit.Temperature]
	Sizes []unit.Length
}

// Clip holds a bundle.
type Clip struct {
	Part
	Holds    []unit.Length // bundle diameters, smallest first
	Heat     Fact[unit.Temperature]
	Thick    unit.Length // what one clip adds under the head of its screw; 0 not known
	As       string      // p-clip or tie; empty: p-clip
	Fastener string
}

// Fastener holds a clip to the body.
type Fastener struct {
	Part
	Thread string
	Drill  unit.Length    // the largest hole it may have; 0: needs no hole (a welded stud, an adhesive base)
	Least  unit.Length    // the smallest hole; 0: as Drill
	As     string         // rivet-nut, stud, screw, bolt, adhesive or tie; empty: not known
	Grips  [2]unit.Length // least and most thickness of the panel; 0 not known
	Engage unit.Length    // thread that must be engaged: of a rivet nut its thread, of a stud or a screw its nut
	Screws []unit.Length  // lengths the screw, or the stud, can be had in, shortest first
}

// NeedsHole tells whether the panel is drilled for it.
func (f *Fastener) NeedsHole() bool { return f != nil && f.Drill > 0 }
