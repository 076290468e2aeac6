package solve

import (
	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// Default shares of a coil's volts at which it pulls in and drops out; both from memory: automotive relays are sold with a
// pull-in of at most 60 to 70 % and a drop-out of at least 10 %.
const (
	PullInShare  unit.Ratio = 0.6
	DropOutShare unit.Ratio = 0.1
)

const (
	// liveShare of its volts feeds a device that states no least volts well enough for a supply of its own. From memory.
	liveShare = 0.5
	// diodeForward and diodeResistance are a silicon diode's, from memory.
	diodeForward    unit.Voltage    = 0.7
	diodeResistance unit.Resistance = 0.01
	// copper is the conductivity of copper at 20 C in ohm mm2/m (IEC 60028), for a size without a resistance of its own.
	copper = 1.0 / 58
)

// Which value of a spread a case's own point is solved for: of what is drawn the most, of a resistance on the way the most, of a load's
// own resistance the least, of a relay's pull-in and drop-out the most. All of it costs volts and makes heat. The volts of a supply are
// nominal: what is worst there depends on what is asked, and each result has its own corner.
func nominal[T ~float64](f design.Fact[T]) T { return f.Nominal }

func most[T ~float64](f design.Fact[T]) T { return max(f.Nominal, f.High) }

func least[T ~float64](f design.Fact[T]) T {
	if f.Low > 0 {
		return min(f.Nominal, f.Low)
	}
	return f.Nominal
}

// values looks up what a case needs to know of the job.
type values struct {
	job      *design.Job
	nt       *net.Net
	sizes    size.Sizes
	temps    []unit.Temperature
	c        *design.Case
	devices  []*design.Device
	byName   map[string]*design.Device
	contacts map[string]design.Fact[unit.Resistance]
	fuses    map[string]design.Fact[unit.Resistance]
	breaks   map[string]*design.Break
	supply   map[string]*design.CaseSupply
	listed   map[string]bool // devices some case lists as a supply
	off      map[string]bool
	stated   map[group]bool // sets of states the case sets
	top      unit.Voltage   // of the highest live supply
	cache    map[setKey]ruled
	// everywhere is the settings that have one value in the whole case.
	everywhere map[string]ruled
	laid       *builder           // the wires and their ends, laid once
	twin       *builder           // of another case: names and items are shared with it
	like       *Laid              // the same net, laid before; nil where there is none
	only       []string           // devices whose loads are wanted; empty: all
	meets      map[string][]int32 // islands of the settled net by device
	past       *past              // of the same case, until it is settled
	bleeds     bool               // every live supply has a load that draws next to nothing
}

func (v *values) figures() Figures {
	return Figures{Job: v.job, Net: v.nt, Sizes: v.sizes, Temps: v.temps, Case: v.c, Only: v.only}
}

type setKey struct {
	name string
	at   design.Scope
}

type ruled struct {
	value float64
	known bool
}

func newValues(job *design.Job, nt *net.Net, sizes size.Sizes, temps []unit.Temperature, c *design.Case) *values {
	v := &values{job: job, nt: nt, sizes: sizes, temps: temps, c: c, byName: map[string]*design.Device{},
		contacts: map[string]design.Fact[unit.Resistance]{}, fuses: map[string]design.Fact[unit.Resistance]{},
		breaks: map[string]*design.Break{}, supply: map[string]*design.CaseSupply{}, listed: map[string]bool{},
		off: map[string]bool{}, stated: map[group]bool{}, cache: map[setKey]ruled{}, everywhere: map[string]ruled{}}
	for _, d := range job.Devices {
		if !d.Pattern && v.byName[d.Name] == nil { // a name used twice is a mistake told elsewhere
			v.devices = append(v.devices, d)
			v.byName[d.Name] = d
		}
	}
	for _, p := range job.Parts.Contacts {
		v.contacts[p.Name] = p.Resistance
	}
	for _, p := range job.Parts.Fuses {
		v.fuses[p.Name] = p.Resistance
	}
	for _, b := range job.Breaks {
		v.breaks[b.Name] = b
	}
	for _, k := range job.Cases {
		for _, s := range k.Supplies {
			v.listed[s.Device] = true
		}
	}
	for i := range c.Supplies {
		v.supply[c.Supplies[i].Device] = &c.Supplies[i]
		v.listed[c.Supplies[i].Device] = true
	}
	for _, n := range c.Off {
		v.off[n] = true
	}
	for _, s := range c.States {
		v.stated[group{s.Device, s.Group}] = true
	}
	for _, d := range v.devices {
		for i := range d.Supplies {
			if v.connected(d) {
				v.top = max(v.top, v.setPoint(d, i))
			}
		}
	}
	return v
}

// but is what is known of a case with other figures. What follows from the job and the case alone is shared.
func (v *values) but(f Figures) *values {
	if f.Job != v.job || f.Case != v.c {
		return newValues(f.Job, f.Net, f.Sizes, f.Temps, f.Case)
	}
	return &values{job: f.Job, nt: f.Net, sizes: f.Sizes, temps: f.Temps, c: f.Case, devices: v.devices, byName: v.byName, contacts: v.contacts, fuses: v.fuses,
		breaks: v.breaks, supply: v.supply, listed: v.listed, off: v.off, stated: v.stated, top: v.top, cache: map[setKey]ruled{}, everywhere: map[string]ruled{}}
}

// get is a setting as a plain number in base units.
func (v *values) get(name string, at design.Scope) (x float64, known bool) {
	at.Case = v.c.Name
	if r, ok := v.everywhere[name]; ok {
		return r.value, r.known
	}
	k := setKey{name, at}
	r, ok := v.cache[k]
	if !ok {
		got := v.job.Settings.Get(name, at)
		r = ruled{got.Value.Quantity.Value, got.Known}
		if v.narrow(name) {
			v.cache[k] = r
		} else {
			v.everywhere[name] = r
		}
	}
	return r.value, r.known
}

// narrow tells whether a line sets a value for less than the job or a case.
func (v *values) narrow(name string) bool {
	for i := range v.job.Settings.Lines {
		if l := &v.job.Settings.Lines[i]; l.Name == name {
			for word := range l.Scope {
				if word != "case" {
					return true
				}
			}
		}
	}
	return false
}

func (v *values) ohms(name string, at design.Scope) unit.Resistance {
	x, _ := v.get(name, at)
	return unit.Resistance(x)
}

// age is the factor on joints.
func (v *values) age(at design.Scope) unit.Resistance {
	if x, ok := v.get("joint-age", at); ok && x > 0 {
		return unit.Resistance(x)
	}
	return 1
}

func (v *values) scope(d *design.Device) design.Scope {
	return design.Scope{Device: d.Name, Class: d.Class, Zone: d.Zone, Section: d.Section}
}

// endScope is where a setting for one end of a wire is looked up.
func (v *values) endScope(w *net.Wire, t *net.Termination) design.Scope {
	at := design.Scope{Circuit: w.Circuit, Device: t.Device, Break: t.Break, Class: w.Class, Section: w.Section}
	if d := v.byName[t.Device]; d != nil {
		at.Zone = d.Zone
		if at.Class == "" {
			at.Class = d.Class
		}
	}
	return at
}

// connected tells whether the case lists the device's supplies and does not put them off.
func (v *values) connected(d *design.Device) bool { return v.supply[d.Name] != nil && !v.off[d.Name] }

// secondary is the greatest share of the job's highest supply that counts as a control unit's own.
const secondary = 0.6

// follows tells whether the supplies of a device live on what it draws: a control unit's own 5 volts. So it is when the device
// has a draw, this case does not list it, and either no case does or its volts are far below those of the job's highest supply;
// an alternator that a case leaves out stays disconnected.
func (v *values) follows(d *design.Device) bool {
	if len(d.Draws) == 0 || v.supply[d.Name] != nil || v.off[d.Name] {
		return false
	}
	for i := range d.Supplies {
		if v.listed[d.Name] && v.setPoint(d, i) > secondary*v.highest() {
			return false
		}
	}
	return true
}

// highest is the highest set-point of the job's supplies.
func (v *values) highest() unit.Voltage {
	var most unit.Voltage
	for _, d := range v.job.Devices {
		for i := range d.Supplies {
			if !d.Pattern {
				most = max(most, nominal(d.Supplies[i].Volts))
			}
		}
	}
	return most
}

// setPoint is never less than nothing: a supply of negative volts would be one written the wrong way round.
func (v *values) setPoint(d *design.Device, i int) unit.Voltage {
	volts := nominal(d.Supplies[i].Volts)
	if s := v.supply[d.Name]; s != nil && s.At.Given {
		volts = nominal(s.At)
	}
	return unit.Voltage(within(float64(volts), 0, mostVolts))
}

// setSpread is the set-point with its spread: that of the case's own figure where it has one, else the supply's.
func (v *values) setSpread(d *design.Device, i int) knob {
	f := d.Supplies[i].Volts
	if s := v.supply[d.Name]; s != nil && s.At.Given {
		f = s.At
	}
	return voltKnob(setPoint, least(f), v.setPoint(d, i), most(f))
}

func (v *values) inside(d *design.Device, i int) ohms {
	if s := v.supply[d.Name]; s != nil && s.Inside.Given {
		return spread(s.Inside)
	}
	if f := d.Supplies[i].Inside; f.Given {
		return spread(f)
	}
	return exactly(v.ohms("supply-inside", v.scope(d)))
}

// measuredAt is the volts a load's figures belong to, always more than none.
func (v *values) measuredAt(d *design.Device, l *design.Draw) unit.Voltage {
	if x := nominal(l.At); l.At.Given && x > 0 {
		return min(x, mostVolts)
	}
	if x, ok := v.get("drop-of", v.scope(d)); ok && x > 0 {
		return unit.Voltage(min(x, mostVolts))
	}
	if v.top > 0 {
		return v.top
	}
	return 1 // no supply lives: nothing is fed
}

// load is the law of a draw or coil. The figure given fixes one point, at the volts it was measured at; the kind says how the
// load answers to other volts.
func (v *values) load(d *design.Device, l *design.Draw) (branch, knob) {
	at := float64(v.measuredAt(d, l))
	k := knob{turns: drawAmps}
	var amps [ends]float64
	kind := l.As
	switch {
	case l.Amps.Given:
		k.dim, k.stated = unit.DimCurrent, threeOf(l.Amps)
		amps = k.stated
	case l.Watts.Given:
		k.dim, k.stated = unit.DimPower, threeOf(l.Watts)
		for i, w := range k.stated {
			amps[i] = w / at
		}
	case l.Ohms.Given:
		k.dim, k.stated = unit.DimResistance, threeOf(l.Ohms)
		k.stated[asIs] = k.stated[atLow] // the least draws most
		for i, r := range k.stated {
			amps[i] = at / within(r, leastResistance, mostResistance)
		}
		if kind == design.ConstantCurrent {
			kind = design.ConstantResistance
		}
	}
	return k.load(kind, at, amps)
}

// starting is the law while it starts: a resistance that takes the starting current at the volts it was measured at, but for a
// load of constant current.
func (v *values) starting(d *design.Device, l *design.Draw) (branch, knob) {
	kind := design.ConstantResistance
	if l.As == design.ConstantCurrent && !l.Ohms.Given {
		kind = design.ConstantCurrent
	}
	k := knob{turns: startAmps, dim: unit.DimCurrent, stated: threeOf(l.Start)}
	return k.load(kind, float64(v.measuredAt(d, l)), k.stated)
}

// threeOf is the ends of a fact that counts at its high one.
func threeOf[T ~float64](f design.Fact[T]) [ends]float64 {
	return [ends]float64{float64(least(f)), float64(most(f)), float64(most(f))}
}

// load is the law at each end of the knob, and which of its figures differs.
func (k knob) load(kind design.LoadKind, at float64, amps [ends]float64) (branch, knob) {
	x := loadAt(kind, at, amps[asIs])
	for end, a := range amps {
		switch b := loadAt(kind, at, a); {
		case b.law == open && x.law == ohmic:
			k.value[end] = 1 / mostResistance
		case x.law == ohmic:
			k.value[end] = b.g
		default:
			k.value[end] = b.most
		}
	}
	return x, k
}

func loadAt(kind design.LoadKind, at, amps float64) branch {
	amps, at = within(amps, 0, mostAmps), within(at, leastVolts, mostVolts)
	switch {
	case amps == 0:
		return branch{law: open}
	case kind == design.ConstantCurrent:
		return branch{law: steadyCurrent, most: amps, e: currentKnee * at}
	case kind == design.ConstantPower:
		return branch{law: steadyPower, most: within(amps*at, 0, mostWatts), e: powerKnee * at}
	}
	return resistor(0, 0, at/amps)
}

// wireOhms is the resistance of a wire at its mean temperature: copper, R = R20 (234.5 + T)/254.5 (AC 43.13-1B 11-66d). A wire
// whose resistance is not known counts as a joint: nothing is made up.
func (v *values) wireOhms(i int) unit.Resistance {
	w := &v.nt.Wires[i]
	length := max(w.Copper, w.Length)
	if w.Loose && length <= 0 {
		length = w.LooseLength
	}
	var per unit.LinearResistance
	area := w.Stated.Area()
	if i < len(v.sizes) {
		per = v.sizes[i].Resistance
		if !v.sizes[i].Size.IsZero() {
			area = v.sizes[i].Size.Area()
		}
	}
	if !(per > 0) && area > 0 {
		per = unit.LinearResistance(copper / float64(area))
	}
	r := per.Over(length)
	if i < len(v.temps) && unit.Finite(v.temps[i]) {
		r *= unit.Resistance(within(234.5+float64(v.temps[i]), 1, 1e4) / 254.5)
	}
	return r
}

// contact is the resistance of the mated pair at one end of a wire.
func (v *values) contact(wire, end int, at design.Scope) ohms {
	part := v.nt.Wires[wire].Ends[end].Contact
	if wire < len(v.sizes) && v.sizes[wire].Contacts[end] != "" {
		part = v.sizes[wire].Contacts[end]
	}
	if r := v.contacts[part]; r.Given {
		return spread(r)
	}
	return exactly(v.ohms("contact-resistance", at))
}

// post is the resistance through a stud post.
func (v *values) post(b *design.Break, cavity string, at design.Scope) ohms {
	for _, half := range b.Halves {
		for _, h := range v.job.Parts.Housings {
			if h.Name != half.Housing {
				continue
			}
			for i := range h.Cavities {
				if c := &h.Cavities[i]; (c.Name == cavity || cavity == "") && c.Resistance.Given {
					return spread(c.Resistance)
				}
			}
			break
		}
	}
	return exactly(v.ohms("joint-resistance", at))
}
