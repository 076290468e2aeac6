// Package board lays each section flat on a forming board, in its true lengths: which bundle lies where, where the pegs go, what is marked.
//
// What hangs together by wires is a piece: two cables on studs of one device are two. A ring is laid open. The trunk of a piece is the way
// through it with the most copper and sleeve in it; it lies level, folded where it is longer than the board. What leaves it leaves at a multiple
// of 15 degrees. Lengths are those of the centre line, slack included; a bundle that finds no room even folded is broken: drawn shorter,
// with its whole length beside it.
package board

import (
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Board is one lay of the board for one section. A section whose pieces do not lie on one board at once has several.
type Board struct {
	Section       string
	Number, Of    int            // 1 of 1 where everything lies on one
	Width, Height unit.Length    // of the board
	Edge          unit.Length    // free at its edges
	Gap           unit.Length    // least between two bundles, outside to outside
	PegSpan       unit.Length    // most between two pegs
	Holder        [2]unit.Length // of a connector: past the end of its bundle, and across
	Pieces        []Piece        // in the order they were laid, the heaviest first
	Pegs          []Peg          // by number: along each limb in turn, trunks first
	Marks         []Mark         // by limb and station
	Ends          []End          // by peg
	Reaches       []Reach        // by wire, of the pieces on this board
	Left          []Left         // on the last board: what found no room on any; empty is as it should be
}

// At is a place on the board, to the right and up from its lower left corner.
type At struct{ X, Y unit.Length }

// Piece is one tree of bundles.
type Piece struct {
	Name  string // "left-hub to ecu": the ends of its trunk
	Limbs []Limb // the trunk first; a limb comes after the one that it leaves
	Wires int    // conductors in it
}

// Limb is a line of bundles: a trunk, or a branch with what goes straight on from it.
type Limb struct {
	Name     string // from where to where: "trunk-aft to fore-in"
	From, To string
	Parent   int         // index into the piece's limbs of the one that it leaves; -1 a trunk
	Leaves   unit.Angle  // from the direction of the limb that it leaves, 0 to 180; of a trunk 0
	Heading  unit.Angle  // of its first straight on the board, counterclockwise from level to the right
	Length   unit.Length // true
	Drawn    unit.Length // along Line: Length less what breaks leave out
	Line     []At        // of the centre line; a bend is chords that turn by no more than 7.5 degrees each and are as long as their arc
	Bends    []Bend      // folds, by station
	Breaks   []Break
	Spans    []Span // from node to node, in order
}

// Bend is a turn of a limb that the board asks for and the vehicle does not.
type Bend struct {
	Station unit.Length // of its middle, along the limb as drawn
	Turn    unit.Angle  // positive to the left
	Radius  unit.Length // of the centre line
	Middle  At          // of the arc
}

// Break is where a limb is drawn shorter than it is.
type Break struct {
	At       At
	Span     int         // index into Spans
	Left     unit.Length // how much is left out
	From, To string      // the nodes between which it is
	Whole    unit.Length // true length between them
}

// Span is the bundle from one node to the next: one edge of the geometry.
type Span struct {
	From, To string
	Run      string
	Edge     int         // of the geometry
	Length   unit.Length // true, slack included, along the centre line
	Drawn    unit.Length // along Line; less than Length only where a Break is
	Station  unit.Length // of From along the limb, true
	Outside  unit.Length // of the bundle, sleeved, by the trade's figure; 0 not known
	Wires    int
	Sleeve   string
	Line     []At
	// Joins is set at the end of a ring that was laid open: the place where this end belongs.
	Joins string
}

// Peg is a peg, or the holder of a connector.
type Peg struct {
	Number int
	At     At
	Left   unit.Length // by tape from the lower left corner of the board
	Right  unit.Length // by tape from its lower right corner
	Kind   string      // "end", "node", "bend", "along"
	Text   string      // what it is: "node dash-hub, 3 ways", "fold of trunk", "holder of A, tub half"
	Limb   string      // name of the limb
	Piece  int
}

// Mark is something to be drawn on the board that is no peg.
type Mark struct {
	At      At
	Kind    string // "splice", "sleeve starts", "sleeve ends", "breakout", "joins", "break"
	Text    string // "splice s-inj", "braid starts"
	Piece   int
	Limb    string      // name of the limb
	From    string      // node from which the station counts
	Station unit.Length // from there along the limb, true
}

// End is a connector, a set of studs, or a tail, at the end of a limb or beside a node.
type End struct {
	Title     string // as on the connector's sheet: "A, tub half", "ecu"
	Peg       int
	At        At         // where its wires come to it
	Node      At         // where they leave the bundle; not At where it lies Beside, at the end of tails that are drawn as long as there is room
	Facing    unit.Angle // the way its wires point, counterclockwise from level to the right
	Housing   string     // part; empty: studs or cut-back ends
	Pins      bool       // a half with pins
	Connector int        // index into the section's connectors; -1 none
	Wires     int        // that end there
	Beside    bool       // not at the end of a limb: its wires leave the bundle at a node on the way
	Crowded   bool       // there was no room for it: only its name stands at the node
}

// Left is what found no room.
type Left struct {
	Piece, Limb string
	Length      unit.Length
	Unknown     bool      // it is not laid since its length is not known
	Span        diag.Span // of its first run
}

// Reach is how a wire's cut length compares with its way over the board.
type Reach struct {
	Wire     int // of the net
	Name     string
	Label    string
	Section  string
	Way      unit.Length // over the board from peg to peg
	Holders  unit.Length // from the pegs to where the contacts are made, both ends
	Strip    unit.Length // for both terminations; 0 where the parts do not say
	Cut      unit.Length // cut length
	Waste    unit.Length // of Cut, lost at its crimps
	Spare    unit.Length // Cut less Way, Holders, Strip and Waste
	Loose    bool        // a loose lead: Way is the straight line between its pegs
	OverGap  []string    // places at which the wire passes a ring that lies open: laid in when the ring is closed
	From, To string      // its ends as on the cut list
	Span     diag.Span
}

// Extent is the part of the board that is used: bundles and connectors.
func (b *Board) Extent() (low, high At) {
	low, high = At{b.Width, b.Height}, At{}
	grow := func(p At, by unit.Length) {
		low = At{max(0, min(low.X, p.X-by)), max(0, min(low.Y, p.Y-by))}
		high = At{min(b.Width, max(high.X, p.X+by)), min(b.Height, max(high.Y, p.Y+by))}
	}
	for i := range b.Pieces {
		for k := range b.Pieces[i].Limbs {
			for _, p := range b.Pieces[i].Limbs[k].Line {
				grow(p, b.Gap)
			}
		}
	}
	for i := range b.Ends {
		grow(b.Ends[i].At, max(b.Holder[0], b.Holder[1]))
	}
	if low.X > high.X {
		return At{}, At{b.Width, b.Height}
	}
	return low, high
}
