package fit

import (
	"testing"

	"loomsheet/harness/data"
	"loomsheet/harness/design"
	"loomsheet/harness/protect"
	"loomsheet/harness/unit"
)

// A lamp of 5 A on a bus that a battery behind 30 A and a second source feed. Sizes are what the stages of a short ask, and not what the first surge
// would if it lasted: a limit of 50 A flows on for good, which 10 mm2 carry in a cabin with room; of two fused batteries nothing flows on.
func TestSizesFollowTheStagesOfAShort(t *testing.T) {
	for _, c := range []struct {
		name  string
		limit unit.Current // of the second source; 0 none
		fuse  string       // in its lead
		most  unit.Area
	}{{"alternator", 50, "", 10}, {"charger", 10, "", 6}, {"fused alternator", 50, "f60", 16}, {"second battery", 0, "f30", 10}} {
		s := newShop()
		for _, r := range []unit.Current{30, 60} {
			s.job.Parts.Fuses = append(s.job.Parts.Fuses, &design.Fuse{Part: design.Part{Name: "f" + unit.Number(float64(r), 0)}, Kind: data.BladeE, Rating: r})
		}
		s.load("lamp", 5)
		s.joint("bus")
		stud := func(name string) design.Pin { return design.Pin{Name: name, Housing: -1, Stud: "M8"} }
		guard := func(name, part string) {
			s.job.Devices = append(s.job.Devices, &design.Device{Name: name, Pins: []design.Pin{stud("in"), stud("out")}, Fuses: []design.DeviceFuse{{Part: part, From: "in", To: "out"}}})
		}
		second := design.Supply{Volts: fact[unit.Voltage](13), Inside: fact[unit.Resistance](0.01), From: design.PinRef{Pin: "pos"}, To: design.PinRef{Pin: "neg"}}
		if c.limit > 0 {
			second.Most = fact(c.limit)
		}
		s.job.Devices = append(s.job.Devices, &design.Device{Name: "second", Pins: []design.Pin{stud("pos"), stud("neg")}, Supplies: []design.Supply{second}})
		s.job.Cases[0].Supplies = append(s.job.Cases[0].Supplies, design.CaseSupply{Device: "second"})
		guard("box", "f30")
		s.wire("main", "battery.pos", "box.in", 100, "cabin")
		s.wire("bar", "box.out", "bus.s", 100, "cabin")
		lead := "second.pos"
		if c.fuse != "" {
			guard("other", c.fuse)
			s.wire("own", lead, "other.in", 100, "cabin")
			lead = "other.out"
		}
		s.wire("lead", lead, "bus.s", 300, "cabin")
		s.wire("feed", "bus.s", "lamp.1", 1000, "cabin")
		s.wire("back", "lamp.2", "battery.neg", 1000, "cabin")
		s.wire("earth", "battery.neg", "second.neg", 300, "cabin")
		o := s.loop()
		for i := range o.Net.Wires {
			w := &o.Net.Wires[i]
			if w.Name != "feed" && w.Name != "back" {
				continue
			}
			if a := o.Sizes[i].Size.Area(); a > c.most || !o.Sizes[i].Known {
				t.Errorf("%s: %s is %v, the stages ask no more than %v", c.name, w.Name, o.Sizes[i].Size, c.most)
			}
		}
		p := protect.Find(s.job, o.Net, o.Sizes, o.Cases, o.Heat, o.Duty)
		for i := range p.Shorts {
			if x := &p.Shorts[i]; !x.Met {
				t.Errorf("%s: %+v", c.name, x)
			}
		}
	}
}
