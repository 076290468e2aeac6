package net

import (
	"strconv"

	"loomsheet/harness/design"
)

// roles says what each draft is to its neighbours in a connector, from the metal alone: no size or current is known yet.
//
// An unfused feed hangs on the plus of a supply over wires, joints, switches in any state and diodes, with no fuse between. Quiet is what such a
// feed must not touch: a signal, a screen, the pin or the reference of a sensor, and metal that leads to a minus without a switch.
func (b *builder) roles() {
	g := &metal{at: map[string][]bond{}}
	of := make([]string, len(b.drafts))
	for i, d := range b.drafts {
		of[i] = wireKey(d)
		for e := range d.Ends {
			if t := &d.Ends[e]; thingOf(t) != "" {
				g.join(of[i], thingOf(t), always)
			}
		}
	}
	for _, c := range b.crossings {
		g.join(wireKey(c.drafts[0]), wireKey(c.drafts[1]), always)
	}
	listed := map[string]bool{}
	for _, c := range b.job.Cases {
		for _, s := range c.Supplies {
			listed[s.Device] = true
		}
	}
	var plus, minus []string
	sensors := map[string]bool{}
	for _, d := range b.job.Devices {
		if d.Pattern || b.devices[d.Name] != d {
			continue
		}
		g.device(d)
		for i := range d.Supplies {
			s := &d.Supplies[i]
			minus = append(minus, pinKey(d, s.To))
			// What lives on its own device's draw, the 5 V of a control unit, is held by that device.
			if listed[d.Name] || len(d.Draws) == 0 && len(b.job.Cases) == 0 {
				plus = append(plus, pinKey(d, s.From))
			}
		}
		for i := range d.Reads {
			sensors[pinOn(d.Name, d.Reads[i].From)], sensors[pinOn(d.Name, d.Reads[i].To)] = true, true
		}
	}
	fed, earthed := g.reach(plus, sometimes), g.reach(minus, always)
	sensing := map[string]bool{} // circuits
	for _, d := range b.drafts {
		for e := range d.Ends {
			if sensors[thingOf(&d.Ends[e])] {
				sensing[d.Circuit] = true
			}
		}
	}
	for i, d := range b.drafts {
		d.unfused = fed[of[i]]
		d.quiet = !d.unfused && (d.Kind == Screen || d.Class == "signal" || sensing[d.Circuit] || earthed[of[i]])
	}
}

// passing is when a bond conducts.
type passing uint8

const (
	always passing = iota
	sometimes
)

type bond struct {
	to   string
	when passing
}

// metal is what hangs together without a fuse.
type metal struct{ at map[string][]bond }

func (g *metal) join(a, b string, when passing) {
	g.oneWay(a, b, when)
	g.oneWay(b, a, when)
}

func (g *metal) oneWay(a, b string, when passing) {
	g.at[a] = append(g.at[a], bond{b, when})
}

func (g *metal) device(d *design.Device) {
	for i := range d.Joins {
		g.star(d, d.Joins[i].Pins, always)
	}
	for i := range d.States {
		g.star(d, d.States[i].Pins, sometimes)
	}
	for i := range d.Diodes {
		g.oneWay(pinOn(d.Name, d.Diodes[i].From), pinOn(d.Name, d.Diodes[i].To), sometimes)
	}
}

func (g *metal) star(d *design.Device, pins []string, when passing) {
	for _, p := range pins[min(1, len(pins)):] {
		g.join(pinOn(d.Name, pins[0]), pinOn(d.Name, p), when)
	}
}

func (g *metal) reach(from []string, most passing) map[string]bool {
	met := map[string]bool{}
	for _, f := range from {
		met[f] = true
	}
	for todo := from; len(todo) > 0; todo = todo[1:] {
		for _, x := range g.at[todo[0]] {
			if x.when <= most && !met[x.to] {
				met[x.to] = true
				todo = append(todo, x.to)
			}
		}
	}
	return met
}

func wireKey(d *draft) string { return "wire\x00" + strconv.Itoa(d.at) }

func pinOn(device, pin string) string { return "pin\x00" + device + "\x00" + pin }

func pinKey(d *design.Device, p design.PinRef) string {
	if p.Device == "" {
		return pinOn(d.Name, p.Pin)
	}
	return pinOn(p.Device, p.Pin)
}

// thingOf is what an end of a wire is joined to besides its other half; empty for a half of a break and an end cut back.
func thingOf(t *Termination) string {
	switch t.Kind {
	case InCavity, OnStud:
		return pinOn(t.Device, t.Pin)
	case OnPost:
		return "post\x00" + t.Break
	case InSplice:
		return "splice\x00" + t.Splice
	}
	return ""
}
