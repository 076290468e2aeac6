package export

// Run is a stretch of a run.
type Run struct {
	Run           string     `json:"run" doc:"name of the run"`
	Stretch       int        `json:"stretch" doc:"ordinal of its stretch, 1 first"`
	Section       string     `json:"section" doc:"section it belongs to"`
	Zone          string     `json:"zone" doc:"zone it lies in"`
	Panel         string     `json:"panel" doc:"panel it is clipped to"`
	Tube          string     `json:"tube" doc:"tube it is tied to"`
	LengthMM      Num        `json:"length_mm" doc:"its length; 0 not known"`
	Status        string     `json:"status" doc:"computed or measured"`
	StringMM      Num        `json:"string_mm" doc:"its length by string; 0 not measured"`
	StringDate    string     `json:"string_date" doc:"when it was measured by string, as written"`
	SlackMM       Num        `json:"slack_mm" doc:"slack that is added for cutting"`
	CoordinatesMM Num        `json:"coordinates_mm" doc:"its length along the coordinates, bends rounded; 0 not known"`
	SpanMM        Num        `json:"span_limit_mm" doc:"most between clips"`
	SpanSource    string     `json:"span_source" doc:"where that limit was set"`
	Wires         int        `json:"wires" doc:"most wires in it"`
	OutsideMM     Num        `json:"outside_mm" doc:"largest bundle diameter, sleeved, by the trade's figure"`
	Note          string     `json:"note" doc:"what else to know"`
	Stations      []Station  `json:"stations" doc:"places along it"`
	Bends         []Bend     `json:"bends" doc:"bends along it, as laid"`
	Diameters     []Diameter `json:"diameters" doc:"the bundle's diameter along it"`
	Sleeves       []Sleeve   `json:"sleeves" doc:"sleeve over it"`
	Clips         []Clip     `json:"clips" doc:"its clips"`
}

// Station is a place along a run.
type Station struct {
	AfterMM  Num    `json:"after_mm" doc:"from the beginning of the stretch"`
	What     string `json:"what" doc:"what is there"`
	At       [3]Num `json:"at_mm" doc:"coordinates; zero if not known"`
	Known    bool   `json:"known" doc:"the coordinates are known"`
	Breakout bool   `json:"breakout" doc:"something leaves the run here"`
	Ends     bool   `json:"ends" doc:"wires end here in a connector or on a stud"`
}

// Bend is a bend along a stretch.
type Bend struct {
	AfterMM  Num `json:"after_mm" doc:"of its middle, from the beginning of the stretch"`
	TurnDeg  Num `json:"turn_deg" doc:"by how much the bundle turns, in degrees"`
	RadiusMM Num `json:"radius_mm" doc:"of the centre line"`
}

// Diameter is the band of a bundle's diameter over a piece of a stretch, sleeved.
type Diameter struct {
	FromMM  Num `json:"from_mm" doc:"station where the piece begins"`
	ToMM    Num `json:"to_mm" doc:"station where it ends"`
	LeastMM Num `json:"least_mm" doc:"by closest packing"`
	MostMM  Num `json:"most_mm" doc:"by the trade's figure for a bundle laid by hand"`
	Wires   int `json:"wires" doc:"wires in it"`
}

// Clip is one clip.
type Clip struct {
	Mark     string `json:"mark" doc:"name of the clip"`
	AfterMM  Num    `json:"after_mm" doc:"station along the stretch"`
	GapMM    Num    `json:"gap_mm" doc:"from the clip before it on the stretch; 0 for the first"`
	At       [3]Num `json:"at_mm" doc:"coordinates; zero if not known"`
	Known    bool   `json:"known" doc:"the coordinates are known"`
	Part     string `json:"part" doc:"clip part"`
	ClipWhy  string `json:"clip_why" doc:"why that part"`
	BundleMM Num    `json:"bundle_mm" doc:"bundle diameter there by the trade's figure, sleeved"`
	LeastMM  Num    `json:"bundle_least_mm" doc:"the same by closest packing"`
	SizeMM   Num    `json:"size_mm" doc:"diameter the clip holds; 0 none fits"`
	WrapMM   Num    `json:"wrap_mm" doc:"by how much the clip is wider than the least the bundle can be, to be wrapped with tape"`
	EarMM    Num    `json:"ear_mm" doc:"from the middle of the bundle to the hole of its ear, along the panel; 0 under the bundle"`
	EarSide  string `json:"ear_side" doc:"on which side of the bundle that hole is"`
	Fastener string `json:"fastener" doc:"what holds it"`
	Kind     string `json:"kind" doc:"kind of fixing: rivet-nut, stud, screw, bolt, adhesive, tie; empty not known"`
	KindWhy  string `json:"kind_why" doc:"why that one"`
	DrillMM  Num    `json:"drill_mm" doc:"hole; 0 needs none"`
	ScrewMM  Num    `json:"screw_mm" doc:"length of the screw, or least length of the stud; 0 not known, or none"`
	ScrewSum string `json:"screw_sum" doc:"how that length came about"`
	Panel    string `json:"panel" doc:"panel it sits on"`
	Tube     string `json:"tube" doc:"tube it is tied to"`
	Hole     string `json:"hole" doc:"existing hole it uses"`
	HoleAt   [3]Num `json:"hole_at_mm" doc:"where its hole or stud is; zero if not known"`
	HoleIs   bool   `json:"hole_known" doc:"that place is known"`
	With     string `json:"with" doc:"clip of another run that shares its hole"`
	NewHole  bool   `json:"new_hole" doc:"it needs a hole that is not there yet"`
	Why      string `json:"why" doc:"end, breakout, bend, span or fixed"`
	Status   string `json:"status" doc:"computed, stated or frozen"`
}

// Turn is a change of direction of wires at a place, held against the radius they need.
type Turn struct {
	Run      string `json:"run" doc:"run it comes from"`
	Stretch  int    `json:"stretch" doc:"ordinal of its stretch, 1 first"`
	Onto     string `json:"onto" doc:"run it goes on in"`
	Place    string `json:"place" doc:"where"`
	At       [3]Num `json:"at_mm" doc:"coordinates"`
	AfterMM  Num    `json:"after_mm" doc:"station along the stretch"`
	TurnDeg  Num    `json:"turn_deg" doc:"by how much it turns, in degrees"`
	InsideMM Num    `json:"inside_mm" doc:"radius of the inner side as laid"`
	FitsMM   Num    `json:"fits_mm" doc:"largest inner radius there is room for"`
	NeededMM Num    `json:"needed_mm" doc:"inner radius needed; 0 not known"`
	Rule     string `json:"rule" doc:"what asks for it"`
	Source   string `json:"source" doc:"where that comes from"`
	Flexes   bool   `json:"flexes" doc:"it moves in use"`
}

// Near is the least distance between a stretch and a hazard in one of its positions.
type Near struct {
	Run      string `json:"run" doc:"name of the run"`
	Stretch  int    `json:"stretch" doc:"ordinal of its stretch, 1 first"`
	AfterMM  Num    `json:"after_mm" doc:"station along the stretch"`
	At       [3]Num `json:"at_mm" doc:"place on the centre line"`
	Hazard   string `json:"hazard" doc:"name of the hazard"`
	Kind     string `json:"kind" doc:"kind of hazard"`
	Position string `json:"position" doc:"its position, of one that moves"`
	GapMM    Num    `json:"gap_mm" doc:"between the surfaces; 0 they meet"`
	NeededMM Num    `json:"needed_mm" doc:"gap needed"`
	By       string `json:"by" doc:"what asks for it"`
	Source   string `json:"source" doc:"where that comes from"`
	Sleeve   string `json:"sleeve" doc:"sleeve over the stretch"`
}

// Move is a stretch whose ends move against one another.
type Move struct {
	Run        string   `json:"run" doc:"name of the run"`
	Stretch    int      `json:"stretch" doc:"ordinal of its stretch, 1 first"`
	From       string   `json:"from" doc:"what holds one end"`
	To         string   `json:"to" doc:"what holds the other"`
	FreeMM     Num      `json:"free_mm" doc:"length between them along the way, with slack"`
	StraightMM Num      `json:"straight_mm" doc:"straight distance between them"`
	MovesMM    Num      `json:"moves_mm" doc:"how far they move"`
	SpareMM    Num      `json:"spare_mm" doc:"what must be left over"`
	NeededMM   Num      `json:"needed_mm" doc:"length needed"`
	Source     string   `json:"source" doc:"where the spare comes from"`
	Tied       []string `json:"tied" doc:"clips in between that hold what must move"`
}

// Hole is a hole or stud of the shell.
type Hole struct {
	Mark     string `json:"mark" doc:"name of the hole"`
	What     string `json:"what" doc:"what it is for"`
	Kind     string `json:"kind" doc:"clip, connector, connector screw, stud post, bush or stated"`
	Of       string `json:"of" doc:"break to whose pattern it belongs"`
	Panel    string `json:"panel" doc:"panel"`
	At       [3]Num `json:"at_mm" doc:"coordinates; zero if not known"`
	Known    bool   `json:"known" doc:"the coordinates are known"`
	FlatMM   [2]Num `json:"flat_mm" doc:"across and up in the panel's own plane; zero if the panel has no outline"`
	OffMM    Num    `json:"off_mm" doc:"how far the place stands off the panel"`
	Middle   bool   `json:"middle" doc:"the place is the middle of the bundle over the panel; the ear of its clip puts the hole beside it"`
	DrillMM  Num    `json:"drill_mm" doc:"diameter as drilled, with the allowance for paint; 0 a stud that needs none, or not known"`
	HighMM   Num    `json:"high_mm" doc:"height of a rectangular cut-out, its width is the drill; 0 round"`
	DrillSum string `json:"drill_sum" doc:"how the diameter came about"`
	PartMM   Num    `json:"part_mm" doc:"diameter or width that the part asks for, before the allowance for paint"`
	PartHigh Num    `json:"part_high_mm" doc:"height that the part asks for; 0 round"`
	TurnDeg  Num    `json:"turn_deg" doc:"of a rectangular cut-out, clockwise from the panel's up seen from the flange's side, in degrees"`
	Fastener string `json:"fastener" doc:"what goes into it"`
	FixKind  string `json:"fastener_kind" doc:"kind of that fastener"`
	From     string `json:"from" doc:"zone of the side it is drilled or set from"`
	Refs     []Ref  `json:"refs" doc:"distances to things that are on the body already"`
	Which    string `json:"which" doc:"which of the two places where the circles about them cross"`
	Note     string `json:"note" doc:"what else to know"`
	New      bool   `json:"new" doc:"it is not there yet"`
	Revision string `json:"revision" doc:"since which it is frozen"`
	Status   string `json:"status" doc:"computed, stated or frozen"`
}

// Ref is a distance as a tape lies.
type Ref struct {
	To         string `json:"to" doc:"what it is measured from"`
	At         [3]Num `json:"at_mm" doc:"where that is"`
	DistanceMM Num    `json:"distance_mm" doc:"straight"`
}

// Shell is the rest of what happens to the bare body.
type Shell struct {
	Panels    []Panel    `json:"panels" doc:"panels, as one walks round the body"`
	Mounts    []Mount    `json:"mounts" doc:"connectors, stud posts and bushes on panels"`
	Masks     []Mask     `json:"masks" doc:"what the painter keeps bare"`
	Plugs     []Plug     `json:"plugs" doc:"holes that nothing uses any more"`
	Late      []Late     `json:"late" doc:"what would need a new hole after paint"`
	Open      []Open     `json:"open" doc:"what has no fixing or no place yet; empty: nothing is left to drill after paint"`
	Templates []Template `json:"templates" doc:"drill templates at full size"`
}

// Panel is a sheet of the body with its own flat coordinates.
type Panel struct {
	Name        string     `json:"name" doc:"name of the panel"`
	Walk        int        `json:"walk" doc:"ordinal on the way round, 1 first"`
	Origin      [3]Num     `json:"origin_mm" doc:"where its flat coordinates begin"`
	Across      [3]Num     `json:"across" doc:"direction of the first, of length 1"`
	Up          [3]Num     `json:"up" doc:"direction of the second, of length 1"`
	Outline     [][2]Num   `json:"outline_mm" doc:"its edge in flat coordinates, in order round; empty: not given"`
	Flat        bool       `json:"flat" doc:"its corners lie in one plane"`
	CurvedMM    Num        `json:"curved_mm" doc:"how far its points stand off the plane"`
	ThicknessMM Num        `json:"thickness_mm" doc:"thickness; 0 not stated"`
	KeepOuts    [][][2]Num `json:"keep_outs_mm" doc:"areas in which nothing may be drilled, in flat coordinates"`
	Sides       []Side     `json:"sides" doc:"along across x up, and against it"`
	Seams       []int      `json:"seams" doc:"sides of the outline that lie against another panel, 1 first: from that corner to the next"`
}

// Side is one side of a panel.
type Side struct {
	Zone  string `json:"zone" doc:"zone on that side"`
	Seen  bool   `json:"seen" doc:"it will be seen"`
	Known bool   `json:"known" doc:"it is known on which side the zone lies"`
}

// Mount is what sits in a hole of a panel.
type Mount struct {
	Name     string       `json:"name" doc:"name of the break or point"`
	Kind     string       `json:"kind" doc:"connector, stud post or bush"`
	Panel    string       `json:"panel" doc:"panel"`
	Housing  string       `json:"housing" doc:"housing part"`
	At       [3]Num       `json:"at_mm" doc:"coordinates; zero if not known"`
	FlatMM   [2]Num       `json:"flat_mm" doc:"in the panel's own plane"`
	Known    bool         `json:"known" doc:"the coordinates are known"`
	Hole     string       `json:"hole" doc:"mark of the hole it sits in"`
	BoreMM   Num          `json:"bore_mm" doc:"of a bush"`
	CutOutMM [2]Num       `json:"cut_out_mm" doc:"width and height as drilled, or diameter and 0"`
	FlangeMM [2]Num       `json:"flange_mm" doc:"width and height of the flange, or diameter and 0; both 0: not known"`
	NutMM    Num          `json:"nut_mm" doc:"across the nut; 0 none"`
	RoomMM   Num          `json:"room_mm" doc:"diameter that must stay free"`
	GripsMM  [2]Num       `json:"grips_mm" doc:"least and most thickness of the panel; 0 not known"`
	BehindMM Num          `json:"behind_mm" doc:"how far it stands out on the far side; 0 not known"`
	TurnDeg  Num          `json:"turn_deg" doc:"of the key, clockwise from the panel's up seen from the flange's side, in degrees"`
	Key      string       `json:"key" doc:"keying"`
	Face     int          `json:"face" doc:"side of the plane on which the flange sits: 1 along across x up, -1 against, 0 not known"`
	Mate     int          `json:"mate" doc:"the same of the side on which it is mated"`
	Side     string       `json:"side" doc:"zone on whose side the flange sits"`
	Mating   string       `json:"mating" doc:"zone on whose side it is mated"`
	SideWhy  string       `json:"side_why" doc:"why that side"`
	Screws   []MountScrew `json:"screws" doc:"holes beside the cut-out"`
	Bond     bool         `json:"bond" doc:"bare metal under its flange, a screen is earthed through it"`
}

// MountScrew is a hole beside a cut-out.
type MountScrew struct {
	Mark    string `json:"mark" doc:"name of the hole"`
	At      [3]Num `json:"at_mm" doc:"coordinates"`
	FlatMM  [2]Num `json:"flat_mm" doc:"in the panel's own plane"`
	DrillMM Num    `json:"drill_mm" doc:"diameter"`
}

// Mask is what the painter keeps bare.
type Mask struct {
	Mark     string `json:"mark" doc:"name of the hole or stud"`
	What     string `json:"what" doc:"what stays bare"`
	Panel    string `json:"panel" doc:"panel"`
	At       [3]Num `json:"at_mm" doc:"coordinates; zero if not known"`
	Known    bool   `json:"known" doc:"the coordinates are known"`
	SizeMM   Num    `json:"size_mm" doc:"diameter of what stays bare; 0 just the thread"`
	TorqueNM Num    `json:"torque_nm" doc:"later, of what is bolted there, in newton metres; 0 none stated"`
	Side     string `json:"side" doc:"zone on whose side"`
	Note     string `json:"note" doc:"what else to know"`
}

// Plug is a hole that nothing uses any more.
type Plug struct {
	Mark    string `json:"mark" doc:"name of the hole"`
	Panel   string `json:"panel" doc:"panel"`
	At      [3]Num `json:"at_mm" doc:"coordinates; zero if not known"`
	Known   bool   `json:"known" doc:"the coordinates are known"`
	DrillMM Num    `json:"drill_mm" doc:"diameter"`
}

// Late is what would need a new hole although the body is painted.
type Late struct {
	Mark    string `json:"mark" doc:"name of what needs it"`
	What    string `json:"what" doc:"what it is"`
	Panel   string `json:"panel" doc:"panel"`
	At      [3]Num `json:"at_mm" doc:"where it is wanted"`
	Nearest string `json:"nearest" doc:"nearest hole that could be used instead; empty: none"`
	AwayMM  Num    `json:"away_mm" doc:"how far that is"`
	SpanMM  Num    `json:"span_mm" doc:"of a clip, the largest gap there would be with it"`
	LimitMM Num    `json:"limit_mm" doc:"the largest gap allowed"`
	Why     string `json:"why" doc:"why the nearest hole does not serve as it is; empty: nothing is known against it"`
}

// Open is what is to be settled before paint.
type Open struct {
	Why   string   `json:"why" doc:"what is missing"`
	Marks []string `json:"marks" doc:"of what"`
}

// Template is a drill template at full size.
type Template struct {
	Name   string         `json:"name" doc:"what it is for"`
	Panel  string         `json:"panel" doc:"panel"`
	Seen   string         `json:"seen" doc:"zone from whose side it is drawn"`
	Back   bool           `json:"back" doc:"it is seen against across x up: right on paper is against across"`
	Look   string         `json:"look" doc:"which way one looks"`
	Note   string         `json:"note" doc:"what else to know"`
	LowMM  [2]Num         `json:"low_mm" doc:"lower left corner of all that is drawn, as seen"`
	HighMM [2]Num         `json:"high_mm" doc:"upper right corner"`
	Holes  []TemplateHole `json:"holes" doc:"holes on it"`
	Mounts []Seat         `json:"mounts" doc:"connectors on it"`
}

// Seat is a connector on a template.
type Seat struct {
	Name    string `json:"name" doc:"name of the break or point"`
	FlatMM  [2]Num `json:"flat_mm" doc:"its middle, as seen from the template's side"`
	TurnDeg Num    `json:"turn_deg" doc:"of its key, clockwise as drawn, in degrees"`
}

// TemplateHole is a hole on a template.
type TemplateHole struct {
	Mark    string `json:"mark" doc:"name of the hole"`
	FlatMM  [2]Num `json:"flat_mm" doc:"as seen from the template's side"`
	DrillMM Num    `json:"drill_mm" doc:"diameter, or width"`
	HighMM  Num    `json:"high_mm" doc:"height of a rectangular cut-out; 0 round"`
	TurnDeg Num    `json:"turn_deg" doc:"of a rectangle, clockwise as drawn, in degrees"`
}
