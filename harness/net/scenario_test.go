package net_test

import (
	"os"
	"path/filepath"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// compiled is a whole job read from its text.
func compiled(t *testing.T, file string) (*design.Job, *net.Net) {
	t.Helper()
	load := func(name string) ([]byte, error) {
		return os.ReadFile(filepath.Join("..", "..", "testdata", "scenarios", name))
	}
	job, _, msgs := resolve.Job(file, load, parts.Files(), nil)
	for _, m := range msgs {
		t.Errorf("%s: %s. %s", m.Code, m.Title, m.Detail)
	}
	geo := space.Lay(job)
	for _, x := range geo.Nowhere {
		t.Errorf("run %s ends nowhere, at %s", x.Run, x.Node)
	}
	if len(geo.Unplaced)+len(geo.Beyond) > 0 {
		t.Errorf("%+v %+v", geo.Unplaced, geo.Beyond)
	}
	return job, net.Build(job, geo, nil)
}

func count(n *net.Net, kind net.WireKind) (c int) {
	for _, w := range n.Wires {
		if w.Kind == kind {
			c++
		}
	}
	return c
}

func perBreak(n *net.Net) map[string]int {
	out := map[string]int{}
	for _, c := range n.Crossings {
		out[c.Break]++
	}
	return out
}

// The count of the boat's wires was made by hand from its text: bank-plus 1, house-plus 5, house-minus 4, crank-plus and crank-minus 3 each,
// solenoid-p and -m 2 each, the six bilge circuits 1 each, bow and bow-back 4 each, link-coil and link-back 1 each.
func TestBoat(t *testing.T) {
	_, n := compiled(t, "tern.loom")
	for _, p := range n.Problems {
		t.Errorf("%+v", p)
	}
	if c := count(n, net.Plain); c != 36 || len(n.Wires) != 36 {
		t.Errorf("%d plain wires of %d", c, len(n.Wires))
	}
	got := perBreak(n)
	for name, want := range map[string]int{"E": 2, "F": 2, "box-minus": 1, "fore-minus": 1, "fore-plus": 1, "er-plus": 0, "er-minus": 0, "box-plus": 0} {
		if got[name] != want {
			t.Errorf("%d wires pass %s, want %d", got[name], name, want)
		}
	}
}

// A router written for the trial of the language counted 235 wires, 12 cavities taken in A.
func TestCar(t *testing.T) {
	job, n := compiled(t, "rook.loom")
	for _, p := range n.Problems {
		switch {
		case p.Kind == net.SeveralInCavity && p.Circuit == "coil-feed": // two wires in parallel from one fuse
		case p.Kind == net.NoCavityLeft && (p.Circuit == "fan-feed" || p.Circuit == "pump-feed"): // sizes stated that no contact there takes
		default:
			t.Errorf("%+v", p)
		}
	}
	if c := count(n, net.Plain); c != 235 {
		t.Errorf("%d plain wires", c)
	}
	if got := perBreak(n); got["A"] != 12 || got["start-post"] != 1 || got["post-plus"] != 1 || got["post-return"] != 1 || got["alt-post"] != 1 {
		t.Errorf("%v", got)
	}
	// frozen and stated
	seats := map[string]string{}
	for _, c := range n.Crossings {
		seats[c.Break+"."+c.Cavity] = n.Wires[c.Wires[0]].Circuit
	}
	for at, circuit := range map[string]string{"A.1": "inj-feed", "A.2": "coil-feed", "A.3": "coil-feed", "A.4": "inj-drive1", "A.5": "inj-drive2", "T.p1": "box-feed"} {
		if seats[at] != circuit {
			t.Errorf("%s holds %s, want %s", at, seats[at], circuit)
		}
	}
	for _, w := range n.Wires {
		if w.Name == "inj-drive1 ecu.inj1 - A" && (w.Label != "104" || w.LabelStatus != design.Frozen) {
			t.Errorf("%+v", w)
		}
	}
	old := 0
	for _, d := range net.Freeze(n, job) {
		if d.Old {
			old++
		}
	}
	if old != 4 {
		t.Errorf("%d decisions are frozen already", old)
	}
}
