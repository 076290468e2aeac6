package margin

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/heat"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/solve"
	"loomsheet/harness/unit"
)

// TestNextSize: the nearest larger and the nearest smaller of what can be bought, none past the ends.
func TestNextSize(t *testing.T) {
	var ladder []size.Conductor
	for _, a := range []unit.Area{0.5, 1, 1.5, 2.5} {
		ladder = append(ladder, size.Conductor{Size: unit.Metric(a)})
	}
	for _, c := range []struct {
		of   unit.Area
		kind Kind
		want unit.Area
	}{{1, Larger, 1.5}, {1, Smaller, 0.5}, {2.5, Larger, 0}, {0.5, Smaller, 0}, {2, Larger, 2.5}, {2, Smaller, 1.5}, {4, Smaller, 2.5}, {0.35, Larger, 0.5}} {
		got := unit.Area(0)
		if x := next(ladder, unit.Metric(c.of), c.kind); x != nil {
			got = x.Size.Area()
		}
		if got != c.want {
			t.Errorf("from %v, kind %v: %v, want %v", c.of, c.kind, got, c.want)
		}
	}
}

// TestWarmerAir: all air is warmer wherever it is said, and the job given stays.
func TestWarmerAir(t *testing.T) {
	air, _ := unit.Parse("30 C")
	airSet := design.Setting{Name: "air"}
	airSet.Value.Quantity = air
	job := &design.Job{
		Zones:    []*design.Zone{{Name: "cabin", Air: 40, HasAir: true}, {Name: "engine", Air: 90, HasAir: true}},
		Cases:    []*design.Case{{Name: "on", Air: 25, ZoneAir: []design.ZoneAir{{Zone: "cabin", Air: 60}}}},
		Settings: design.Settings{Lines: []design.Setting{airSet}},
	}
	hot := warmerAir(job, 7)
	if a, b := hot.Zones[0].Air, hot.Zones[1].Air; a != 47 || b != 97 {
		t.Errorf("zones at %v and %v", a, b)
	}
	if c := hot.Cases[0]; c.Air != 32 || c.ZoneAir[0].Air != 67 {
		t.Errorf("the case at %v, its zone at %v", c.Air, c.ZoneAir[0].Air)
	}
	plain, known := design.FindSetting("air").DefaultValue()
	for _, l := range hot.Settings.Lines {
		if l.Name == "air" && l.Value.Quantity.Value != air.Value+7 && !(known && l.Value.Quantity.Value == plain.Quantity.Value+7) {
			t.Errorf("set to %v", l.Value.Quantity)
		}
	}
	if job.Zones[0].Air != 40 || job.Cases[0].Air != 25 || job.Cases[0].ZoneAir[0].Air != 60 || job.Settings.Lines[0].Value.Quantity.Value != air.Value {
		t.Error("the job given was changed")
	}
}

// TestWhatIsScaled: a wire more than half of whose rise is its own is told by itself with its parallel ones, from what it carries; else all that lie with it are,
// from 100 %.
func TestWhatIsScaled(t *testing.T) {
	on := func(edges ...int) (path []net.Step) {
		for _, e := range edges {
			path = append(path, net.Step{Edge: e})
		}
		return path
	}
	o := &fit.Outcome{Net: &net.Net{Wires: []net.Wire{{Circuit: "a", Path: on(0, 1)}, {Circuit: "b", Path: on(1)}, {Circuit: "c", Path: on(2)}, {Circuit: "d", Path: on(1), Loose: true}}}}
	for _, c := range []struct {
		rest unit.Temperature
		edge int
		all  []int
		of   string
	}{{54, 1, []int{0}, "this wire"}, {55, 1, []int{0, 1}, "of all in its bundle"}, {65, 1, []int{0, 1}, "of all in its bundle"}, {65, 2, []int{2}, "of all in its bundle"}, {65, -1, []int{0}, "this wire"}} {
		all, from, of := heats(o, &heat.WireResult{Edge: c.edge, Ambient: 40, Rest: c.rest, Hottest: 70, Effective: 8})
		want := unit.Quantity{Value: 1, Dim: unit.DimRatio}
		if of == "this wire" {
			want = amperes(8)
		}
		if !slices.Equal(all, c.all) || of != c.of || from != want {
			t.Errorf("%+v: %v, %s, from %v", c, all, of, from)
		}
	}
}

// TestOnWay: which length is asked about.
func TestOnWay(t *testing.T) {
	for limit, want := range map[string]string{"feed-drop": "one way, out", "return-drop": "one way, back", "drop": "out and back", "least": "out and back"} {
		if got := onWay(limit); got != want {
			t.Errorf("%s: %s", limit, got)
		}
	}
}

// TestFeeder: of what a wire carries the load that takes most tells the supply.
func TestFeeder(t *testing.T) {
	wires := &solve.Network{Elements: []solve.Element{{Item: &solve.Item{Kind: solve.Wire, Wire: 0}}, {Item: &solve.Item{Kind: solve.Wire, Wire: 1}}, {Item: &solve.Item{Kind: solve.Wire, Wire: 2}}}}
	by := func(supply string, amps unit.Current, feed, back int) solve.LoadResult {
		return solve.LoadResult{Supply: supply, SupplySet: unit.Voltage(len(supply)), Amps: amps, Feed: []solve.Step{{Element: feed}}, Return: []solve.Step{{Element: back}}}
	}
	c := &solve.CaseResult{Net: wires, Loads: []solve.LoadResult{by("one", 2, 0, 2), by("three", 5, 1, 2), by("four", 3, 0, 2), by("", 9, 0, 2)}}
	for wire, want := range []string{"four", "three", "three"} {
		if got, set := feeder(c, wire); got != want || set != unit.Voltage(len(want)) {
			t.Errorf("wire %d is fed by %s at %v", wire, got, set)
		}
	}
}
