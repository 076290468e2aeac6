// Package space works out where everything lies: the nodes where runs meet, the edges between them with their lengths and
// stations, and (later in the pipeline) the clips.
package space

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
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
	// Aliases are splices that sit at a node of another name, by splice in natural order.
	Aliases []Alias
}

// Alias is another name of a node.
type Alias struct {
	Key  string
	Node int
}

// Node is a place where runs begin, end or meet, or a waypoint of one.
type Node struct {
	Key   string
	At    design.Point3
	Known bool
}

// Edge is a piece of a run between two neighbouring nodes.
type Edge struct {
	Run     string
	Stretch int         // index into the run's stretches
	From    int         // node
	To      int         // node
	Station unit.Length // of From along the stretch
	Length  unit.Length // by string where measured, shared out over the pieces by their straight lengths
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
	Straight unit.Length
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
