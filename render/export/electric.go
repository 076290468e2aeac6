package export

import (
	"loomsheet/harness/heat"
	"loomsheet/harness/protect"
)

// Fuse is one protector over all cases.
type Fuse struct {
	Device    string   `json:"device" doc:"device it sits in"`
	From      string   `json:"from" doc:"pin"`
	To        string   `json:"to" doc:"pin"`
	Part      string   `json:"part" doc:"fuse part"`
	Kind      string   `json:"kind" doc:"of time-current gate"`
	Rating    Num      `json:"rating_a" doc:"rating"`
	AmbientC  Num      `json:"ambient_c" doc:"highest air over all cases"`
	Factor    Num      `json:"ambient_factor" doc:"what that leaves of the rating"`
	Steady    Num      `json:"steady_a" doc:"greatest steady current"`
	Case      string   `json:"case" doc:"case in which it flows"`
	Margin    Num      `json:"fuse_load" doc:"times the load that is asked"`
	Need      Num      `json:"need_a" doc:"least rating asked"`
	LoadMet   bool     `json:"load_met" doc:"the rating is enough for the load"`
	Starts    []Hold   `json:"starts" doc:"starting currents that pass it, least room first"`
	Feeds     []string `json:"feeds" doc:"devices it feeds"`
	Wires     []string `json:"wires" doc:"wires it protects"`
	WeakWire  string   `json:"weakest_wire" doc:"the wire that stands least behind it"`
	WeakRest  Num      `json:"weakest_rest_a" doc:"what that wire stands for ever, at its rating and overload-rise"`
	WeakLimit Num      `json:"weakest_limit_c" doc:"temperature to which the curve below is reckoned: rating and short-rise"`
	Curve     []Lasts  `json:"weakest_curve" doc:"how long that wire stands a current"`
	Gate      []Gate   `json:"gate" doc:"earliest and latest opening time at each listed multiple"`
	Verified  bool     `json:"verified" doc:"false: gate or ambient factor are from memory or another fuse's"`
}

// Gate is a window of opening time.
type Gate struct {
	Times Num `json:"times" doc:"multiple of the rating"`
	Least Num `json:"earliest_s" doc:"earliest; 0 not stated"`
	Most  Num `json:"latest_s" doc:"latest; 0 it need not open"`
}

// Lasts is a point of a curve.
type Lasts struct {
	Amps Num `json:"amps_a" doc:"current"`
	Time Num `json:"lasts_s" doc:"until the limit is reached"`
}

// Hold is a start through a fuse.
type Hold struct {
	Case     string `json:"case" doc:"case"`
	Device   string `json:"device" doc:"device that starts"`
	Works    bool   `json:"works" doc:"not a start: the on-time of a load that works on and off"`
	Amps     Num    `json:"amps_a" doc:"current through the fuse"`
	For      Num    `json:"for_s" doc:"how long"`
	Earliest Num    `json:"earliest_s" doc:"earliest opening at the next higher listed multiple; 0 not stated"`
	Met      bool   `json:"met" doc:"the fuse holds"`
}

// Short is a dead short at a far end.
type Short struct {
	At     string     `json:"at" doc:"load or wire's end"`
	Case   string     `json:"case" doc:"case"`
	Strong bool       `json:"strong" doc:"at its strongest, else at its weakest"`
	Amps   Num        `json:"amps_a" doc:"through the short"`
	Loop   Num        `json:"loop_ohm" doc:"set-point over amps"`
	Source string     `json:"source" doc:"supply"`
	Clears Num        `json:"clears_s" doc:"cleared after at most; 0 never"`
	Fuses  []Clearing `json:"fuses" doc:"on the way, the one that clears first first"`
	ThenA  Num        `json:"then_a" doc:"what flows on for good once fuses have opened; 0 nothing"`
	ThenBy string     `json:"then_source" doc:"supply that drives most of that"`
	Hot    string     `json:"hottest_wire" doc:"the wire that stands it least"`
	Met    bool       `json:"met" doc:"cleared before anything is past its limit"`
}

// Clearing is a fuse that sees a short.
type Clearing struct {
	Device string `json:"device" doc:"device it sits in"`
	From   string `json:"from" doc:"pin"`
	To     string `json:"to" doc:"pin"`
	Times  Num    `json:"times" doc:"multiple of its rating"`
	Latest Num    `json:"latest_s" doc:"latest opening; 0 never"`
	Energy Num    `json:"energy_a2s" doc:"let through until then"`
}

// Pair is two fuses in series.
type Pair struct {
	Upper      string `json:"upper" doc:"the one nearer to the source"`
	Lower      string `json:"lower" doc:"the one behind it"`
	Amps       Num    `json:"amps_a" doc:"greatest short behind the lower one"`
	DownLatest Num    `json:"lower_latest_s" doc:"latest opening of the lower one"`
	UpEarliest Num    `json:"upper_earliest_s" doc:"earliest opening of the upper one"`
	ByEnergy   bool   `json:"by_energy" doc:"judged by energy, beyond the upper one's gate"`
	DownEnergy Num    `json:"lower_energy_a2s" doc:"what the lower one lets through at most"`
	UpEnergy   Num    `json:"upper_energy_a2s" doc:"what opens the upper one at least"`
	Known      bool   `json:"known" doc:"false: no gate says"`
	Met        bool   `json:"met" doc:"the lower one clears first"`
}

// Guard is what protects one wire.
type Guard struct {
	Wire       string   `json:"wire" doc:"name of the wire"`
	By         []string `json:"by" doc:"fuses that must suit it"`
	Open       []string `json:"open_to" doc:"sources that reach it with no protector between"`
	Limited    []string `json:"limited_by" doc:"sources whose own limit it carries"`
	Return     bool     `json:"return" doc:"it lies on the minus side"`
	Reached    bool     `json:"reached" doc:"false: no source reaches it"`
	UnfusedMM  Num      `json:"unfused_mm" doc:"wire from the source to the first fuse; 0 none"`
	OverTimes  Num      `json:"overload_times" doc:"multiple of the fuse's rating at which it has least room; 0 nothing overloads it"`
	OverAmps   Num      `json:"overload_a" doc:"current then"`
	OverLatest Num      `json:"overload_latest_s" doc:"for at most so long; 0 for ever"`
	OverC      Num      `json:"overload_c" doc:"conductor then"`
	OverLimitC Num      `json:"overload_limit_c" doc:"limit then"`
	ShortAmps  Num      `json:"short_a" doc:"worst short through it; 0 none"`
	ShortC     Num      `json:"short_c" doc:"conductor when it is cleared"`
	ShortLimit Num      `json:"short_limit_c" doc:"limit then"`
	Met        bool     `json:"met" doc:"overload and short both"`
	// How it warms until then; empty where it hardly does, or hardly loses anything on the way.
	OverCourse  []Leg `json:"overload_course" doc:"how it warms in that overload, in parts of equal rise"`
	ShortCourse []Leg `json:"short_course" doc:"how it warms in that short, in parts of equal rise"`
}

// Leg is a part of the way on which a conductor warms in a fault.
type Leg struct {
	From      Num `json:"from_c" doc:"conductor as the part begins"`
	To        Num `json:"to_c" doc:"and as it ends"`
	FromHolds Num `json:"from_holds_a" doc:"steady current that would hold it there"`
	ToHolds   Num `json:"to_holds_a" doc:"the same at the end of the part"`
	Keeps     Num `json:"keeps" doc:"share of the heat made that stays in the copper"`
	For       Num `json:"for_s" doc:"time it takes"`
}

func legs(course []heat.Leg) []Leg {
	out := make([]Leg, 0, len(course))
	for _, l := range course {
		out = append(out, Leg{num(l.From), num(l.To), num(l.FromHolds), num(l.ToHolds), num(l.Keeps), num(l.For)})
	}
	return out
}

// ContactLoad is the contact at one end of a wire.
type ContactLoad struct {
	Wire     string `json:"wire" doc:"name of the wire"`
	Where    string `json:"where" doc:"cavity"`
	Contact  string `json:"contact" doc:"contact part"`
	Case     string `json:"case" doc:"case in which it carries most"`
	Amps     Num    `json:"amps_a" doc:"greatest steady current"`
	Shared   Num    `json:"shared_a" doc:"what it takes with the least resistance of several side by side"`
	Rating   Num    `json:"rating_a" doc:"rating of the part"`
	Loading  Num    `json:"loading_factor" doc:"for its wire and for how full the connector is"`
	Loaded   Num    `json:"loaded_share" doc:"share of the cavities that count as loaded like this one"`
	Warm     Num    `json:"warm_factor" doc:"for the air"`
	Allowed  Num    `json:"allowed_a" doc:"what it may carry"`
	Met      bool   `json:"met" doc:"it carries no more"`
	Verified bool   `json:"verified" doc:"false: a figure is typical, from memory, or of another connector"`
}

// Balance is a battery in a case.
type Balance struct {
	Case    string `json:"case" doc:"case"`
	Device  string `json:"device" doc:"battery"`
	Hours   Num    `json:"hours_h" doc:"of the case; 0 not stated"`
	Amps    Num    `json:"amps_a" doc:"mean it gives"`
	StoresA Num    `json:"stores_ah" doc:"what it stores"`
	UsedAh  Num    `json:"used_ah" doc:"over the hours"`
	LastsH  Num    `json:"lasts_h" doc:"until the usable share is gone; 0 never"`
	Met     bool   `json:"met" doc:"it lasts"`
}

// Drain is a battery while everything is switched off.
type Drain struct {
	Device string `json:"device" doc:"battery"`
	Amps   Num    `json:"amps_a" doc:"what it gives"`
	Most   Num    `json:"most_a" doc:"limit"`
	LastsH Num    `json:"lasts_h" doc:"until the usable share is gone; 0 not known or never"`
	Met    bool   `json:"met" doc:"no more than the limit"`
}

// Crank is one battery condition of a cranking case.
type Crank struct {
	Case    string       `json:"case" doc:"case"`
	AirC    Num          `json:"air_c" doc:"of the battery"`
	Age     string       `json:"age" doc:"new, worn, or as the case says"`
	Volts   Num          `json:"volts_v" doc:"set-point taken"`
	Inside  Num          `json:"inside_ohm" doc:"inside resistance taken"`
	Amps    Num          `json:"amps_a" doc:"of the starter, steady"`
	Start   Num          `json:"start_a" doc:"of the starter while it starts; 0 no start figure"`
	Places  []CrankPlace `json:"places" doc:"starter, solenoid and control units"`
	Holding bool         `json:"relays_hold" doc:"each relay closed in the case stays so"`
}

// CrankPlace is the volts at one place.
type CrankPlace struct {
	Device string `json:"device" doc:"device"`
	Role   string `json:"role" doc:"starter, solenoid or control unit"`
	Steady Num    `json:"steady_v" doc:"while cranking"`
	Dip    Num    `json:"dip_v" doc:"while the starter starts"`
	Met    bool   `json:"met" doc:"its limits are met"`
}

// Reading is a sensor that reads wrong.
type Reading struct {
	Device string `json:"device" doc:"sensor"`
	Reader string `json:"reader" doc:"what measures it"`
	Case   string `json:"case" doc:"worst case"`
	Start  string `json:"start" doc:"device that starts then; empty: steady"`
	Volts  Num    `json:"volts_v" doc:"its reference against the reader's"`
	Most   Num    `json:"most_v" doc:"limit"`
	Off    string `json:"off" doc:"the error in the sensor's own unit"`
	Met    bool   `json:"met" doc:"within the limit"`
}

// Tight is one of the results with least room.
type Tight struct {
	Title string `json:"title" doc:"which result"`
	Case  string `json:"case" doc:"case"`
	Used  Num    `json:"used" doc:"share of the room that is used"`
	Got   string `json:"got" doc:"figure"`
	Most  string `json:"limit" doc:"limit"`
	Room  []Room `json:"room" doc:"how far one cause may change, all else as it is"`
}

// Room is how far one cause may change.
type Room struct {
	What   string `json:"what" doc:"load, length, ambient or supply"`
	From   string `json:"from" doc:"as it is"`
	To     string `json:"to" doc:"where the limit is crossed"`
	Beyond bool   `json:"beyond" doc:"not crossed in the range tried"`
}

func (in Input) fuseName(f protect.FuseRef) string {
	if x := in.Protect.Fuse(f); x != nil {
		return x.Device + " " + x.From + " - " + x.To
	}
	return f.Device
}

func (in Input) wire(i int) string {
	if i < 0 || i >= len(in.Net.Wires) {
		return ""
	}
	return in.Net.Wires[i].Name
}

func contactLoads(in Input) []ContactLoad {
	out := []ContactLoad{}
	if in.Contact == nil {
		return out
	}
	for i := range in.Contact.Ends {
		e := &in.Contact.Ends[i]
		out = append(out, ContactLoad{in.wire(e.Wire), e.Where, e.Contact, e.Case, num(e.Amps), num(e.Shared), num(e.Rating), num(e.Loading), num(e.Loaded), num(e.Warm), num(e.Allowed), e.Met, e.Verified})
	}
	return out
}

// energy gathers batteries, cranking, readings and margins.
func energy(in Input, d *Doc) {
	d.Balances, d.Drains, d.Cranking, d.Readings, d.Tightest = []Balance{}, []Drain{}, []Crank{}, []Reading{}, []Tight{}
	if c := in.Charge; c != nil {
		for i := range c.Balances {
			b := &c.Balances[i]
			d.Balances = append(d.Balances, Balance{b.Case, b.Device, num(b.Hours / 3600), num(b.Amps), num(b.Stores), num(b.Used), num(b.Lasts / 3600), b.Met})
		}
		for i := range c.Drains {
			x := &c.Drains[i]
			d.Drains = append(d.Drains, Drain{x.Device, num(x.Amps), num(x.Most), num(x.Lasts / 3600), x.Met})
		}
	}
	for i := range in.Cranking {
		s := &in.Cranking[i]
		for j := range s.Rows {
			r := &s.Rows[j]
			c := Crank{s.Case, num(r.Air), r.Age, num(r.Volts), num(r.Inside), num(r.Amps), num(r.Start), []CrankPlace{}, r.Relays}
			for k, v := range r.At {
				c.Places = append(c.Places, CrankPlace{s.Places[k].Device, s.Places[k].Role, num(v.Steady), num(v.Dip), v.Met})
			}
			d.Cranking = append(d.Cranking, c)
		}
	}
	for i := range in.Readings {
		e := &in.Readings[i]
		d.Readings = append(d.Readings, Reading{e.Device, e.Reader, e.Case, e.Start, num(e.Volts), num(e.Most), e.Off.String(), e.Met})
	}
	for i := range in.Tightest {
		t := &in.Tightest[i]
		x := Tight{Title: t.Title, Case: t.Case, Used: num(t.Used), Got: t.Got.String(), Most: t.Most.String(), Room: []Room{}}
		for _, r := range t.Room {
			x.Room = append(x.Room, Room{r.What, r.From.String(), r.To.String(), r.Beyond})
		}
		d.Tightest = append(d.Tightest, x)
	}
}

func fuses(in Input) []Fuse {
	out := []Fuse{}
	p := in.Protect
	if p == nil {
		return out
	}
	for i := range p.Fuses {
		f := &p.Fuses[i]
		x := Fuse{Device: f.Device, From: f.From, To: f.To, Part: f.Part, Kind: f.Kind, Rating: num(f.Rating), AmbientC: num(f.Ambient), Factor: num(f.Factor), Steady: num(f.Steady), Case: f.Case,
			Margin: num(f.Margin), Need: num(f.Need), LoadMet: f.LoadMet, Starts: []Hold{}, Feeds: some(f.Loads), Wires: in.names(f.Wires), Curve: []Lasts{}, Gate: []Gate{}, Verified: f.Verified}
		for _, h := range f.Starts {
			x.Starts = append(x.Starts, Hold{h.Case, h.Device, h.Works, num(h.Amps), num(h.For), num(h.Earliest), h.Met})
		}
		for _, g := range f.Gate {
			x.Gate = append(x.Gate, Gate{num(g.Times), num(g.Least), num(g.Most)})
		}
		for j := range p.Curves {
			if c := &p.Curves[j]; c.Fuse == f.FuseRef && c.Wire >= 0 {
				x.WeakWire, x.WeakRest, x.WeakLimit = in.wire(c.Wire), num(c.Rest), num(c.Limit)
				for _, q := range c.Points {
					x.Curve = append(x.Curve, Lasts{num(q.Amps), num(q.Lasts)})
				}
			}
		}
		out = append(out, x)
	}
	return out
}

func shorts(in Input) []Short {
	out := []Short{}
	p := in.Protect
	if p == nil {
		return out
	}
	for i := range p.Shorts {
		s := &p.Shorts[i]
		x := Short{At: s.At, Case: s.Case, Strong: s.Strong, Amps: num(s.Amps), Loop: num(s.Loop), Source: s.Source, Clears: num(s.Clears), Fuses: []Clearing{}, Hot: in.wire(s.Hot), Met: s.Met}
		if o := s.On; o != nil {
			x.ThenA, x.ThenBy = num(o.Amps), o.Source
		}
		for _, c := range s.Fuses {
			k := Clearing{Device: c.Fuse.Device, Times: num(c.Times), Latest: num(c.Latest), Energy: num(c.Energy)}
			if f := p.Fuse(c.Fuse); f != nil {
				k.From, k.To = f.From, f.To
			}
			x.Fuses = append(x.Fuses, k)
		}
		out = append(out, x)
	}
	return out
}

func pairs(in Input) []Pair {
	out := []Pair{}
	p := in.Protect
	if p == nil {
		return out
	}
	for i := range p.Pairs {
		q := &p.Pairs[i]
		out = append(out, Pair{in.fuseName(q.Up), in.fuseName(q.Down), num(q.Amps), num(q.DownLatest), num(q.UpEarliest), q.ByEnergy, num(q.DownEnergy), num(q.UpEnergy), q.Known, q.Met})
	}
	return out
}

func guards(in Input) []Guard {
	out := []Guard{}
	p := in.Protect
	if p == nil {
		return out
	}
	names := func(fs []protect.FuseRef) []string {
		out := []string{}
		for _, f := range fs {
			out = append(out, in.fuseName(f))
		}
		return out
	}
	sources := func(ss []protect.Source) []string {
		out := []string{}
		for _, s := range ss {
			out = append(out, s.Device)
		}
		return out
	}
	for i := range p.Wires {
		w := &p.Wires[i]
		g := Guard{Wire: in.wire(w.Wire), By: names(w.By), Open: sources(w.Open), Limited: sources(w.Limited), Return: w.Return, Reached: w.Reached, Met: w.Met}
		if w.Unfused != nil {
			g.UnfusedMM = num(w.Unfused.Length)
		}
		if o := w.Overload; o != nil {
			g.OverTimes, g.OverAmps, g.OverLatest, g.OverC, g.OverLimitC = num(o.Times), num(o.Amps), num(o.Latest), num(o.Reaches), num(o.Limit)
		}
		if s := w.Short; s != nil {
			g.ShortAmps, g.ShortC, g.ShortLimit = num(s.Amps), num(s.Reaches), num(s.Limit)
		}
		g.OverCourse, g.ShortCourse = legs(w.OverloadCourse), legs(w.ShortCourse)
		out = append(out, g)
	}
	return out
}
