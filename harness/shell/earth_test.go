package shell_test

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
)

// A stud that names a panel is made whatever its device belongs to; one that a plus reaches gets no bare pad.
func TestStudThatNamesAPanel(t *testing.T) {
	b := wall()
	earths(b)
	stud := func(name string) design.Pin {
		return design.Pin{Name: name, Housing: -1, Stud: "M8", Panel: "wall", Torque: 12}
	}
	b.job.Devices = append(b.job.Devices, &design.Device{Name: "point", Section: "body", Spot: spot(at(400, 100, 100)), Pins: []design.Pin{stud("e")}},
		&design.Device{Name: "relay", Section: "body", Spot: spot(at(400, -100, 100)), Pins: []design.Pin{stud("e"), {Name: "free", Housing: -1, Stud: "M6"}}, Draws: []design.Draw{{}}},
		&design.Device{Name: "strip", Section: "body", Panel: "wall", Spot: spot(at(400, 100, -100)), Pins: []design.Pin{{Name: "1", Housing: -1, Stud: "M6"}}})
	b.job.Devices[0].Pins[0].Panel = "wall" // the bar on the plus
	b.nt.Wires = append(b.nt.Wires, net.Wire{Ends: [2]net.Termination{{Kind: net.OnStud, Device: "battery", Pin: "neg"}, {Kind: net.OnStud, Device: "point", Pin: "e"}}},
		net.Wire{Ends: [2]net.Termination{{Kind: net.OnStud, Device: "battery", Pin: "neg"}, {Kind: net.OnStud, Device: "relay", Pin: "e"}}})
	s := b.find()
	got := marks(s)
	slices.Sort(got)
	if !slices.Equal(got, []string{"bar-p", "metal-front", "metal-rear", "point-e", "relay-e", "strip-1"}) {
		t.Fatalf("%v", got)
	}
	want := map[string]string{"bar-p": "thread of the stud M8", "point-e": "bare earth pad 24 mm round, and the thread of the stud M8", "relay-e": "bare earth pad 24 mm round, and the thread of the stud M8",
		"strip-1": "bare earth pad 18 mm round, and the thread of the stud M6"}
	for _, x := range s.Masks {
		if w := want[x.Mark]; w != "" && (x.What != w || x.Panel != "wall" || x.Mark != "strip-1" && x.Mark != "bar-p" && x.Torque != 12) {
			t.Errorf("%+v", x)
		}
		delete(want, x.Mark)
	}
	if len(want) > 0 {
		t.Errorf("no mask: %v", want)
	}
	if len(s.Open) == 0 || s.Open[0].Why != "no drill and no fixing" || !slices.Contains(s.Open[0].Marks, "point-e") {
		t.Errorf("%+v", s.Open)
	}
	if h := holeOf(t, s, "bar-p"); h.Kind != "stud" || h.What != "stud bar.p" {
		t.Errorf("%+v", *h)
	}
}
