// Package space works out where everything lies: the nodes where runs meet, the ways between them with bends of real radius, their lengths
// and stations.
//
// A way is straight between its nodes. A waypoint is a corner of it to be rounded, not a place to be passed: where nothing sits at it (no
// device, break, splice, bush or hole, and no other stretch of a run) an arc takes its place, of the radius of its run, and the bundle lies on
// the inner side of it. Where something sits the way passes through that very place, and the corner stays one: the length counted there is
// that of the straight pieces, which is on the long side, since no bundle turns sharper than the corner.
package space

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// Geometry is the ways of a job as a graph. An edge is the piece of a run between two neighbouring nodes; one bundle lies in it.
type Geometry struct {
	Nodes []Node // by key in natural order
	Edges []Edge // by run, stretch and station
	// Problems found while laying out, for the rules to word.
	StringGaps []StringGap
	Nowhere    []Nowhere
	Unplaced   []Unplaced
	Beyond     []Beyond
	Bends      []Bend // by run, stretch and station
	// Aliases are splices that sit at a node of another name, by splice in natural order.
	Aliases []Alias

	laid  []laid      // every stretch whose coordinates are all known, in the order of edges
	parts []solid.Way // by edge; empty where coordinates are missing
	index *index
}

// laid is the way of one stretch.
type laid struct {
	run     string
	stretch int
	way     solid.Way
}

// Bend is a waypoint, at which nothing sits, where a way turns. Its radius is that of the centre line by the coordinates, whatever a string says of the length.
type Bend struct {
	Run     string
	Stretch int
	Node    int
	Station unit.Length // of the middle of the arc, along the stretch
	Turn    unit.Angle
	Radius  unit.Length // as laid; 0: the corner stays one, as no radius is asked, or the way all but turns back on itself there
	Asked   unit.Length // by the run, or set bend-radius
	Room    unit.Length // the largest that fits between its neighbours as they are laid
}

// Alias is another name of a node.
type Alias struct {
	Key  string
	Node int
}

// Node is a place where runs begin, end or meet, or a waypoint of one.
type Node struct {
	Key   string
	At    design.Point3 // as declared: of a waypoint that is rounded the corner, beside the way; Position tells where the bundle lies
	Known bool
}

// Edge is a piece of a run between two neighbouring nodes.
type Edge struct {
	Run     string
	Stretch int         // index into the run's stretches
	From    int         // node
	To      int         // node
	Station unit.Length // of From along the stretch
	Length  unit.Length // along the arcs, half of each to either side of its waypoint; by string where measured, shared out over these lengths
	Slack   unit.Length // share of the stretch's slack
	Section string
	Zone    string
	Moves   unit.Length
	// Unknown is set when the length could not be worked out; Length is 0 then.
	Unknown bool
	Status  design.Status // computed from coordinates, or measured by string
	Span    diag.Span
}

// StringGap is a stretch whose measured length disagrees with its coordinates.
type StringGap struct {
	Run      string
	Stretch  int
	Measured unit.Length
	Straight unit.Length // along the coordinates, waypoints rounded
	Least    unit.Length // the same with the waypoints left out, at which nothing is: no string through what is passed is shorter
	Span     diag.Span
}

// Nowhere is a run's end at which nothing is: no device, break, splice, point or other run.
type Nowhere struct {
	Run  string
	Node string
	Span diag.Span
}

// Unplaced is a node whose coordinates are not known although a length would need them.
type Unplaced struct {
	Node string
	Run  string
	Span diag.Span
}

// Beyond is a splice said to sit further along a run than the run is long; it is put at the run's end.
type Beyond struct {
	Splice string
	Run    string
	After  unit.Length
	Length unit.Length
	Span   diag.Span
}
