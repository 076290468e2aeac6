package shell

import (
	"math"

	"loomsheet/harness/design"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// touching is how near two things must be to count as being at one place: a tape is read to a millimetre.
const touching unit.Length = 1

// place tells whether coordinates are a place at all.
func place(p design.Point3) bool { return solid.Known(p) }

// clean is x, or 0 where it is no number or one that no body has, so that no sum overflows.
func clean[T ~float64](x T) T {
	if math.Abs(float64(x)) <= 1e9 {
		return x
	}
	return 0
}

// dot is the product of two directions, a plain number.
func dot(a, b solid.Vector) float64 { return float64(a.Dot(b)) }

func abs(l unit.Length) float64 { return math.Abs(float64(l)) }

func apart(a, b solid.Flat) unit.Length {
	return unit.Length(math.Hypot(float64(a.U-b.U), float64(a.V-b.V)))
}

// fromLine is the distance of a place from the piece of line between two others.
func fromLine(p, a, b solid.Flat) unit.Length {
	d, _, _ := solid.Outline{a, b}.Edge(p)
	return d
}

// toSides is the distance of a place from the nearest side of an outline.
func toSides(o solid.Outline, p solid.Flat) unit.Length {
	d, _, _ := o.Edge(p)
	return d
}

// upAxis is the job's direction that points up, and the two level ones.
func upAxis(job *design.Job) (up, first, second solid.Vector) {
	x, y, z := solid.Vector{X: 1}, solid.Vector{Y: 1}, solid.Vector{Z: 1}
	switch job.Up {
	case "x":
		return x, y, z
	case "y":
		return y, x, z
	}
	return z, x, y
}

// axisName is the job axis along which a direction runs most, with its sense.
func axisName(v solid.Vector) string {
	name, most := "x", float64(v.X)
	for _, a := range []struct {
		name string
		v    float64
	}{{"y", float64(v.Y)}, {"z", float64(v.Z)}} {
		if math.Abs(a.v) > math.Abs(most)+1e-9 {
			name, most = a.name, a.v
		}
	}
	if most < 0 {
		return "smaller " + name
	}
	return "greater " + name
}
