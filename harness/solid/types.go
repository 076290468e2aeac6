// Package solid is the geometry of space: places, planes, outlines, and ways made of straight pieces and arcs, with the distances
// between them. It knows nothing of harnesses. Coordinates are those of the job, lengths millimetres.
package solid

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Point is a place in job coordinates.
type Point = design.Point3

// Vector is a direction or a displacement.
type Vector struct{ X, Y, Z unit.Length }

// Leg is one piece of a way: straight from From to To, or, where Radius is more than 0, the arc of that radius about Middle from
// From to To through less than half a turn.
type Leg struct {
	From, To Point
	Middle   Point
	Radius   unit.Length
	Turn     unit.Angle // of the arc
	Length   unit.Length
}

// Way is legs that follow one another.
type Way []Leg

// Plane is a flat sheet: a place on it and two directions in it at right angles, of length 1. Normal is Across x Up.
type Plane struct {
	Origin     Point
	Across, Up Vector
}

// Flat is a place in a plane: across, up.
type Flat struct{ U, V unit.Length }

// Outline is a polygon in a plane, in order round, closed.
type Outline []Flat
