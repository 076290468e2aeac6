// Package layup says how the wires of each run lie around one another: concentric layers of alternating hand with their lay length and take-up,
// a gentle twist by hand, or flat.
//
// A layer lies on the circle around what is within it: neighbouring layers cross, so none sinks into the valleys of the next. What is printed
// here is what a builder does, in the order in which it is done.
package layup

import (
	"slices"

	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Kind is how a bundle lies.
type Kind uint8

// The kinds.
const (
	Empty  Kind = iota // nothing lies here
	Alone              // one wire, pair or cable
	ByHand             // a gentle twist by hand
	Flat               // side by side
	Layers             // concentric layers
)

// String is the kind in words.
func (k Kind) String() string {
	return [...]string{"empty", "alone", "by hand", "flat", "in layers"}[k]
}

// Hand is which way a layer turns.
type Hand uint8

// The hands. Going away from whoever looks along it, a left-hand layer turns anticlockwise.
const (
	Straight Hand = iota
	Left
	Right
)

// String is the hand in words.
func (h Hand) String() string { return [...]string{"straight", "left-hand", "right-hand"}[h] }

// Plan is the lay-up of every edge of a job's geometry. A nil plan answers like one of an empty job.
type Plan struct {
	Trunks []Trunk // by run, stretch and station
	lays   []Lay   // by edge
}

// Trunk is a piece of a run that is laid up in one go: neighbouring edges of one kind.
type Trunk struct {
	Name     string // of the run; with the places where the run holds several trunks: "tunnel, box to A"
	Run      string
	Stretch  int
	Section  string
	From, To string // places in words
	Kind     Kind
	Why      string      // why it lies so: "120 mm is short", "set for run tunnel"
	Edges    []int       // along the run
	Length   unit.Length // along the run, slack left out
	Most     int         // edge in which it is thickest: the one whose cross-section is drawn first
	Changes  []Change    // at places within it, from its beginning
}

// Change is what leaves a trunk and what joins it at a place within it.
type Change struct {
	Place   string
	Station unit.Length // along the stretch
	Edge    int         // the one after it, laid as follows
	Leave   []string    // labels, with their layers: "12 from layer 3"
	Join    []string
	Relaid  bool // the layers of what goes on are others than before
}

// Lay is the lay-up of one edge.
type Lay struct {
	Edge     int
	Trunk    int // of the plan, -1 none
	Kind     Kind
	From, To string      // places in words
	Length   unit.Length // along the run, slack left out
	Pieces   []Piece     // of layers from the core outwards; flat row by row; else thickest first
	Layers   []Layer     // from the core outwards; of layers only
	Outside  unit.Length // of the circle around all as drawn; flat: the width; by hand: Trade, and what it packs to where it is placed and Drawn
	Width    unit.Length // flat: of the widest row
	Rows     int         // flat
	Height   unit.Length // flat
	Least    unit.Length // bare, closest packing found; 0 not known; of what Drawn gives
	Trade    unit.Length // bare, the trade's figure 1.2 sqrt(sum d2), a pair as the circle around it; 0 not known
	Most     unit.Length // the more of that and of Outside: what goes over it must pass this
	Band     string      // how Outside lies to the band, in words; of what Drawn gives
	TakeUp   unit.Ratio  // the greatest of its wires
	Unknown  bool        // the outside of a wire is not known: nothing is placed
	// Placed is false where pieces have no place in the cross-section: too many to pack, or Unknown.
	Placed bool
	packed bool // by hand: its pieces have their places
	bare   bundle.Least
}

// Piece is one thing in a bundle with its place in the cross-section, as seen along the run from its beginning: x to the right, y up, from the middle.
type Piece struct {
	*Thing   // one for all edges in which it is the same
	*Passage // one for all that pass alike
	X, Y     unit.Length
	Layer    int // 1 the core; 0 not in layers
	TakeUp   unit.Ratio
}

// Passage is how pieces go through a trunk.
type Passage struct {
	Enters string // where it comes into the trunk
	Leaves string // where it leaves it
	Why    string // of layers, why it lies where it does: "cable", "pair", "heavy", "spare", "goes all the way", "leaves at lamp1"
}

// Thing is what a piece is, wherever it lies.
type Thing struct {
	Wires    []int  // of the net; of a cable its cores and its screen
	Cable    string // a bought cable, cores screened on the bench, or a pair twisted on the bench; empty: a wire
	Name     string // of the wire, or of the cable
	Label    string // short mark of the wire; of a cable its name
	Colour   string // letters of its colour by IEC 60757, else the colour as written; of a pair both: "RD, BK"; empty for a cable
	Screened bool
	Lead     bool // only the lead of a cable's screen
	Spare    bool
	Twist    unit.Length // lay of a pair twisted on the bench; 0 none
	Diameter unit.Length
}

// Layer is one layer of a concentric lay.
type Layer struct {
	Number   int
	Pieces   []int // of the lay, clockwise
	Fillers  []Filler
	Hand     Hand
	Lay      unit.Length // length of one turn, whole millimetres; 0 where it is straight
	Inside   unit.Length // diameter of what lies within
	Built    unit.Length // diameter up to which that is built up with tape before this layer goes on; 0: not
	Pitch    unit.Length // diameter of the circle on which the middles of its thickest pieces lie; 0 a straight core
	Outside  unit.Length // diameter around it
	TakeUp   unit.Ratio  // sqrt(1 + (pi Pitch/Lay)^2) - 1
	Gap      unit.Ratio  // share of its round that stays open, fillers counted as closing it
	Diameter unit.Length // of its fillers; 0 none
}

// Filler is a cord that closes a gap in a layer.
type Filler struct{ X, Y, Diameter unit.Length }

// Of is the lay-up of an edge; nil for one that the plan does not know.
func (p *Plan) Of(edge int) *Lay {
	if p == nil || edge < 0 || edge >= len(p.lays) {
		return nil
	}
	return &p.lays[edge]
}

// Drawn is the lay-up of an edge with all that is drawn and written of it: what is laid by hand is packed only now, as nothing else needs its places. Nil
// for an edge that the plan does not know.
func (p *Plan) Drawn(edge int) *Lay {
	of := p.Of(edge)
	if of == nil {
		return nil
	}
	l := *of
	if l.Kind == ByHand && l.Placed && !l.packed {
		l.Pieces = slices.Clone(l.Pieces)
		l.place(cores{})
	}
	l.band(l.bare.Length())
	return &l
}

// Widen is the bundles with the most that each can be raised to what it is as laid up.
func (p *Plan) Widen(b *bundle.Bundles) *bundle.Bundles {
	if p == nil {
		return b
	}
	return b.Raised(func(edge int) unit.Length {
		if l := p.Of(edge); l != nil {
			return l.Most
		}
		return 0
	})
}

// TakeUp is what the lay of an edge adds to the length of a wire, as a share of the way; 0 for a wire that does not lie there, and of a nil plan. It
// is never more than the net's Step.TakeUp.
func (p *Plan) TakeUp(wire, edge int) unit.Ratio {
	piece := p.Piece(wire, edge)
	if piece == nil {
		return 0
	}
	return piece.TakeUp
}

// Piece is the one in an edge that a wire is, or is a part of; nil if it does not lie there.
func (p *Plan) Piece(wire, edge int) *Piece {
	l := p.Of(edge)
	if l == nil {
		return nil
	}
	for i := range l.Pieces {
		for _, w := range l.Pieces[i].Wires {
			if w == wire {
				return &l.Pieces[i]
			}
		}
	}
	return nil
}

// rules are the settings that a trunk is laid up by.
type rules struct {
	at    design.Scope
	ratio unit.Ratio // lay length over outside diameter
	gap   float64    // share of a layer's round that may stay open
	open  float64    // how far a layer may stand off what lies within, as a share of its thickest piece
	over  float64    // how much thicker than the trade's figure it may be
	heavy float64    // times the middle thickness
	fills float64    // most fillers, as a share of the pieces
	width float64    // most of a flat bundle, mm
}
