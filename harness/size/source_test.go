package size

import (
	"math"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// TestSourceOfAResistance: a size's own source goes before its part's; where no resistance is stated it is pure copper's and counts as from memory, 1/(58 A).
func TestSourceOfAResistance(t *testing.T) {
	for _, c := range []struct {
		name, part, own string
		ohms            unit.LinearResistance
		source          string
		verified        bool
	}{
		{"of the part", "IEC 60228", "", 0.02, "IEC 60228", true},
		{"its own", "IEC 60228", "typical", 0.02, "typical", false},
		{"its own, better", "typical", "IEC 60228", 0.02, "IEC 60228", true},
		{"none", "", "", 0.02, "", false},
		{"no resistance", "IEC 60228", "", 0, "copper 1/58 ohm mm2/m and the nominal area", false},
		{"a resistance below none", "IEC 60228", "", -1, "copper 1/58 ohm mm2/m and the nominal area", false},
	} {
		got := of("f", &design.Wire{Part: design.Part{Common: design.Common{Source: c.part}}, Heat: 105}, design.WireSize{Size: unit.Metric(2), Resistance: c.ohms, Source: c.own, Outside: 3})
		want := float64(c.ohms)
		if want <= 0 {
			want = 1 / (58 * 2.0)
		}
		if got.Source != c.source || got.Verified != c.verified || math.Abs(float64(got.Resistance)-want) > 1e-12 || got.Heat != 105 || got.Outside != 3 || !got.Known || got.Size != unit.Metric(2) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestWiresOfCables: a wire is a core only in a cable whose part has cores; a screen is of a part that has one; all else is sized as any wire.
func TestWiresOfCables(t *testing.T) {
	cable := &design.Wire{Part: design.Part{Name: "pair", Common: design.Common{Source: "IEC 60228"}}, Heat: 90, Screen: &design.WireScreen{Resistance: 0.02},
		Cores: []design.WireCore{{WireSize: design.WireSize{Size: unit.Metric(0.35), Resistance: 0.05}}, {WireSize: design.WireSize{Size: unit.Metric(0.5), Resistance: 0.04}}}}
	for _, c := range []struct {
		name  string
		wire  net.Wire
		size  unit.Size
		known bool
		why   Reason
		ohms  unit.LinearResistance
	}{
		{"first core", net.Wire{Family: "pair", Cable: "k", Core: 0}, unit.Metric(0.35), true, ByCable, 0.05},
		{"last core", net.Wire{Family: "pair", Cable: "k", Core: 1}, unit.Metric(0.5), true, ByCable, 0.04},
		{"beyond the last", net.Wire{Family: "pair", Cable: "k", Core: 2}, unit.Size{}, false, "", 0},
		{"none of them", net.Wire{Family: "pair", Cable: "k", Core: -1}, unit.Size{}, false, "", 0},
		{"its screen", net.Wire{Family: "pair", Cable: "k", Core: -1, Kind: net.Screen}, unit.Size{}, false, ByCable, 0.02},
		{"a screen of no cable", net.Wire{Family: "pair", Core: -1, Kind: net.Screen}, unit.Size{}, false, "", 0},
		{"a screen over a part without one", net.Wire{Family: "thin-wall", Cable: "k", Core: -1, Kind: net.Screen}, unit.Size{}, false, "", 0},
		{"a core of a cable made up on the bench", net.Wire{Family: "thin-wall", Cable: "k", Core: 1, Stated: unit.Metric(1)}, unit.Metric(1), true, ByHand, 0.0195},
	} {
		job, nt := yard()
		job.Parts.Wires = append(job.Parts.Wires, cable)
		w := c.wire
		w.Circuit, w.Path = "a", []net.Step{{Edge: 0}}
		nt.Wires = []net.Wire{w}
		got := Initial(job, nt)[0]
		if got.Size != c.size || got.Known != c.known || got.Why != c.why || math.Abs(float64(got.Resistance-c.ohms)) > 1e-12 {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// TestRaiseOnly: what a net had before lifts the wires that the program sizes, of the same family, and not what only a contact had asked for.
func TestRaiseOnly(t *testing.T) {
	job, nt := yard(net.Wire{Name: "a", Circuit: "a"})
	first := Initial(job, nt)
	big := first[0]
	big.Size, big.Why = unit.Metric(4), ByHeat
	for _, c := range []struct {
		name string
		edit func(c *Conductor)
		want unit.Area
	}{
		{"larger", func(*Conductor) {}, 4},
		{"of another family", func(c *Conductor) { c.Family = "aero" }, 0.5},
		{"for a contact", func(c *Conductor) { c.Why = ByContact }, 0.5},
		{"smaller", func(c *Conductor) { c.Size = unit.Metric(0.35) }, 0.5},
	} {
		b := big
		c.edit(&b)
		if got := Raise(job, nt, first, map[string]Conductor{"a": b})[0]; got.Size != unit.Metric(c.want) {
			t.Errorf("%s: %v", c.name, got.Size)
		}
	}
}
