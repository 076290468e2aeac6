// Package face turns the cavity places of a housing into the views a person holds it against: from the side the wires go in, and from the side
// that meets the other half. One is the mirror image of the other; so are the two halves of a connector.
package face

import (
	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// View is the side a face is seen from.
type View uint8

// Views of a face.
const (
	WireSide View = iota
	MatingSide
)

// Cavity is one cavity as seen in a view.
type Cavity struct {
	Name     string
	X, Y     unit.Length // to the right and up, from the middle of the face as stated
	Diameter unit.Length // that fits between its neighbours
}

// Face is a housing in one view.
type Face struct {
	View     View
	Mirrored bool     // left and right are changed from how the part is written
	Cavities []Cavity // those with a place, in the housing's order
	Without  []string // those without one
}

// Of is a housing in a view. The part is written as seen from the wire side of the half with sockets, which is also how the plug on a device is
// held; the half with pins is its mirror image.
func Of(h *design.Housing, pins bool, view View) Face {
	f := Face{View: view, Mirrored: pins != (view == MatingSide)}
	for i := range h.Cavities {
		c := &h.Cavities[i]
		if !c.Placed {
			f.Without = append(f.Without, c.Name)
			continue
		}
		x := c.At[0]
		if f.Mirrored {
			x = -x
		}
		f.Cavities = append(f.Cavities, Cavity{Name: c.Name, X: x, Y: c.At[1]})
	}
	return f
}
