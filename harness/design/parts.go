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
	CutOut   unit.Length
	Rating   Fact[unit.Current]
	Heat     Fact[unit.Temperature]
	Keys     []string
	Cavities []HousingCavity
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
	Fastener string
}

// Fastener holds a clip to the body.
type Fastener struct {
	Part
	Thread string
	Drill  unit.Length // 0: needs no hole (a welded stud, an adhesive base)
}
