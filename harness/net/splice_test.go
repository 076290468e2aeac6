package net

import (
	"testing"

	"loomsheet/harness/design"
)

func TestSpliceIsPlacedForLeastCopper(t *testing.T) {
	// two wires go on from the splice and one comes to it: it sits where they part
	n := built(car(spliceAt("s-x", "", "engine"), circ("c", link("box.f1", "s-x"), link("s-x", "inj.1"), link("s-x", "tps.1"))))
	wantProblems(t, n)
	j := n.Joints[0]
	if j.Node != n.Space.Find("valley") || j.Status != design.Computed || j.Section != "engine" || len(j.Wires) != 3 || j.Run != "rail" || int(j.After) != 400 {
		t.Errorf("%+v", j)
	}
	// with four strands to feed it, it moves towards the box: to the break, where its section begins
	n = built(car(spliceAt("s-x", "", "engine"), circ("c", link("box.e", "s-x", parallel(4)), link("s-x", "inj.1"), link("s-x", "tps.1"))))
	if j := n.Joints[0]; j.Node != n.Space.Find("A") || j.Section != "engine" {
		t.Errorf("%+v", j)
	}
	// a chain of splices without a place, in the order of their names
	n = built(car(spliceAt("s-a", "", ""), spliceAt("s-b", "", "engine"), circ("c", link("box.f1", "s-a"), link("s-a", "s-b"), link("s-b", "inj.1"), link("s-b", "tps.1"))))
	wantProblems(t, n)
	if n.Joints[0].Node < 0 || n.Joints[0].Section != "tub" || n.Joints[1].Node != n.Space.Find("valley") {
		t.Errorf("%+v", n.Joints)
	}
}

func TestSpliceHasOneSection(t *testing.T) {
	// runs of both sections reach the break; all wires of the splice must meet on one side
	n := built(car(spliceAt("s-x", "A", ""), circ("c", link("box.f1", "s-x"), link("s-x", "inj.1"), link("s-x", "tps.1"))))
	wantProblems(t, n)
	wantNames(t, n, "c A - s-x", "c box.f1 - A", "c s-x - inj.1", "c s-x - tps.1")
	if j := n.Joints[0]; j.Section != "engine" || j.Status != design.Stated {
		t.Errorf("%+v", j)
	}
	n = built(car(spliceAt("s-x", "A", "tub"), circ("c", link("box.f1", "s-x"), link("s-x", "inj.1"), link("s-x", "tps.1"))))
	wantNames(t, n, "c A - inj.1", "c A - tps.1", "c box.f1 - s-x", "c s-x - A #1", "c s-x - A #2")
}

func TestWhatIsJoined(t *testing.T) {
	for _, c := range []struct {
		name  string
		add   []piece
		kinds []ProblemKind
	}{
		{"circuits on a stud", []piece{circ("a", link("box.e", "inj.1")), circ("b", link("box.e", "inj.2"))}, nil},
		{"circuits on a pin", []piece{circ("a", link("box.f1", "inj.1")), circ("b", link("box.f1", "inj.2"))}, []ProblemKind{CircuitsJoined}},
		{"circuits in a splice", []piece{spliceAt("s-x", "hub", "tub"), circ("a", link("box.f1", "s-x")), circ("b", link("box.f2", "s-x"))}, []ProblemKind{CircuitsJoined}},
		{"wires of one circuit in a cavity", []piece{circ("a", link("box.f1", "inj.1"), link("box.f1", "inj.2"))}, []ProblemKind{SeveralInCavity}},
		{"circuits on a post", []piece{brk("post", 500, 10, "post", "tub", "engine"), run("p", "tub", "hub", "post"), circ("a", link("box.f1", "post")),
			circ("b", link("box.f2", "post"))}, []ProblemKind{PostShared}},
		{"a circuit in two parts", []piece{circ("a", link("box.f1", "inj.1"), link("box.f2", "inj.2"))}, []ProblemKind{CircuitApart}},
		{"a circuit that hangs together at a post it passes", []piece{brk("post", 500, 10, "post", "tub", "engine"), run("p", "tub", "hub", "post"), run("q", "engine", "post", "valley"),
			circ("a", link("box.f1", "inj.1", via("break", "post")), link("box.f2", "post"))}, nil},
		{"one end", []piece{circ("a", link("box.f1", "box.f1"))}, []ProblemKind{OneEnd, SeveralInCavity}},
		{"no end", []piece{circ("a")}, []ProblemKind{OneEnd}},
		{"a lonely splice", []piece{spliceAt("s-x", "hub", "tub"), circ("a", link("box.e", "s-x"), link("box.e", "inj.1"))}, []ProblemKind{SpliceAlone}},
		{"one end and a splice", []piece{spliceAt("s-x", "hub", "tub"), circ("a", link("box.f1", "s-x"))}, []ProblemKind{OneEnd}},
		{"splices only", []piece{spliceAt("s-x", "hub", "tub"), spliceAt("s-y", "A", "tub"), circ("a", link("s-x", "s-y"))}, []ProblemKind{OneEnd}},
		{"an idle splice", []piece{spliceAt("s-x", "hub", "tub")}, []ProblemKind{SpliceAlone}},
		{"an end at a connector", []piece{circ("a", link("box.f1", "A"))}, []ProblemKind{NotAPost}},
		{"two circuits of one name", []piece{circ("a", link("box.f1", "box.f2")), circ("a", link("box.f1", "box.f2"))}, []ProblemKind{SeveralInCavity, SeveralInCavity, NameTwice}},
		{"an end nobody declared", []piece{circ("a", link("box.f1", "nothing.1"))}, nil},
	} {
		t.Run(c.name, func(t *testing.T) { wantProblems(t, built(car(c.add...)), c.kinds...) })
	}
}

func TestNoWay(t *testing.T) {
	island := []piece{dev("far", 5000, 0, "1"), dev("isle", 5100, 0, "1"), run("ferry", "tub", "far", "isle")}
	for _, c := range []struct {
		name string
		add  []piece
		kind ProblemKind
		say  []string
	}{
		{"an end beside the runs", []piece{dev("coil1", 200, 30, "2"), circ("a", link("box.f1", "coil1.2"))}, NoWay, []string{"the nearest run to coil1.2 is dash, 30 mm off"}},
		{"a splice beside its run", []piece{func(j *design.Job) {
			j.Splices = append(j.Splices, &design.Splice{Name: "s-x", Section: "tub", Spot: at("s-x", 300, 30)})
		}, circ("a", link("box.f1", "s-x"), link("box.f2", "s-x"))}, NoWay, []string{"s-x lies on no run; the nearest run to s-x is dash, 30 mm off"}},
		{"a place nobody gave", []piece{dev("coil1", 0, 0, "2"), func(j *design.Job) { j.Devices[len(j.Devices)-1].Spot = design.Spot{} }, circ("a", link("box.f1", "coil1.2"))},
			NoWay, []string{"where it sits is not known"}},
		{"islands", append(island, circ("a", link("box.f1", "far.1"))), NoWay, []string{"no chain of runs leads"}},
		{"no break", append([]piece{run("x", "nose", "hub", "far")}, append(island, circ("a", link("box.f1", "isle.1", via("run", "x"))))...), SectionsApart,
			[]string{"At hub it would pass from section tub to section nose: no break joins them there", "At far it would pass from section nose to section tub"}},
		{"a post on the way", []piece{brk("post", 100, 0, "post", "tub", "nose"), func(j *design.Job) { j.Breaks[len(j.Breaks)-1].Node = "hub" }, dev("far", 600, 600, "1"), run("x", "nose", "hub", "far"),
			circ("a", link("box.f1", "far.1"))}, SectionsApart, []string{"post is a stud post"}},
		{"a class of another", []piece{func(j *design.Job) { j.Breaks[0].Class = "signal" }, circ("a", link("box.f1", "inj.1"))}, SectionsApart, []string{"break A is kept for class signal"}},
		{"a splice of another section", []piece{spliceAt("s-x", "hub", "engine"), circ("a", link("box.f1", "s-x"), link("box.f2", "s-x"))}, NoWay,
			[]string{"Splice s-x is of section engine, but the runs at hub are of section tub"}},
		{"a via off the runs", []piece{point("moon", 100, 70), circ("a", link("box.f1", "inj.1", via("point", "moon")))}, NoWay, []string{"moon, which it must pass, lies on no run; the nearest run to moon is dash, 70 mm off"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := built(car(append(c.add, circ("good", link("box.f5", "box.e")))...))
			seen := false
			for _, p := range n.Problems {
				if p.Kind == c.kind {
					has(t, p.Detail, c.say...)
					seen = true
				} else {
					t.Errorf("%+v", p)
				}
			}
			if !seen {
				t.Errorf("no such problem: %+v", n.Problems)
			}
			wire(t, n, "good box.f5 - box.e") // other links go on
		})
	}
}
