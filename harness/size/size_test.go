package size

import (
	"pgregory.net/rapid"
	"reflect"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func part(name, source string, sizes ...unit.Size) *design.Wire {
	w := &design.Wire{Part: design.Part{Name: name, Common: design.Common{Source: source}}, Heat: 125}
	for _, s := range sizes {
		w.Sizes = append(w.Sizes, design.WireSize{Size: s, Resistance: unit.LinearResistance(0.0195 / float64(s.Area())), Outside: unit.Length(1.1*float64(s.Diameter()) + 0.7)})
	}
	return w
}

func mm2(a ...unit.Area) []unit.Size {
	var out []unit.Size
	for _, x := range a {
		out = append(out, unit.Metric(x))
	}
	return out
}

// yard is a job with one edge in the zone bay and the wires given along it.
func yard(wires ...net.Wire) (*design.Job, *net.Net) {
	job := &design.Job{Parts: design.Parts{Wires: []*design.Wire{
		part("thin-wall", "IEC 60228", mm2(0.5, 0.75, 1, 1.5, 2.5, 4, 6)...),
		part("aero", "", unit.AWG(24), unit.AWG(22), unit.AWG(20), unit.AWG(18)),
		part("guess", "typical", mm2(1, 2.5)...),
	}}}
	for i := range wires {
		wires[i].Path = []net.Step{{Edge: 0}}
		if wires[i].Cable == "" {
			wires[i].Core = -1
		}
	}
	return job, &net.Net{Space: &space.Geometry{Edges: []space.Edge{{Run: "main", Zone: "bay", Length: 1000}}}, Wires: wires}
}

func set(job *design.Job, name, value string, scope map[string]string) {
	v := design.SettingValue{Name: value}
	if design.FindSetting(name).Kind == design.SetQuantity {
		q, err := unit.Parse(value)
		if err != nil {
			panic(err)
		}
		v = design.SettingValue{Quantity: q}
	}
	job.Settings.Lines = append(job.Settings.Lines, design.Setting{Name: name, Value: v, Scope: scope})
}

func TestInitial(t *testing.T) {
	for _, c := range []struct {
		name string
		wire net.Wire
		edit func(*design.Job)
		size unit.Size
		why  Reason
	}{
		{"smallest of the default family", net.Wire{Circuit: "a"}, nil, unit.Metric(0.5), ByMechanical},
		{"least size between two", net.Wire{Circuit: "a"}, func(j *design.Job) { set(j, "size-least", "0.8 mm2", nil) }, unit.Metric(1), ByMechanical},
		{"least size of the zone on its way", net.Wire{Circuit: "a"}, func(j *design.Job) { set(j, "size-least", "1.5 mm2", map[string]string{"zone": "bay"}) }, unit.Metric(1.5), ByMechanical},
		{"least size of another section", net.Wire{Circuit: "a", Section: "tub"}, func(j *design.Job) { set(j, "size-least", "1.5 mm2", map[string]string{"section": "nose"}) }, unit.Metric(0.5), ByMechanical},
		{"gauge above a metric least", net.Wire{Circuit: "a", Family: "aero"}, nil, unit.AWG(20), ByMechanical}, // 0.52 mm2
		{"least size as a gauge", net.Wire{Circuit: "a"}, func(j *design.Job) { set(j, "size-least", "18 AWG", nil) }, unit.Metric(1), ByMechanical},
		{"family by class", net.Wire{Circuit: "a", Class: "nav"}, func(j *design.Job) { set(j, "wire", "aero", map[string]string{"class": "nav"}) }, unit.AWG(20), ByMechanical},
		{"family by zone", net.Wire{Circuit: "a"}, func(j *design.Job) { set(j, "wire", "aero", map[string]string{"zone": "bay"}) }, unit.AWG(20), ByMechanical},
		{"stated", net.Wire{Circuit: "a", Stated: unit.Metric(4)}, nil, unit.Metric(4), ByHand},
		{"stated below the least", net.Wire{Circuit: "a", Stated: unit.Metric(0.5)}, func(j *design.Job) { set(j, "size-least", "1 mm2", nil) }, unit.Metric(0.5), ByHand},
		{"least above the family's largest", net.Wire{Circuit: "a"}, func(j *design.Job) { set(j, "size-least", "10 mm2", nil) }, unit.Metric(6), ByMechanical},
	} {
		t.Run(c.name, func(t *testing.T) {
			job, nt := yard(c.wire)
			if c.edit != nil {
				c.edit(job)
			}
			got := Initial(job, nt)[0]
			if got.Size != c.size || got.Why != c.why || !got.Known {
				t.Errorf("%v by %s, known %v; want %v by %s", got.Size, got.Why, got.Known, c.size, c.why)
			}
		})
	}
}

func TestUnknown(t *testing.T) {
	job, nt := yard(net.Wire{Circuit: "a", Family: "no-such"}, net.Wire{Circuit: "b", Stated: unit.Metric(3)}, net.Wire{Circuit: "c", Stated: unit.AWG(20)})
	for i, c := range Initial(job, nt) {
		if c.Known || c.Size != nt.Wires[i].Stated {
			t.Errorf("wire %d: %+v", i, c)
		}
	}
}

func TestBoughtCable(t *testing.T) {
	job, nt := yard(net.Wire{Circuit: "h", Cable: "lead", Core: 0, Family: "screened-2", Stated: unit.Metric(0.35)},
		net.Wire{Circuit: "lead", Cable: "lead", Core: -1, Kind: net.Screen, Family: "screened-2"},
		net.Wire{Circuit: "lead", Cable: "lead", Core: 7, Kind: net.Spare, Family: "screened-2"})
	nt.Wires[1].Core = -1
	cable := &design.Wire{Part: design.Part{Name: "screened-2", Common: design.Common{Source: "typical"}}, Heat: 125, Outside: 4.2,
		Cores:  []design.WireCore{{Colour: "white", WireSize: design.WireSize{Size: unit.Metric(0.35), Resistance: 0.0544, Outside: 1.3}}},
		Screen: &design.WireScreen{Kind: "braid", Resistance: 0.02}}
	job.Parts.Wires = append(job.Parts.Wires, cable)
	got := Initial(job, nt)
	if c := got[0]; c.Why != ByCable || c.Resistance != 0.0544 || c.Verified || !c.Known || Auto(&nt.Wires[0], &c) {
		t.Errorf("core: %+v", c)
	}
	if c := got[1]; c.Resistance != 0.02 || c.Known {
		t.Errorf("screen: %+v", c)
	}
	if got[2].Known {
		t.Errorf("a core the cable lacks: %+v", got[2])
	}
}

func TestVerified(t *testing.T) {
	for source, want := range map[string]bool{"": false, "a maker, seen second-hand": false, "IEC 60228:2004 class 5": true, "ISO 6722-1:2011, from memory": false, "Typical": false} {
		if Verified(source) != want {
			t.Errorf("%q: %v", source, !want)
		}
	}
	job, nt := yard(net.Wire{Circuit: "a", Family: "guess"}, net.Wire{Circuit: "b"})
	job.Parts.Wires[0].Sizes[0].Resistance = 0
	got := Initial(job, nt)
	if got[0].Verified {
		t.Error("the family's source says typical")
	}
	if c := got[1]; c.Verified || c.Resistance < 0.034 || c.Resistance > 0.035 { // 1/58/0.5
		t.Errorf("no resistance stated: %v from %s, verified %v", c.Resistance, c.Source, c.Verified)
	}
}

// rack adds a device and a break whose housing has the cavities small (0.5 to 1), big (2 to 6), both, odd (contact not known) and
// bare (nothing said).
func rack(job *design.Job) {
	job.Parts.Contacts = []*design.Contact{
		{Part: design.Part{Name: "b"}, WireLeast: unit.Metric(2), WireMost: unit.Metric(6), InsulLeast: 2.2, InsulMost: 3.3},
		{Part: design.Part{Name: "s"}, WireLeast: unit.Metric(0.5), WireMost: unit.Metric(1)},
	}
	job.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "rack"}, Cavities: []design.HousingCavity{
		{Name: "small", Takes: []string{"s"}}, {Name: "big", Takes: []string{"b"}}, {Name: "both", Takes: []string{"b", "s"}},
		{Name: "odd", Takes: []string{"s", "no-such"}}, {Name: "bare"}}}}
	job.Devices = []*design.Device{{Name: "d", Housings: []design.DeviceHousing{{Part: "rack"}}}}
	job.Breaks = []*design.Break{{Name: "A", Halves: [2]design.Half{{Housing: "rack"}, {Housing: "rack"}}}}
}

func at(cavity string) net.Termination {
	return net.Termination{Kind: net.InCavity, Device: "d", Cavity: cavity, Status: design.Stated}
}

func inBreak(cavity string, status design.Status) net.Termination {
	return net.Termination{Kind: net.InHalf, Break: "A", Cavity: cavity, Status: status}
}

func TestContacts(t *testing.T) {
	for _, c := range []struct {
		name    string
		end     net.Termination
		size    unit.Area
		contact string
		fits    bool
	}{
		{"the smaller of two", at("both"), 1, "s", true},
		{"the larger of two", at("both"), 2.5, "b", true},
		{"between their ranges", at("both"), 1.5, "", false},
		{"too thick", at("small"), 1.5, "", false},
		{"too thin", at("big"), 1, "", false},
		{"insulation too thick", at("big"), 6, "", false}, // 3.7 mm outside
		{"contact not known", at("odd"), 6, "", true},
		{"nothing said", at("bare"), 6, "", true},
		{"no such cavity", at("x"), 6, "", true},
		{"a break", inBreak("small", design.Computed), 0.75, "s", true},
		{"a splice", net.Termination{Kind: net.InSplice, Splice: "s1"}, 6, "", true},
		{"stated by hand", net.Termination{Kind: net.InCavity, Device: "d", Cavity: "both", Contact: "b"}, 1, "b", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			job, nt := yard(net.Wire{Circuit: "a", Stated: unit.Metric(c.size), Ends: [2]net.Termination{c.end, {Kind: net.InSplice}}})
			rack(job)
			got := Initial(job, nt)[0]
			if got.Contacts[0] != c.contact || got.Fits[0] != c.fits || !got.Fits[1] {
				t.Errorf("%q fits %v; want %q %v", got.Contacts[0], got.Fits, c.contact, c.fits)
			}
		})
	}
}

func TestInsulationRange(t *testing.T) {
	p := &design.Contact{InsulLeast: 2.2, InsulMost: 3.3}
	for outside, want := range map[unit.Length]bool{2.1: false, 2.2: true, 3.3: true, 3.4: false, 0: true} {
		if got := accepts(p, &Conductor{Size: unit.Metric(1), Outside: outside}); got != want {
			t.Errorf("%v: %v", outside, got)
		}
	}
}

func TestContactRulesTheSize(t *testing.T) {
	link := 0
	wire := func(a, b net.Termination) net.Wire {
		link++
		return net.Wire{Circuit: "a", Link: link, Ends: [2]net.Termination{a, b}}
	}
	job, nt := yard(wire(at("big"), at("bare")), wire(at("big"), at("small")), wire(at("both"), at("bare")))
	rack(job)
	got := Initial(job, nt)
	if c := got[0]; c.Size != unit.Metric(2.5) || c.Why != ByContact || c.Contacts[0] != "b" {
		t.Errorf("a cavity for thick wire only: %+v", c)
	}
	if c := got[1]; c.Size != unit.Metric(0.5) || c.Fits != [2]bool{false, true} {
		t.Errorf("no size suits both ends: %+v", c)
	}
	if c := got[2]; c.Size != unit.Metric(0.5) || c.Why != ByMechanical {
		t.Errorf("a cavity for both: %+v", c)
	}
}

func TestNeeds(t *testing.T) {
	job, nt := yard(net.Wire{Name: "a", Circuit: "a", Stated: unit.Metric(4), Ends: [2]net.Termination{inBreak("small", design.Computed), at("bare")}},
		net.Wire{Name: "b", Circuit: "b", Stated: unit.Metric(3)})
	rack(job)
	none := make([]unit.Current, len(nt.Wires))
	hints, changed := Needs(job, nt, Initial(job, nt), none)
	if !changed || !reflect.DeepEqual(hints, net.Hints{"a": {Size: unit.Metric(4)}}) {
		t.Errorf("%v %v", hints, changed)
	}
	nt.Wires[0].Ends[0].Status = design.Stated
	if _, changed := Needs(job, nt, Initial(job, nt), none); changed {
		t.Error("a cavity decided by hand is not changed by building again")
	}
	nt.Wires[0].Ends[0].Status, nt.Wires[0].Stated = design.Computed, unit.Metric(0.5)
	sizes := Initial(job, nt)
	for _, k := range job.Parts.Contacts {
		if k.Name == sizes[0].Contacts[0] {
			k.Rating = design.Fact[unit.Current]{Given: true, Spread: unit.Exactly(unit.Current(7.5))}
		}
	}
	for amps, want := range map[unit.Current]bool{7: false, 8: true} {
		if _, changed := Needs(job, nt, sizes, []unit.Current{amps, 0}); changed != want {
			t.Errorf("%s in a contact for 7.5 A: changed %v", amps, changed)
		}
	}
}

func TestCouldFit(t *testing.T) {
	job, nt := yard(net.Wire{Ends: [2]net.Termination{inBreak("small", design.Computed), at("bare")}})
	rack(job)
	job.Parts.Housings[0].Cavities = job.Parts.Housings[0].Cavities[:3] // none of which nothing is known
	nt.Wires[0].Ends[1] = net.Termination{Kind: net.InSplice}
	c := &Conductor{Size: unit.Metric(2.5), Outside: 2.8}
	if !CouldFit(job, &nt.Wires[0], c) {
		t.Error("another cavity of the break takes it")
	}
	nt.Wires[0].Ends[0].Status = design.Frozen
	if CouldFit(job, &nt.Wires[0], c) {
		t.Error("the cavity is frozen")
	}
}

func TestRaise(t *testing.T) {
	job, nt := yard(net.Wire{Name: "a", Circuit: "a"}, net.Wire{Name: "b", Circuit: "b", Stated: unit.Metric(1)}, net.Wire{Name: "c", Circuit: "c"})
	first := Initial(job, nt)
	big := first[0]
	big.Size, big.Why = unit.Metric(4), ByDrop
	got := Raise(job, nt, first, map[string]Conductor{"a": big, "b": big, "gone": big})
	if got[0].Size != unit.Metric(4) || got[0].Why != ByDrop || got[1].Size != unit.Metric(1) || got[2].Size != unit.Metric(0.5) || first[0].Size != unit.Metric(0.5) {
		t.Errorf("%+v", got)
	}
}

// Settling only grows, and doing it twice changes nothing more.
func TestSettle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var wires []net.Wire
		for i := range rapid.IntRange(1, 8).Draw(t, "wires") {
			end := func() net.Termination {
				c := rapid.SampledFrom([]string{"small", "big", "both", "bare"}).Draw(t, "cavity")
				if rapid.Bool().Draw(t, "in a break") {
					return inBreak(c, design.Computed)
				}
				return at(c)
			}
			wires = append(wires, net.Wire{Circuit: rapid.SampledFrom([]string{"a", "b"}).Draw(t, "circuit"), Strand: i,
				Link: rapid.IntRange(0, 1).Draw(t, "link"), Ends: [2]net.Termination{end(), end()}})
		}
		job, nt := yard(wires...)
		rack(job)
		sizes := Initial(job, nt)
		for i := range sizes {
			l := Ladder(job, nt, &nt.Wires[i])
			c := l[rapid.IntRange(0, len(l)-1).Draw(t, "size")]
			if sizes[i].Size.Less(c.Size) {
				c.Why = ByDrop
				sizes[i] = c
			}
		}
		once := Settle(job, nt, sizes)
		for i := range once {
			if once[i].Size.Less(sizes[i].Size) {
				t.Fatalf("wire %d shrank from %v to %v", i, sizes[i].Size, once[i].Size)
			}
		}
		if twice := Settle(job, nt, once); !reflect.DeepEqual(once, twice) {
			t.Fatalf("settled again: %+v, before %+v", twice, once)
		}
	})
}
