package net

import (
	"reflect"
	"slices"
	"testing"

	"loomsheet/harness/design"
)

// car is two sections with a break between: box - hub - A | A - valley - inj.
func car(more ...piece) *design.Job {
	base := []piece{
		dev("box", 0, 0, "f1", "f2", "f3", "f4", "f5", "e*"), dev("inj", 1000, 100, "1", "2"), dev("tps", 1000, -100, "1", "2"),
		point("hub", 100, 0), point("valley", 900, 0), brk("A", 500, 0, "four", "tub", "engine"),
		run("dash", "tub", "box", "hub", "A"), run("rail", "engine", "A", "valley"),
		run("twig1", "engine", "valley", "inj"), run("twig2", "engine", "valley", "tps"),
	}
	return job(append(base, more...)...)
}

func TestCutAtABreak(t *testing.T) {
	n := built(car(circ("feed", link("box.f1", "inj.1", size(1)))))
	wantProblems(t, n)
	wantNames(t, n, "feed A - inj.1", "feed box.f1 - A")
	tub, engine := wire(t, n, "feed box.f1 - A"), wire(t, n, "feed A - inj.1")
	if tub.Section != "tub" || engine.Section != "engine" || tub.Length != 500 || int(engine.Length) != 541 {
		t.Errorf("%+v\n%+v", tub, engine)
	}
	if len(n.Crossings) != 1 || n.Crossings[0].Cavity != "1" || n.Wires[n.Crossings[0].Wires[0]].Name != tub.Name || n.Wires[n.Crossings[0].Wires[1]].Name != engine.Name {
		t.Errorf("crossings %+v", n.Crossings)
	}
	if e := tub.Ends[1]; e.Kind != InHalf || e.Half != 0 || e.Cavity != "1" || e.Node != n.Space.Find("A") {
		t.Errorf("tub end %+v", e)
	}
	if e := engine.Ends[0]; e.Kind != InHalf || e.Half != 1 || e.Cavity != "1" {
		t.Errorf("engine end %+v", e)
	}
	if e := tub.Ends[0]; e.Kind != InCavity || e.Device != "box" || e.Pin != "f1" || e.Cavity != "f1" || e.Housing != 0 {
		t.Errorf("device end %+v", e)
	}
	if z := tub.Zones(n.Space); !slices.Equal(z, []string{"cabin"}) {
		t.Errorf("zones %v", z)
	}
	if tub.Family != "thin-wall" {
		t.Errorf("family %q", tub.Family)
	}
}

func TestChainOfBreaks(t *testing.T) {
	n := built(car(dev("lamp", 2000, 0, "1"), brk("B", 1500, 0, "two", "nose", "engine"), run("on", "engine", "valley", "B"), run("end", "nose", "B", "lamp"),
		circ("light", link("box.f1", "lamp.1"))))
	wantProblems(t, n)
	wantNames(t, n, "light A - B", "light B - lamp.1", "light box.f1 - A")
	if w := wire(t, n, "light A - B"); w.Ends[1].Half != 1 || w.Piece != 1 {
		t.Errorf("%+v", w)
	}
	if w := wire(t, n, "light B - lamp.1"); w.Ends[0].Half != 0 || w.Section != "nose" {
		t.Errorf("%+v", w)
	}
}

// posted has a connector and a nearer stud post between the same sections.
func posted(more ...piece) *design.Job {
	return car(append([]piece{brk("post", 500, 10, "post", "tub", "engine"), run("p1", "tub", "hub", "post"), run("p2", "engine", "post", "valley"),
		brk("far", 500, 900, "four", "tub", "engine", kept("signal")), run("f1", "tub", "hub", "far"), run("f2", "engine", "far", "valley")}, more...)...)
}

func TestBreakRules(t *testing.T) {
	for _, c := range []struct {
		name string
		link design.Link
		want []string
	}{
		{"shortest", link("box.f1", "inj.1"), []string{"c A - inj.1", "c box.f1 - A"}},
		{"a post when named", link("box.f1", "inj.1", via("break", "post")), []string{"c box.f1 - post", "c post - inj.1"}},
		{"a class has its own break", link("box.f1", "inj.1", class("signal")), []string{"c box.f1 - far", "c far - inj.1"}},
		{"unless via says otherwise", link("box.f1", "inj.1", class("signal"), via("break", "A")), []string{"c A - inj.1", "c box.f1 - A"}},
		{"a class without one", link("box.f1", "inj.1", class("lamps")), []string{"c A - inj.1", "c box.f1 - A"}},
		{"an end at a post, near side", link("box.f1", "post"), []string{"c box.f1 - post"}},
		{"an end at a post, far side", link("inj.1", "post"), []string{"c inj.1 - post"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			n := built(posted(circ("c", c.link)))
			wantProblems(t, n)
			wantNames(t, n, c.want...)
		})
	}
	n := built(posted(circ("c", link("inj.1", "post"))))
	if e := n.Wires[0].Ends[1]; e.Kind != OnPost || e.Half != 1 || e.Cavity != "1" {
		t.Errorf("joined at %+v", e)
	}
}

func TestVia(t *testing.T) {
	detour := []piece{point("up", 100, 400), run("u", "tub", "hub", "up", "A")}
	n := built(car(append(detour, circ("p", link("box.f1", "inj.1", via("point", "up"))), circ("r", link("box.f2", "inj.2", via("run", "u"))), circ("s", link("box.f3", "tps.1")))...))
	wantProblems(t, n)
	for _, name := range []string{"p box.f1 - A", "r box.f2 - A"} {
		if w := wire(t, n, name); w.Length < 900 {
			t.Errorf("%s is %v, not by the detour", name, w.Length)
		}
	}
	if w := wire(t, n, "s box.f3 - A"); w.Length != 500 {
		t.Errorf("the short way is %v", w.Length)
	}
	// in order: out to the point on a dead end and back before the break
	n = built(car(point("dead", 100, 50), run("d", "tub", "hub", "dead"), circ("p", link("box.f1", "inj.1", via("point", "dead"), via("break", "A")))))
	if w := wire(t, n, "p box.f1 - A"); w.Length != 600 || len(w.Path) != 4 {
		t.Errorf("out and back: %+v", w)
	}
	p := wantProblems(t, built(car(circ("p", link("box.f1", "tps.1", via("break", "A"), via("run", "dash"), via("point", "inj"), via("break", "nope"))))), NoWay)
	has(t, p.Detail, "A, dash, inj, nope")
}

func TestThereAndBackTwiceThroughOneBreak(t *testing.T) {
	n := built(car(circ("ring", link("box.f1", "box.f2", via("point", "valley")))))
	wantProblems(t, n)
	wantNames(t, n, "ring A - A", "ring A - box.f2", "ring box.f1 - A")
	if len(n.Crossings) != 2 || n.Crossings[0].Cavity == n.Crossings[1].Cavity {
		t.Errorf("%+v", n.Crossings)
	}
	w := wire(t, n, "ring A - A")
	if w.Ends[0].Cavity == w.Ends[1].Cavity || w.Ends[0].Half != 1 || w.Ends[1].Half != 1 {
		t.Errorf("%+v", w.Ends)
	}
}

func TestShortWays(t *testing.T) {
	n := built(car(dev("twin", 0, 0, "1"), func(j *design.Job) { j.Devices[len(j.Devices)-1].Node = "box" },
		dev("off", 50, 50, "a", "b"), func(j *design.Job) { j.Devices[len(j.Devices)-1].Section = "tub" },
		circ("jump", link("box.f1", "box.f2")), circ("near", link("box.f3", "twin.1")), circ("beside", link("off.a", "off.b"))))
	wantProblems(t, n)
	for _, name := range []string{"jump box.f1 - box.f2", "near box.f3 - twin.1", "beside off.a - off.b"} {
		if w := wire(t, n, name); w.Length != 0 || w.Section != "tub" || len(w.Path) != 0 {
			t.Errorf("%+v", w)
		}
	}
}

func TestLooseLeads(t *testing.T) {
	n := built(car(dev("engine", 700, 300, "main*"), circ("strap", link("box.e", "engine.main", loose(350, "tub"), parallel(2)))))
	wantProblems(t, n)
	wantNames(t, n, "strap box.e - engine.main #1", "strap box.e - engine.main #2")
	w := n.Wires[0]
	if !w.Loose || w.Length != 350 || w.Section != "tub" || w.Ends[0].Node != n.Space.Find("box") || w.Ends[1].Node != -1 || w.Zone != "cabin" {
		t.Errorf("%+v", w)
	}
	p := wantProblems(t, built(car(func(j *design.Job) { j.Sections = []*design.Section{{Name: "tub"}, {Name: "engine"}} },
		circ("strap", link("box.e", "inj.1", loose(350, ""))))), SectionUnknown)
	has(t, p.Detail, "section")
}

func TestNames(t *testing.T) {
	n := built(car(spliceAt("s-in", "hub", "tub"), circ("fan", link("box.f1", "s-in", parallel(2)), link("s-in", "tps.1"), link("s-in", "inj.1"))))
	wantProblems(t, n, SeveralInCavity)
	wantNames(t, n, "fan A - inj.1", "fan A - tps.1", "fan box.f1 - s-in #1", "fan box.f1 - s-in #2", "fan s-in - A #1", "fan s-in - A #2")
	// the ordinal follows what the links say, not where they stand
	o := built(car(spliceAt("s-in", "hub", "tub"), circ("fan", link("s-in", "inj.1"), link("s-in", "tps.1"), link("box.f1", "s-in", parallel(2)))))
	for i, w := range o.Wires {
		if w.Name != n.Wires[i].Name || w.Label != n.Wires[i].Label || w.Length != n.Wires[i].Length || !reflect.DeepEqual(w.Ends, n.Wires[i].Ends) {
			t.Errorf("%+v\nwas\n%+v", w, n.Wires[i])
		}
	}
}

func TestLabels(t *testing.T) {
	n := built(car(circ("feed", link("box.f1", "inj.1")), circ("solo", link("box.f2", "box.f3")), lab("feed.2", "solo", "box.f2", "box.f3", "")))
	for name, want := range map[string]string{"feed A - inj.1": "feed.1", "feed box.f1 - A": "feed.3", "solo box.f2 - box.f3": "feed.2"} {
		if got := wire(t, n, name).Label; got != want {
			t.Errorf("%s is marked %s, want %s", name, got, want)
		}
	}
	n = built(car(circ("solo", link("box.f2", "box.f3")), lab("7", "solo", "box.f3", "box.f2", "A")))
	if w := n.Wires[0]; w.Label != "7" || w.LabelStatus != design.Frozen {
		t.Errorf("%+v", w)
	}
}
