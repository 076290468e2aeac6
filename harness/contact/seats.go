package contact

import (
	"math"
	"slices"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// seat is a housing in its place: of a device, or of a half of a break.
type seat struct {
	device  *design.Device
	brk     *design.Break
	half    int
	housing *design.Housing // nil: not known
	zones   []string        // around it
	pins    []pin
}

// pin is one contact of a seat with what is crimped into it.
type pin struct {
	cavity string
	ends   []end
}

// end is one end of a wire.
type end struct{ wire, end int }

// finder looks up what is wanted of the job.
type finder struct {
	job      *design.Job
	nt       *net.Net
	sizes    size.Sizes
	contacts map[string]*design.Contact
	housings map[string]*design.Housing
	devices  map[string]*design.Device
	breaks   map[string]*design.Break
	rulings  *design.Rulings
	derated  *design.Ruling // the last that was asked
	facts    []fact         // of each end, in the case last asked about
	factsOf  string
	texts    map[string]string // what says the same is one text
	airs     map[design.Scope]unit.Temperature
}

func newFinder(job *design.Job, nt *net.Net, sizes size.Sizes) *finder {
	f := &finder{job: job, nt: nt, sizes: sizes, contacts: map[string]*design.Contact{}, housings: map[string]*design.Housing{},
		devices: map[string]*design.Device{}, breaks: map[string]*design.Break{}, rulings: design.NewRulings(&job.Settings), texts: map[string]string{}, airs: map[design.Scope]unit.Temperature{}}
	for _, k := range job.Parts.Contacts {
		f.contacts[k.Name] = k
	}
	for _, h := range job.Parts.Housings {
		f.housings[h.Name] = h
	}
	for _, d := range job.Devices {
		if f.devices[d.Name] == nil {
			f.devices[d.Name] = d
		}
	}
	for _, b := range job.Breaks {
		f.breaks[b.Name] = b
	}
	return f
}

// fact is what settings and its part say of an end in a case. A case and the ends of its supplies have the same.
type fact struct {
	known        bool
	nominal, low float64 // ohm
	age          float64
	derating     *design.Ruling
	rise         unit.TempDiff
	riseSet      bool
}

func (f *finder) fact(e end, of string) *fact {
	if f.facts == nil {
		f.facts, f.factsOf = make([]fact, 2*len(f.nt.Wires)), of
	} else if f.factsOf != of {
		clear(f.facts)
		f.factsOf = of
	}
	x := &f.facts[2*e.wire+e.end]
	if !x.known {
		at := f.scope(e, of)
		*x = fact{known: true, age: f.number("joint-age", at), derating: f.derating(at)}
		x.nominal, x.low = f.ohms(e, at)
		rise := f.rulings.Get("contact-rise", at)
		x.rise, x.riseSet = unit.TempDiff(rise.Value.Quantity.Value), rise.Set
	}
	return x
}

// same is one text for all that read alike.
func (f *finder) same(text string) string {
	if s, ok := f.texts[text]; ok {
		return s
	}
	f.texts[text] = text
	return text
}

// derating is how contacts are derated where an end is. Most ends have the same.
func (f *finder) derating(at design.Scope) *design.Ruling {
	if r := f.rulings.Get("contact-derating", at); f.derated == nil || *f.derated != r {
		f.derated = &r
	}
	return f.derated
}

func (f *finder) number(name string, at design.Scope) float64 {
	return f.rulings.Get(name, at).Value.Quantity.Value
}

// scope is where settings of an end are looked up.
func (f *finder) scope(e end, of string) design.Scope {
	w := &f.nt.Wires[e.wire]
	t := &w.Ends[e.end]
	at := design.Scope{Circuit: w.Circuit, Device: t.Device, Break: t.Break, Class: w.Class, Zone: f.zone(e), Section: w.Section, Case: of}
	if d := f.devices[t.Device]; d != nil {
		if d.Zone != "" {
			at.Zone = d.Zone
		}
		if at.Class == "" {
			at.Class = d.Class
		}
	}
	if b := f.breaks[t.Break]; b != nil {
		at.Panel = b.Panel
		if at.Class == "" {
			at.Class = b.Class
		}
	}
	return at
}

// zone is the one through which a wire comes to its end.
func (f *finder) zone(e end) string {
	w := &f.nt.Wires[e.wire]
	if n := len(w.Path); n > 0 && !w.Loose && f.nt.Space != nil {
		if i := w.Path[e.end*(n-1)].Edge; i >= 0 && i < len(f.nt.Space.Edges) {
			return f.nt.Space.Edges[i].Zone
		}
	}
	return w.Zone
}

// part is the contact of an end; nil where it is not known.
func (f *finder) part(e end) *design.Contact {
	name := f.nt.Wires[e.wire].Ends[e.end].Contact
	if e.wire < len(f.sizes) && f.sizes[e.wire].Contacts[e.end] != "" {
		name = f.sizes[e.wire].Contacts[e.end]
	}
	return f.contacts[name]
}

// ohms is the resistance of a mated pair as its part has it, new: nominal and the least it may be.
func (f *finder) ohms(e end, at design.Scope) (nominal, low float64) {
	if p := f.part(e); p != nil && p.Resistance.Given {
		nominal = float64(p.Resistance.Nominal)
		if l := float64(p.Resistance.Low); l > 0 && l < nominal {
			return nominal, l
		}
	} else {
		nominal = f.number("contact-resistance", at)
	}
	return nominal, nominal * (1 - math.Min(1, math.Max(0, f.number("contact-spread", at))))
}

// seats lists the housings in which wires end, in the order of the wires.
func (f *finder) seats() []*seat {
	type place struct {
		device, brk string
		which       int
	}
	at := map[place]*seat{}
	around := map[string][]string{} // zones at a break or a device
	var out []*seat
	for i := range f.nt.Wires {
		w := &f.nt.Wires[i]
		for k := range w.Ends {
			t := &w.Ends[k]
			if t.Kind != net.InCavity && t.Kind != net.InHalf || t.Cavity == "" {
				continue
			}
			e := end{i, k}
			p := place{t.Device, "", t.Housing}
			if t.Kind == net.InHalf {
				p = place{"", t.Break, t.Half & 1}
			}
			s := at[p]
			if s == nil {
				s = &seat{device: f.devices[p.device], brk: f.breaks[p.brk], half: p.which}
				s.housing = f.housings[s.part()]
				at[p], out = s, append(out, s)
			}
			key := p.device + "\x00" + p.brk
			if z := f.zone(e); !slices.Contains(around[key], z) {
				around[key] = append(around[key], z)
			}
			if w.Kind == net.Plain { // screens and spares carry nothing
				s.add(t.Cavity, e)
			}
		}
	}
	for _, s := range out {
		switch {
		case s.brk != nil:
			s.zones = around["\x00"+s.brk.Name]
			for _, p := range f.job.Panels {
				if p.Name == s.brk.Panel {
					s.zones = append(slices.Clone(s.zones), p.Zones...)
				}
			}
		case s.device != nil && s.device.Zone != "":
			s.zones = []string{s.device.Zone}
		case s.device != nil:
			s.zones = around[s.device.Name+"\x00"]
		}
	}
	return out
}

func (s *seat) add(cavity string, e end) {
	for i := range s.pins {
		if s.pins[i].cavity == cavity {
			s.pins[i].ends = append(s.pins[i].ends, e)
			return
		}
	}
	s.pins = append(s.pins, pin{cavity, []end{e}})
}

// part is the name of the seat's housing.
func (s *seat) part() string {
	switch {
	case s.brk != nil:
		return s.brk.Halves[s.half].Housing
	case s.device != nil && s.half >= 0 && s.half < len(s.device.Housings):
		return s.device.Housings[s.half].Part
	}
	return ""
}

// cavities counts the places for contacts.
func (s *seat) cavities() int {
	n := 0
	if s.housing != nil {
		for i := range s.housing.Cavities {
			if s.housing.Cavities[i].Stud == "" {
				n++
			}
		}
	}
	return max(n, len(s.pins))
}

func (s *seat) name() string {
	switch {
	case s.brk != nil && s.brk.Halves[s.half].Section != "":
		return s.brk.Name + " " + s.brk.Halves[s.half].Section
	case s.brk != nil:
		return s.brk.Name
	case s.device != nil:
		return s.device.Name
	}
	return ""
}

// where names one end in the seat.
func (f *finder) where(e end) string {
	t := &f.nt.Wires[e.wire].Ends[e.end]
	if t.Kind == net.InCavity {
		return t.Device + "." + t.Pin
	}
	name := t.Break + "." + t.Cavity
	if b := f.breaks[t.Break]; b != nil && b.Halves[t.Half&1].Section != "" {
		name += " " + b.Halves[t.Half&1].Section
	}
	return name
}

// air is the highest around a seat in a case. Zones without a name stand for nothing if one has a name.
func (f *finder) air(s *seat, of string) unit.Temperature {
	at := design.Scope{Case: of}
	if s.brk != nil {
		at.Break, at.Panel = s.brk.Name, s.brk.Panel
	}
	if s.device != nil {
		at.Device = s.device.Name
	}
	var most unit.Temperature
	known := false
	for _, named := range []bool{true, false} {
		for _, z := range append([]string{""}, s.zones...) {
			if known && !named || (z != "") != named {
				continue
			}
			at.Zone = z
			t, ok := f.airs[at]
			if !ok {
				t, _ = heat.Ambient(f.job, at)
				f.airs[at] = t
			}
			if !known || t > most {
				most, known = t, true
			}
		}
	}
	return most
}
