// Package contact finds what each contact may carry in its place: its rating, less for a thinner wire, a fuller connector and warmer
// air; and how parallel contacts share.
package contact

import (
	"cmp"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// EndResult is the contact at one end of a wire, at its worst over all cases.
type EndResult struct {
	Wire, End int
	Contact   string // part
	Where     string // break.cavity with the half's section, or device.pin
	Housing   string // part; empty: not known
	Case      string
	Amps      unit.Current // greatest steady current there
	Shared    unit.Current // with the contacts of least resistance in its way among parallel ones: what it takes; equal to Amps for one alone
	Parallel  int          // ways that share; 1 for one alone
	Rating    unit.Current
	// Equal is how many contacts loaded like this one would make the heat of all in the housing: the sum of their I^2 R over this one's own.
	// Where all are of one part it is the sum of the squares of the currents over this one's square. At least 1, at most Cavities.
	Equal     unit.Ratio
	Loaded    unit.Ratio // share of the cavities that count as loaded like this one: Equal / Cavities
	Cavities  int
	Wired     unit.Ratio // area of the wire over that on which the rating holds: the part's own word, else the largest wire it takes; at most 1, 0 not known
	Loading   unit.Ratio // factor for gauge and loading
	LoadingBy string     // document, and which bound ruled
	Ambient   unit.Temperature
	Heat      unit.Temperature // rating of the housing; 0 not known
	Rise      unit.TempDiff    // of a contact at its rating, the setting contact-rise
	Warm      unit.Ratio       // factor for ambient
	Allowed   unit.Current     // Rating x Loading x Warm
	Ruling    *design.Ruling   // of contact-derating; shared
	Carried   bool             // Amps is what the link says it carries, not what the case solved
	Verified  bool             // false: the rating, the pattern or what the ambient leaves is not that of the very part
	Met       bool             // Shared <= Allowed
}

// HousingResult is a housing whose part has a rating for all its contacts together, at its worst over all cases.
type HousingResult struct {
	Where    string // break with the half's section, or device
	Break    string // one of the two
	Device   string
	Housing  string // part
	Case     string
	Amps     unit.Current // sum over its contacts
	Rating   unit.Current
	Verified bool
	Met      bool
}

// WireShare is one wire of several ways that lie parallel between the same two points, at its worst over all cases.
type WireShare struct {
	Wire     int
	Case     string
	Amps     unit.Current // as solved
	Shared   unit.Current // with the contacts in its way as good as they may be, those in the other ways nominal and aged
	Parallel int          // ways
}

// Result is every end in a contact whose part has a rating, by wire and end.
type Result struct {
	Ends     []EndResult     // by wire and end
	Housings []HousingResult // by where they are
	Shares   []WireShare     // by wire; none for a wire that has nothing beside it
}

// At is those of a wire.
func (r *Result) At(wire int) []EndResult {
	by := func(e EndResult, wire int) int { return cmp.Compare(e.Wire, wire) }
	first, _ := slices.BinarySearchFunc(r.Ends, wire, by)
	n, _ := slices.BinarySearchFunc(r.Ends[first:], wire+1, by)
	return r.Ends[first : first+n]
}
