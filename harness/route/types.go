// Package route looks at how the laid bundles lie in space: how tight they bend, what they come near, whether a moving end has room, and
// where water runs.
package route

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Result is all of it, each list in the order of runs and stations.
type Result struct {
	Bends  []Bend
	Nears  []Near
	Edges  []Edge
	Moves  []Move
	Waters []Water
}

// Bend is one change of direction of the wires that pass a node.
type Bend struct {
	Run     string // of the edge it comes from
	Onto    string // run it goes on in; the same where it is a waypoint of one run
	Place   string // the node in words
	At      design.Point3
	After   unit.Length // along Run's stretch
	Stretch int
	Edges   [2]int
	Turn    unit.Angle
	Inside  unit.Length // radius of the inner side as laid: centre line less half the bundle; where nobody stated a radius, what it needs if there is room for that
	Stated  bool        // a run\'s `bend` or set bend-radius says the radius
	Fits    unit.Length // the largest inner radius for which there is room between its neighbours
	Needed  unit.Length // inner radius by the narrowest rule that applies; 0: unknown
	Rule    string      // "10 times the largest wire, 4.2 mm"
	Setting string      // name of the setting that ruled; empty: stated by the part
	Source  string
	Wire    int // of the net, the one that rules; -1: the bundle
	Flexes  bool
	Span    diag.Span

	turned []int
}

// Turned is the wires of the net that turn here, a cable by its first core, thickest first; nil where the bend has what it needs.
func (b *Bend) Turned() []int { return b.turned }

// Near is the least distance between a stretch and a hazard in one of its positions, surface to surface. Every stretch with wires is listed
// for every hazard that comes nearer than twice what is needed.
type Near struct {
	Run      string
	Stretch  int
	After    unit.Length
	At       design.Point3 // on the centre line
	Hazard   string
	Kind     string
	Position string
	Gap      unit.Length // between the surfaces; 0: they meet
	Needed   unit.Length
	By       string // "hazard exhaust, sleeved" or the setting
	Source   string
	Sleeve   string
	Span     diag.Span // of the run
	Other    diag.Span // of the hazard
}

// Edge is a bundle without a sleeve that passes the bare edge of a panel, or a hazard of kind edge.
type Edge struct {
	Run         string
	Stretch     int
	After       unit.Length
	At          design.Point3
	Of          string // "panel firewall, corner 2 to corner 3", "hazard bracket"
	Gap         unit.Length
	Needed      unit.Length
	Source      string
	Span, Other diag.Span
}

// Move is a stretch whose ends move against one another.
type Move struct {
	Run      string
	Stretch  int
	From, To string      // what holds its ends: a clip's mark, or a connector
	Free     unit.Length // between them, along the way, with slack
	Straight unit.Length // between them
	Moves    unit.Length
	Spare    unit.Length // what must be left over (set moves-spare)
	Needed   unit.Length // Straight + Moves + Spare
	Source   string
	Tied     []string // clips in between, that hold what must move
	Span     diag.Span
}

// Water is a place where water collects or is led in.
type Water struct {
	What       string // "low": a connector or splice at a low point; "up": a connector whose wires come in from above without a drip loop
	Thing      string // "break A", "device pump", "splice s-feed"
	Kind, Name string // subject
	Run        string // along which the water comes
	Stretch    int
	After      unit.Length // along Run's stretch
	Zone       string
	At         design.Point3
	Drop       unit.Length // "up": how far the way dips below the thing before it rises into it; 0: not at all
	Needed     unit.Length
	Source     string
	Span       diag.Span
}
