// Package heat finds how hot each conductor gets in its bundle, and what it may carry, by published tables where their printed
// conditions hold and by a heat balance of the bundle elsewhere.
package heat

import (
	"slices"

	"loomsheet/harness/unit"
)

// Method is how an ampacity was found.
type Method string

// Methods.
const (
	Balance  Method = "heat balance"
	Aircraft Method = "AC 43.13-1B Table 11-9"
	Marine   Method = "33 CFR 183.425 Table 5"
)

// BundleResult is one edge of the geometry in one case.
type BundleResult struct {
	Edge    int
	Run     string
	Station unit.Length // of the edge's beginning along the run's stretch
	Wires   []int
	Amps    []unit.Current     // of each of them the steady current that heats like its duty; 0 where the conductor is not known
	Temps   []unit.Temperature // of each of them there; the ambient where the conductor is not known
	Outside unit.Length        // of the bundle with its sleeve
	Bare    unit.Length        // of the bundle without its sleeve
	Ambient unit.Temperature
	Surface unit.Temperature
	Watts   unit.LinearPower
	Runaway bool // no steady state: the heat grows faster than the surface sheds it
}

// WireResult is one wire over all cases: its hottest place.
type WireResult struct {
	Wire    int
	Case    string
	Given   int // which of the cases given, and of Result.Bundles: a name may be there twice
	Edge    int // -1: a loose lead
	Zone    string
	Ambient unit.Temperature
	Amps    unit.Current // in that case, or what the link says it carries where that is more
	// Effective is the steady current that heats as the duty loads do at their peak; equal to Amps without any.
	Effective unit.Current
	Count     int // wires in the bundle there
	// Hottest is the conductor by the heat balance, with the peak of a start, whichever method rules.
	Hottest unit.Temperature
	Rest    unit.Temperature // there if this wire alone carried nothing: what its neighbours and the air do
	Runaway bool             // no steady state: Hottest is where the count was stopped
	// Start is the device whose starting current makes the peak, when one does; Peak is the temperature at its end.
	Start string
	Peak  unit.Temperature
	Limit unit.Temperature // insulation rating less the margin
	// Ampacity by each method that applies; the one that ruled is Ruled.
	Balance  unit.Current
	FreeAir  unit.Current // by the balance for the wire alone in the same air; for reference, never ruling in a bundle
	Table    *TableResult
	Ruled    Method
	Ampacity unit.Current
	// Unjudged is set when a published table rules and is met, while the balance has the conductor past its limit: both are told, the table is judged.
	Unjudged bool
	Verified bool // the ruling figure rests on verified values only
	Met      bool
	Known    bool   // false: the conductor is not known, nothing was judged
	Why      string // which source ruled and why, in words
}

// TableResult is what a published table says.
type TableResult struct {
	Method    Method
	Amps      unit.Current
	Condition string // printed conditions, and which are not met here
	Holds     bool
	Verified  bool
	Taken     string // the table's own size when the wire's is not in it: "as 16 AWG"
}

// Result is the heat of all cases.
type Result struct {
	Wires   []WireResult // by wire of the net
	Bundles []CaseBundles
	// Temps is the conductor temperature used for resistance, per case and wire: the mean over its way. Of cases of one name it is the
	// first's.
	Temps map[string][]unit.Temperature
}

// CaseBundles is the bundles of one case, in the order of the cases given: of one name there may be several.
type CaseBundles struct {
	Case    string
	Bundles []BundleResult // by edge, ascending
}

// Bundle is the one in which a wire's result was found; nil for a loose lead and for a wire that was not judged.
func (r *Result) Bundle(h *WireResult) *BundleResult {
	if !h.Known || h.Edge < 0 || h.Given < 0 || h.Given >= len(r.Bundles) {
		return nil
	}
	all := r.Bundles[h.Given].Bundles
	if i, ok := slices.BinarySearchFunc(all, h.Edge, func(b BundleResult, edge int) int { return b.Edge - edge }); ok {
		return &all[i]
	}
	return nil
}
