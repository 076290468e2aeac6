// Package contact finds what each contact may carry in its place: its rating, less for a thinner wire, a fuller connector and warmer
// air; and how parallel contacts share.
package contact

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// EndResult is the contact at one end of a wire, at its worst over all cases.
type EndResult struct {
	Wire, End int
	Contact   string // part
	Where     string // break.cavity with the half's section, or device.pin
	Housing   string // part
	Case      string
	Amps      unit.Current // greatest steady current there
	Shared    unit.Current // with the contact of least resistance among parallel ones: what it takes; equal to Amps for one alone
	Parallel  int          // contacts that share; 1 for one alone
	Rating    unit.Current
	Loaded    unit.Ratio // share of the cavities that count as loaded like this one: sum of squares of all currents / (cavities x its square), at most 1
	Cavities  int
	Loading   unit.Ratio // factor for gauge and loading
	LoadingBy string     // document
	Ambient   unit.Temperature
	Heat      unit.Temperature // rating of the housing; 0 not known
	Warm      unit.Ratio       // factor for ambient
	Allowed   unit.Current     // Rating x Loading x Warm
	Ruling    design.Ruling    // of contact-derating
	Verified  bool
	Met       bool
}

// Result is every end in a contact whose part has a rating, by wire and end.
type Result struct {
	Ends []EndResult
}

// Find weighs every contact.
func Find(job *design.Job, nt *net.Net, sizes size.Sizes, cases []*solve.CaseResult) *Result {
	return &Result{}
}
