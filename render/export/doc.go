// Package export writes a compiled job as harness.json and as tables: every number that stands on a sheet, per wire, per cavity,
// per clip and per case. It works nothing out.
package export

// Format names the schema of harness.json. It changes when a field changes its meaning or goes.
const Format = "loomsheet harness 1"

// Num is a number rounded to nine significant digits, and to none below a millionth of a millionth, so that the file does not depend on how a
// processor adds.
type Num float64

// Doc is harness.json. Fields named _mm, _mm2, _v, _a, _ohm, _ohm_per_m, _c, _w, _s are in those units; names of wires, devices and parts are as in the text.
type Doc struct {
	Format   string        `json:"format" doc:"name of this schema"`
	Job      Job           `json:"job" doc:"the job's head"`
	Verdict  Verdict       `json:"verdict" doc:"what stands in the way of building"`
	Findings []Finding     `json:"findings" doc:"every message, sorted by place"`
	Sections []Section     `json:"sections" doc:"each section with its cut list, connectors and splices"`
	Reels    []Reeled      `json:"reels" doc:"which wires are cut from which reel, and what to buy"`
	Bench    Workshop      `json:"bench" doc:"the rest of what the bench books print"`
	Wires    []Wire        `json:"wires" doc:"each wire, by name"`
	Cables   []Cable       `json:"cables" doc:"circuits that stay together"`
	Runs     []Run         `json:"runs" doc:"each stretch of a run with its bends, diameters and clips"`
	Turns    []Turn        `json:"turns" doc:"where wires change direction, with the radius they need"`
	Nears    []Near        `json:"nears" doc:"how near stretches come to hazards"`
	Moves    []Move        `json:"moves" doc:"stretches whose ends move against one another"`
	Shell    Shell         `json:"shell" doc:"work on the bare body"`
	Holes    []Hole        `json:"holes" doc:"every hole and stud the bare shell needs, as one walks round it"`
	Cases    []Case        `json:"cases" doc:"the operating point of each case"`
	Fuses    []Fuse        `json:"fuses" doc:"every fuse against its load, its starts and its wires"`
	Shorts   []Short       `json:"shorts" doc:"a dead short at each far end"`
	Pairs    []Pair        `json:"fuse_pairs" doc:"fuses in series"`
	Guards   []Guard       `json:"protection" doc:"what protects each wire"`
	Contacts []ContactLoad `json:"contacts" doc:"what each contact carries and may carry"`
	Balances []Balance     `json:"charge" doc:"what each battery gives over a case"`
	Drains   []Drain       `json:"parked" doc:"what each battery gives while everything is switched off"`
	Cranking []Crank       `json:"cranking" doc:"starting over the battery's temperature and age"`
	Readings []Reading     `json:"readings" doc:"by how much sensors read wrong"`
	Tightest []Tight       `json:"tightest" doc:"the results with least room and what they turn on"`
	Parts    []Part        `json:"parts" doc:"what to buy"`
	Settings []Setting     `json:"settings" doc:"every setting with the value that holds for the job, its source, and the narrower ones"`
}

// Job is the head of a job.
type Job struct {
	Title    string `json:"title" doc:"title of the job"`
	Revision string `json:"revision" doc:"revision as written"`
	Date     string `json:"date" doc:"date as written"`
	Datum    string `json:"datum" doc:"what coordinates are measured from"`
	Digest   string `json:"digest" doc:"of the source text: SHA-256 over names and texts of all files, first 12 hex digits"`
}

// Verdict is what stands in the way.
type Verdict struct {
	Open        int      `json:"open" doc:"findings nobody accepted"`
	Accepted    int      `json:"accepted" doc:"findings a named person accepted"`
	NotForBuild []string `json:"not_for_build" doc:"why nothing may be built from the books; empty when nothing stands in the way"`
	NotRun      []NotRun `json:"not_run" doc:"checks a reviewer would look for that were not run"`
}

// NotRun is a check that was not run.
type NotRun struct {
	Key string `json:"key" doc:"name of the check"`
	Why string `json:"why" doc:"why, and what to do by hand"`
}

// Finding is one message.
type Finding struct {
	Code       string `json:"code" doc:"name of the rule"`
	Severity   string `json:"severity" doc:"note, finding or mistake"`
	Title      string `json:"title" doc:"what is wrong"`
	Detail     string `json:"detail" doc:"what to do, or the facts"`
	Where      string `json:"where" doc:"file:line:column"`
	Kind       string `json:"kind" doc:"word of its subject: circuit, device ..."`
	Subject    string `json:"subject" doc:"name of its subject"`
	From       string `json:"from" doc:"end of the wire, when it is one wire"`
	To         string `json:"to" doc:"other end of the wire"`
	Case       string `json:"case" doc:"case in which it showed"`
	Value      string `json:"value" doc:"what was measured, with its unit"`
	Limit      string `json:"limit" doc:"what it was held against"`
	AcceptedBy string `json:"accepted_by" doc:"who takes responsibility"`
	Reason     string `json:"reason" doc:"why it was accepted"`
	Until      string `json:"until" doc:"revision at which the acceptance lapses"`
}

// Section is one section's bench work.
type Section struct {
	Name       string      `json:"name" doc:"name of the section"`
	Cuts       []Cut       `json:"cuts" doc:"wires to cut, in cutting order"`
	Connectors []Connector `json:"connectors" doc:"connector halves and device housings with every cavity"`
	Splices    []Splice    `json:"splices" doc:"splices of the section"`
	Sleeves    []Sleeve    `json:"sleeves" doc:"sleeves over the section's runs"`
	Markers    []Marker    `json:"markers" doc:"marks to print, in the order of the cut list"`
	Crimps     []Crimp     `json:"crimps" doc:"set-ups of the crimp tool with what is crimped with each"`
	Twisted    []Twisted   `json:"twisted" doc:"wires twisted or screened together on the bench"`
	Picks      []Pick      `json:"picks" doc:"what to take from the shelf"`
}

// Sleeve is a length of sleeve over a run.
type Sleeve struct {
	Part     string `json:"part" doc:"sleeve part"`
	Run      string `json:"run" doc:"run it goes over"`
	From     string `json:"from" doc:"place where it begins"`
	To       string `json:"to" doc:"place where it ends"`
	OverMM   Num    `json:"over_mm" doc:"widest bundle under it"`
	LengthMM Num    `json:"length_mm" doc:"its length"`
}

// Cut is one row of the cut list.
type Cut struct {
	Wire     string `json:"wire" doc:"name of the wire"`
	Label    string `json:"label" doc:"mark on both ends"`
	Family   string `json:"family" doc:"wire part"`
	Size     string `json:"size" doc:"conductor size"`
	Colour   string `json:"colour" doc:"as written"`
	Code     string `json:"code" doc:"IEC 60757 letters, base/stripe"`
	LengthMM Num    `json:"length_mm" doc:"cut length, rounded up"`
	Terms    []Term `json:"terms" doc:"parts of the length; they add up to it"`
	Ends     [2]End `json:"ends" doc:"its two ends"`
	Cable    string `json:"cable" doc:"cable it belongs to"`
	Cores    []Core `json:"cores" doc:"of a bought cable, cut once"`
	Note     string `json:"note" doc:"what else the builder needs to know"`
}

// Core is a core of a bought cable, or its screen.
type Core struct {
	Wire   string `json:"wire" doc:"name of the wire"`
	Label  string `json:"label" doc:"mark on both ends"`
	Code   string `json:"code" doc:"IEC 60757 letters"`
	Size   string `json:"size" doc:"conductor size"`
	Screen bool   `json:"screen" doc:"the screen, not a core"`
	Ends   [2]End `json:"ends" doc:"its two ends"`
}

// Term is a part of a cut length.
type Term struct {
	What     string `json:"what" doc:"what it is for"`
	LengthMM Num    `json:"length_mm" doc:"its share"`
}

// End is one end of a cut wire.
type End struct {
	Text    string `json:"text" doc:"where it goes, in words"`
	Contact string `json:"contact" doc:"contact, lug or barrel"`
	Seal    string `json:"seal" doc:"seal on the wire"`
	StripMM Num    `json:"strip_mm" doc:"strip length; 0 is not known"`
	Tool    string `json:"tool" doc:"crimp tool"`
}

// Connector is a half of a break, or a housing of a device.
type Connector struct {
	Title    string `json:"title" doc:"which half or housing"`
	Break    string `json:"break" doc:"break it belongs to"`
	Device   string `json:"device" doc:"device it plugs into"`
	Housing  string `json:"housing" doc:"housing part"`
	Contacts string `json:"contacts" doc:"pins or sockets"`
	Key      string `json:"key" doc:"keying"`
	Mount    string `json:"mount" doc:"fixed or free"`
	Panel    string `json:"panel" doc:"panel it sits on"`
	Cavities int    `json:"cavities" doc:"how many the housing has"`
	Free     int    `json:"free" doc:"how many have no wire"`
	Rows     []Pin  `json:"rows" doc:"every cavity"`
}

// Pin is one cavity.
type Pin struct {
	Cavity  string   `json:"cavity" doc:"number or letter"`
	Pin     string   `json:"pin" doc:"name of the device's pin"`
	Wires   []string `json:"wires" doc:"what is in it; none is blank"`
	Label   string   `json:"label" doc:"mark of the wire"`
	Code    string   `json:"code" doc:"colour letters"`
	Size    string   `json:"size" doc:"conductor size"`
	GoesTo  string   `json:"goes_to" doc:"the wire's other end"`
	Contact string   `json:"contact" doc:"contact part"`
	Seal    string   `json:"seal" doc:"seal in the cavity"`
	Status  string   `json:"status" doc:"computed, stated or frozen"`
	Blank   string   `json:"blank" doc:"why nothing is in it"`
}

// Splice is one joint.
type Splice struct {
	Name    string   `json:"name" doc:"name of the splice"`
	Where   string   `json:"where" doc:"where it lies"`
	Status  string   `json:"status" doc:"computed or stated"`
	AreaMM2 Num      `json:"area_mm2" doc:"of all conductors together"`
	Sleeve  string   `json:"sleeve" doc:"what covers it"`
	Wires   []string `json:"wires" doc:"what meets in it"`
}

// Wire is one wire with everything worked out for it.
type Wire struct {
	Name       string     `json:"name" doc:"circuit and both ends"`
	Circuit    string     `json:"circuit" doc:"its circuit"`
	From       string     `json:"from" doc:"end as written"`
	To         string     `json:"to" doc:"other end"`
	Label      string     `json:"label" doc:"short mark"`
	LabelBy    string     `json:"label_status" doc:"computed, stated or frozen"`
	Kind       string     `json:"kind" doc:"plain, screen or spare"`
	Section    string     `json:"section" doc:"section it belongs to"`
	Class      string     `json:"class" doc:"class of its circuit"`
	Cable      string     `json:"cable" doc:"cable it belongs to"`
	Family     string     `json:"family" doc:"wire part"`
	Size       string     `json:"size" doc:"conductor size"`
	SizeWhy    string     `json:"size_why" doc:"what decided the size"`
	AreaMM2    Num        `json:"area_mm2" doc:"nominal area"`
	OhmPerM    Num        `json:"ohm_per_m" doc:"greatest resistance at 20 C"`
	OhmSource  string     `json:"ohm_source" doc:"source of the resistance"`
	Verified   bool       `json:"verified" doc:"false: the resistance is typical or from memory"`
	OutsideMM  Num        `json:"outside_mm" doc:"over the insulation"`
	LengthMM   Num        `json:"length_mm" doc:"centre line, slack included"`
	CopperMM   Num        `json:"copper_mm" doc:"conductor between the terminations: way, take-up, tails and service loops; it feeds the resistance"`
	Ohm20      Num        `json:"ohm_20c" doc:"resistance of the copper at 20 C"`
	Zones      []string   `json:"zones" doc:"zones it passes"`
	Way        []Stretch  `json:"way" doc:"the run pieces it follows"`
	Ends       [2]WireEnd `json:"ends" doc:"its two terminations"`
	AmpsMost   Num        `json:"amps_most_a" doc:"greatest steady current over all cases"`
	AmpsCase   string     `json:"amps_case" doc:"case in which it flows"`
	HeatCase   string     `json:"heat_case" doc:"case in which it is hottest"`
	HeatZone   string     `json:"heat_zone" doc:"zone in which it is hottest"`
	AmbientC   Num        `json:"ambient_c" doc:"air there"`
	Bundle     int        `json:"bundle_wires" doc:"wires in the bundle there"`
	HeatA      Num        `json:"heat_amps_a" doc:"steady current that heats as the duty loads do at their peak, there"`
	HottestC   Num        `json:"hottest_c" doc:"conductor temperature there"`
	RestC      Num        `json:"rest_c" doc:"temperature there if this wire alone carried nothing"`
	StartBy    string     `json:"start_by" doc:"device whose starting current makes the peak, if one does"`
	PeakC      Num        `json:"peak_c" doc:"temperature at the end of that start; 0 without one"`
	HeatLimitC Num        `json:"heat_limit_c" doc:"rating of the insulation less the margin"`
	Ampacity   Num        `json:"ampacity_a" doc:"by the method that ruled"`
	AmpacityBy string     `json:"ampacity_by" doc:"the method that ruled"`
	AmpacityOK bool       `json:"ampacity_met" doc:"the limit is met"`
	BalanceA   Num        `json:"ampacity_balance_a" doc:"by the heat balance"`
	FreeAirA   Num        `json:"ampacity_free_air_a" doc:"alone in the same air, for reference"`
	TableA     Num        `json:"ampacity_table_a" doc:"by a published table; 0 none applies"`
	TableAs    string     `json:"ampacity_table_as" doc:"size taken in the table, where the wire's own is not in it"`
	TableWhy   string     `json:"ampacity_table_note" doc:"conditions of the table and whether they hold"`
	HeatNote   string     `json:"heat_note" doc:"which figure ruled and why"`
	HeatSure   bool       `json:"heat_verified" doc:"false: the figure rests on an unverified value"`
}

// Stretch is a piece of a run that a wire follows.
type Stretch struct {
	Run      string `json:"run" doc:"name of the run"`
	From     string `json:"from" doc:"node it comes from"`
	To       string `json:"to" doc:"node it goes to"`
	LengthMM Num    `json:"length_mm" doc:"length of the piece with its slack"`
	Zone     string `json:"zone" doc:"zone it lies in"`
	Status   string `json:"status" doc:"computed or measured"`
}

// WireEnd is a termination.
type WireEnd struct {
	Kind    string `json:"kind" doc:"cavity, stud, half, post, splice or cut back"`
	At      string `json:"at" doc:"device, break or splice"`
	Pin     string `json:"pin" doc:"device pin"`
	Cavity  string `json:"cavity" doc:"cavity; empty if none was left"`
	Contact string `json:"contact" doc:"contact part"`
	Status  string `json:"status" doc:"of the cavity"`
}

// Cable is circuits that stay together.
type Cable struct {
	Name  string   `json:"name" doc:"name of the cable"`
	As    string   `json:"as" doc:"pair, multicore or bus"`
	Wire  string   `json:"wire" doc:"bought cable; empty is made on the bench"`
	Holds []string `json:"holds" doc:"its circuits"`
	Twist Num      `json:"twist_mm" doc:"lay of the twist; 0 not stated"`
}

// Case is the operating point of one case.
type Case struct {
	Name     string   `json:"name" doc:"name of the case"`
	Supplies []Supply `json:"supplies" doc:"supplies"`
	Loads    []Load   `json:"loads" doc:"loads and coils"`
	Relays   []Relay  `json:"relays" doc:"coils that move a contact"`
	Starts   []Start  `json:"starts" doc:"operating point while one device starts"`
	Amps     []Flow   `json:"wire_amps" doc:"steady current and temperature of each wire"`
	Bundles  []Bundle `json:"bundles" doc:"each piece of a run with wires in it"`
	Residual Num      `json:"residual_a" doc:"largest current that does not add up at a joint"`
}

// Supply is a supply in a case.
type Supply struct {
	Device  string `json:"device" doc:"device"`
	Live    bool   `json:"live" doc:"connected in this case"`
	Volts   Num    `json:"volts_v" doc:"at its terminals"`
	Amps    Num    `json:"amps_a" doc:"it delivers"`
	Limited bool   `json:"limited" doc:"asked for more than it gives"`
	Idle    bool   `json:"idle" doc:"another supply holds the volts above its own"`
}

// Load is a load in a case.
type Load struct {
	Device      string `json:"device" doc:"device"`
	From        string `json:"from" doc:"plus pin"`
	To          string `json:"to" doc:"minus pin"`
	Coil        bool   `json:"coil" doc:"a coil"`
	Class       string `json:"class" doc:"class of the device"`
	Fed         bool   `json:"fed" doc:"draws current"`
	Rests       bool   `json:"rests" doc:"the case says off"`
	At          Num    `json:"at_v" doc:"volts its figure was measured at"`
	Volts       Num    `json:"volts_v" doc:"at the load"`
	Amps        Num    `json:"amps_a" doc:"it draws"`
	Supply      string `json:"supply" doc:"supply that feeds it most"`
	SupplyVolts Num    `json:"supply_volts_v" doc:"at that supply's terminals"`
	FeedDrop    Num    `json:"feed_drop_v" doc:"lost on the feed"`
	ReturnDrop  Num    `json:"return_drop_v" doc:"lost on the return"`
	Limits      []Held `json:"limits" doc:"limits it was held against"`
	Feed        []Rung `json:"feed" doc:"way from the supply's plus"`
	Return      []Rung `json:"return" doc:"way to the supply's minus"`
}

// Held is a value held against a limit.
type Held struct {
	Setting string `json:"setting" doc:"name of the limit"`
	Value   Num    `json:"value_v" doc:"value, in volts"`
	Limit   Num    `json:"limit_v" doc:"limit, in volts"`
	Of      Num    `json:"of_v" doc:"volts of which the limit is a percentage; 0 it is in volts"`
	Room    Num    `json:"room_v" doc:"what is left to the limit"`
	Met     bool   `json:"met" doc:"the limit is met"`
	Judges  string `json:"judges" doc:"steady or starting"`
	Source  string `json:"source" doc:"where the limit was set"`
}

// Rung is one element of a way.
type Rung struct {
	Kind  string `json:"kind" doc:"wire, contact, splice, fuse ..."`
	Name  string `json:"name" doc:"which one"`
	Ohm   Num    `json:"ohm" doc:"its resistance"`
	Amps  Num    `json:"amps_a" doc:"current through it"`
	Drop  Num    `json:"drop_v" doc:"what it takes"`
	Share Num    `json:"share" doc:"of all that is lost out and back"`
	Volts Num    `json:"volts_v" doc:"after it, against the supply's minus"`
}

// Relay is a coil and its contact.
type Relay struct {
	Device  string `json:"device" doc:"device"`
	State   string `json:"state" doc:"state the coil moves"`
	Volts   Num    `json:"volts_v" doc:"at the coil"`
	PullIn  Num    `json:"pull_in_v" doc:"volts at which it surely moves"`
	DropOut Num    `json:"drop_out_v" doc:"volts at which it surely falls back"`
	Assumed bool   `json:"assumed" doc:"pull-in or drop-out is not stated but taken as a share of its volts, from memory"`
	On      bool   `json:"on" doc:"the state is taken"`
	Stated  bool   `json:"stated" doc:"the case says so"`
	Against bool   `json:"against" doc:"the coil disagrees"`
}

// Start is the operating point while a device starts.
type Start struct {
	Device string `json:"device" doc:"device that starts"`
	Loads  []Load `json:"loads" doc:"loads that it moves, and those that it is the first to leave alone; all others stand as in the case"`
}

// Flow is the current of a wire.
type Flow struct {
	Wire  string `json:"wire" doc:"name of the wire"`
	Amps  Num    `json:"amps_a" doc:"from its first end to its second"`
	Watts Num    `json:"watts_w" doc:"heat in it"`
	TempC Num    `json:"temp_c" doc:"mean temperature of its copper, at which its resistance was taken"`
}

// Bundle is a piece of a run in a case.
type Bundle struct {
	Run       string   `json:"run" doc:"name of the run"`
	From      string   `json:"from" doc:"node where it begins"`
	To        string   `json:"to" doc:"node where it ends"`
	Wires     int      `json:"wires" doc:"wires in it"`
	OutsideMM Num      `json:"outside_mm" doc:"diameter with its sleeve"`
	AmbientC  Num      `json:"ambient_c" doc:"air"`
	SurfaceC  Num      `json:"surface_c" doc:"surface"`
	WattsPerM Num      `json:"watts_w_per_m" doc:"heat of all its wires"`
	Names     []string `json:"wire_names" doc:"which wires"`
	AmpsEach  []Num    `json:"wire_amps_a" doc:"of each the steady current that heats like its duty"`
	TempsEach []Num    `json:"wire_temps_c" doc:"of each the conductor's temperature there"`
}

// Part is a line of the purchase list.
type Part struct {
	Kind     string `json:"kind" doc:"wire, contact, housing ..."`
	Name     string `json:"name" doc:"part"`
	Count    int    `json:"count" doc:"pieces; 0 for what is bought by length"`
	LengthMM Num    `json:"length_mm" doc:"length to buy"`
	Own      bool   `json:"own" doc:"described in the job, not in the built-in library"`
	Source   string `json:"source" doc:"source of its figures"`
}

// Setting is a setting with a value.
type Setting struct {
	Name   string `json:"name" doc:"name of the setting"`
	Scope  string `json:"scope" doc:"job, or what it is narrowed to"`
	Value  string `json:"value" doc:"value with its unit; empty is not set"`
	Source string `json:"source" doc:"where the value comes from"`
	Limit  bool   `json:"limit" doc:"it can fail a check"`
}
