package net

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// The lead of a supply carries its limit, through a break, up to where something branches off.
func TestLeadCarriesTheLimit(t *testing.T) {
	volts := func(v unit.Voltage) design.Fact[unit.Voltage] {
		return design.Fact[unit.Voltage]{Given: true, Spread: unit.Exactly(v)}
	}
	live := []design.CaseSupply{{Device: "inj"}, {Device: "tps"}}
	limit := func(j *design.Job) {
		for _, d := range j.Devices {
			if d.Name == "inj" {
				d.Supplies = append(d.Supplies, design.Supply{Most: design.Fact[unit.Current]{Given: true, Spread: unit.Exactly(unit.Current(90))},
					Volts: volts(14), From: design.PinRef{Device: "inj", Pin: "1"}, To: design.PinRef{Device: "inj", Pin: "2"}})
			}
			if d.Name == "tps" {
				d.Supplies = append(d.Supplies, design.Supply{Volts: volts(12), From: design.PinRef{Device: "tps", Pin: "1"}, To: design.PinRef{Device: "tps", Pin: "2"}})
			}
		}
		j.Cases = append(j.Cases, &design.Case{Name: "runs", Supplies: live})
	}
	n := built(car(limit, circ("a", link("box.f1", "inj.1")), circ("b", link("box.e", "inj.2")), circ("c", link("box.e", "tps.1"))))
	for _, w := range n.Wires {
		want := unit.Current(90)
		if w.Circuit == "c" {
			want = 0
		}
		if w.Carries != want {
			t.Errorf("%s carries %v, want %v", w.Name, w.Carries, want)
		}
	}
	live = []design.CaseSupply{{Device: "inj"}}
	for _, w := range built(car(limit, circ("a", link("box.f1", "inj.1")))).Wires {
		if w.Carries != 0 {
			t.Errorf("a supply that charges nothing: %s carries %v", w.Name, w.Carries)
		}
	}
	if len(n.Wires) < 5 {
		t.Fatalf("%d wires", len(n.Wires))
	}
}
