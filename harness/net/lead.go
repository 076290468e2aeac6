package net

import (
	"slices"
	"strconv"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// leads lets the leads of a charging supply carry its stated limit. A case shows what is drawn, not what an empty battery takes in, and an
// alternator gives all it has into one. A supply charges if a case has another one live beside it whose volts are no higher. A lead is
// the wire on a supply's pin and what goes on from it with nothing branching off: through breaks and fuses.
func (b *builder) leads(n *Net) {
	at := map[string][]int{} // wires by the place where they end
	for i := range n.Wires {
		for e := range n.Wires[i].Ends {
			if p := placeOf(&n.Wires[i].Ends[e]); p != "" {
				at[p] = append(at[p], i)
			}
		}
	}
	for _, d := range b.job.Devices {
		if d.Pattern {
			continue
		}
		for _, s := range d.Supplies {
			if s.Most.Given && s.Most.Nominal > 0 && b.charges(d, &s) {
				b.walkLead(n, at, s.From.Device, s.From.Pin, s.Most.Nominal)
				b.walkLead(n, at, s.To.Device, s.To.Pin, s.Most.Nominal)
			}
		}
	}
}

// nearShare of its volts is the least that a supply may have for another to charge it: a control unit's 5 V is none of a 12 V battery's.
const nearShare = 0.6

// charges tells whether some case has another supply live beside this one whose volts are no higher, and near.
func (b *builder) charges(d *design.Device, s *design.Supply) bool {
	for _, c := range b.job.Cases {
		mine := unit.Voltage(-1)
		for _, l := range c.Supplies {
			if l.Device == d.Name && !slices.Contains(c.Off, l.Device) {
				mine = l.At.Or(s.Volts.Nominal)
			}
		}
		for _, l := range c.Supplies {
			o := b.devices[l.Device]
			if l.Device == d.Name || o == nil || mine < 0 || slices.Contains(c.Off, l.Device) {
				continue
			}
			for _, other := range o.Supplies {
				if v := l.At.Or(other.Volts.Nominal); v <= mine && v > nearShare*mine {
					return true
				}
			}
		}
	}
	return false
}

// placeOf is a key for where a wire ends; empty where wires branch by nature.
func placeOf(t *Termination) string {
	switch t.Kind {
	case InCavity, OnStud:
		return t.Device + "." + t.Pin
	case InHalf, OnPost:
		return halfPlace(t.Break, t.Cavity, t.Half)
	}
	return ""
}

func halfPlace(brk, cavity string, half int) string {
	return brk + "|" + cavity + "|" + strconv.Itoa(half)
}

// walkLead follows one lead from a pin for as long as it is one wire after another.
func (b *builder) walkLead(n *Net, at map[string][]int, device, pin string, most unit.Current) {
	place := device + "." + pin
	for range n.Wires {
		if len(at[place]) != 1 {
			return
		}
		w := &n.Wires[at[place][0]]
		if w.Kind != Plain || w.Carries >= most && w.Lead {
			return
		}
		w.Carries, w.Lead = max(w.Carries, most), true
		far := &w.Ends[0]
		if placeOf(far) == place {
			far = &w.Ends[1]
		}
		if p := placeOf(far); p == "" || len(at[p]) != 1 {
			return
		}
		switch far.Kind {
		case InHalf, OnPost:
			place = halfPlace(far.Break, far.Cavity, 1-far.Half)
		default:
			next := b.throughFuse(far.Device, far.Pin)
			if next == "" {
				return
			}
			place = far.Device + "." + next
		}
	}
}

// throughFuse is the pin at the other end of the only fuse on a pin; empty if there is none, or several.
func (b *builder) throughFuse(device, pin string) string {
	d := b.devices[device]
	if d == nil {
		return ""
	}
	next, fuses := "", 0
	for _, f := range d.Fuses {
		switch pin {
		case f.From:
			next, fuses = f.To, fuses+1
		case f.To:
			next, fuses = f.From, fuses+1
		}
	}
	if fuses != 1 {
		return ""
	}
	return next
}
