// Package shell gathers all that happens to the bare body before paint: every hole, stud and cut-out with its place on its panel and how to
// find it with a tape, how connectors on panels stand to one another, what the painter masks, and, once the body is painted, what would need a
// new hole and which holes are left over.
package shell

import (
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

// Shell is all of it.
type Shell struct {
	Panels    []Panel    // in the order a person walks round the body
	Holes     []Hole     // by panel in that order, then by drill, then along the shortest walk; those on no panel last
	Mounts    []Mount    // connectors, stud posts and bushes on panels, by panel and name
	Masks     []Mask     // what the painter keeps bare, by panel in walking order
	Plugs     []Plug     // frozen holes that nothing uses any more
	Late      []Late     // what would need a new hole after paint
	Close     []Close    // holes too near one another
	AtEdge    []AtEdge   // holes too near the edge of their panel, or in a keep-out
	Crowded   []Crowded  // connectors too near one another, or to what stands beside them
	Misfits   []Misfit   // a panel too thick or too thin, a flange on the wrong side, a screen with no bond
	Unflat    []Unflat   // corners that are not in one plane
	Templates []Template // drill templates at full size
	Open      []Open     // what has no fixing or no place yet
	Decisions []Decision // holes, studs and connectors as they stand, to be frozen
}

// Panel is a sheet with its own flat coordinates.
type Panel struct {
	Name      string
	Plane     solid.Plane
	Outline   solid.Outline // empty: the job gives neither corners nor points
	Flat      bool          // it has corners in one plane
	Curved    unit.Length   // how far its points stand off the plane, of a sheet given by points
	Thickness unit.Length
	KeepOuts  []solid.Outline
	Sides     [2]Side // along the plane's normal, against it
	Seams     []int   // sides of the outline (from corner i to the next) that lie against another panel in the same plane: no edge
	Walk      int     // 1 for the first
	Against   bool    // most of its holes are drilled from the side against the normal: its map is seen from there, and right on it is against Across
	Span      diag.Span
}

// Side is one side of a panel.
type Side struct {
	Zone string
	Seen bool
	// Known is false where nothing tells on which side the zone lies.
	Known bool
}

// Hole is a hole or stud the bare body needs.
type Hole struct {
	Mark         string
	What         string // "clip tunnel-3", "break A", "screw 1 of break A", "bush return-hole", "hole"
	Kind         string // clip, connector, connector screw, stud post, bush, earth stud, stud (in a panel and not on the minus side), stated
	Of           string // break to whose pattern it belongs
	Panel        string
	At           design.Point3
	Known        bool
	Middle       bool // At is where the middle of the bundle lies over the panel: where the ear of its clip puts the hole is not known
	New          bool // not there: not frozen, or frozen after the body was painted
	Status       design.Status
	Flat         solid.Flat  // in the panel's coordinates; valid if Known and the panel has an outline
	Off          unit.Length // how far the thing itself stands off the panel
	Drill        unit.Length // as drilled, with the allowance for paint; 0: no hole where Fastener needs none, else not known
	High         unit.Length // height of a rectangular cut-out, Drill its width
	DrillSum     string      // "32 and 0.2 for paint"
	Part         unit.Length // as the part, or the line that states the hole, asks for it, before the allowance; 0 as Drill
	PartHigh     unit.Length
	Turn         unit.Angle // of a rectangular cut-out, as of its Mount
	Fastener     string
	FastenerKind string // of the fastener: rivet-nut, stud, ...
	From         string // zone of the side it is drilled or set from; empty where nothing tells
	Refs         []Ref  // two, where the panel has them, the nearer first
	Which        string // of the two places where the circles about them cross, if both lie on the panel: "the one with the greater z"
	Note         string
	Revision     string    // since which it is frozen
	Span         diag.Span // of what needs it
}

// Ref is a distance to something that is on the bare body already.
type Ref struct {
	To       string // "corner 2", "point datum-fl", "hole A"
	At       design.Point3
	Distance unit.Length // as a tape lies, straight
}

// Mount is what sits in a hole of a panel.
type Mount struct {
	Name    string
	Kind    string // connector, stud post, bush
	Panel   string
	Housing string
	Hole    string // mark of the hole it sits in
	At      design.Point3
	Flat    solid.Flat
	Known   bool
	CutOut  [2]unit.Length // as drilled: width and height, or diameter and 0
	Bore    unit.Length    // of a bush
	Flange  [2]unit.Length // width and height, or diameter and 0
	Nut     unit.Length
	Room    unit.Length // diameter that must stay free
	Turn    unit.Angle  // of the key, clockwise from the panel's up seen from the flange's side
	Key     string
	Face    int     // side of the plane on which the flange sits: 1 along the normal, -1 against it, 0 not known
	Mate    int     // the same of the side on which it is mated
	Side    string  // zone on whose side the flange sits
	Mating  string  // zone on whose side it is mated
	SideWhy string  // stated, or whose half is fixed
	Screws  []Screw // beside the cut-out
	Bond    bool    // bare metal under its flange: a screen is earthed through it
	Span    diag.Span
}

// Screw is a hole beside a cut-out.
type Screw struct {
	Mark  string
	Flat  solid.Flat // on the panel
	At    design.Point3
	Drill unit.Length
}

// Mask is what the painter keeps bare.
type Mask struct {
	Mark   string
	What   string // "thread M5 of rivet nut", "bare earth pad 25 mm round", "bare ring under the flange"
	Panel  string
	At     design.Point3
	Known  bool
	Size   unit.Length // diameter of what stays bare; 0: just the thread
	Torque unit.Torque // later, of what is bolted there; 0: none stated
	Side   string
	Note   string
}

// Plug is a frozen hole that nothing uses any more.
type Plug struct {
	Mark, Panel string
	At          design.Point3
	Known       bool
	Drill       unit.Length
	Span        diag.Span
}

// Late is what would need a new hole although the body is painted.
type Late struct {
	Mark, What string
	Panel      string
	At         design.Point3
	Nearest    string      // the nearest hole that could be used instead; empty: none
	Away       unit.Length // how far from where it is wanted
	Why        string      // why it does not serve as it is: "further than clip-reach, 25 mm"; empty: nothing is known against it
	Span       unit.Length // of a clip: the largest gap there would be with that hole used instead
	Limit      unit.Length // the largest gap allowed
	Kind, Name string      // subject
	Where      diag.Span
}

// Close is two holes too near one another: middle to middle, or, where one is a cut-out, the metal between them.
type Close struct {
	A, B, Panel      string
	Distance, Needed unit.Length
	Metal            bool // Distance and Needed are of metal, rim to rim
	Source           string
	Where, Other     diag.Span
}

// AtEdge is a hole too near an edge of its panel, beyond it, or in a keep-out.
type AtEdge struct {
	Mark, Panel      string
	What             string      // "edge", "outside", "keep-out"
	Distance, Needed unit.Length // from the middle; outside and in a keep-out how far it is short of being clear, below 0, against 0
	Metal            bool        // Distance and Needed are of metal, rim to edge
	Source           string
	Where, Other     diag.Span
}

// Crowded is a connector that leaves no room to its neighbour: flange to flange, nut to flange, or a hand's room.
type Crowded struct {
	A, B, Panel  string
	Why          string // "the flanges meet", "a spanner on A's nut", "a hand on A"
	Gap, Needed  unit.Length
	Source       string
	Where, Other diag.Span
}

// Misfit is a connector that does not suit its panel.
type Misfit struct {
	Name, Panel  string
	Kind         string // of Name: break, point, hole, run, device, fastener
	What         string // "thickness", "mount" (neither half is fixed), "flange", "drill" (a stated hole that does not suit what sits in it), "far" (a stated hole out of reach of the clip that is said to use it), "off" (it is not on its panel), "edge" (its flange stands over the edge)
	Text         string
	Where, Other diag.Span
}

// Unflat is a panel whose corners are not in one plane.
type Unflat struct {
	Panel     string
	Off, Most unit.Length
	Source    string
	Where     diag.Span
}

// Template is a sheet at full size: of one connector, or of holes that lie close together.
type Template struct {
	Name      string // "A" or "A, B, NS"
	Panel     string
	Seen      string // zone from whose side it is drawn; empty: not known which zone lies there
	Against   bool   // it is seen against the panel's normal: right on paper is against Across
	Look      string // which way one looks, in job coordinates: "towards greater x"
	Note      string
	Holes     []TemplateHole
	Mounts    []int      // indices into Mounts
	Seats     []Seat     // how each of those is drawn
	Low, High solid.Flat // of all that is drawn, in the panel's coordinates as seen
}

// Seat is how a mount lies on a template: its middle in the panel's coordinates as seen from its side, and its turn, clockwise as drawn.
type Seat struct {
	Flat solid.Flat
	Turn unit.Angle
}

// TemplateHole is a hole on a template, in the panel's coordinates as seen from its side.
type TemplateHole struct {
	Mark  string
	Flat  solid.Flat
	Drill unit.Length
	High  unit.Length
	Turn  unit.Angle // of a rectangle, clockwise as drawn
}

// Open is what would have to be drilled or settled after paint.
type Open struct {
	Why   string // "no coordinates", "no panel", "no drill and no fixing", "its length is not known"
	Marks []string
}

// Decision is a hole, a stud or a connector as it stands now, to be written out as a statement.
type Decision struct {
	Name     string
	At       design.Point3
	Panel    string
	Drill    unit.Length // of the part, before the allowance for paint; 0 none
	High     unit.Length
	Fastener string
	Note     string // "for break A"
	Revision string
	Stated   bool // a line that is not frozen says so: that line wants freezing, no second one
	Old      bool // a frozen line says so already
	Late     bool // the body is painted and it is not there: it cannot be frozen
}
