package size

import (
	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// DefaultColour is what a wire gets whose circuit states no colour and which is no core of a cable. It says nothing about what
// the wire does: black is never guessed for a return, nor red for a feed.
const DefaultColour = "white"

// coreColours tells the cores of a cable made up on the bench apart where no colour is stated; from the seventh core on all are
// DefaultColour and only their labels differ. Red and black carry a meaning and are left out.
var coreColours = []string{DefaultColour, "blue", "yellow", "grey", "green", "violet"}

// Bare is the colour of a screen.
const Bare = "bare"

// Colour is the colour of a wire as it is cut, its IEC 60757 letters (empty when the colour is not one of the standard's) and whether
// it was decided or computed. In order: the core of a bought cable has the cable's own colour, whatever the circuit states; a
// screen is bare; a stated colour; a core of a made-up cable by its place; else DefaultColour.
func Colour(job *design.Job, w *net.Wire) (colour, code string, status design.Status) {
	colour, status = w.Colour, design.Stated
	if w.Kind == net.Screen {
		return Bare, "", design.Computed
	}
	if c := coreColour(job, w); c != "" {
		colour = c
	}
	if colour == "" {
		colour, status = DefaultColour, design.Computed
		if w.Cable != "" && w.Core >= 0 && w.Core < len(coreColours) {
			colour = coreColours[w.Core]
		}
	}
	code, _ = data.ColourCode(colour)
	return colour, code, status
}

// coreColour is the colour of the wire's core in its bought cable; empty if it is none.
func coreColour(job *design.Job, w *net.Wire) string {
	if w.Cable == "" || w.Core < 0 {
		return ""
	}
	for _, p := range job.Parts.Wires {
		if p.Name == w.Family {
			if w.Core < len(p.Cores) {
				return p.Cores[w.Core].Colour
			}
			return ""
		}
	}
	return ""
}
