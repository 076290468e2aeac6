package data

import (
	"cmp"
	"slices"

	"loomsheet/harness/unit"
)

// Kinds of fuse, by their type in ISO 8820 in plain words.
const (
	BladeF = "blade-f" // ISO 8820-3 type F, small blade
	BladeC = "blade-c" // ISO 8820-3 type C, usual blade
	BladeE = "blade-e" // ISO 8820-3 type E, large blade
	BoltIn = "bolt-in" // ISO 8820-5 type SF30, bolt-in strip (part and type from memory)
	Link   = "link"    // ISO 8820-5 type SF51, large bolt-in strip (part and type from memory)
)

// FuseKinds lists the kinds that have a time-current gate.
var FuseKinds = []string{BladeF, BladeC, BladeE, BoltIn, Link}

// FuseGate is a window of opening time at a multiple of the rated current.
type FuseGate struct {
	Kind        string
	From, To    unit.Current // ratings it holds for
	Times       unit.Ratio   // of the rated current
	Least, Most unit.Time    // Least 0: not stated; Most 0: need never open
	Basis       Basis
}

// FuseGates is what makers' datasheets print that state conformity to ISO 8820-3 (blades) or are of the bolt-in families; the
// texts of the standards were not at hand. Rising multiple within a kind and range.
var FuseGates = []FuseGate{
	{BladeF, 2, 30, 1.1, 360000, 0, Verified},
	{BladeF, 2, 30, 1.35, 0.75, 600, Verified},
	{BladeC, 1, 30, 1.1, 360000, 0, FromMemory},
	{BladeC, 1, 30, 1.35, 0.75, 600, FromMemory},
	{BladeC, 10, 10, 1.6, 0.25, 50, Verified},
	{BladeC, 10, 10, 2, 0.15, 5, Verified},
	{BladeC, 1, 30, 3.5, 0.04, 0.5, FromMemory},
	{BladeC, 1, 30, 6, 0.02, 0.1, FromMemory},
	{BladeC, 35, 40, 1, 360000, 0, Verified},
	{BladeC, 35, 40, 1.35, 0.75, 600, Verified},
	{BladeC, 35, 40, 2, 0.15, 5, Verified},
	{BladeC, 35, 40, 3.5, 0.08, 0.5, Verified},
	{BladeC, 35, 40, 6, 0, 0.15, Verified},
	{BladeE, 40, 40, 1, 360000, 0, Verified},
	{BladeE, 40, 40, 1.35, 60, 1800, Verified},
	{BladeE, 40, 40, 2, 2, 50, Verified},
	{BladeE, 40, 40, 3.5, 0.2, 7, Verified},
	{BladeE, 40, 40, 6, 0.04, 1, Verified},
	{BoltIn, 30, 200, 1, 360000, 0, Verified},
	{BoltIn, 30, 200, 1.1, 14400, 0, Verified},
	{BoltIn, 30, 200, 1.5, 90, 3600, Verified},
	{BoltIn, 30, 200, 2, 5, 100, Verified},
	{Link, 100, 500, 1.35, 120, 1800, FromMemory},
	{Link, 100, 500, 2, 1, 15, FromMemory},
	{Link, 100, 500, 3.5, 0.3, 5, FromMemory},
	{Link, 100, 500, 6, 0.1, 1, FromMemory},
}

// FuseGatesBesides fill in the ratings and multiples that FuseGates does not show, all from memory: type E as its 40 A fuse, small and usual
// blades as the usual one of 10 A.
var FuseGatesBesides = []FuseGate{
	{BladeF, 2, 30, 1.6, 0.25, 50, FromMemory},
	{BladeF, 2, 30, 2, 0.15, 5, FromMemory},
	{BladeF, 2, 30, 3.5, 0.04, 0.5, FromMemory},
	{BladeF, 2, 30, 6, 0.02, 0.1, FromMemory},
	{BladeC, 1, 30, 1.6, 0.25, 50, FromMemory},
	{BladeC, 1, 30, 2, 0.15, 5, FromMemory},
	{BladeE, 20, 80, 1, 360000, 0, FromMemory},
	{BladeE, 20, 80, 1.35, 60, 1800, FromMemory},
	{BladeE, 20, 80, 2, 2, 50, FromMemory},
	{BladeE, 20, 80, 3.5, 0.2, 7, FromMemory},
	{BladeE, 20, 80, 6, 0.04, 1, FromMemory},
	{BoltIn, 30, 200, 3, 0.3, 3, FromMemory},
	{BoltIn, 30, 200, 5, 0.1, 1, FromMemory},
}

// FuseGateOf lists the windows for a fuse, rising multiple, one of each: of two a verified one counts before one from memory. It is empty for
// an unknown kind or a rating outside the ranges.
func FuseGateOf(kind string, rating unit.Current) []FuseGate {
	var out []FuseGate
	for _, g := range slices.Concat(FuseGates, FuseGatesBesides) {
		if g.Kind != kind || rating < g.From || rating > g.To {
			continue
		}
		i, found := slices.BinarySearchFunc(out, g.Times, func(x FuseGate, times unit.Ratio) int { return cmp.Compare(x.Times, times) })
		switch {
		case !found:
			out = slices.Insert(out, i, g)
		case out[i].Basis != Verified && g.Basis == Verified:
			out[i] = g
		}
	}
	return out
}

// Info of a window.
func (g FuseGate) Info() Info {
	return Info{"makers' datasheets that state conformity to ISO 8820", g.Times.String() + " of the rating", g.Basis}
}

// Energy is let through by a fuse until its element melts, in ampere squared seconds.
type Energy float64

// FuseElement is printed data of one fuse.
type FuseElement struct {
	Kind   string
	Rating unit.Current
	Cold   unit.Resistance // typical, cold
	Melt   Energy          // typical
	Basis  Basis
}

// FuseElements is what datasheets print of single ratings, seen second-hand.
var FuseElements = []FuseElement{
	{BladeE, 30, 1.9e-3, 4100, Verified},
	{BladeE, 35, 1.7e-3, 6000, Verified},
	{BladeE, 40, 1.4e-3, 8500, Verified},
	{BladeC, 40, 1.44e-3, 3300, Verified},
	{BladeF, 25, 2.36e-3, 625, Verified},
}

// FuseAmbientRow is the most a fuse may carry at an ambient.
type FuseAmbientRow struct {
	Ambient unit.Temperature
	Allowed unit.Current
	Basis   Basis
}

// FuseAmbient is the datasheet of a 40 A fuse of type E.
var FuseAmbient = []FuseAmbientRow{
	{20, 40, Verified},
	{65, 34, Verified},
	{85, 30, Verified},
	{110, 25, Verified},
	{125, 22, Verified},
}

// FuseAmbientFactor is what an ambient leaves of a blade fuse's rating, on straight lines between the points of FuseAmbient. It is
// 1 up to 20 C; ok is false above 125 C.
func FuseAmbientFactor(t unit.Temperature) (f unit.Ratio, info Info, ok bool) {
	info = Info{"datasheet of a 40 A fuse of ISO 8820-3 type E", "most allowed load by ambient", Verified}
	rated := float64(FuseAmbient[0].Allowed)
	for i, row := range FuseAmbient {
		if !(t <= row.Ambient) {
			continue
		}
		if i == 0 {
			return 1, info, true
		}
		p := FuseAmbient[i-1]
		share := float64(t-p.Ambient) / float64(row.Ambient-p.Ambient)
		return unit.Ratio((float64(p.Allowed) + float64(share*float64(row.Allowed-p.Allowed))) / rated), info, true
	}
	return 0, Info{}, false
}

// FuseColourRow is the body colour of a rating, for one or two kinds.
type FuseColourRow struct {
	Kind, OrKind string
	Rating       unit.Current
	Colour       string
	Basis        Basis
}

// FuseColours is ISO 8820-3 / SAE J1284. A colour alone tells no rating: red is 10 A in types C and F, 50 A in type E.
var FuseColours = []FuseColourRow{
	{BladeC, BladeF, 1, "black", FromMemory},
	{BladeC, BladeF, 2, "grey", FromMemory},
	{BladeC, BladeF, 3, "violet", Verified},
	{BladeC, BladeF, 4, "pink", Verified},
	{BladeC, BladeF, 5, "tan", Verified},
	{BladeC, BladeF, 7.5, "brown", Verified},
	{BladeC, BladeF, 10, "red", Verified},
	{BladeC, BladeF, 15, "blue", Verified},
	{BladeC, BladeF, 20, "yellow", Verified},
	{BladeC, BladeF, 25, "clear or white", Verified},
	{BladeC, BladeF, 30, "green", Verified},
	{BladeC, BladeF, 35, "blue-green", FromMemory},
	{BladeC, BladeF, 40, "orange", Verified},
	{BladeE, "", 20, "yellow", FromMemory},
	{BladeE, "", 30, "green", FromMemory},
	{BladeE, "", 40, "orange", Verified},
	{BladeE, "", 50, "red", Verified},
	{BladeE, "", 60, "blue", FromMemory},
	{BladeE, "", 70, "tan", FromMemory},
	{BladeE, "", 80, "clear", FromMemory},
}

// FuseColour is the body colour of a blade fuse.
func FuseColour(kind string, rating unit.Current) (colour string, info Info, ok bool) {
	for _, row := range FuseColours {
		if (row.Kind == kind || row.OrKind == kind) && kind != "" && row.Rating == rating {
			return row.Colour, Info{Document: "ISO 8820-3 / SAE J1284", Basis: row.Basis}, true
		}
	}
	return "", Info{}, false
}
