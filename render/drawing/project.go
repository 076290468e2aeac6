package drawing

import (
	"math"

	"loomsheet/harness/unit"
)

// Axis is an axis of the job.
type Axis uint8

// The axes.
const (
	X Axis = iota
	Y
	Z
)

// String is the letter of the axis.
func (a Axis) String() string { return string("xyz"[a%3]) }

// AxisOf reads "x" or "y"; anything else is z.
func AxisOf(name string) Axis {
	switch name {
	case "x":
		return X
	case "y":
		return Y
	}
	return Z
}

// Kind of a view.
type Kind uint8

// The views. With z up, x forward and y to the left, Plan has forward to the right, Side looks at the right-hand side and Front at the nose.
const (
	Plan Kind = iota
	Side
	Front
	Isometric
)

// View is a way of looking at the job.
type View struct {
	Kind Kind
	Up   Axis
}

// level is the two level axes in the order in which they make a right-handed system with Up: z up gives x, y.
func (v View) level() (first, second Axis) { return (v.Up + 1) % 3, (v.Up + 2) % 3 }

// Name of the view: what it is and which way one looks.
func (v View) Name() string {
	a, b := v.level()
	switch v.Kind {
	case Side:
		return "Side view, looking towards greater " + b.String()
	case Front:
		return "Front view, looking towards smaller " + a.String()
	case Isometric:
		return "Isometric view, from greater x, y and z"
	}
	return "Plan, looking down, towards smaller " + (v.Up % 3).String()
}

// Note says what may be measured in the view.
func (v View) Note() string {
	if v.Kind == Isometric {
		return "Isometric after ISO 5456-3: the three axes stand 120 degrees apart, the level ones 30 degrees from level. Lengths along the three axes are to scale, drawn at their full length (a true projection shortens all three to 0.816); no other length may be measured."
	}
	a, b := v.Axes()
	return "Lengths in the plane of " + a + " and " + b + " are to scale."
}

// Axes is the job axes that run to the right and up on paper, with a minus where against them; of an isometric those that run to the lower right and up.
func (v View) Axes() (right, up string) {
	a, b := v.level()
	switch v.Kind {
	case Side:
		return a.String(), (v.Up % 3).String()
	case Front, Isometric:
		return b.String(), (v.Up % 3).String()
	}
	return a.String(), b.String()
}

// Project is where a place of the job lies in a view.
//
// Isometric is after ISO 5456-3 with equal scales on the three axes, each at full length: first level axis to the lower left, second to the
// lower right, both 30 degrees from level, Up up.
func Project(view View, x, y, z unit.Length) Place {
	at := [3]unit.Length{x, y, z}
	first, second := view.level()
	a, b, up := at[first], at[second], at[view.Up%3]
	switch view.Kind {
	case Side:
		return Place{a, up}
	case Front:
		return Place{b, up}
	case Isometric:
		return Place{unit.Length(float64(b-a) * (math.Sqrt(3) / 2)), up - unit.Length(float64(a+b)/2)}
	}
	return Place{a, b}
}
