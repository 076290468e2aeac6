package resolve

import (
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/expand"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// device is a device being built.
type device struct {
	*design.Device
	t        *thing
	st       *sense.Stmt // with all it takes over
	pins     map[string]int
	pinLines map[string]*sense.Stmt
	lines    []*sense.Stmt // of its housings, in their order; nil where an option names it
	hazy     bool          // a housing is not known: neither are its cavities
	partial  bool          // a line about what it does could not be used
	states   []design.StateRef
	hasState map[design.StateRef]bool
	prefixes map[string]bool
}

// find is the number of a pin by its own name or by that of its cavity.
func (d *device) find(name string) (int, bool) {
	i, ok := d.pins[name]
	return i, ok
}

// vague tells whether a pin or state that is not found may well be meant to exist.
func (d *device) vague() bool { return d.hazy || d.st.Broken }

func (d *device) housingLine(i int) *sense.Stmt { return d.lines[i] }

// declareDevice makes a device with its housings and pins, so that others can name them.
func (b *builder) declareDevice(t *thing) {
	s := b.merged[t]
	d := &device{Device: &design.Device{Name: t.name, Common: own(s), Class: b.class(s)}, t: t, st: s, pins: map[string]int{},
		pinLines: map[string]*sense.Stmt{}, hasState: map[design.StateRef]bool{}, prefixes: map[string]bool{}}
	d.Span = own(t.st).Span
	d.hazy = s.Unsure("housing") || t.st.Unsure("like")
	d.Pattern = s.Missing("at") && b.liked[t.name]
	b.devices[t.name] = d
	b.job.Devices = append(b.job.Devices, d.Device)
	d.Section, d.Zone, d.Panel = b.refer(s, "section", "section"), b.refer(s, "zone", "zone"), b.refer(s, "panel", "panel")
	d.Fitted = s.Text("fitted") == "yes"
	parts := b.housings(d)
	b.declarePins(d, parts)
}

// housings lists the housings of a device with their parts, sorted by prefix.
func (b *builder) housings(d *device) []*design.Housing {
	type entry struct {
		h    design.DeviceHousing
		part *design.Housing
		line *sense.Stmt
	}
	var es []entry
	if o := d.st.Find("housing"); o != nil {
		v := o.Values[0]
		es = append(es, entry{h: design.DeviceHousing{Part: v.Text, Boot: b.partIn(d.st, "boot", "boot"), Span: v.Span}, part: b.housing(v.Text, v.Span)})
		d.prefixes[""] = true
	}
	for _, l := range d.st.Block {
		if l.Word.Name != "housing" || l.Name() == "" {
			continue
		}
		e := entry{h: design.DeviceHousing{Part: l.Name(), As: l.Text("as"), Key: l.Text("key"), Boot: b.partIn(l, "boot", "boot"), Span: l.NameSpan()}, part: b.housing(l.Name(), l.NameSpan()), line: l}
		d.hazy = d.hazy || l.Unsure("as")
		if o := l.Find("key"); o != nil {
			b.key(l, o, e.part)
		}
		if d.prefixes[e.h.As] {
			i := slices.IndexFunc(es, func(x entry) bool { return x.h.As == e.h.As })
			b.mistake(l, l.NameSpan(), "housing-twice", fmt.Sprintf("two housings of %s have the same prefix", d.Name), "Give each a prefix of its own: `housing sealed-6 as a`. Its cavities are then a.1, a.2.").
				Point(es[i].h.Span, "the other housing")
			d.hazy = true
			continue
		}
		d.prefixes[e.h.As] = true
		es = append(es, e)
	}
	slices.SortStableFunc(es, func(x, y entry) int { return design.Natural(x.h.As, y.h.As) })
	var parts []*design.Housing
	for _, e := range es {
		if e.part == nil {
			d.hazy = true
		}
		d.Housings = append(d.Housings, e.h)
		d.lines = append(d.lines, e.line)
		parts = append(parts, e.part)
	}
	return parts
}

// key checks a key against those the housing can be had with, if it lists any.
func (b *builder) key(s *sense.Stmt, o *sense.Opt, h *design.Housing) {
	if h == nil || len(h.Keys) == 0 || slices.Contains(h.Keys, o.Values[0].Text) {
		return
	}
	b.mistake(s, o.Values[0].Span, "no-such-key", fmt.Sprintf("housing %s cannot be had with key %s", h.Name, o.Values[0].Text), "Its keys are "+join(h.Keys, "and")+".").
		Point(h.Span, "the housing")
}

func cavityName(as, cavity string) string {
	if as == "" {
		return cavity
	}
	return as + "." + cavity
}

// place of a cavity in a device.
type hole struct{ housing, cavity int }

// declarePins names the pins: those of lines, the joints inside, and the cavities that no line names.
func (b *builder) declarePins(d *device, parts []*design.Housing) {
	holes := map[string]hole{}
	for i, h := range parts {
		if h == nil || !b.sense.Spend(d.Housings[i].Span, len(h.Cavities)) {
			parts[i] = nil
			d.hazy = true
			continue
		}
		for j, c := range h.Cavities {
			holes[cavityName(d.Housings[i].As, c.Name)] = hole{i, j}
		}
	}
	taken := map[hole]design.Pin{}
	byName := map[string]diag.Span{}
	for _, l := range d.st.Block {
		if l.Name() == "" || l.Word.Name != "pin" && l.Word.Name != "inner" {
			continue
		}
		if strings.Contains(l.Name(), ".") {
			continue
		}
		if first, twice := byName[l.Name()]; twice {
			b.mistake(l, l.NameSpan(), "name-twice", fmt.Sprintf("%s has a second pin `%s`", d.Name, l.Name()), "Give one of the two another name.").Point(first, "first declared here")
			continue
		}
		byName[l.Name()] = l.NameSpan()
		d.pinLines[l.Name()] = l
		p := design.Pin{Name: l.Name(), Housing: -1, Inner: l.Word.Name == "inner", Span: l.NameSpan()}
		if !p.Inner {
			b.pin(d, l, &p, parts, holes, taken)
		}
		d.Pins = append(d.Pins, p)
	}
	for i, h := range parts {
		if h == nil {
			continue
		}
		for j, c := range h.Cavities {
			if _, is := taken[hole{i, j}]; is {
				continue
			}
			name := cavityName(d.Housings[i].As, c.Name)
			if first, hidden := byName[name]; hidden {
				b.mistake(d.st, first, "cavity-hidden", fmt.Sprintf("pin %s of %s sits elsewhere than in cavity %s", name, d.Name, name), "Give the pin another name, or name a pin for that cavity too, else nobody can say which is meant.")
				continue
			}
			d.Pins = append(d.Pins, design.Pin{Name: name, Housing: i, Cavity: c.Name, Stud: c.Stud, Span: d.Housings[i].Span})
		}
	}
	d.Pins = slices.Clone(d.Pins) // without the room it grew into
	slices.SortStableFunc(d.Pins, func(x, y design.Pin) int { return design.Natural(x.Name, y.Name) })
	for i, p := range d.Pins {
		d.pins[p.Name] = i
	}
	for i, p := range d.Pins {
		if p.Housing >= 0 {
			if full := cavityName(d.Housings[p.Housing].As, p.Cavity); byName[full].IsZero() {
				d.pins[full] = i
			}
		}
	}
	b.unused(d)
}

// pin fills in a pin: its stud or its cavity.
func (b *builder) pin(d *device, l *sense.Stmt, p *design.Pin, parts []*design.Housing, holes map[string]hole, taken map[hole]design.Pin) {
	p.Stud = l.Text("stud")
	p.Panel = b.refer(l, "panel", "panel")
	p.Torque, _ = amount[unit.Torque](l, "torque")
	name, span := l.Name(), l.NameSpan()
	if o := l.Find("cavity"); o != nil {
		name, span = o.Values[0].Text, o.Values[0].Span
	} else if p.Stud != "" || !l.Missing("cavity") || !l.Missing("stud") {
		return
	}
	h, ok := holes[name]
	if !ok {
		b.noCavity(d, l, name, span, parts)
		return
	}
	if other, is := taken[h]; is {
		b.mistake(l, span, "cavity-twice", fmt.Sprintf("cavity %s of %s is pin %s already", name, d.Name, other.Name), "A cavity holds one pin.").Point(other.Span, "that pin")
		return
	}
	p.Housing, p.Cavity = h.housing, parts[h.housing].Cavities[h.cavity].Name
	if p.Stud == "" {
		p.Stud = parts[h.housing].Cavities[h.cavity].Stud
	}
	taken[h] = *p
}

func (b *builder) noCavity(d *device, l *sense.Stmt, name string, span diag.Span, parts []*design.Housing) {
	if d.vague() {
		return
	}
	if len(d.Housings) == 0 {
		b.mistake(l, span, "pin-nowhere", fmt.Sprintf("pin %s of %s has neither a cavity nor a stud", l.Name(), d.Name),
			fmt.Sprintf("Give %s a housing with that cavity, or say which stud the pin is: `pin %s stud M6`. A joint that nobody can reach is `inner`.", d.Name, l.Name()))
		return
	}
	if prefix, _, dotted := strings.Cut(name, "."); dotted && !d.prefixes[prefix] {
		b.miss(l, missKey{"prefix", d.Name + "." + prefix}, span, "no-such-cavity", fmt.Sprintf("%s has no housing with the prefix %s", d.Name, prefix), func(m *diag.Diagnostic) {
			for _, h := range d.Housings {
				said := "no prefix"
				if h.As != "" {
					said = "the prefix " + h.As
				}
				m.Point(h.Span, "this housing has "+said)
			}
		})
		return
	}
	var names []string
	detail := ""
	if b.many() {
		parts = nil
	}
	for i, h := range parts {
		var own []string
		for _, c := range h.Cavities {
			own = append(own, cavityName(d.Housings[i].As, c.Name))
		}
		names = append(names, own...)
		if i < 2 {
			if detail != "" {
				detail += " "
			}
			detail += fmt.Sprintf("Its housing, %s, has %s.", h.Name, cavityList(own))
		}
	}
	m := b.mistake(l, span, "no-such-cavity", fmt.Sprintf("%s has no cavity %s", d.Name, name), detail).Near(nearPin(name, names)).Point(d.Housings[0].Span, "housing chosen here")
	meantRange(m, name)
}

// meantRange adds a hint for 1-10, which is a name.
func meantRange(m *diag.Diagnostic, name string) {
	lo, hi, ok := strings.Cut(name, "-")
	if !ok || lo == "" || hi == "" || strings.Trim(lo+hi, "0123456789") != "" {
		return
	}
	if ms, _, err := expand.Members("[" + lo + ".." + hi + "]"); err == nil && len(ms) > 1 {
		m.Detail = strings.TrimSpace(fmt.Sprintf("Did you mean `[%s..%s]`? %s", lo, hi, m.Detail))
	}
}

func cavityList(names []string) string {
	switch {
	case len(names) == 0:
		return "no cavities"
	case len(names) == 1:
		return "one cavity, " + names[0]
	case len(names) <= 8:
		return "cavities " + join(names, "and")
	}
	return fmt.Sprintf("%d cavities, %s to %s", len(names), names[0], names[len(names)-1])
}

// nearPin is near names of a pin or cavity; every number is near every other, so short ones have none.
func nearPin(name string, names []string) []string {
	if len(name) < 3 {
		return nil
	}
	return diag.Nearest(name, names)
}

// unused marks the cavities left empty on purpose.
func (b *builder) unused(d *device) {
	for _, l := range d.st.Block {
		if l.Word.Name != "unused" || l.Name() == "" {
			continue
		}
		i, ok := d.find(l.Name())
		if !ok {
			b.noPin(l, d, l.About[0], l.Name())
			continue
		}
		d.Pins[i].Unused = true
	}
}

// noPin reports a pin that a device has not.
func (b *builder) noPin(s *sense.Stmt, d *device, v syntax.Value, pin string) {
	if d.vague() {
		return
	}
	b.miss(s, missKey{"pin", d.Name + "." + pin}, v.Span, "no-such-pin", fmt.Sprintf("%s has no pin %s", d.Name, pin), func(m *diag.Diagnostic) {
		ns := names(d.Pins, func(p design.Pin) string { return p.Name })
		switch {
		case len(ns) == 0:
			m.Detail = "It has no pins: give it a housing, or studs with `pin name stud M6`."
		case len(ns) == 1:
			m.Detail = "Its only pin is " + ns[0] + "."
		case len(ns) <= 12:
			m.Detail = "Its pins are " + join(ns, "and") + "."
		default:
			m.Detail = fmt.Sprintf("It has %d pins, %s to %s.", len(ns), ns[0], ns[len(ns)-1])
		}
		meantRange(m.Near(nearPin(pin, ns)), pin)
		if len(d.Housings) > 0 {
			m.Point(d.Housings[0].Span, "housing chosen here")
		} else {
			m.Point(d.t.st.NameSpan(), "declared here")
		}
	})
}

// placeDevice works out where a device, its housings and its pins sit, and what it is bolted to.
func (b *builder) placeDevice(t *thing) {
	d := b.devices[t.name]
	d.Spot, d.Faces = b.spotOf(t), b.faces(d.st)
	if d.st.Missing("at") && !d.Pattern {
		b.mistake(t.st, t.st.NameSpan(), "no-place", fmt.Sprintf("device %s has no place", t.name),
			"Say where it sits: `at (1180, -440, 470 mm)`, or `at` and the name of a point. Only a pattern that others are `like` may do without.")
	}
	for i, l := range d.lines {
		if l != nil {
			d.Housings[i].Spot = b.spot(l, d.Name+"."+d.Housings[i].As)
		}
	}
	bolted := map[string]bool{}
	for _, l := range d.st.Block {
		switch l.Word.Name {
		case "pin":
			if i, ok := d.find(l.Name()); ok && l.Find("at") != nil {
				d.Pins[i].Spot = b.ownPinSpot(d, l)
			}
		case "bolted":
			b.bolted(d, l, bolted)
		}
	}
	slices.SortFunc(d.Bolted, design.Natural)
}

func (b *builder) bolted(d *device, l *sense.Stmt, seen map[string]bool) {
	if len(l.About) == 0 {
		return
	}
	t := b.find(l, l.About[0], "device")
	switch {
	case t == nil:
		d.hazy = true
	case t.name == d.Name:
		b.mistake(l, l.NameSpan(), "bolted-apart", fmt.Sprintf("%s is bolted to itself", d.Name), "Name the other device.")
	case seen[t.name]:
	default:
		seen[t.name] = true
		o := b.devices[t.name]
		if o.Section != "" && d.Section != "" && o.Section != d.Section {
			b.mistake(l, l.NameSpan(), "bolted-apart", fmt.Sprintf("%s is in section %s and %s in section %s", d.Name, d.Section, t.name, o.Section),
				"What is bolted together comes away together: else a strap is bypassed and cranking looks healthy on paper.").Point(o.t.st.NameSpan(), t.name+" is declared here")
		}
		d.Bolted = append(d.Bolted, t.name)
	}
}
