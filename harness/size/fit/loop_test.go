package fit

import (
	"reflect"
	"runtime"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// lamp is a battery, a lamp, and a wire out and back.
func lamp(amps unit.Current, length unit.Length, zone string) *shop {
	s := newShop()
	s.load("lamp", amps)
	s.wire("feed", "battery.pos", "lamp.1", length, zone)
	s.wire("return", "lamp.2", "battery.neg", length, zone)
	return s
}

func want(t *testing.T, o *Outcome, text string) {
	t.Helper()
	if got := sizes(o); got != text {
		t.Errorf("got  %s\nwant %s", got, text)
	}
	if !o.Settled {
		t.Errorf("not settled after %d rounds", o.Rounds)
	}
}

func TestReasons(t *testing.T) {
	t.Run("nothing asks for more than the least", func(t *testing.T) {
		want(t, lamp(1, 1000, "cabin").loop(), "feed 0.5 mm2 by least size; return 0.5 mm2 by least size")
	})
	t.Run("least size is set", func(t *testing.T) {
		s := lamp(1, 1000, "cabin")
		s.set("size-least", "0.8 mm2", map[string]string{"circuit": "feed"})
		want(t, s.loop(), "feed 1 mm2 by least size; return 0.5 mm2 by least size")
	})
	t.Run("heat", func(t *testing.T) { // 30 A over 0.3 m: little drop, much heat
		o := lamp(30, 300, "bay").loop()
		for i, c := range o.Sizes {
			if c.Why != size.ByHeat || !o.Heat.Wires[i].Met {
				t.Errorf("%s: %v at %v", sizes(o), o.Heat.Wires[i].Hottest, o.Heat.Wires[i].Limit)
			}
		}
		// One size less would be too hot.
		s := lamp(30, 300, "bay")
		for i := range s.nt.Wires {
			s.nt.Wires[i].Stated = below(o.Sizes[i].Size)
		}
		for _, w := range s.loop().Heat.Wires {
			if w.Met {
				t.Errorf("%v would do: %v", below(o.Sizes[0].Size), w.Hottest)
			}
		}
	})
	t.Run("drop", func(t *testing.T) { // by hand: 5 A, 20 m out and back, 1.2 V of 12 less joints: 12 mohm/m at most; of the two, which are alike, the first grows
		o := lamp(5, 10000, "cabin").loop()
		want(t, o, "feed 2.5 mm2 by drop; return 1.5 mm2 by drop")
	})
	t.Run("stated", func(t *testing.T) {
		s := lamp(1, 1000, "cabin")
		s.nt.Wires[0].Stated = unit.Metric(2.5)
		want(t, s.loop(), "feed 2.5 mm2 by stated; return 0.5 mm2 by least size")
	})
	t.Run("the family lacks the size", func(t *testing.T) {
		s := lamp(1, 1000, "cabin")
		s.nt.Wires[0].Stated = unit.Metric(3)
		if o := s.loop(); o.Sizes[0].Known || o.Sizes[0].Size != unit.Metric(3) || !o.Sizes[1].Known {
			t.Errorf("%+v", o.Sizes)
		}
	})
}

func below(s unit.Size) unit.Size {
	for i, a := range areas {
		if unit.Metric(a) == s && i > 0 {
			return unit.Metric(areas[i-1])
		}
	}
	return s
}

// What the loop leaves must meet its limits, and a limit out of reach must not fatten every wire.
func TestOutOfReach(t *testing.T) {
	s := lamp(10, 5000, "cabin")
	s.set("drop", "1 mV", nil)
	o := s.loop()
	if len(o.Beyond) == 0 || o.Beyond[0].Limit.Name != "drop" || o.Beyond[0].Best <= 0.001 {
		t.Fatalf("%+v", o.Beyond)
	}
	for _, c := range o.Sizes {
		if unit.Metric(4).Less(c.Size) {
			t.Errorf("grown for nothing: %s", sizes(o))
		}
	}
	s = lamp(10, 5000, "cabin")
	s.job.Zones[0].Air = 130 // above what the insulation bears
	if o := s.loop(); o.Heat.Wires[0].Met || unit.Metric(6).Less(o.Sizes[0].Size) {
		t.Errorf("%s", sizes(o))
	}
}

func TestSizeMostBounds(t *testing.T) {
	s := lamp(40, 8000, "cabin")
	s.set("size-most", "6 mm2", nil)
	o := s.loop()
	for _, c := range o.Sizes {
		if unit.Metric(6).Less(c.Size) {
			t.Errorf("%s", sizes(o))
		}
	}
	if len(o.Beyond) == 0 || o.Beyond[0].Limit.Met() {
		t.Error("the drop is out of reach and nothing says so")
	}
}

func TestEveryLimit(t *testing.T) {
	for _, c := range []struct{ name, value string }{
		{"drop", "0.3 V"}, {"drop", "2 %"}, {"feed-drop", "0.1 V"}, {"return-drop", "1 %"}, {"feed-return-drop", "0.25 V"}, {"least-volts", "12.2 V"},
	} {
		s := lamp(8, 4000, "cabin")
		s.set(c.name, c.value, map[string]string{"device": "lamp"})
		o := s.loop()
		if len(o.Beyond) > 0 || !o.Settled {
			t.Errorf("%s %s: beyond %v, settled %v", c.name, c.value, o.Beyond, o.Settled)
		}
		for i := range o.Cases[0].Loads {
			for _, l := range Limits(s.job, o.Net, o.Cases[0], &o.Cases[0].Loads[i]) {
				if !l.Met() {
					t.Errorf("%s %s: %s %v against %v with %s", c.name, c.value, l.Name, l.Got, l.Value, sizes(o))
				}
			}
		}
	}
	s := lamp(8, 4000, "cabin")
	s.job.Devices[1].Draws[0].Least = fact[unit.Voltage](12.2)
	if o := s.loop(); o.Cases[0].Loads[0].Volts < 12.2 {
		t.Errorf("its own least: %v with %s", o.Cases[0].Loads[0].Volts, sizes(o))
	}
}

func TestStartLimit(t *testing.T) {
	s := lamp(8, 4000, "cabin")
	d := s.load("motor", 5)
	d.Start, d.StartFor = fact[unit.Current](60), 0.3
	s.joint("bar")
	s.nt.Wires = s.nt.Wires[:0]
	s.wire("main", "battery.pos", "bar.s", 3000, "cabin")
	s.wire("lamp-feed", "bar.s", "lamp.1", 1000, "cabin")
	s.wire("lamp-return", "lamp.2", "battery.neg", 1000, "cabin")
	s.wire("motor-feed", "bar.s", "motor.1", 1000, "cabin")
	s.wire("motor-return", "motor.2", "battery.neg", 1000, "cabin")
	before := s.loop()
	s.set("least-start-volts", "11.6 V", map[string]string{"device": "lamp"})
	o := s.loop()
	if before.Cases[0].Starts[0].Load(0).Volts >= 11.6 {
		t.Fatalf("the test asks for nothing: %v", before.Cases[0].Starts[0].Load(0).Volts)
	}
	if v := o.Cases[0].Starts[0].Load(0).Volts; v < 11.6 {
		t.Errorf("%v with %s", v, sizes(o))
	}
	if !before.Sizes[0].Size.Less(o.Sizes[0].Size) {
		t.Errorf("the shared feed did not grow: %s", sizes(o))
	}
}

// A shared feed carries both loads: the cheapest copper is there.
func TestSharedFeedGrowsFirst(t *testing.T) {
	s := newShop()
	s.load("a", 6)
	s.load("b", 6)
	s.joint("bar")
	s.wire("main", "battery.pos", "bar.s", 5000, "cabin")
	s.wire("feed-a", "bar.s", "a.1", 5000, "cabin")
	s.wire("feed-b", "bar.s", "b.1", 5000, "cabin")
	s.wire("return-a", "a.2", "battery.neg", 300, "cabin")
	s.wire("return-b", "b.2", "battery.neg", 300, "cabin")
	o := s.loop()
	if !o.Sizes[1].Size.Less(o.Sizes[0].Size) || o.Sizes[1].Size != o.Sizes[2].Size {
		t.Errorf("%s", sizes(o))
	}
}

func TestParallelWiresStayEqual(t *testing.T) {
	s := lamp(60, 4000, "bay")
	twin := s.nt.Wires[0]
	twin.Name, twin.Strand = "feed 2", 1
	s.nt.Wires = append(s.nt.Wires, twin)
	o := s.loop()
	if o.Sizes[0].Size != o.Sizes[2].Size || o.Sizes[0].Contacts != o.Sizes[2].Contacts {
		t.Errorf("%s", sizes(o))
	}
	if !o.Sizes[0].Size.Less(o.Sizes[1].Size) {
		t.Errorf("two wires out need less each than one back: %s", sizes(o))
	}
}

// A thin wire that only lies among hot ones cannot help itself: the one that makes the heat grows.
func TestTheHotNeighbourGrows(t *testing.T) {
	s := lamp(40, 300, "bay")
	s.job.Parts.Wires = append(s.job.Parts.Wires, family("soft", 105))
	s.load("sensor", 0.1)
	w := s.wire("sensor", "battery.pos", "sensor.1", 300, "bay")
	w.Family = "soft"
	s.wire("sensor-return", "sensor.2", "battery.neg", 300, "cabin")
	alone := s.loop()
	s.together()
	o := s.loop()
	if o.Sizes[2].Size != unit.Metric(0.5) || !o.Heat.Wires[2].Met || !alone.Sizes[0].Size.Less(o.Sizes[0].Size) {
		t.Errorf("apart %s; together %s: %v", sizes(alone), sizes(o), o.Heat.Wires[2].Hottest)
	}
}

// A stated cable far too thin heats its bundle: nothing grown beside it would help, so nothing is.
func TestNothingGrowsBesideAStatedHotWire(t *testing.T) {
	s := lamp(130, 500, "cabin")
	s.nt.Wires[0].Stated, s.nt.Wires[1].Stated = unit.Metric(10), unit.Metric(10)
	for _, n := range []string{"a", "b", "c"} {
		s.load(n, 2)
		s.wire("feed-"+n, "battery.pos", n+".1", 500, "cabin")
		s.wire("return-"+n, n+".2", "battery.neg", 500, "cabin")
	}
	s.together()
	o := s.loop()
	for i, c := range o.Sizes {
		if i > 1 && (c.Size != unit.Metric(0.5) || o.Heat.Wires[i].Met) {
			t.Errorf("%s: %v, %v", sizes(o), o.Heat.Wires[i].Hottest, o.Heat.Wires[i].Rest)
		}
	}
}

func TestIdle(t *testing.T) {
	s := lamp(1, 1000, "cabin")
	s.joint("spare")
	s.wire("dead", "battery.pos", "spare.s", 1000, "cabin")
	s.wire("told", "battery.pos", "spare.s", 1000, "cabin").Carries = 12
	s.nt.Wires = append(s.nt.Wires[:2:2], s.nt.Wires[2:]...)
	s.nt.Wires[3].Ends[0] = net.Termination{Kind: net.CutBack, Housing: -1}
	o := s.loop()
	if !reflect.DeepEqual(o.Idle, []int{2}) {
		t.Errorf("idle: %v", o.Idle)
	}
	if r := o.Heat.Wires[3]; r.Amps != 12 || !unit.Metric(0.4).Less(o.Sizes[3].Size) {
		t.Errorf("carries 12 A: judged at %v", r.Amps)
	}
	s.nt.Wires[2].Class = "signal"
	if o := s.loop(); len(o.Idle) != 0 {
		t.Errorf("a signal wire is no question: %v", o.Idle)
	}
}

func TestSameTwiceAndInputKept(t *testing.T) {
	s := lamp(20, 6000, "bay")
	one := s.loop()
	two := s.loop()
	if !reflect.DeepEqual(one.Sizes, two.Sizes) || !reflect.DeepEqual(one.Heat, two.Heat) {
		t.Error("the same job gave another result")
	}
}

func TestDutySparesCopper(t *testing.T) {
	s := lamp(60, 500, "bay")
	steady := s.loop()
	s.job.Devices[1].Draws[0].On = 5
	once := s.loop()
	if !once.Sizes[0].Size.Less(steady.Sizes[0].Size) {
		t.Errorf("for good %s, for 5 s %s", sizes(steady), sizes(once))
	}
	if d := once.Duty["key-on"]; len(d) != 1 || d[0].Amps[0] > 1e-6 {
		t.Errorf("%+v", d)
	}
}

// The pin of a control unit takes 1 mm2 at most; the wire to it needs more.
func TestContactsOfAFixedCavity(t *testing.T) {
	s := lamp(20, 1000, "bay")
	s.job.Parts.Contacts = []*design.Contact{
		{Part: design.Part{Name: "big"}, WireLeast: unit.Metric(2), WireMost: unit.Metric(6), InsulMost: 6},
		{Part: design.Part{Name: "small"}, WireLeast: unit.Metric(0.5), WireMost: unit.Metric(1)},
	}
	s.job.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "box"}, Cavities: []design.HousingCavity{
		{Name: "1", Takes: []string{"big", "small"}}, {Name: "2", Takes: []string{"small"}}, {Name: "3", Takes: []string{"big"}}}}}
	s.job.Devices[1].Housings = []design.DeviceHousing{{Part: "box"}}
	pin := func(w *net.Wire, end int, cavity string) {
		w.Ends[end].Kind, w.Ends[end].Housing, w.Ends[end].Cavity = net.InCavity, 0, cavity
	}
	pin(&s.nt.Wires[0], 1, "1")
	pin(&s.nt.Wires[1], 0, "2")
	o := s.loop()
	if c := o.Sizes[0]; c.Contacts[1] != "big" || c.Fits != [2]bool{true, true} {
		t.Errorf("feed: %+v", c)
	}
	if c := o.Sizes[1]; !c.Fits[0] || c.Size != unit.Metric(1) || o.Heat.Wires[1].Met {
		t.Errorf("return: as large as its contact takes, and too hot: %+v", c)
	}
	// A little load, in a cavity for thick wires only.
	s = lamp(1, 1000, "cabin")
	s.job.Parts, s.job.Devices[1].Housings = shopParts(s), []design.DeviceHousing{{Part: "box"}}
	pin(&s.nt.Wires[0], 1, "3")
	want(t, s.loop(), "feed 2.5 mm2 by contact; return 0.5 mm2 by least size")
}

// Volts ask for more than the contact takes: no wire grows past what can be crimped, and the limit is listed with what could be had.
func TestVoltsAndTheContact(t *testing.T) {
	small := func(length unit.Length) *shop {
		s := lamp(5, length, "cabin")
		s.job.Parts.Contacts = []*design.Contact{{Part: design.Part{Name: "small"}, WireLeast: unit.Metric(0.5), WireMost: unit.Metric(1)}}
		s.job.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "box"}, Cavities: []design.HousingCavity{{Name: "1", Takes: []string{"small"}}}}}
		s.job.Devices[1].Housings = []design.DeviceHousing{{Part: "box"}}
		for i := range s.nt.Wires {
			e := &s.nt.Wires[i].Ends[1-i]
			e.Kind, e.Housing, e.Cavity = net.InCavity, 0, "1"
		}
		return s
	}
	if o := small(3000).loop(); len(o.Beyond) != 0 || !o.Sizes[0].Fits[1] {
		t.Errorf("within the contact: %s", sizes(o))
	}
	for _, length := range []unit.Length{10000, 40000} {
		o := small(length).loop()
		if len(o.Beyond) != 1 || !o.Sizes[0].Fits[1] || unit.Metric(1).Less(o.Sizes[0].Size) {
			t.Errorf("%s: %s, %v", length, sizes(o), o.Beyond)
		} else if b := o.Beyond[0]; b.Best <= b.Limit.Value || b.Best >= b.Limit.Got {
			t.Errorf("%s: %s lost, at best %s", length, b.Limit.Got, b.Best)
		}
	}
}

func shopParts(s *shop) design.Parts {
	p := s.job.Parts
	p.Contacts = []*design.Contact{{Part: design.Part{Name: "big"}, WireLeast: unit.Metric(2), WireMost: unit.Metric(6), InsulMost: 6}}
	p.Housings = []*design.Housing{{Part: design.Part{Name: "box"}, Cavities: []design.HousingCavity{{Name: "3", Takes: []string{"big"}}}}}
	return p
}

// Several cases are solved side by side: the outcome is the same on one processor.
func TestSameOnOneProcessor(t *testing.T) {
	make2 := func() *shop {
		s := lamp(12, 6000, "bay")
		for _, n := range []string{"a", "b", "c", "d"} {
			s.job.Cases = append(s.job.Cases, &design.Case{Name: n, Air: 20, HasAir: true, Supplies: []design.CaseSupply{{Device: "battery", At: fact[unit.Voltage](11 + unit.Voltage(len(s.job.Cases)))}}})
		}
		s.job.Devices[1].Draws[0].On, s.job.Devices[1].Draws[0].Off = 20, 20
		return s
	}
	two := make2().loop()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	one := make2().loop()
	if !reflect.DeepEqual(one.Sizes, two.Sizes) || !reflect.DeepEqual(one.Heat, two.Heat) || !reflect.DeepEqual(one.Duty, two.Duty) || one.Rounds != two.Rounds {
		t.Error("the outcome depends on the processors")
	}
	if len(two.Cases) != 5 || two.Cases[3].Case != "c" {
		t.Error("cases out of order")
	}
}

func TestNoCaseNoWire(t *testing.T) {
	s := lamp(10, 1000, "cabin")
	s.job.Cases = nil
	if o := s.loop(); !o.Settled || len(o.Cases) != 0 || len(o.Heat.Wires) != 2 || !reflect.DeepEqual(o.Idle, []int{0, 1}) {
		t.Errorf("no case: settled %v, idle %v", o.Settled, o.Idle)
	}
	if o := Loop(&design.Job{}, func(net.Hints) *net.Net { return &net.Net{} }); !o.Settled || len(o.Sizes) != 0 {
		t.Errorf("an empty job: %+v", o)
	}
}

// Lamps in series behind an open switch see a little current: they are off, and their drop is no drop.
func TestFedThroughAnotherLoadIsOff(t *testing.T) {
	s := newShop()
	s.load("first", 0.1).As = design.ConstantResistance
	s.load("second", 4).As = design.ConstantResistance
	s.wire("feed", "battery.pos", "first.1", 500, "cabin")
	s.wire("link", "first.2", "second.1", 500, "cabin")
	s.wire("return", "second.2", "battery.neg", 500, "cabin")
	o := s.loop()
	for i := range o.Cases[0].Loads {
		l := &o.Cases[0].Loads[i]
		if !l.Fed || len(Limits(s.job, o.Net, o.Cases[0], l)) != 0 {
			t.Errorf("%s: fed %v, %d limits", l.Device, l.Fed, len(Limits(s.job, o.Net, o.Cases[0], l)))
		}
	}
	if len(o.Beyond) != 0 {
		t.Errorf("%+v", o.Beyond)
	}
}

func TestDropLimit(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(*shop)
		want unit.Voltage
		by   string
	}{
		{"a tenth of the volts it was measured at", func(*shop) {}, 1.2, "job"},
		{"percent of drop-of", func(s *shop) { s.set("drop-of", "13.5 V", nil) }, 1.35, "job"},
		{"in volts", func(s *shop) { s.set("drop", "0.5 V", nil) }, 0.5, "job"},
		{"of its class", func(s *shop) {
			s.job.Devices[1].Class = "lamps"
			s.set("drop", "3 %", map[string]string{"class": "lamps"})
		}, 0.36, "class lamps"},
		{"of its circuit's class", func(s *shop) {
			s.nt.Wires[0].Class = "nav"
			s.set("drop", "3 %", map[string]string{"class": "nav"})
		}, 0.36, "class nav"},
		{"of its circuit", func(s *shop) { s.set("drop", "4 %", map[string]string{"circuit": "feed"}) }, 0.48, "circuit feed"},
		{"of its device in a case", func(s *shop) {
			s.set("drop", "5 %", map[string]string{"device": "lamp"})
			s.set("drop", "2 %", map[string]string{"device": "lamp", "case": "key-on"})
		}, 0.24, "device lamp, case key-on"},
		{"of another case", func(s *shop) { s.set("drop", "2 %", map[string]string{"case": "crank"}) }, 1.2, "job"},
	} {
		s := lamp(1, 1000, "cabin")
		c.edit(s)
		o := s.loop()
		got, by := DropLimit(s.job, o.Net, o.Cases[0], &o.Cases[0].Loads[0])
		if d := got - c.want; d > 1e-12 || d < -1e-12 || by.Scope != c.by {
			t.Errorf("%s: %v by %s, want %v by %s", c.name, got, by.Scope, c.want, c.by)
		}
	}
}
