package mate

import (
	"fmt"
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// What leads on between two places.
type passing uint8

const (
	metal  passing = iota // always
	throw                 // a switch or a relay, in some state
	oneWay                // a diode, from its from
	fuse
)

// bond is a way from one place to another. Cut is the connector that opens it when it is unplugged.
type bond struct {
	to     string
	as     passing
	fuse   string
	cut    string
	behind bool // of a diode: this is the way against it
}

// web is everything that current could run along, by place: wires, pins of devices, splices, stud posts.
type web struct {
	at     map[string][]bond
	plus   map[string]*source // by pin
	minus  map[string]bool
	loads  map[string]string // pin: what it is of the load
	signal map[string]bool   // pin of a sensor, or of what it is read by
	quiet  map[string]bool   // wire of class signal
	wires  map[cavityKey]string
}

// source is a supply at its plus.
type source struct {
	device string
	volts  unit.Voltage
	own    bool // it lives on what its own device draws: the 5 V of a control unit
}

type cavityKey struct{ cut, side, cavity string }

func pin(device, name string) string { return "pin\x00" + device + "\x00" + name }

func breakCut(name string) string { return "break\x00" + name }

func deviceCut(name string, housing int) string {
	return "device\x00" + name + "\x00" + strconv.Itoa(housing)
}

func (w *web) join(a, b string, x bond) {
	x.to = b
	w.at[a] = append(w.at[a], x)
	x.to, x.behind = a, x.as == oneWay
	w.at[b] = append(w.at[b], x)
}

func newWeb(job *design.Job, nt *net.Net, device map[string]*design.Device) *web {
	w := &web{at: map[string][]bond{}, plus: map[string]*source{}, minus: map[string]bool{}, loads: map[string]string{}, signal: map[string]bool{}, quiet: map[string]bool{},
		wires: map[cavityKey]string{}}
	name := func(i int) string { return "wire\x00" + strconv.Itoa(i) }
	for i := range nt.Wires {
		x := &nt.Wires[i]
		w.quiet[name(i)] = x.Class == "signal" || x.Kind == net.Screen
		for e := range x.Ends {
			switch t := &x.Ends[e]; t.Kind {
			case net.InCavity:
				cut := deviceCut(t.Device, t.Housing)
				w.join(name(i), pin(t.Device, t.Pin), bond{cut: cut})
				if w.quiet[name(i)] {
					w.signal[pin(t.Device, t.Pin)] = true
				}
				w.wires[cavityKey{cut, "wire", t.Cavity}] = name(i)
				w.wires[cavityKey{cut, "pin", t.Cavity}] = pin(t.Device, t.Pin)
			case net.OnStud:
				w.join(name(i), pin(t.Device, t.Pin), bond{})
			case net.OnPost:
				w.join(name(i), "post\x00"+t.Break, bond{})
			case net.InSplice:
				w.join(name(i), "splice\x00"+t.Splice, bond{})
			case net.InHalf:
				w.wires[cavityKey{breakCut(t.Break), strconv.Itoa(t.Half), t.Cavity}] = name(i)
			}
		}
	}
	for i := range nt.Crossings {
		c := &nt.Crossings[i]
		w.join(name(c.Wires[0]), name(c.Wires[1]), bond{cut: breakCut(c.Break)})
	}
	listed := map[string]bool{}
	for _, c := range job.Cases {
		for _, s := range c.Supplies {
			listed[s.Device] = true
		}
	}
	onDraw := job.WhatLivesOnDraw()
	for _, d := range job.Devices {
		if device[d.Name] == d {
			w.device(d, !listed[d.Name] && onDraw(d))
		}
	}
	return w
}

// device adds what is in a device; own: its supplies live on what it draws.
func (w *web) device(d *design.Device, own bool) {
	star := func(pins []string, as passing) {
		for _, p := range pins[min(1, len(pins)):] {
			w.join(pin(d.Name, pins[0]), pin(d.Name, p), bond{as: as})
		}
	}
	for i := range d.Joins {
		star(d.Joins[i].Pins, metal)
	}
	for i := range d.States {
		star(d.States[i].Pins, throw)
	}
	for i := range d.Diodes {
		w.join(pin(d.Name, d.Diodes[i].From), pin(d.Name, d.Diodes[i].To), bond{as: oneWay})
	}
	for i := range d.Fuses {
		x := &d.Fuses[i]
		w.join(pin(d.Name, x.From), pin(d.Name, x.To), bond{as: fuse, fuse: fmt.Sprintf("fuse %s %s - %s", d.Name, x.From, x.To)})
	}
	ref := func(p design.PinRef) string { return pin(or(p.Device, d.Name), p.Pin) }
	for i := range d.Supplies {
		s := &d.Supplies[i]
		w.plus[ref(s.From)] = &source{d.Name, s.Volts.Nominal, own}
		w.minus[ref(s.To)] = true
	}
	load := func(x *design.Draw, what string) {
		w.loads[ref(x.From)], w.loads[ref(x.To)] = what+d.Name+", plus", what+d.Name+", minus"
	}
	for i := range d.Draws {
		load(&d.Draws[i], "")
	}
	for i := range d.Coils {
		load(&d.Coils[i].Draw, "coil of ")
	}
	if d.Class == "signal" {
		for i := range d.Pins {
			w.signal[pin(d.Name, d.Pins[i].Name)] = true
		}
	}
	for i := range d.Reads {
		w.signal[pin(d.Name, d.Reads[i].From)] = true
	}
}

// place is where a walk has come, and the first fuse that it passed.
type place struct{ at, fuse string }

// hop is how a walk came to a place.
type hop struct {
	from place
	cut  string
}

// walk goes from a place over what ok allows, nearest first, with some connectors unplugged.
func (w *web) walk(from string, cuts []string, ok func(b *bond) bool) (by map[place]hop, order []place) {
	start := place{at: from}
	by = map[place]hop{start: {}}
	order = []place{start}
	for n := 0; n < len(order); n++ {
		t := order[n]
		for i := range w.at[t.at] {
			b := &w.at[t.at][i]
			if b.cut != "" && slices.Contains(cuts, b.cut) || !ok(b) {
				continue
			}
			to := place{b.to, or(t.fuse, b.fuse)}
			if _, met := by[to]; !met {
				by[to] = hop{t, b.cut}
				order = append(order, to)
			}
		}
	}
	return by, order
}

// look says what is met from a place when some connectors are unplugged. A feed reaches the plus of a supply over metal, switches in some state,
// diodes and fuses; an earth the minus of one over metal alone. Of what decides it the ways are kept, as far as they pass connectors: while
// those stay plugged another may be pulled, and nothing changes.
func (w *web) look(from string, cuts ...string) seen {
	x := seen{passed: map[string]bool{}}
	x.Text = "nothing"
	if from == "" {
		x.Role = nothing.String()
		return x
	}
	keep := func(by map[place]hop, at place) {
		for at != (place{at: from}) {
			h := by[at]
			if h.cut != "" {
				x.passed[h.cut] = true
			}
			at = h.from
		}
	}
	// From a wire towards the source a diode is passed backwards.
	by, order := w.walk(from, cuts, func(b *bond) bool { return b.as != oneWay || b.behind })
	var best *source
	var fuses []string
	for _, p := range order {
		s := w.plus[p.at]
		if s == nil {
			continue
		}
		keep(by, p)
		if best == nil || !s.own && best.own || s.own == best.own && (s.volts > best.volts || s.volts == best.volts && s.device < best.device) {
			best = s
		}
		if !s.own {
			x.unfuse = x.unfuse || p.fuse == ""
			if p.fuse != "" && !slices.Contains(fuses, p.fuse) {
				fuses = append(fuses, p.fuse)
			}
		}
	}
	slices.Sort(fuses)
	if best != nil && !best.own {
		x.harm, x.Volts, x.source = feed, best.volts, best.device
		x.Text = fmt.Sprintf("%s of %s", best.volts, best.device)
		if x.unfuse {
			x.Text += ", no fuse"
		} else if len(fuses) > 0 {
			x.fuses = fuses[0]
			x.Text += " behind " + fuses[0]
			if len(fuses) > 1 {
				x.Text += fmt.Sprintf(" and %d more", len(fuses)-1)
			}
		}
		x.Role = x.harm.String()
		return x
	}
	by, order = w.walk(from, cuts, func(b *bond) bool { return b.as == metal })
	find := func(ok func(at string) bool) bool {
		i := slices.IndexFunc(order, func(p place) bool { return ok(p.at) })
		if i >= 0 {
			keep(by, order[i])
		}
		return i >= 0
	}
	switch {
	case find(func(at string) bool { return w.minus[at] }):
		x.harm, x.Text = earth, "earth"
	case best != nil:
		x.harm, x.Volts, x.source, x.Text = quiet, best.volts, best.device, fmt.Sprintf("%s of %s's own", best.volts, best.device)
	case find(func(at string) bool { return w.quiet[at] || w.signal[at] }):
		x.harm, x.Text = quiet, "signal"
	case find(func(at string) bool {
		if x.load == "" {
			x.load = w.loads[at]
		}
		return x.load != ""
	}):
		x.harm, x.Text = load, "load "+x.load
	}
	x.Role = x.harm.String()
	return x
}
