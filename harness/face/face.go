// Package face turns the cavity places of a housing into the views a person holds it against: from the side the wires go in, and from the side
// that meets the other half. One is the mirror image of the other; so are the two halves of a connector.
package face

import (
	"math"

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
	Diameter unit.Length // of the circle that it may be drawn as without meeting another: wallShare of the way to its nearest
}

// Mark is a place on the edge of a face.
type Mark struct {
	X, Y  unit.Length
	Known bool // false: the part does not say
}

// Outline is what surrounds the cavities as drawn: no outside measure of the part.
type Outline struct {
	Round bool        // by its flange, which is round; else a rectangle
	X, Y  unit.Length // its middle
	W, H  unit.Length // across and up; alike of a round one
}

// Face is a housing in one view.
type Face struct {
	View     View
	Mirrored bool     // left and right are changed from how the part is written
	Cavities []Cavity // those with a place, in the housing's order
	Without  []string // those without one
	Key      Mark     // the keyway, as the part states it
	Outline  Outline  // zero where no cavity has a place
}

const (
	// wallShare leaves a tenth of the way between two cavities as wall.
	wallShare = 0.9
	// lone is what a single cavity is drawn as, of its cut-out, and loneMM where that is not known either.
	lone               = 0.4
	loneMM unit.Length = 8
)

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
	if h.Keyed {
		f.Key = Mark{X: h.Keyway[0], Y: h.Keyway[1], Known: true}
		if f.Mirrored {
			f.Key.X = -f.Key.X
		}
	}
	f.diameters(h)
	f.surround(h)
	return f
}

// diameters gives each cavity the largest circle that stays off its nearest neighbour: of two neighbours neither takes more than half the way.
func (f *Face) diameters(h *design.Housing) {
	for i := range f.Cavities {
		c := &f.Cavities[i]
		for j := range f.Cavities {
			o := &f.Cavities[j]
			if d := unit.Length(hypot(c.X-o.X, c.Y-o.Y)); i != j && d > 0 && (c.Diameter == 0 || d < c.Diameter) {
				c.Diameter = d
			}
		}
		switch {
		case c.Diameter > 0:
			c.Diameter *= wallShare
		case h.CutOut > 0:
			c.Diameter = h.CutOut * lone
		default:
			c.Diameter = loneMM
		}
	}
}

// surround lays the outline round the cavities, a quarter of the widest one off them.
func (f *Face) surround(h *design.Housing) {
	if len(f.Cavities) == 0 {
		return
	}
	left, low, right, high := unit.Length(math.Inf(1)), unit.Length(math.Inf(1)), unit.Length(math.Inf(-1)), unit.Length(math.Inf(-1))
	widest := unit.Length(0)
	for _, c := range f.Cavities {
		r := c.Diameter / 2
		left, right, low, high = min(left, c.X-r), max(right, c.X+r), min(low, c.Y-r), max(high, c.Y+r)
		widest = max(widest, c.Diameter)
	}
	o := Outline{X: (left + right) / 2, Y: (low + high) / 2, W: right - left + widest/2, H: high - low + widest/2}
	if o.Round = h.Flange[0] > 0 && h.Flange[1] == 0; o.Round {
		r := f.circle(&o)
		o.W, o.H = 2*r+widest/2, 2*r+widest/2
	}
	f.Outline = o
}

// circle moves the middle of a round outline towards whatever is farthest off it, by less each time, which ends near the least circle round all
// cavities; it gives the radius that holds them.
func (f *Face) circle(o *Outline) unit.Length {
	far := func() (reach unit.Length, by int) {
		for i, c := range f.Cavities {
			if d := unit.Length(hypot(c.X-o.X, c.Y-o.Y)) + c.Diameter/2; d > reach {
				reach, by = d, i
			}
		}
		return reach, by
	}
	for step := 2; step < 200; step++ {
		_, by := far()
		c := f.Cavities[by]
		o.X += unit.Length(float64(c.X-o.X) / float64(step))
		o.Y += unit.Length(float64(c.Y-o.Y) / float64(step))
	}
	r, _ := far()
	return r
}
