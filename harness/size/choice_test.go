package size

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

// TestColour walks the order that Colour states: bought core, screen, stated, place in a made-up cable, the default.
func TestColour(t *testing.T) {
	job := &design.Job{Parts: design.Parts{Wires: []*design.Wire{
		{Part: design.Part{Name: "plain"}},
		{Part: design.Part{Name: "pair"}, Cores: []design.WireCore{{Colour: "brown"}, {Colour: "blue"}}},
	}}}
	for _, c := range []struct {
		name   string
		wire   net.Wire
		colour string
		code   string
		status design.Status
	}{
		{"nothing said", net.Wire{Core: -1}, "white", "WH", design.Computed},
		{"stated", net.Wire{Core: -1, Colour: "red"}, "red", "RD", design.Stated},
		{"stated, none of the standard's", net.Wire{Core: -1, Colour: "mauve"}, "mauve", "", design.Stated},
		{"screen", net.Wire{Kind: net.Screen, Cable: "k", Core: -1, Family: "pair", Colour: "red"}, Bare, "", design.Computed},
		{"first bought core", net.Wire{Cable: "k", Core: 0, Family: "pair", Colour: "red"}, "brown", "BN", design.Stated},
		{"last bought core", net.Wire{Cable: "k", Core: 1, Family: "pair", Colour: "red"}, "blue", "BU", design.Stated},
		{"a core that the bought cable lacks", net.Wire{Cable: "k", Core: 2, Family: "pair", Colour: "red"}, "red", "RD", design.Stated},
		{"no core of the cable", net.Wire{Cable: "k", Core: -1, Family: "pair", Colour: "red"}, "red", "RD", design.Stated},
		{"a wire of that part without a cable", net.Wire{Core: 0, Family: "pair", Colour: "red"}, "red", "RD", design.Stated},
		{"first core made up", net.Wire{Cable: "k", Core: 0, Family: "plain"}, "white", "WH", design.Computed},
		{"third core made up", net.Wire{Cable: "k", Core: 2, Family: "plain"}, "yellow", "YE", design.Computed},
		{"sixth core made up", net.Wire{Cable: "k", Core: 5, Family: "plain"}, "violet", "VT", design.Computed},
		{"seventh core made up", net.Wire{Cable: "k", Core: 6, Family: "plain"}, "white", "WH", design.Computed},
		{"core of a part not in the library", net.Wire{Cable: "k", Core: 1, Family: "gone"}, "blue", "BU", design.Computed},
		{"a core's number without a cable", net.Wire{Core: 1, Family: "plain"}, "white", "WH", design.Computed},
	} {
		colour, code, status := Colour(job, &c.wire)
		if colour != c.colour || code != c.code || status != c.status {
			t.Errorf("%s: %s %q %v; want %s %q %v", c.name, colour, code, status, c.colour, c.code, c.status)
		}
	}
}

// TestSmallerContact: by the largest conductor, an unknown one last, then by the least, then by name; and never both ways round.
func TestSmallerContact(t *testing.T) {
	k := func(name string, least, most unit.Area) *design.Contact {
		c := &design.Contact{Part: design.Part{Name: name}}
		if least > 0 {
			c.WireLeast = unit.Metric(least)
		}
		if most > 0 {
			c.WireMost = unit.Metric(most)
		}
		return c
	}
	inOrder := []*design.Contact{k("z", 0, 1), k("y", 0.35, 1), k("x2", 0.5, 1), k("x10", 0.5, 1), k("a", 0.2, 2.5), k("b", 1, 2.5), k("m", 0.2, 0), k("c", 4, 0), k("d", 4, 0)}
	for i, a := range inOrder {
		for j, b := range inOrder {
			if got := smaller(a, b); got != (i < j) {
				t.Errorf("%s before %s: %v", a.Name, b.Name, got)
			}
		}
	}
}

// TestInsulationBounds: a bound that is not stated does not stand in the way, and one below a millimetre counts like any other.
func TestInsulationBounds(t *testing.T) {
	for _, c := range []struct {
		least, most, outside unit.Length
		want                 bool
	}{
		{0, 0, 9, true},
		{2, 0, 1.9, false},
		{2, 0, 9, true},
		{0, 0.8, 0.8, true},
		{0, 0.8, 0.9, false},
		{0.7, 0.8, 0.6, false},
		{2, 3, 0.5, false},
		{2, 3, 0, true}, // not known
	} {
		p := &design.Contact{InsulLeast: c.least, InsulMost: c.most}
		if got := accepts(p, &Conductor{Size: unit.Metric(0.5), Outside: c.outside}); got != c.want {
			t.Errorf("%+v: %v", c, got)
		}
	}
	conductor := &design.Contact{WireLeast: unit.Metric(0.5), WireMost: unit.Metric(1)}
	for area, want := range map[unit.Area]bool{0.35: false, 0.5: true, 1: true, 1.5: false} {
		if got := accepts(conductor, &Conductor{Size: unit.Metric(area)}); got != want {
			t.Errorf("%v mm2 in a contact of 0.5 to 1: %v", area, got)
		}
	}
}

// TestHousingPlaces: a place that the device does not have is not known, whichever end of its list it is beyond.
func TestHousingPlaces(t *testing.T) {
	job, nt := yard()
	rack(job)
	_ = nt
	for housing, want := range map[int]bool{-1: false, 0: true, 1: false, 2: false} {
		e := at("small")
		e.Housing = housing
		if got := housingOf(scan{job}, &e) != nil; got != want {
			t.Errorf("housing %d: %v", housing, got)
		}
	}
	other := at("small")
	other.Device = "e"
	if housingOf(scan{job}, &other) != nil {
		t.Error("a housing of another device")
	}
}

// long is a yard whose wires pass the zones cold and hot one after the other.
func long(wires ...net.Wire) (*design.Job, *net.Net) {
	job, nt := yard(wires...)
	nt.Space = &space.Geometry{Edges: []space.Edge{{Run: "front", Zone: "cold"}, {Run: "rear", Zone: "hot"}, {Run: "rear", Zone: "hot"}}}
	for i := range nt.Wires {
		nt.Wires[i].Path = []net.Step{{Edge: 0}, {Edge: 1}, {Edge: 2}}
	}
	return job, nt
}

// TestBoundsOnTheWay: of the zones on a wire's way the greatest least and the smallest most rule, in whatever order they are passed.
func TestBoundsOnTheWay(t *testing.T) {
	for _, c := range []struct {
		cold, hot   string
		least, most unit.Area
	}{{"1 mm2", "4 mm2", 4, 1}, {"4 mm2", "1 mm2", 4, 1}, {"1.5 mm2", "1.5 mm2", 1.5, 1.5}} {
		job, nt := long(net.Wire{Circuit: "a"})
		for _, name := range []string{"size-least", "size-most"} {
			set(job, name, c.cold, map[string]string{"zone": "cold"})
			set(job, name, c.hot, map[string]string{"zone": "hot"})
		}
		if s, by := Least(job, nt, &nt.Wires[0]); s != unit.Metric(c.least) || !by.Set {
			t.Errorf("%v: least %v", c, s)
		}
		if s, _ := Most(job, nt, &nt.Wires[0]); s != unit.Metric(c.most) {
			t.Errorf("%v: most %v", c, s)
		}
		for _, x := range Ladder(job, nt, &nt.Wires[0]) {
			if x.Size.Area() > c.most {
				t.Errorf("%v: %v is on the ladder", c, x.Size)
			}
		}
	}
}

// TestScopes: one scope for each zone and run in the order of the way, a neighbour's like it not again; a loose wire and one without a way have their own.
func TestScopes(t *testing.T) {
	job, nt := long(net.Wire{Circuit: "a", Zone: "own"}, net.Wire{Circuit: "a", Zone: "own", Loose: true}, net.Wire{Circuit: "k", Kind: net.Screen})
	_ = job
	nt.Wires[0].Path = append(nt.Wires[0].Path, net.Step{Edge: 3}, net.Step{Edge: -1}) // not in the space
	for i, want := range [][]design.Scope{
		{{Circuit: "a", Run: "front", Zone: "cold"}, {Circuit: "a", Run: "rear", Zone: "hot"}},
		{{Circuit: "a", Zone: "own"}},
		{{Run: "front", Zone: "cold"}, {Run: "rear", Zone: "hot"}},
	} {
		got := scopes(nt, &nt.Wires[i])
		if len(got) != len(want) {
			t.Errorf("wire %d: %+v", i, got)
			continue
		}
		for k := range got {
			if got[k] != want[k] {
				t.Errorf("wire %d: %+v, want %+v", i, got[k], want[k])
			}
		}
	}
}

// TestParallelAlike: the parallel wires of one link get the size of the largest, the first link (0) too; a wire of no link is left alone.
func TestParallelAlike(t *testing.T) {
	for _, link := range []int{0, 1, -1} {
		ends := [2]net.Termination{at("bare"), at("bare")}
		job, nt := yard(net.Wire{Circuit: "a", Link: link, Ends: ends}, net.Wire{Circuit: "a", Link: link, Strand: 1, Ends: ends},
			net.Wire{Circuit: "b", Link: link, Ends: ends}, net.Wire{Circuit: "a", Link: link, Piece: 1, Ends: ends})
		rack(job)
		sizes := Initial(job, nt)
		ladder := Ladder(job, nt, &nt.Wires[0])
		sizes[1] = ladder[3] // 1.5 mm2
		sizes[1].Why = ByHeat
		got := Settle(job, nt, sizes)
		want := []unit.Area{1.5, 1.5, 0.5, 0.5}
		why := ByParallel
		if link < 0 {
			want[0], why = 0.5, ByMechanical
		}
		for i, c := range got {
			if c.Size != unit.Metric(want[i]) {
				t.Errorf("link %d: wire %d has %v", link, i, c.Size)
			}
		}
		if got[0].Why != why || got[1].Why != ByHeat {
			t.Errorf("link %d: %s and %s", link, got[0].Why, got[1].Why)
		}
	}
}
