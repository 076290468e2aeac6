package net

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

func pair(more ...piece) *design.Job {
	return car(append([]piece{circ("h", link("box.f1", "tps.1")), circ("l", link("box.f2", "tps.2"))}, more...)...)
}

func TestPair(t *testing.T) {
	n := built(pair(cable("lead", "", "box.f3", "h", "l"), circ("a", link("box.f5", "inj.1"))))
	wantProblems(t, n)
	wantNames(t, n, "a A - inj.1", "a box.f5 - A", "h A - tps.1", "h box.f1 - A", "l A - tps.2", "l box.f2 - A",
		"lead screen A - tps.1", "lead screen box.f3 - A")
	for i, name := range []string{"h box.f1 - A", "l box.f2 - A", "lead screen box.f3 - A", "a box.f5 - A"} {
		if got := cavityOf(t, n, "A", name); got != string(rune('1'+i)) {
			t.Errorf("%s in cavity %s", name, got)
		}
	}
	s := wire(t, n, "lead screen A - tps.1")
	if s.Kind != Screen || s.Ends[0].Kind != InHalf || s.Ends[0].Half != 1 || s.Ends[1].Kind != CutBack || s.Ends[1].Near != "tps.1" || s.Length != wire(t, n, "h A - tps.1").Length {
		t.Errorf("%+v", s)
	}
	if e := wire(t, n, "lead screen box.f3 - A").Ends[0]; e.Kind != InCavity || e.Pin != "f3" {
		t.Errorf("%+v", e)
	}
	for i, name := range []string{"h A - tps.1", "l A - tps.2"} {
		if w := wire(t, n, name); w.Cable != "lead" || w.Core != i {
			t.Errorf("%+v", w)
		}
	}
}

func TestBoughtCable(t *testing.T) {
	n := built(pair(bought("three", true, "white", "blue", "green"), cable("lead", "three", "", "h", "l")))
	wantProblems(t, n)
	wantNames(t, n, "h A - tps.1", "h box.f1 - A", "l A - tps.2", "l box.f2 - A", "lead screen A - tps.1", "lead screen box.f1 - A",
		"lead spare green A - tps.1", "lead spare green box.f1 - A")
	if w := wire(t, n, "l A - tps.2"); w.Family != "three" || w.Colour != "blue" || w.Stated != unit.Metric(0.75) {
		t.Errorf("%+v", w)
	}
	for _, name := range []string{"lead spare green A - tps.1", "lead screen box.f1 - A"} {
		w := wire(t, n, name)
		if w.Ends[0].Kind != CutBack || w.Ends[1].Kind != CutBack || w.Section == "" {
			t.Errorf("%+v", w)
		}
	}
	if len(n.Crossings) != 2 {
		t.Errorf("%d crossings", len(n.Crossings))
	}
	p := wantProblems(t, built(pair(bought("one", false, "white"), cable("lead", "one", "", "h", "l"))), CoresShort)
	has(t, p.Detail, "one has 1 cores")
}

func TestScreenEarthedElsewhere(t *testing.T) {
	n := built(pair(dev("body", 100, 300, "e*"), run("down", "tub", "hub", "body"), cable("lead", "", "body.e", "h", "l")))
	wantProblems(t, n)
	s := wire(t, n, "lead screen body.e - A")
	if s.Length != 900 || s.Ends[0].Kind != OnStud { // 300 down, 100 to the box, 500 on
		t.Errorf("%+v", s)
	}
	p := wantProblems(t, built(pair(dev("body", 100, 300, "e*"), cable("lead", "", "body.e", "h", "l"))), NoWay)
	has(t, p.Detail, "body.e")
}

func TestCoresKeepTogether(t *testing.T) {
	far := []piece{brk("far", 500, 900, "four", "tub", "engine", kept("signal")), run("f1", "tub", "hub", "far"), run("f2", "engine", "far", "valley")}
	// the second core takes the way of the first although its own class would send it elsewhere
	n := built(car(append(far, circ("h", link("box.f1", "tps.1", class("signal"))), circ("l", link("tps.2", "box.f2")), cable("lead", "", "", "h", "l"))...))
	wantProblems(t, n)
	wantNames(t, n, "h box.f1 - far", "h far - tps.1", "l far - box.f2", "l tps.2 - far")
	// a via of its own parts it
	n = built(car(append(far, circ("h", link("box.f1", "tps.1", class("signal"))), circ("l", link("box.f2", "tps.2", via("break", "A"))), cable("lead", "", "", "h", "l"))...))
	p := wantProblems(t, n, CableApart)
	has(t, p.Detail, "h goes by f1 and f2, l does not", "l goes by dash and rail, h does not")
	if p.Other != "lead" {
		t.Errorf("%+v", p)
	}
}

func TestCableOfPartOfACircuit(t *testing.T) {
	from, to := end("s-a"), end("tps.1")
	part := func(j *design.Job) {
		j.Cables = []*design.Cable{{Name: "lead", Holds: []string{"h", "l"}, From: &from, To: &to}}
	}
	n := built(car(spliceAt("s-a", "hub", "tub"), spliceAt("s-b", "hub", "tub"), part,
		circ("h", link("box.f1", "s-a"), link("s-a", "tps.1"), link("s-a", "inj.1")), circ("l", link("box.f2", "s-b"), link("s-b", "tps.2"), link("s-b", "inj.2"))))
	wantProblems(t, n)
	var in []string
	for _, w := range n.Wires {
		if w.Cable == "lead" {
			in = append(in, w.Name)
		}
	}
	if want := []string{"h A - tps.1", "h s-a - A #2", "l A - tps.2", "l s-b - A #2"}; !slices.Equal(in, want) {
		t.Errorf("in the cable %q, want %q", in, want)
	}
	from = end("inj.1")
	part2 := func(j *design.Job) {
		j.Cables = []*design.Cable{{Name: "lead", Holds: []string{"h"}, From: &from, To: &to}}
	}
	has(t, wantProblems(t, built(car(part2, circ("h", link("box.f1", "tps.1")))), CableApart).Detail, "No wires of h lead from inj.1 to tps.1")
}
