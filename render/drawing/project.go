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

// The views. The front is the end of least coordinate along the job's length, so that a person who looks at it stands before the front and
// looks towards greater coordinates. Plan is seen from above and Side from the left, both with the front to the left on paper.
const (
	Plan Kind = iota
	Side
	Front
	Isometric
)

// View is a way of looking at the job. Along is the level axis of its length; where it is Up, the first level one.
type View struct {
	Kind  Kind
	Up    Axis
	Along Axis
}

// level is the two level axes in the order in which they make a right-handed system with Up: z up gives x, y.
func (v View) level() (first, second Axis) { return (v.Up + 1) % 3, (v.Up + 2) % 3 }

// arm is an axis of the job on paper, run along or against.
type arm struct {
	axis    Axis
	against bool
}

func (a arm) String() string {
	if a.against {
		return "-" + a.axis.String()
	}
	return a.axis.String()
}

func (a arm) towards() string {
	if a.against {
		return "smaller " + a.axis.String()
	}
	return "greater " + a.axis.String()
}

func (a arm) of(at [3]unit.Length) unit.Length {
	if a.against {
		return -at[a.axis]
	}
	return at[a.axis]
}

// turn is the axis along the length, and that to the right of one who stands in the job with the front behind: x aft, z up gives y.
func (v View) turn() (along, right arm) {
	a, b := v.level()
	if v.Along%3 == b {
		return arm{b, false}, arm{a, true}
	}
	return arm{a, false}, arm{b, false}
}

// arms are the axes that run to the right and up on paper, and the one along which one looks; not of an isometric.
func (v View) arms() (right, up, look arm) {
	along, across := v.turn()
	high := arm{v.Up % 3, false}
	switch v.Kind {
	case Side:
		return along, high, across
	case Front:
		return arm{across.axis, !across.against}, high, along
	}
	return along, across, arm{high.axis, true}
}

// Name of the view: what it is and which way one looks.
func (v View) Name() string {
	_, _, look := v.arms()
	switch v.Kind {
	case Side:
		return "Side view from the left, looking towards " + look.towards()
	case Front:
		return "Front view, looking towards " + look.towards()
	case Isometric:
		return "Isometric view, from greater x, y and z"
	}
	return "Plan, looking down, towards " + look.towards()
}

// Note says where the front is, and what may be measured in the view.
func (v View) Note() string {
	if v.Kind == Isometric {
		return "Isometric after ISO 5456-3: the three axes stand 120 degrees apart, the level ones 30 degrees from level. Lengths along the three axes are to scale, drawn at their full length (a true projection shortens all three to 0.816); no other length may be measured."
	}
	right, up, _ := v.arms()
	along, _ := v.turn()
	s := "To the right is " + right.towards() + ", up is " + up.towards() + "; lengths along both are to scale. The front is taken to be where " + along.axis.String() + " is least"
	if v.Kind != Front {
		return s + ", to the left here."
	}
	return s + "; one stands before it."
}

// Axes is the job axes that run to the right and up on paper, with a minus where against them; of an isometric those that run to the lower right and up.
func (v View) Axes() (right, up string) {
	if v.Kind == Isometric {
		_, b := v.level()
		return b.String(), (v.Up % 3).String()
	}
	a, b, _ := v.arms()
	return a.String(), b.String()
}

// Project is where a place of the job lies in a view.
//
// Isometric is after ISO 5456-3 with equal scales on the three axes, each at full length: first level axis to the lower left, second to the
// lower right, both 30 degrees from level, Up up.
func Project(view View, x, y, z unit.Length) Place {
	at := [3]unit.Length{x, y, z}
	if view.Kind == Isometric {
		first, second := view.level()
		a, b, up := at[first], at[second], at[view.Up%3]
		return Place{unit.Length(float64(b-a) * (math.Sqrt(3) / 2)), up - unit.Length(float64(a+b)/2)}
	}
	right, up, _ := view.arms()
	return Place{right.of(at), up.of(at)}
}
