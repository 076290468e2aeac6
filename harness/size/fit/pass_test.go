package fit

import (
	"fmt"
	"pgregory.net/rapid"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// broken lists the limits on volts that an outcome breaks.
func broken(s *shop, o *Outcome) []string {
	var out []string
	for _, c := range o.Cases {
		for i := range c.Loads {
			for _, l := range Limits(s.job, o.Net, c, &c.Loads[i]) {
				if !l.Met() {
					out = append(out, fmt.Sprintf("%s %s %v against %v", c.Loads[i].Device, l.Name, l.Got, l.Value))
				}
			}
		}
	}
	return out
}

// A break whose program-chosen cavity is too small: the net is built again with the size that is needed.
func TestNetIsBuiltAgain(t *testing.T) {
	s := lamp(25, 1000, "bay")
	s.job.Parts.Contacts = []*design.Contact{
		{Part: design.Part{Name: "size-16"}, WireLeast: unit.Metric(0.5), WireMost: unit.Metric(1.5)},
		{Part: design.Part{Name: "size-8"}, WireLeast: unit.Metric(0.5), WireMost: unit.Metric(10)},
	}
	s.job.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "shell"}, Cavities: []design.HousingCavity{
		{Name: "1", Takes: []string{"size-16"}}, {Name: "2", Takes: []string{"size-8"}}}}}
	s.job.Breaks = []*design.Break{{Name: "A", Halves: [2]design.Half{{Housing: "shell"}, {Housing: "shell"}}}}
	base := s.nt.Wires[0]
	var asked []net.Hints
	build := func(h net.Hints) *net.Net {
		asked = append(asked, h)
		cavity := "1"
		if unit.Metric(1.5).Less(h["feed battery.pos - A"].Size) {
			cavity = "2"
		}
		nt := &net.Net{Space: s.nt.Space, Wires: []net.Wire{base, base, s.nt.Wires[1]}}
		nt.Wires[0].Name, nt.Wires[1].Name = "feed battery.pos - A", "feed A - lamp.1"
		for half := range 2 {
			nt.Wires[half].Piece = half
			nt.Wires[half].Ends[1-half] = net.Termination{Kind: net.InHalf, Break: "A", Half: half, Cavity: cavity, Housing: -1, Node: -1}
		}
		nt.Crossings = []net.Crossing{{Break: "A", Cavity: cavity, Wires: [2]int{0, 1}}}
		return nt
	}
	o := Loop(s.job, build)
	if len(asked) != 2 || o.Net.Wires[0].Ends[1].Cavity != "2" || o.Sizes[0].Contacts[1] != "size-8" || !o.Sizes[0].Fits[1] {
		t.Errorf("built %d times, cavity %s: %s", len(asked), o.Net.Wires[0].Ends[1].Cavity, sizes(o))
	}
	if !o.Heat.Wires[0].Met || !o.Settled {
		t.Errorf("%+v", o.Heat.Wires[0])
	}
	// A cavity decided by hand stays, the wire grows no further than its contact takes, and the heat is told.
	asked = nil
	stated := func(h net.Hints) *net.Net {
		nt := build(nil)
		for half := range 2 {
			nt.Wires[half].Ends[1-half].Status = design.Stated
		}
		return nt
	}
	if o := Loop(s.job, stated); len(asked) != 1 || !o.Sizes[0].Fits[1] || o.Sizes[0].Size != unit.Metric(1.5) || o.Heat.Wires[0].Met {
		t.Errorf("built %d times: %+v", len(asked), o.Sizes[0])
	}
}

// A starter: its motor works for seconds, its coil is not said to. Only the motor is taken for a short load.
func TestDutyOfOneDrawOfADevice(t *testing.T) {
	s := newShop()
	s.load("starter", 150).On = 8
	d := s.job.Devices[1]
	d.Pins = append(d.Pins, design.Pin{Name: "s", Housing: -1, Stud: "M5"})
	d.Draws = append(d.Draws, design.Draw{Amps: fact[unit.Current](11), At: fact[unit.Voltage](12), From: design.PinRef{Pin: "s"}, To: design.PinRef{Pin: "2"}})
	s.load("horn", 6).On = 2
	s.load("flasher", 4).On = 1
	s.job.Devices[3].Draws[0].Off = 1
	s.wire("main", "battery.pos", "starter.1", 1000, "bay")
	s.wire("solenoid", "battery.pos", "starter.s", 1000, "bay")
	s.wire("strap", "starter.2", "battery.neg", 500, "bay")
	s.wire("horn", "battery.pos", "horn.1", 1000, "bay")
	s.wire("horn-return", "horn.2", "battery.neg", 1000, "bay")
	s.wire("flasher", "battery.pos", "flasher.1", 1000, "bay")
	s.wire("flasher-return", "flasher.2", "battery.neg", 1000, "bay")
	o := s.loop()
	steps := o.Duty["key-on"]
	if len(steps) != 3 || steps[0].Device != "horn" || steps[1].Device != "starter" || steps[2].Device != "flasher" {
		t.Fatalf("%+v", steps)
	}
	if a := steps[2].Amps; a[0] > 1e-6 || a[1] < 10.9 || a[2] < 10.9 || a[3] > 1e-6 || a[5] > 1e-6 {
		t.Errorf("all short loads at rest: %v", a)
	}
	if r := o.Heat.Wires[1]; r.Effective < 10.9 {
		t.Errorf("the coil's wire: %v", r.Effective)
	}
	if r := o.Heat.Wires[0]; r.Effective > 100 || r.Amps < 149 {
		t.Errorf("the motor's wire: %v of %v", r.Effective, r.Amps)
	}
}

// Any tree of loads: the loop ends, meets every limit or says which it cannot, keeps stated sizes, and for a load by
// itself takes no size that one smaller would do for with a little room.
func TestAnyTree(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := newShop()
		n, power, stated := rapid.IntRange(1, 6).Draw(t, "loads"), false, false
		s.joint("bar")
		s.joint("earth")
		length := func(what string) unit.Length {
			return unit.Length(rapid.IntRange(100, 8000).Draw(t, what))
		}
		zone := func() string { return rapid.SampledFrom([]string{"cabin", "bay"}).Draw(t, "zone") }
		s.wire("main", "battery.pos", "bar.s", length("main"), zone())
		s.wire("ground", "earth.s", "battery.neg", length("ground"), zone())
		for i := range n {
			name := fmt.Sprintf("load%d", i)
			d := s.load(name, unit.Current(rapid.IntRange(1, 300).Draw(t, "amps"))/10)
			d.As = rapid.SampledFrom([]design.LoadKind{design.ConstantCurrent, design.ConstantPower, design.ConstantResistance}).Draw(t, "kind")
			power = power || d.As == design.ConstantPower
			if rapid.IntRange(0, 3).Draw(t, "duty") == 0 {
				d.On, d.Off = 5, unit.Time(rapid.IntRange(0, 20).Draw(t, "off"))
			}
			s.wire("feed"+name, "bar.s", name+".1", length("feed"), zone())
			w := s.wire("return"+name, name+".2", "earth.s", length("return"), zone())
			if rapid.IntRange(0, 5).Draw(t, "stated") == 0 {
				w.Stated, stated = unit.Metric(rapid.SampledFrom(areas).Draw(t, "size")), true
			}
		}
		bundled := rapid.Bool().Draw(t, "one bundle")
		if bundled {
			s.together()
		}
		s.set("drop", rapid.SampledFrom([]string{"2 %", "3 %", "10 %", "0.5 V"}).Draw(t, "drop"), nil)
		o := s.loop()
		if !o.Settled {
			t.Fatalf("not settled: %s", sizes(o))
		}
		for i := range o.Sizes {
			w, c, r := &o.Net.Wires[i], &o.Sizes[i], &o.Heat.Wires[i]
			if !w.Stated.IsZero() && c.Size != w.Stated {
				t.Fatalf("%s was stated: %v", w.Name, c.Size)
			}
			// A wire of stated size that is overloaded heats the others of its bundle, and nothing they grow to would help.
			if !r.Met && w.Stated.IsZero() && r.Balance > 0 && c.Size != unit.Metric(120) && !(bundled && stated) {
				t.Fatalf("%s %v: %v above %v", w.Name, c.Size, r.Hottest, r.Limit)
			}
		}
		for _, b := range broken(s, o) {
			if len(o.Beyond) == 0 {
				t.Fatalf("%s, and nothing says it cannot be met: %s", b, sizes(o))
			}
		}
		// Wires that warm one another or share a limit trade copper: several answers are as good. A load of constant power draws more the more
		// is lost, so that a wire cut too far on the way grows again and is left alone.
		if len(o.Beyond) > 0 || bundled || n > 1 || power {
			return
		}
		for i := range o.Sizes {
			if c := &o.Sizes[i]; c.Why == size.ByDrop || c.Why == size.ByHeat {
				if smallerDoes(s, o, i) {
					t.Fatalf("%s: %s would do in %v", sizes(o), o.Net.Wires[i].Name, below(c.Size))
				}
			}
		}
	})
}

// smallerDoes tries a wire one size smaller, all else as it is.
func smallerDoes(s *shop, o *Outcome, i int) bool {
	try := append(size.Sizes(nil), o.Sizes...)
	_, part := size.FamilyOf(s.job, o.Net, &o.Net.Wires[i])
	for k := range part.Sizes {
		if part.Sizes[k].Size == below(o.Sizes[i].Size) {
			try[i].Size, try[i].Resistance, try[i].Outside = part.Sizes[k].Size, part.Sizes[k].Resistance, part.Sizes[k].Outside
		}
	}
	temps := o.Heat.Temps["key-on"]
	var cases []*solve.CaseResult
	var h *heat.Result
	for range 4 {
		c := solve.Case(s.job, o.Net, try, temps, s.job.Cases[0])
		cases = []*solve.CaseResult{c}
		h = heat.Solve(s.job, o.Net, try, cases, heat.DutyCurrents{"key-on": dutyOf(once(s.job, nil), c)})
		temps = h.Temps["key-on"]
	}
	for k := range h.Wires {
		if x := &h.Wires[k]; o.Heat.Wires[k].Met && x.Hottest > x.Limit-2*trimRoom {
			return false
		}
	}
	for i := range cases[0].Loads {
		for _, l := range Limits(s.job, o.Net, cases[0], &cases[0].Loads[i]) {
			if l.Over() > -2*trimShare*l.Value {
				return false
			}
		}
	}
	return true
}
