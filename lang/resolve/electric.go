package resolve

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/sense"
	"loomsheet/lang/syntax"
)

// wireDevice says what a device does between its pins.
func (b *builder) wireDevice(t *thing) {
	d := b.devices[t.name]
	for _, l := range d.st.Block {
		if l.Word.Name == "state" {
			b.state(d, l)
		}
	}
	ends := map[string]diag.Span{}
	for _, l := range d.st.Block {
		n := len(d.Supplies) + len(d.Draws) + len(d.Coils)
		b.does(d, l, ends)
		switch l.Word.Name {
		case "supply", "draw", "coil":
			d.partial = d.partial || n == len(d.Supplies)+len(d.Draws)+len(d.Coils)
		}
	}
	d.sort()
}

// does reads one line about what the device does.
func (b *builder) does(d *device, l *sense.Stmt, ends map[string]diag.Span) {
	switch l.Word.Name {
	case "supply":
		b.supply(d, l, ends)
	case "draw":
		if x, ok := b.draw(d, l, ends); ok {
			x.Peak = fact[unit.Current](l, "peak")
			d.Draws = append(d.Draws, x)
		}
	case "coil":
		b.coil(d, l, ends)
	case "joins":
		b.joins(d, l)
	case "fuse":
		from, to, ok := b.inside(d, l, ends)
		if len(l.About) == 0 || !b.part("fuse", l.Name(), l.NameSpan()) || !ok {
			return
		}
		d.Fuses = append(d.Fuses, design.DeviceFuse{Part: l.Name(), From: from, To: to, Span: l.Span})
	case "diode":
		if from, to, ok := b.inside(d, l, ends); ok && len(l.About) > 0 {
			if q, okQ := quantity(l.About[0]); okQ {
				d.Diodes = append(d.Diodes, design.Diode{Forward: given(l, unit.Voltage(q.Value), l.About[0]), From: from, To: to, Span: l.Span})
			}
		}
	case "reads":
		if from, to, ok := b.inside(d, l, ends); ok && len(l.About) > 0 {
			if q, okQ := quantity(l.About[0]); okQ {
				if q.Value == 0 {
					b.mistake(l, l.About[0].Span, "zero", fmt.Sprintf("a sensor that reads %s for its volts reads nothing", l.About[0].Text), "Say by how much its reading changes: `reads 250 kPa per 1 V`.")
					return
				}
				per, stated := amount[unit.Voltage](l, "per")
				if stated && per == 0 {
					b.zero(l, l.Find("per").Values[0], "what stands for a reading")
					return
				}
				d.Reads = append(d.Reads, design.Reads{Value: q, Per: per, From: from, To: to, Span: l.Span})
			}
		}
	}
}

// sort puts every list of the device in the natural order of the ends.
func (d *device) sort() {
	two := func(a, b, c, e string) int { return cmp.Or(design.Natural(a, c), design.Natural(b, e)) }
	refs := func(a, b, c, e design.PinRef) int { return two(a.String(), b.String(), c.String(), e.String()) }
	slices.SortStableFunc(d.Supplies, func(x, y design.Supply) int { return refs(x.From, x.To, y.From, y.To) })
	slices.SortStableFunc(d.Draws, func(x, y design.Draw) int { return refs(x.From, x.To, y.From, y.To) })
	slices.SortStableFunc(d.Coils, func(x, y design.Coil) int { return refs(x.From, x.To, y.From, y.To) })
	slices.SortStableFunc(d.Fuses, func(x, y design.DeviceFuse) int { return two(x.From, x.To, y.From, y.To) })
	slices.SortStableFunc(d.Diodes, func(x, y design.Diode) int { return two(x.From, x.To, y.From, y.To) })
	slices.SortStableFunc(d.Reads, func(x, y design.Reads) int { return two(x.From, x.To, y.From, y.To) })
	slices.SortStableFunc(d.Joins, func(x, y design.Joins) int {
		return design.Natural(strings.Join(x.Pins, " "), strings.Join(y.Pins, " "))
	})
	slices.SortStableFunc(d.States, func(x, y design.State) int {
		return cmp.Or(design.Natural(x.StateRef.String(), y.StateRef.String()), design.Natural(strings.Join(x.Pins, " "), strings.Join(y.Pins, " ")))
	})
}

// pinRef is an end inside a device: a pin of its own, or of one it is bolted to.
func (b *builder) pinRef(d *device, l *sense.Stmt, v syntax.Value) (design.PinRef, bool) {
	if i, ok := d.find(v.Text); ok {
		return design.PinRef{Device: d.Name, Pin: d.Pins[i].Name, Span: v.Span}, true
	}
	head, pin, dotted := strings.Cut(v.Text, ".")
	if !dotted || d.prefixed(head) {
		b.noPin(l, d, v, v.Text)
		return design.PinRef{}, false
	}
	if head == d.Name {
		if i, ok := d.find(pin); ok {
			return design.PinRef{Device: d.Name, Pin: d.Pins[i].Name, Span: v.Span}, true
		}
		b.noPin(l, d, v, pin)
		return design.PinRef{}, false
	}
	if !slices.Contains(d.Bolted, head) {
		if d.vague() {
			return design.PinRef{}, false // what it is bolted to may not be known
		}
		w := v
		w.Text = head
		if b.find(l, w, "device") != nil {
			b.mistake(l, v.Span, "not-bolted", fmt.Sprintf("%s is not bolted to %s", d.Name, head),
				fmt.Sprintf("An end inside a device is a pin of its own, or of a device whose metal it shares: say `bolted %s`. Everything else is joined by a circuit.", head)).
				Point(b.names["place"][head].st.NameSpan(), "declared here")
		}
		return design.PinRef{}, false
	}
	o := b.devices[head]
	i, ok := o.find(pin)
	if !ok {
		b.noPin(l, o, v, pin)
		return design.PinRef{}, false
	}
	return design.PinRef{Device: head, Pin: o.Pins[i].Name, Span: v.Span}, true
}

// prefixed tells whether a name is the prefix of one of the housings.
func (d *device) prefixed(name string) bool {
	return d.prefixes[name]
}

// ends is the two ends of a line; the same ends twice in one device contradict each other.
func (b *builder) ends(d *device, l *sense.Stmt, seen map[string]diag.Span) (from, to design.PinRef, ok bool) {
	f, t := l.Find("from"), l.Find("to")
	if f == nil || t == nil {
		return from, to, false
	}
	from, ok1 := b.pinRef(d, l, f.Values[0])
	to, ok2 := b.pinRef(d, l, t.Values[0])
	if !ok1 || !ok2 {
		return from, to, false
	}
	span := f.Span
	span.End = max(span.End, t.Span.End)
	if from.Device == to.Device && from.Pin == to.Pin {
		b.mistake(l, span, "ends-same", fmt.Sprintf("both ends of this %s are %s", l.Word.Name, from), "Write two different pins.")
		return from, to, false
	}
	k := l.Word.Name + " " + from.String() + " " + to.String()
	if first, twice := seen[k]; twice {
		b.mistake(l, span, "ends-twice", fmt.Sprintf("%s has a second %s from %s to %s", d.Name, l.Word.Name, f.Values[0].Text, t.Values[0].Text), alongside(l.Word.Name)).
			Point(first, "the first one")
		return from, to, false
	}
	seen[k] = span
	return from, to, true
}

// inside is two ends that must be pins of the device itself.
func (b *builder) inside(d *device, l *sense.Stmt, seen map[string]diag.Span) (from, to string, ok bool) {
	f, t, ok := b.ends(d, l, seen)
	if !ok {
		return "", "", false
	}
	for _, p := range []design.PinRef{f, t} {
		if p.Device != d.Name {
			b.mistake(l, p.Span, "not-own-pin", fmt.Sprintf("%s is no pin of %s itself", p, d.Name), fmt.Sprintf("A %s sits between two pins of its own device.", l.Word.Name))
			return "", "", false
		}
	}
	return f.Pin, t.Pin, true
}

func (b *builder) ownPins(d *device, l *sense.Stmt, vs []syntax.Value) []string {
	var out []string
	seen := map[string]bool{}
	for _, v := range vs {
		i, ok := d.find(v.Text)
		if !ok {
			b.noPin(l, d, v, v.Text)
			continue
		}
		n := d.Pins[i].Name
		if seen[n] {
			b.mistake(l, v.Span, "pin-twice", fmt.Sprintf("pin %s stands here twice", n), "Take one away.")
			continue
		}
		seen[n] = true
		out = append(out, n)
	}
	return out
}

func (b *builder) state(d *device, l *sense.Stmt) {
	if l.Name() == "" {
		return
	}
	ref := stateRef(l.Name())
	if strings.Count(l.Name(), ".") > 1 {
		b.mistake(l, l.NameSpan(), "name-with-dot", fmt.Sprintf("`%s` has two dots in it", l.Name()), "A state is a name, or a group and a name with a dot between: `fan.on`.")
		return
	}
	if !d.hasState[ref] {
		d.hasState[ref] = true
		d.states = append(d.states, ref)
	}
	st := design.State{StateRef: ref, Resistance: fact[unit.Resistance](l, "resistance"), Rating: fact[unit.Current](l, "rating"), Span: l.Span}
	if o := l.Find("joins"); o != nil {
		st.Pins = b.ownPins(d, l, o.Values)
		if len(o.Values) == 1 && !o.Lost {
			b.mistake(l, o.Span, "joins-one", "`joins` wants two pins or more", "Write the pins with commas between: `joins 1, 2`.")
		}
		if len(st.Pins) < 2 {
			return
		}
	}
	d.States = append(d.States, st)
}

func stateRef(text string) design.StateRef {
	if g, s, ok := strings.Cut(text, "."); ok {
		return design.StateRef{Group: g, State: s}
	}
	return design.StateRef{State: text}
}

func (b *builder) supply(d *device, l *sense.Stmt, ends map[string]diag.Span) {
	from, to, ok := b.ends(d, l, ends)
	if !ok || len(l.About) == 0 {
		return
	}
	q, ok := quantity(l.About[0])
	if !ok {
		return
	}
	s := design.Supply{Volts: given(l, unit.Voltage(q.Value), l.About[0]), Inside: fact[unit.Resistance](l, "inside"), Most: fact[unit.Current](l, "most"), Stores: fact[unit.Charge](l, "stores"), From: from, To: to, Span: l.Span}
	spread(b, l, &s.Volts, unit.DimVoltage)
	b.volts(l, s.Volts)
	if s.Volts.Nominal == 0 {
		b.zero(l, l.About[0], "a supply")
		return
	}
	d.Supplies = append(d.Supplies, s)
}

func (b *builder) draw(d *device, l *sense.Stmt, ends map[string]diag.Span) (design.Draw, bool) {
	x := design.Draw{At: fact[unit.Voltage](l, "at"), Start: fact[unit.Current](l, "start"), Least: fact[unit.Voltage](l, "least"), Span: l.Span}
	x.StartFor, _ = amount[unit.Time](l, "for")
	x.On, _ = amount[unit.Time](l, "on")
	x.Off, _ = amount[unit.Time](l, "off")
	x.Tolerance, _ = amount[unit.Ratio](l, "tolerance")
	from, to, ok := b.ends(d, l, ends)
	x.From, x.To = from, to
	if !ok || len(l.About) == 0 {
		return x, false
	}
	q, ok := quantity(l.About[0])
	if !ok {
		return x, false
	}
	if q.Value == 0 {
		b.zero(l, l.About[0], "a "+l.Word.Name)
		return x, false
	}
	switch q.Dim {
	case unit.DimCurrent:
		x.Amps, x.As = given(l, unit.Current(q.Value), l.About[0]), design.ConstantCurrent
		spread(b, l, &x.Amps, q.Dim)
	case unit.DimPower:
		x.Watts, x.As = given(l, unit.Power(q.Value), l.About[0]), design.ConstantPower
		spread(b, l, &x.Watts, q.Dim)
	default:
		x.Ohms, x.As = given(l, unit.Resistance(q.Value), l.About[0]), design.ConstantResistance
		spread(b, l, &x.Ohms, q.Dim)
	}
	switch l.Text("as") {
	case "current":
		x.As = design.ConstantCurrent
	case "power":
		x.As = design.ConstantPower
	case "resistance":
		x.As = design.ConstantResistance
	}
	b.volts(l, x.At)
	if o := l.Find("at"); o != nil && x.At.Given && x.At.Nominal == 0 {
		b.zero(l, o.Values[0], "what a load is measured at")
		x.At = design.Fact[unit.Voltage]{}
	}
	if o := l.Find("off"); o != nil && l.Missing("on") {
		b.mistake(l, o.Span, "duty-unclear", "`off` says how long it rests, but nothing says how long it runs", "Write both: `on 60 s off 120 s`.")
	}
	return x, true
}

func (b *builder) coil(d *device, l *sense.Stmt, ends map[string]diag.Span) {
	x, ok := b.draw(d, l, ends)
	if !ok {
		return
	}
	c := design.Coil{Draw: x, PullIn: fact[unit.Voltage](l, "pull-in"), DropOut: fact[unit.Voltage](l, "drop-out")}
	if o := l.Find("drop-out"); o != nil && c.PullIn.Given && c.DropOut.Nominal >= c.PullIn.Nominal {
		b.mistake(l, o.Span, "spread-unclear", "a coil drops out below the volts at which it pulls in", "Turn `pull-in` and `drop-out` round.")
	}
	var movable []design.StateRef
	for _, s := range d.states {
		if s.State != "off" {
			movable = append(movable, s)
		}
	}
	o := l.Find("moves")
	switch {
	case o != nil:
		c.Moves = stateRef(o.Values[0].Text)
		if c.Moves.State == "off" {
			b.mistake(l, o.Values[0].Span, "moves-off", "a coil cannot move to the state off", "It rests there. Name the state it closes, such as `on`.")
			return
		}
		if !d.hasState[c.Moves] {
			b.noState(l, d, o.Values[0], o.Values[0].Text)
			return
		}
	case len(movable) == 1:
		c.Moves = movable[0]
	case d.vague() || !l.Missing("moves"):
		return
	case len(movable) == 0:
		b.mistake(l, l.At, "no-such-state", fmt.Sprintf("this coil of %s has no state to move", d.Name), "Say what it closes: `state on joins 30, 87`.")
		return
	default:
		b.mistake(l, l.At, "option-missing", fmt.Sprintf("`coil` of %s does not say which state it `moves`", d.Name), "Its states are "+join(stateNames(movable), "and")+".")
		return
	}
	d.Coils = append(d.Coils, c)
}

func stateNames(refs []design.StateRef) []string {
	out := make([]string, len(refs))
	for i, r := range refs {
		out[i] = r.String()
	}
	slices.SortFunc(out, design.Natural)
	return out
}

// noState reports a state that a device has not.
func (b *builder) noState(s *sense.Stmt, d *device, v syntax.Value, name string) {
	if d.vague() {
		return
	}
	b.miss(s, missKey{"state", d.Name + "." + name}, v.Span, "no-such-state", fmt.Sprintf("%s has no state %s", d.Name, name), func(m *diag.Diagnostic) {
		ns := stateNames(d.states)
		m.Detail = "It has no states."
		if len(ns) > 0 {
			m.Detail = "Its states are " + join(ns[:min(len(ns), 12)], "and") + "; `off` is always there."
		}
		m.Near(diag.Nearest(name, ns)).Point(d.t.st.NameSpan(), "declared here")
	})
}

// alongside says how two of a kind between the same two pins are written.
func alongside(word string) string {
	switch word {
	case "coil":
		return "One coil moves every contact of one name: if it is one relay, write `state` lines of the same name for all its contacts and one coil. " +
			"Of two relays side by side each coil has an end of its own: declare a pin for it with `inner` and join the two with `joins`, or write one relay as a device of its own."
	case "draw":
		return "Write one line with the sum of both; or give the second one pins of its own, or a device of its own."
	case "fuse":
		return "Two fuses side by side share as chance will have it: take one of the whole rating, or give the second one pins of its own."
	}
	return "What lies between the same two ends is one line. Give the second one pins of its own, or a device of its own."
}
