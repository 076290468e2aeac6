package mate

import (
	"fmt"
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

// bond is a way from one place to another.
type bond struct {
	to     int32
	fuse   int32 // 1 and up, 0: none
	cut    int32 // the connector that opens it when it is unplugged; 1 and up, 0: none
	as     passing
	behind bool // of a diode: this is the way against it
}

// web is everything that current could run along, by place: wires, pins of devices, splices, stud posts. The first places are the wires of the net.
type web struct {
	at     [][]bond
	places map[string]int32
	cuts   map[string]int32
	fuses  []string
	plus   []*source
	minus  []bool
	loads  []string // of a pin: what it is of the load
	signal []bool   // pin of a sensor, or of what it is read by
	quiet  []bool   // wire of class signal
	wires  map[cavityKey]int32
	room   room
}

// source is a supply at its plus.
type source struct {
	device string
	volts  unit.Voltage
	own    bool // it lives on what its own device draws: the 5 V of a control unit
}

type cavityKey struct{ cut, side, cavity string }

func breakCut(name string) string { return "break\x00" + name }

func deviceCut(name string, housing int) string {
	return "device\x00" + name + "\x00" + strconv.Itoa(housing)
}

// place is the number of a place that is no wire.
func (w *web) place(name string) int32 {
	i, ok := w.places[name]
	if !ok {
		i = int32(len(w.at))
		w.places[name] = i
		w.grow(int(i) + 1)
	}
	return i
}

// grow makes room for so many places.
func (w *web) grow(n int) {
	for len(w.at) < n {
		w.at, w.plus, w.minus = append(w.at, nil), append(w.plus, nil), append(w.minus, false)
		w.loads, w.signal, w.quiet = append(w.loads, ""), append(w.signal, false), append(w.quiet, false)
	}
}

func (w *web) pin(device, name string) int32 { return w.place(device + "\x00" + name) }

// cut is the number of a connector.
func (w *web) cut(name string) int32 {
	i, ok := w.cuts[name]
	if !ok {
		i = int32(len(w.cuts)) + 1
		w.cuts[name] = i
	}
	return i
}

func (w *web) join(a, b int32, x bond) {
	x.to = b
	w.at[a] = append(w.at[a], x)
	x.to, x.behind = a, x.as == oneWay
	w.at[b] = append(w.at[b], x)
}

func newWeb(job *design.Job, nt *net.Net, device map[string]*design.Device) *web {
	w := &web{places: map[string]int32{}, cuts: map[string]int32{}, wires: map[cavityKey]int32{}, fuses: []string{""}}
	w.grow(len(nt.Wires))
	for i := range nt.Wires {
		x, n := &nt.Wires[i], int32(i)
		w.quiet[i] = x.Class == "signal" || x.Kind == net.Screen
		for e := range x.Ends {
			switch t := &x.Ends[e]; t.Kind {
			case net.InCavity:
				cut, pin := deviceCut(t.Device, t.Housing), w.pin(t.Device, t.Pin)
				w.join(n, pin, bond{cut: w.cut(cut)})
				if w.quiet[i] {
					w.signal[pin] = true
				}
				w.wires[cavityKey{cut, "wire", t.Cavity}] = n
				w.wires[cavityKey{cut, "pin", t.Cavity}] = pin
			case net.OnStud:
				w.join(n, w.pin(t.Device, t.Pin), bond{})
			case net.OnPost:
				w.join(n, w.place("post\x00\x00"+t.Break), bond{})
			case net.InSplice:
				w.join(n, w.place("splice\x00\x00"+t.Splice), bond{})
			case net.InHalf:
				w.wires[cavityKey{breakCut(t.Break), strconv.Itoa(t.Half), t.Cavity}] = n
			}
		}
	}
	for i := range nt.Crossings {
		c := &nt.Crossings[i]
		w.join(int32(c.Wires[0]), int32(c.Wires[1]), bond{cut: w.cut(breakCut(c.Break))})
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
			w.join(w.pin(d.Name, pins[0]), w.pin(d.Name, p), bond{as: as})
		}
	}
	for i := range d.Joins {
		star(d.Joins[i].Pins, metal)
	}
	for i := range d.States {
		star(d.States[i].Pins, throw)
	}
	for i := range d.Diodes {
		w.join(w.pin(d.Name, d.Diodes[i].From), w.pin(d.Name, d.Diodes[i].To), bond{as: oneWay})
	}
	for i := range d.Fuses {
		x := &d.Fuses[i]
		w.fuses = append(w.fuses, fmt.Sprintf("fuse %s %s - %s", d.Name, x.From, x.To))
		w.join(w.pin(d.Name, x.From), w.pin(d.Name, x.To), bond{as: fuse, fuse: int32(len(w.fuses) - 1)})
	}
	ref := func(p design.PinRef) int32 { return w.pin(or(p.Device, d.Name), p.Pin) }
	for i := range d.Supplies {
		s := &d.Supplies[i]
		from, to := ref(s.From), ref(s.To)
		w.plus[from], w.minus[to] = &source{d.Name, s.Volts.Nominal, own}, true
	}
	load := func(x *design.Draw, what string) {
		from, to := ref(x.From), ref(x.To)
		w.loads[from] = what + d.Name + ", plus"
		w.loads[to] = what + d.Name + ", minus"
	}
	for i := range d.Draws {
		load(&d.Draws[i], "")
	}
	for i := range d.Coils {
		load(&d.Coils[i].Draw, "coil of ")
	}
	signal := func(pin string) {
		i := w.pin(d.Name, pin)
		w.signal[i] = true
	}
	if d.Class == "signal" {
		for i := range d.Pins {
			signal(d.Pins[i].Name)
		}
	}
	for i := range d.Reads {
		signal(d.Reads[i].From)
	}
}
