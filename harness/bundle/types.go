// Package bundle says what lies together at each piece of each run: the wires, how thick they are together, bare and sleeved, and how
// tight they may be bent.
//
// A bundle's outside is a band: from the closest packing of its circles (harness/pack), the least it can be, up to the trade's figure
// 1.2 sqrt(sum d2), which a hand-laid bundle reaches. What goes over it must suit the whole band.
package bundle

import (
	"loomsheet/harness/unit"
)

// Piece is one thing in a bundle: a wire, a bought cable with all its cores, or cores under a screen that is put over them on the bench.
type Piece struct {
	Wire     int         // of the net; of a cable the first of its cores
	Cable    string      // bought, or screened on the bench; empty: a wire
	Screened bool        // the cable has a screen
	Lead     bool        // only the screen's lead goes on here: its outside is not known, Outside is the most it can be
	Outside  unit.Length // with its own sleeve or screen
	Bend     unit.Length // least radius that its part states; 0: none
}

// MakeUp is what lies in one edge.
type MakeUp struct {
	Pieces  []*Piece    // by outside, thickest first, then by wire; equal ones are one
	Wires   int         // conductors, screens not counted
	Most    unit.Length // bare, the trade's figure
	Sleeve  string      // of the run
	Wall    unit.Length // of that sleeve
	Unknown bool        // the outside of a wire is not known
	closest *closest
}

// Least is how thick the bundle is at the least, bare, in closest packing; 0: nothing lies here, or the outside of a wire is not known.
func (m *MakeUp) Least() unit.Length { return m.closest.get() }

// Bare is Least, packed when its length is asked for.
func (m *MakeUp) Bare() Least { return Least{m.closest, 0} }

// Bound tells that Least was not packed but is a lower bound by area: there is too much to pack.
func (m *MakeUp) Bound() bool { return m.closest != nil && m.closest.bound }

// Over is the band with the sleeve on.
func (m *MakeUp) Over() (least Least, most unit.Length) {
	if m.Most <= 0 {
		return Least{}, 0
	}
	return Least{m.closest, 2 * m.Wall}, m.Most + 2*m.Wall
}

// Least is the lower end of a band, packed when it is asked for: it is written down, and no check turns on it but that of a sleeve.
type Least struct {
	closest *closest
	over    unit.Length // what lies over the bundle
}

// LeastOf is that of a bundle of one thing of a diameter.
func LeastOf(d unit.Length) Least {
	c := &closest{circles: []unit.Length{d}}
	c.get()
	return Least{closest: c}
}

// Length is that end; 0: not known.
func (l Least) Length() unit.Length {
	if l.closest == nil {
		return 0
	}
	return l.closest.get() + l.over
}

// Bundles is the make-up of every edge of a job's geometry, by edge.
type Bundles struct {
	Edges []MakeUp
	on    [][]int // wires by edge, in the order of the net
	turns []Turn  // by edges
}

// Turn is the wires that go from one edge on into another that meets it at a node. Edges are in ascending order.
type Turn struct {
	Edges  [2]int
	Node   int
	MakeUp MakeUp // the thicker of the two runs' sleeves over it
	Wires  []int  // of the net, in its order
}
