// Package drawing holds flat drawings in millimetres of the thing drawn: lines, arcs, outlines, marks with labels that must not meet,
// dimensions. It puts them on a sheet to scale, and writes them as SVG and as DXF for a laser or a plotter. It decides nothing about
// what is drawn.
package drawing

import (
	"loomsheet/harness/unit"
	"loomsheet/render/page"
)

// Place is a point of a drawing: x to the right, y up.
type Place struct{ X, Y unit.Length }

// Layer tells what a stroke is for; each has its own line style on paper, class in SVG and layer in DXF.
type Layer string

// The layers.
const (
	Cut     Layer = "CUT"     // what is drilled or cut out
	Outline Layer = "OUTLINE" // edges of panels, flanges
	Run     Layer = "RUN"     // bundles
	Mark    Layer = "MARK"    // centre marks, clips
	Dim     Layer = "DIM"     // dimensions and scale bars
	Keep    Layer = "KEEP"    // keep-outs and hazards
	Words   Layer = "TEXT"
)

// Stroke is a line through places, closed if so told.
type Stroke struct {
	Layer  Layer
	Places []Place
	Closed bool
}

// Ring is a circle, or an arc from From to To degrees, counterclockwise from 3 o'clock; both 0 is the whole circle.
type Ring struct {
	Layer    Layer
	Middle   Place
	Radius   unit.Length
	From, To unit.Angle
}

// Sign is the shape of a spot.
type Sign uint8

// The signs.
const (
	Cross    Sign = iota // a hole
	Circle               // a clip
	Square               // a connector
	Triangle             // a breakout
	Diamond              // a splice
	Dot
)

// Spot is a sign of one size on paper, whatever the scale.
type Spot struct {
	Layer Layer
	At    Place
	Sign  Sign
	Size  page.MM // across, on paper; 0: 2.5 mm
}

// Label is words at a place. Free ones are moved about, with a leader back to At, until they meet nothing; fixed ones stand where they are,
// on a baseline at At, unless they would meet another fixed one or leave the sheet: then they are free.
type Label struct {
	At    Place
	Text  string
	Free  bool
	Small bool
	Align page.Align // of a fixed one, about At
}

// Drawing is everything on one sheet.
type Drawing struct {
	Title   string
	Strokes []Stroke
	Rings   []Ring
	Spots   []Spot
	Labels  []Label
	// Proof asks for a bar that proves the print scale, at full size, instead of a plain scale bar.
	Proof bool
}
