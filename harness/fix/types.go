// Package fix decides what holds the harness to the body: where each clip goes along each run, what clip, what fixing, what screw. It
// makes the problem that harness/clip settles, and dresses its answer. A fixing stated by hand stands, and is checked by the rules.
package fix

import (
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
)

// Plan is every stretch with its clips.
type Plan struct {
	Runs   []RunPlan // by run and stretch
	Misses []Miss    // what could not be held as the settings ask
}

// RunPlan is one stretch of a run with its clips.
type RunPlan struct {
	Run          string
	Stretch      int
	Section      string
	Zone         string
	Panel        string
	Tube         string
	Length       unit.Length
	LengthStatus design.Status
	Nodes        []Station // nodes and waypoints along it
	Bends        []BendAt
	Diameters    []Diameter // the band along it, piece by piece
	Clips        []Clip
	SpanLimit    unit.Length
	SpanSource   string
	Wires        int         // the most in any of its bundles
	Outside      unit.Length // the largest bundle diameter, sleeved, by the trade's figure
	Sleeves      []SleeveCut // over its bundle, one for each piece with wires in it
	Note         string      // what to look at by hand
}

// BendAt is a bend along a stretch.
type BendAt struct {
	After  unit.Length // of its middle
	Turn   unit.Angle
	Radius unit.Length // of the centre line
}

// Diameter is the band of the bundle from one station to another, sleeved.
type Diameter struct {
	From, To unit.Length
	Least    bundle.Least
	Most     unit.Length
	Wires    int
}

// SleeveCut is a length of sleeve over a run.
type SleeveCut struct {
	Part     string
	Run      string
	From, To string      // places along the run
	Over     unit.Length // the widest bundle under it
	Length   unit.Length
}

// Station is a place along a stretch.
type Station struct {
	After    unit.Length
	At       design.Point3
	What     string
	Known    bool // At
	Breakout bool // something leaves here
	Ends     bool // wires end here in a connector or on a stud
}

// Clip is one clip.
type Clip struct {
	Mark      string // run and ordinal: tunnel-3; in a hole that has a name, that name
	After     unit.Length
	At        design.Point3 // on the centre line of the bundle
	Part      string
	ClipWhy   string       // why that part: "stated", "run tunnel", "p-clip stands 100 C, zone hot-side has 140 C", "default"
	Bundle    unit.Length  // outside diameter there by the trade's figure, sleeved
	Least     bundle.Least // the same by closest packing
	ClipSize  unit.Length  // diameter the clip holds; 0 none of the part fits
	Play      unit.Length  // what it may be wider than the bundle without being wrapped
	Ear       unit.Length  // from the bundle's middle to the hole, along the panel; 0: the hole is under the bundle
	EarSide   string       // on which side of the bundle the hole is: "above the bundle", "beside the bundle, at larger y", "between the two bundles"
	Fastener  string
	Kind      string      // rivet-nut, stud, screw, bolt, adhesive, tie; empty not known
	KindWhy   string      // why that one: "stated", "set fastener, panel firewall", "the back of the panel is seen from the cabin"
	Drill     unit.Length // 0 no hole
	Screw     unit.Length // length of the screw, or least length of the stud; 0 not known, or none
	ScrewSum  string      // how it came about: "clip 2 x 1.2 + washer 1 + panel 1.5 + nut 5 + 2 past it, next longer 14"
	Panel     string
	Tube      string
	Hole      string        // an existing hole used
	HoleAt    design.Point3 // where its hole or stud is: that of the named hole; of a shared one half way between the two clips; else under the ear of the clip
	With      string        // mark of the clip of another run that shares its hole; empty: none
	Why       string        // end, breakout, bend, span, fixed
	Status    design.Status
	Known     bool // At
	HoleKnown bool // HoleAt
	NewHole   bool // it needs a hole that is not there yet
	NoScrew   bool // no screw of the fastener is long enough
	Tight     bool // a tie: drawn tight, it is never wrapped
}

// Wrap is by how much the clip is wider than the least the bundle can be: to be wrapped with tape; 0 it need not be.
func (c *Clip) Wrap() unit.Length {
	if c.Tight || !(c.ClipSize > 0) || !(c.ClipSize > c.Play) {
		return 0
	}
	if least := c.Least.Length(); least > 0 && c.ClipSize-least > c.Play+tiny {
		return c.ClipSize - least
	}
	return 0
}

// Miss is what the clips of a stretch could not meet.
type Miss struct {
	Run      string
	Stretch  int
	What     string      // "span": a gap too long; "end": nothing near enough to a connector; "breakout", "bend"; "shut": a stated clip in a place where none may be; "tube", "panel": a clip out of reach of its tube or panel, Place
	From, To unit.Length // the gap, or where a clip is wanted
	Place    string      // of "end", "breakout", "bend": what it is wanted for
	Gap      unit.Length // largest, of "span"; along the way to the nearest clip, of the others; 0: there is none
	Limit    unit.Length
	Source   string
	Clip     string // of "shut"
	Why      string // what stands in the way: "keep-out of panel floor", "painted: no new hole"
	Span     diag.Span
}
