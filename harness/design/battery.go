package design

import "loomsheet/harness/unit"

// SupplyRef is one supply of a device.
type SupplyRef struct {
	Device *Device
	Index  int
}

// Batteries lists the supplies that go on giving when everything stands still: those that state what they store, and those without a
// current limit that some case lists, of a device that draws nothing itself. An alternator or a charger has a limit, a control unit's
// own 5 volts live on what the unit draws. By device.
func (j *Job) Batteries() []SupplyRef {
	listed := map[string]bool{}
	for _, c := range j.Cases {
		for _, s := range c.Supplies {
			listed[s.Device] = true
		}
	}
	var out []SupplyRef
	seen := map[string]bool{}
	for _, d := range j.Devices {
		if d.Pattern || seen[d.Name] {
			continue
		}
		seen[d.Name] = true
		for i := range d.Supplies {
			s := &d.Supplies[i]
			if s.Stores.Given || !s.Most.Given && listed[d.Name] && len(d.Draws) == 0 {
				out = append(out, SupplyRef{d, i})
			}
		}
	}
	return out
}

// ownShare is the greatest share of the job's highest supply that counts as a device's own.
const ownShare = 0.6

// LivesOnDraw tells whether the supplies of a device can live on nothing but what it draws itself, as the 5 V of a control unit do. A battery does
// not, nor what gives about as much as the job's highest supply (a charger, a trailer with lamps of its own), nor what draws only from its own plus.
func (j *Job) LivesOnDraw(d *Device) bool { return j.WhatLivesOnDraw()(d) }

// WhatLivesOnDraw is LivesOnDraw to be asked of many devices: the job's highest supply is looked for once.
func (j *Job) WhatLivesOnDraw() func(d *Device) bool {
	highest := j.highestSupply()
	return func(d *Device) bool { return d.livesOnDraw(highest) }
}

func (j *Job) highestSupply() (highest unit.Voltage) {
	for _, o := range j.Devices {
		for i := range o.Supplies {
			if !o.Pattern {
				highest = max(highest, o.Supplies[i].Volts.Nominal)
			}
		}
	}
	return highest
}

func (d *Device) livesOnDraw(highest unit.Voltage) bool {
	if len(d.Draws) == 0 {
		return false
	}
	plus := map[[2]string]bool{}
	of := func(r PinRef) [2]string {
		if r.Device == "" {
			r.Device = d.Name
		}
		return [2]string{r.Device, r.Pin}
	}
	for i := range d.Supplies {
		s := &d.Supplies[i]
		if s.Stores.Given || s.Volts.Nominal > ownShare*highest {
			return false
		}
		plus[of(s.From)] = true
	}
	for i := range d.Draws {
		if !plus[of(d.Draws[i].From)] {
			return true
		}
	}
	return false
}
