package design

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Parts is the library a job sees: its own parts first, the built-in ones where the job has none of that name.
type Parts struct {
	Housings  []*Housing
	Contacts  []*Contact
	Seals     []*Seal
	Wires     []*Wire
	Fuses     []*Fuse
	Sleeves   []*Sleeve
	Boots     []*Boot
	Barrels   []*Barrel
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
	Back     unit.Length    // diameter of its back, where a boot grips; 0: not known
	Boot     string         // the boot or backshell it is used with; empty: none
	Fixings  []HousingHole
	Rating   Fact[unit.Current]
	Heat     Fact[unit.Temperature]
	Keys     []string
	Keyway   [2]unit.Length // of its key on the face, across and up as the cavities; holds where Keyed
	Keyed    bool
	Mates    []string // other housing parts it goes into as well as into its own kind
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
	Outside    unit.Length    // the widest of it once it is crimped on: what a sleeve must pass; 0: not known
	Crimps     []ContactCrimp // by size, smallest first
}

// ContactCrimp is how a contact is crimped on one size of wire.
type ContactCrimp struct {
	Size    unit.Size
	Height  [2]unit.Length // least and most over the finished crimp; 0 not stated
	Setting string         // of the tool; empty: not stated
	Source  string         // of the line; empty: that of the part
	Span    diag.Span
}

// Crimp is what the part states for a wire, nil if it states nothing for that very size.
func (c *Contact) Crimp(size unit.Size) *ContactCrimp {
	if c == nil {
		return nil
	}
	for i := range c.Crimps {
		if c.Crimps[i].Size == size {
			return &c.Crimps[i]
		}
	}
	return nil
}

// Seal closes a cavity: around one wire, or, where it Plugs, an empty one.
type Seal struct {
	Part
	InsulLeast, InsulMost unit.Length
	Plugs                 []string // contact parts whose empty cavities it plugs; a blanking plug takes no wire
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
	As        string     // shrink, braid, tube or slit; empty: shrink where it grows, else tube
	Grows     unit.Ratio // expanded over recovered
	Recovered bool       // it is bought by its recovered, or closed, diameter; else by the expanded one
	Glued     bool       // lined with glue: it closes a joint against water
	Heat      Fact[unit.Temperature]
	Sizes     []unit.Length // as it is bought, smallest first
	Walls     []unit.Length // recovered, in step with Sizes, or one for all; empty: set sleeve-wall
}

// Barrel is crimped over the bare ends of the wires of a splice, which lie side by side in it.
type Barrel struct {
	Part
	Least, Most unit.Area // of all its conductors together
	Length      unit.Length
	Outside     unit.Length // the widest of it once crimped; 0: not known
	Strip       unit.Length // of every wire; 0: not known
	Heat        Fact[unit.Temperature]
	Tool        string
}

// Takes tells whether conductors of so much area together are in its range. A thousandth is left for what sizes in gauge lose in rounding.
func (b *Barrel) Takes(sum unit.Area) bool {
	return b.Least*(1-1e-3) <= sum && sum <= b.Most*(1+1e-3)
}

// Kind is shrink, braid, tube or slit.
func (s *Sleeve) Kind() string {
	switch {
	case s.As != "":
		return s.As
	case s.Grows > 1:
		return "shrink"
	}
	return "tube"
}

// Band is the diameters between which the i-th size can be: recovered as far as it goes, and expanded. What does not grow has one.
func (s *Sleeve) Band(i int) (recovered, expanded unit.Length) {
	d, grows := s.Sizes[i], unit.Length(max(1, s.Grows))
	if s.Recovered {
		return d, d * grows
	}
	return d / grows, d
}

// Wall is the recovered wall of the i-th size; 0: not stated.
func (s *Sleeve) Wall(i int) unit.Length {
	switch {
	case i < len(s.Walls):
		return s.Walls[i]
	case len(s.Walls) == 1:
		return s.Walls[0]
	}
	return 0
}

// Boot covers the back of a connector and the beginning of its bundle.
type Boot struct {
	Part
	As     string         // shrink, push-on, backshell or split; empty: shrink. A split one is put on at any time
	Passes unit.Length    // the largest thing it can be slid over; 0: not known
	Bundle [2]unit.Length // least and most diameter of the bundle it holds; 0 not known
	Body   [2]unit.Length // least and most diameter of the connector's back it holds; 0 not known
	Length unit.Length
	Heat   Fact[unit.Temperature]
}

// Kind is shrink, push-on, backshell or split.
func (b *Boot) Kind() string {
	if b.As == "" {
		return "shrink"
	}
	return b.As
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
