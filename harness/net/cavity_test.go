package net

import (
	"fmt"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
)

func mixed(more ...piece) *design.Job {
	return car(append([]piece{func(j *design.Job) {
		for h := range j.Breaks[0].Halves {
			j.Breaks[0].Halves[h].Housing = "mixed"
		}
	}}, more...)...)
}

func TestCavitiesByRule(t *testing.T) {
	// mixed has cavities 1 mid, 2 small, 3 small, 4 mid, 5 big
	n := built(mixed(circ("a", link("box.f1", "inj.1", size(1.5))), circ("b", link("box.f2", "inj.2", size(0.5))), circ("c", link("box.f3", "tps.1", size(6))),
		circ("d", link("box.f4", "tps.2"))))
	wantProblems(t, n)
	for c, want := range map[string]string{"a box.f1 - A": "1", "b box.f2 - A": "2", "c box.f3 - A": "5", "d box.f4 - A": "3"} {
		if got := cavityOf(t, n, "A", c); got != want {
			t.Errorf("%s sits in %s, want %s", c, got, want)
		}
	}
	if got := n.Crossings[0].Status; got != design.Computed {
		t.Errorf("status %v", got)
	}
}

func TestHintsSteerCavities(t *testing.T) {
	j := mixed(circ("a", link("box.f1", "inj.1")), circ("b", link("box.f2", "inj.2")))
	n := Build(j, space.Lay(j), Hints{"b box.f2 - A": {Size: unit.Metric(2)}, "a A - inj.1": {Size: unit.Metric(1)}})
	if a, b := cavityOf(t, n, "A", "a A - inj.1"), cavityOf(t, n, "A", "b A - inj.2"); a != "2" || b != "1" {
		t.Errorf("a in %s, b in %s", a, b)
	}
	// a current above the rating of the small contact takes the large one, where one is free
	j = mixed(circ("a", link("box.f1", "inj.1")), circ("b", link("box.f2", "inj.2")))
	for _, k := range j.Parts.Contacts {
		k.Rating = design.Fact[unit.Current]{Given: true, Spread: unit.Exactly(map[bool]unit.Current{true: 5, false: 20}[k.Name == "small"])}
	}
	n = Build(j, space.Lay(j), Hints{"b box.f2 - A": {Size: unit.Metric(0.75), Amps: 10}, "a A - inj.1": {Size: unit.Metric(0.5), Amps: 1}})
	if a, b := cavityOf(t, n, "A", "a A - inj.1"), cavityOf(t, n, "A", "b A - inj.2"); a != "2" || b != "1" {
		t.Errorf("by current: a in %s, b in %s", a, b)
	}
	// a size that may still grow takes a larger contact when the small ones are gone, a stated one does not
	j = car(func(j *design.Job) { j.Breaks[0].Halves[0].Housing, j.Breaks[0].Halves[1].Housing = "one", "one" }, circ("a", link("box.f1", "inj.1")))
	if n = Build(j, space.Lay(j), Hints{"a box.f1 - A": {Size: unit.Metric(0.5)}}); cavityOf(t, n, "A", "a box.f1 - A") != "1" {
		t.Errorf("%+v", n.Problems)
	}
	j = car(func(j *design.Job) { j.Breaks[0].Halves[0].Housing, j.Breaks[0].Halves[1].Housing = "one", "one" }, circ("a", link("box.f1", "inj.1", size(0.5))))
	p := wantProblems(t, built(j), NoCavityLeft)
	has(t, p.Detail, "None of its 1 cavities takes 0.5 mm2")
}

func TestStatedAndFrozenWin(t *testing.T) {
	n := built(car(circ("a", link("box.f1", "inj.1")), circ("b", link("box.f2", "inj.2")), circ("c", link("box.f3", "tps.1")),
		cav("A", "1", "b", ""), cav("A", "3", "a", "B", "box.f1", "A"), cav("A", "3", "a", "")))
	wantProblems(t, n)
	if a, b, c := cavityOf(t, n, "A", "a A - inj.1"), cavityOf(t, n, "A", "b A - inj.2"), cavityOf(t, n, "A", "c A - tps.1"); a != "3" || b != "1" || c != "2" {
		t.Errorf("a %s b %s c %s", a, b, c)
	}
	if s := []design.Status{n.Crossings[0].Status, n.Crossings[1].Status, n.Crossings[2].Status}; !slices.Equal(s, []design.Status{design.Stated, design.Computed, design.Frozen}) {
		t.Errorf("%v", s)
	}
	if e := wire(t, n, "a A - inj.1").Ends[0]; e.Status != design.Frozen {
		t.Errorf("%+v", e)
	}
}

func TestCavityProblems(t *testing.T) {
	two := []piece{circ("a", link("box.f1", "inj.1")), circ("b", link("box.f2", "inj.2")), circ("off", link("box.f3", "box.f4"))}
	for _, c := range []struct {
		name string
		add  []piece
		kind ProblemKind
		say  []string
	}{
		{"two decisions for one cavity", []piece{cav("A", "2", "a", "B"), cav("A", "2", "b", "")}, CavityTwice, nil},
		{"a frozen cavity that is kept spare", []piece{cav("A", "2", "a", "B"), func(j *design.Job) {
			j.Cavities = append(j.Cavities, &design.CavityDecision{Break: "A", Cavity: "2", Spare: "lamps"})
		}}, CavityTwice, []string{"kept spare for class lamps"}},
		{"a circuit that does not pass", []piece{cav("A", "2", "off", "")}, CavityUnknown, []string{"box.f3 - box.f4"}},
		{"a frozen one that passes no more", []piece{cav("A", "2", "off", "B")}, FrozenLost, []string{"A.2"}},
		{"a wire that is not there", []piece{cav("A", "2", "a", "", "box.f1", "inj.1")}, CavityUnknown, []string{"box.f1 - A"}},
		{"a wire with two cavities", []piece{cav("A", "2", "a", "B"), cav("A", "3", "a", "")}, TwoCavities, []string{"cavity 2 already"}},
		{"a label for no wire", []piece{lab("x", "a", "box.f1", "inj.1", "")}, LabelUnknown, []string{"A - inj.1"}},
		{"a frozen label for no wire", []piece{lab("x", "a", "box.f1", "inj.1", "B")}, FrozenLost, nil},
		{"one label for two wires", []piece{lab("x", "a", "box.f1", "A", ""), lab("x", "b", "box.f2", "A", "")}, LabelTwice, []string{"both carry it"}},
		{"two labels for one wire", []piece{lab("x", "a", "box.f1", "A", ""), lab("y", "a", "A", "box.f1", "")}, LabelTwice, []string{"labelled x already"}},
		{"a pin decided for a circuit elsewhere", []piece{func(j *design.Job) {
			j.Cavities = append(j.Cavities, &design.CavityDecision{Device: "tps", Cavity: "1", Circuit: "a"})
		}}, CavityUnknown, []string{"tps.1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := wantProblems(t, built(car(append(slices.Clone(two), c.add...)...)), c.kind)
			has(t, p.Detail, c.say...)
			if (c.kind == CavityTwice || c.kind == TwoCavities || c.kind == LabelTwice) && len(p.Related) == 0 {
				t.Error("the other line is not shown")
			}
			if (c.kind == CavityTwice || c.kind == TwoCavities) && (p.Break != "A" || p.Cavity == "" || p.Other == "") {
				t.Errorf("%+v", p)
			}
		})
	}
}

func TestCavitiesUsedUp(t *testing.T) {
	var add []piece
	for i := 1; i <= 5; i++ {
		add = append(add, circ(fmt.Sprint("c", i), link(fmt.Sprint("box.f", i), fmt.Sprint("inj.", i))))
	}
	n := built(car(add...))
	p := wantProblems(t, n, NoCavityLeft)
	has(t, p.Detail, "All of its 4 cavities are taken")
	if w := wire(t, n, "c5 A - inj.5"); w.Ends[0].Cavity != "" || p.Circuit != "c5" || p.Break != "A" || p.From != "box.f5" {
		t.Errorf("%+v %+v", w, p)
	}
}

func TestSparesAreKept(t *testing.T) {
	spare := func(cavity string) piece {
		return func(j *design.Job) {
			j.Cavities = append(j.Cavities, &design.CavityDecision{Break: "A", Cavity: cavity, Spare: "lamps"})
		}
	}
	n := built(car(spare("1"), circ("a", link("box.f1", "inj.1")), circ("lamp", link("box.f2", "inj.2", class("lamps")))))
	if a, l := cavityOf(t, n, "A", "a A - inj.1"), cavityOf(t, n, "A", "lamp A - inj.2"); a != "2" || l != "3" {
		t.Errorf("a %s lamp %s", a, l)
	}
	n = built(car(spare("1"), spare("2"), spare("3"), circ("a", link("box.f1", "inj.1")), circ("b", link("box.f3", "tps.1")), circ("lamp", link("box.f2", "inj.2", class("lamps")))))
	p := wantProblems(t, n, NoCavityLeft)
	if p.Circuit != "b" || cavityOf(t, n, "A", "lamp A - inj.2") != "1" {
		t.Errorf("%+v", n.Crossings)
	}
}

func TestOnlyCavitiesOfBothHalves(t *testing.T) {
	n := built(car(func(j *design.Job) { j.Breaks[0].Halves[1].Housing = "one" }, circ("a", link("box.f1", "inj.1")), circ("b", link("box.f2", "inj.2"))))
	has(t, wantProblems(t, n, NoCavityLeft).Detail, "All of its 1 cavities")
	// of a housing nobody knows nothing is said
	n = built(car(func(j *design.Job) { j.Breaks[0].Halves[0].Housing, j.Breaks[0].Halves[1].Housing = "x", "x" }, circ("a", link("box.f1", "inj.1"))))
	wantProblems(t, n)
	wantNames(t, n, "a A - inj.1", "a box.f1 - A")
}

func TestPinDecisions(t *testing.T) {
	n := built(car(circ("a", link("box.e", "inj.1")), circ("b", link("box.e", "inj.2")), func(j *design.Job) {
		j.Cavities = append(j.Cavities, &design.CavityDecision{Device: "box", Cavity: "e", Circuit: "b", Contact: "lug-6", Order: 2, Common: design.Common{Frozen: "B"}},
			&design.CavityDecision{Device: "inj", Cavity: "1", Circuit: "a", Seal: "blue"})
	}))
	wantProblems(t, n)
	if e := wire(t, n, "b box.e - A").Ends[0]; e.Kind != OnStud || e.Contact != "lug-6" || e.Order != 2 || e.Status != design.Frozen {
		t.Errorf("%+v", e)
	}
	if e := wire(t, n, "a box.e - A").Ends[0]; e.Contact != "" || e.Order != 0 {
		t.Errorf("%+v", e)
	}
	if e := wire(t, n, "a A - inj.1").Ends[1]; e.Seal != "blue" {
		t.Errorf("%+v", e)
	}
	n = built(car(circ("a", link("box.e", "inj.1")), func(j *design.Job) {
		for i, c := range []string{"x", "y"} {
			j.Cavities = append(j.Cavities, &design.CavityDecision{Device: "box", Cavity: "e", Circuit: "a", Contact: c, Order: i})
		}
	}))
	wantProblems(t, n, CavityTwice)
}

// froze is the decisions of a net as they would be read back.
func froze(j *design.Job, n *Net) *design.Job {
	out := *j
	out.Cavities, out.Labels = nil, nil
	for _, d := range Freeze(n, j) {
		c := design.Common{Frozen: d.Revision}
		if d.Label != "" {
			out.Labels = append(out.Labels, &design.LabelDecision{Text: d.Label, Circuit: d.Circuit, From: d.From, To: d.To, Common: c})
		} else {
			out.Cavities = append(out.Cavities, &design.CavityDecision{Break: d.Break, Cavity: d.Cavity, Circuit: d.Circuit, From: d.From, To: d.To, Common: c})
		}
	}
	return &out
}

func TestFreezeKeepsAll(t *testing.T) {
	j := mixed(circ("b", link("box.f1", "inj.1", size(1)), link("box.f1", "inj.2", size(1))), circ("c", link("box.f2", "tps.1", parallel(2))),
		cav("A", "3", "c", "0"), lab("tag", "c", "box.f2", "A", "0"))
	n := built(j)
	ds := Freeze(n, j)
	old := 0
	for _, d := range ds {
		if d.Old {
			old++
			if d.Revision != "0" {
				t.Errorf("%+v", d)
			}
		} else if d.Revision != "A" {
			t.Errorf("%+v", d)
		}
	}
	if old != 2 || len(ds) != len(n.Crossings)+len(n.Wires) {
		t.Errorf("%d old of %d", old, len(ds))
	}
	again := froze(j, n)
	// a circuit that would come first moves nothing
	circ("a", link("box.f3", "tps.2"))(again)
	m := built(again)
	wantProblems(t, m, SeveralInCavity, SeveralInCavity, SeveralInCavity)
	for _, w := range n.Wires {
		got := wire(t, m, w.Name)
		if got.Label != w.Label || got.LabelStatus != design.Frozen || got.Ends[0].Cavity != w.Ends[0].Cavity || got.Ends[1].Cavity != w.Ends[1].Cavity {
			t.Errorf("%+v\nwas\n%+v", got, w)
		}
	}
}
