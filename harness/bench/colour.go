package bench

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
)

// DefaultColour is that of a wire whose circuit states none; see size.Colour.
const DefaultColour = size.DefaultColour

// Bare is the colour of a screen.
const Bare = size.Bare

// Colour is the colour of a wire as it is cut, its IEC 60757 letters and whether it was decided or computed; see size.Colour.
func Colour(job *design.Job, w *net.Wire) (colour, code string, status design.Status) {
	return size.Colour(job, w)
}
