package fit

import (
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/protect"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
)

// A look is not taken over where a supply that follows its own draw came to life since, though nothing is another on its own side.
func TestLookSeesWhatCameToLife(t *testing.T) {
	s := newShop()
	pins := []design.Pin{}
	for _, n := range []string{"1", "2", "3", "4"} {
		pins = append(pins, design.Pin{Name: n, Housing: -1, Stud: "M5"})
	}
	s.job.Devices = append(s.job.Devices, &design.Device{Name: "converter", Pins: pins,
		Draws:    []design.Draw{{Amps: fact[unit.Current](8), At: fact[unit.Voltage](12), Least: fact[unit.Voltage](10), From: design.PinRef{Pin: "1"}, To: design.PinRef{Pin: "2"}}},
		Supplies: []design.Supply{{Volts: fact[unit.Voltage](24), Inside: fact[unit.Resistance](0.02), From: design.PinRef{Pin: "3"}, To: design.PinRef{Pin: "4"}}}})
	s.load("horn", 2)
	s.job.Cases[0].Off = []string{"horn"}
	s.wire("a", "battery.pos", "converter.1", 9000, "cabin")
	s.wire("b", "converter.2", "battery.neg", 9000, "cabin")
	s.wire("c", "converter.3", "horn.1", 2000, "bay")
	s.wire("d", "horn.2", "converter.4", 2000, "bay")
	f := size.NewFitter(s.job, s.nt)
	o := &Outcome{Net: s.nt, Sizes: f.Initial()}
	g := newGrower(s.job, s.nt, f, o.Sizes)
	shorts := []int{}
	for _, step := range []int{0, 8, 0} {
		o.Sizes = slices.Clone(o.Sizes)
		g.lift(o.Sizes, 0, step, size.ByHeat)
		g.lift(o.Sizes, 1, step, size.ByHeat)
		o.Cases = g.solveAll(o.Sizes, nil)
		o.Duty = g.dutyAll(o.Cases)
		g.heat(o.Sizes, o.Cases, o.Duty)
		o.Heat = g.kept.Solve(o.Sizes)
		got, want := g.protection(o).Result, protect.Find(s.job, s.nt, o.Sizes, o.Cases, o.Heat, o.Duty)
		shorts = append(shorts, len(want.Shorts))
		if !reflect.DeepEqual(got, want) {
			t.Errorf("step %d: what was taken over makes %d shorts, anew there are %d", step, len(got.Shorts), len(want.Shorts))
		}
	}
	if shorts[0] == shorts[1] {
		t.Errorf("nothing came to life: %v shorts", shorts)
	}
}
