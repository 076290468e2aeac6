package shell_test

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

// along puts clips of run "in" on the wall, whose first stretch leads from (400, 0, 0) upward along it, at heights above its beginning.
func along(b *body, heights ...unit.Length) {
	b.job.Runs[0].Stretches = []design.Stretch{{Nodes: []design.Spot{spot(at(390, 0, -300)), spot(at(390, 0, 300))}}}
	b.held.Runs = []fix.RunPlan{{Run: "in", Zone: "cabin", Panel: "wall", Length: 600, SpanLimit: 200, Wires: 2}}
	for i, h := range heights {
		c := fix.Clip{Mark: "in-" + string(rune('1'+i)), After: h, At: at(390, 0, h-300), Known: true, Panel: "wall", Fastener: "nut-m5", NewHole: true}
		b.held.Runs[0].Clips = append(b.held.Runs[0].Clips, c)
	}
}

func TestLate(t *testing.T) {
	b := wall()
	along(b, 100, 300, 500)
	b.brk("A", "round", at(400, 200, 0))
	b.job.Points = []*design.Point{{Name: "p", Spot: spot(at(400, -200, 0)), Panel: "wall", Bush: 10}}
	b.hole("h1", at(400, 0, -200), 7.1, "nut-m5", "A") // beneath in-1
	b.hole("h2", at(400, 40, 30), 7.1, "nut-m5", "A")  // 40 beside and 30 above in-2, at 330 of the run
	b.hole("big", at(400, 0, 10), 20, "", "A")         // nearer, but no clip's
	if s := b.find(); len(s.Late) != 0 || len(s.Plugs) != 2 {
		t.Fatalf("not painted: %+v, plugs %+v", s.Late, s.Plugs)
	}
	b.job.Painted = "B"
	s := b.find()
	got := map[string]shell.Late{}
	var names []string
	for _, x := range s.Late {
		got[x.Mark], names = x, append(names, x.Mark)
	}
	slices.Sort(names)
	if !slices.Equal(names, []string{"A", "in-2", "in-3", "p"}) {
		t.Fatalf("%v", names)
	}
	// h2 is 50 off. With it the gaps are 230 and 170 instead of 200 and 200.
	if x := got["in-2"]; x.Nearest != "h2" || !near(x.Away, 50) || !near(x.Span, 230) || x.Limit != 200 || x.Kind != "run" || x.Name != "in" || x.What != "clip in-2" {
		t.Errorf("%+v", x)
	}
	// From in-3 at (400, 0, 200) h2 is (40, 170) off: 174.6; it would stand at 330, 30 behind in-2 and 270 before the end.
	if x := got["in-3"]; x.Nearest != "h2" || !near(x.Away, 174.642) || !near(x.Span, 270) {
		t.Errorf("%+v", x)
	}
	if x := got["A"]; x.Nearest != "" || x.Kind != "break" || x.Name != "A" || x.Span != 0 {
		t.Errorf("%+v", x)
	}
	// A hole of the connector's size that is left over would do.
	b.hole("round", at(400, 200, 60), 32, "", "A")
	for _, x := range b.find().Late {
		if x.Mark == "A" && (x.Nearest != "round" || !near(x.Away, 60)) {
			t.Errorf("%+v", x)
		}
	}
	// Without any hole the cost is the gap that the clip leaves: 100 to 500.
	b.job.Holes = b.job.Holes[:1]
	for _, x := range b.find().Late {
		if x.Mark == "in-2" && (x.Nearest != "" || !near(x.Span, 400)) {
			t.Errorf("%+v", x)
		}
	}
}

func TestLateTakesThreadOrSize(t *testing.T) {
	for _, w := range []struct {
		name, wants, has string
		drill            unit.Length
		usable           bool
	}{
		{"another fastener of the thread", "nut-m5", "stud-m5", 0, true},
		{"a plain hole in the range of the nut", "nut-m5", "", 7, true},
		{"one too small", "nut-m5", "", 6.9, false},
		{"a clearance hole for a nut", "nut-m5", "", 7.3, false},
		{"another thread", "stud-m5", "nut-m8", 11, false},
	} {
		b := wall()
		b.job.Painted = "B"
		b.job.Parts.Fasteners = append(b.job.Parts.Fasteners, &design.Fastener{Part: design.Part{Name: "nut-m8"}, As: "rivet-nut", Thread: "M8", Drill: 11})
		b.clip("c", 0, 0, w.wants)
		b.hole("h", at(400, 30, 0), w.drill, w.has, "A")
		s := b.find()
		if len(s.Late) != 1 || (s.Late[0].Nearest == "h") != w.usable {
			t.Errorf("%s: %+v", w.name, s.Late)
		}
	}
}

func TestOpenNamesRunsWithoutLength(t *testing.T) {
	b := wall()
	b.held.Runs = []fix.RunPlan{{Run: "in", Wires: 3}, {Run: "in", Stretch: 1, Wires: 1}, {Run: "empty"}}
	b.job.Holes = []*design.Hole{{Name: "h"}}
	s := b.find()
	var got []string
	for _, o := range s.Open {
		got = append(got, o.Why+": "+strings.Join(o.Marks, "; "))
	}
	if want := []string{"no coordinates, no panel, no drill and no fixing: h", "its length is not known, so its clips have no place: run in; run in, stretch 2"}; !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
}

func TestTemplates(t *testing.T) {
	b := wall()
	b.job.Runs = nil
	a := b.brk("A", "square", at(400, 100, 50))
	b.leave(a)
	s := b.find()
	if len(s.Templates) != 1 {
		t.Fatalf("%+v", s.Templates)
	}
	x := s.Templates[0]
	// Seen from the cabin one looks to greater x and y runs to the left: the middle lies at -100; its screw is 20 to the right of it.
	if x.Name != "A" || x.Seen != "cabin" || !x.Against || x.Look != "towards greater x" || x.Note != "" || len(x.Holes) != 2 || len(x.Mounts) != 1 {
		t.Fatalf("%+v", x)
	}
	if h := x.Holes[0]; h.Mark != "A" || !near(h.Flat.U, -100) || !near(h.Flat.V, 50) || !near(h.Drill, 40.2) || !near(h.High, 30.2) {
		t.Errorf("%+v", h)
	}
	if h := x.Holes[1]; h.Mark != "A-screw-1" || !near(h.Flat.U, -80) || !near(h.Flat.V, 60) {
		t.Errorf("%+v", h)
	}
	// All of it: the flange, 60 x 50.
	if !near(x.Low.U, -130) || !near(x.High.U, -70) || !near(x.Low.V, 25) || !near(x.High.V, 75) {
		t.Errorf("%v %v", x.Low, x.High)
	}
	// Turned by 30 degrees clockwise as seen from the cabin it is drawn so.
	a.Turn = 30
	x = b.find().Templates[0]
	if x.Holes[0].Turn != 30 || x.Seats[0].Turn != 30 || !near(x.Holes[1].Flat.U, -100+22.3205) || !near(x.Holes[1].Flat.V, 50-1.3397) {
		t.Errorf("%+v", x)
	}
}

func TestTemplateOfGroup(t *testing.T) {
	b := wall()
	b.job.Runs = nil
	// 50 apart each: one chain of three with a connector at its end, though the ends are 100 apart; and a pair further off.
	b.leave(b.brk("A", "round", at(400, 0, 0)))
	b.hole("h1", at(400, 50, 0), 5, "", "")
	b.hole("h2", at(400, 100, 0), 5, "", "")
	b.hole("p1", at(400, -200, 0), 5, "", "")
	b.hole("p2", at(400, -200, 50), 5, "", "")
	var names []string
	s := b.find()
	for _, x := range s.Templates {
		names = append(names, x.Name)
	}
	if !slices.Equal(names, []string{"A", "A, h1, h2"}) {
		t.Fatalf("%v", names)
	}
	if x := s.Templates[1]; len(x.Holes) != 3 || len(x.Mounts) != 1 || x.Seen != "cabin" {
		t.Errorf("%+v", x)
	}
	// Without anything that tells from where they are drilled.
	b.job.Breaks, b.job.Runs = nil, nil
	b.hole("h3", at(400, 60, 50), 5, "", "")
	s = b.find()
	if len(s.Templates) != 1 || s.Templates[0].Seen != "" || s.Templates[0].Look != "towards smaller x" || !strings.Contains(s.Templates[0].Note, "nothing tells") {
		t.Errorf("%+v", s.Templates)
	}
}

func TestDecisions(t *testing.T) {
	b := wall()
	b.brk("A", "square", at(400.04, 100, 0))
	b.clip("c-1", 33.333, 66.666, "nut-m5")
	b.clip("c-2", -100, 0, "stud-m5")
	b.clip("nowhere", 0, 0, "nut-m5").Known = false
	b.clip("no-panel", 0, 0, "nut-m5").Panel = ""
	b.hole("old", at(400, -200, -200), 5, "", "A")
	b.hole("said", at(400, 200, 200), 6, "", "")
	b.job.Points = []*design.Point{{Name: "bush", Spot: spot(at(400, 200, -200)), Panel: "wall", Bush: 12}}
	want := []shell.Decision{
		{Name: "A", At: at(400, 100, 0), Panel: "wall", Drill: 40, High: 30, Note: "for break A", Revision: "B"},
		{Name: "A-screw-1", At: at(400, 80, 10), Panel: "wall", Drill: 4.3, Note: "for screw 1 of break A", Revision: "B"},
		{Name: "c-1", At: at(400, 33.3, 66.7), Panel: "wall", Drill: 7.1, Fastener: "nut-m5", Note: "for clip c-1", Revision: "B"},
		{Name: "c-2", At: at(400, -100, 0), Panel: "wall", Fastener: "stud-m5", Note: "for clip c-2", Revision: "B"},
		{Name: "old", At: at(400, -200, -200), Panel: "wall", Drill: 5, Revision: "A", Old: true},
		{Name: "said", At: at(400, 200, 200), Panel: "wall", Drill: 6, Revision: "B", Stated: true},
	}
	b.job.Breaks[0].Flange = "cabin"
	if got := b.find().Decisions; !slices.Equal(got, want) {
		for _, d := range got {
			t.Errorf("%+v", d)
		}
	}
}

// A body painted at B has no hole that was frozen at C, and nothing that it has not is to be frozen.
func TestFrozenAfterPaint(t *testing.T) {
	b := wall()
	b.job.Revision, b.job.Painted = "C", "B"
	along(b, 100, 300)
	b.hole("there", at(400, 0, -200), 7.1, "nut-m5", "B")
	b.hole("not-there", at(400, 0, 0), 7.1, "nut-m5", "C")
	b.hole("spare", at(400, 30, 0), 7.1, "nut-m5", "C")
	b.clip("in-9", 200, 200, "nut-m5")
	b.job.Fixings = []*design.Fixing{{Name: "in-9", Run: "in", Common: design.Common{Frozen: "C"}}}
	b.held.Runs[0].Clips[2].Status = design.Frozen
	s := b.find()
	var late []string
	for _, x := range s.Late {
		late = append(late, x.Mark+" "+x.Nearest)
	}
	slices.Sort(late)
	if !slices.Equal(late, []string{"in-9 ", "not-there ", "spare "}) || len(s.Plugs) != 0 {
		t.Errorf("%q, plugs %+v", late, s.Plugs)
	}
	if holeOf(t, s, "there").New || !holeOf(t, s, "not-there").New {
		t.Error("what was frozen when the body was painted is there, what was frozen later is not")
	}
	for _, d := range s.Decisions {
		if d.Late != (d.Name != "there") {
			t.Errorf("%+v", d)
		}
	}
	// What was there when it was painted keeps that revision.
	b.job.Fixings[0].Frozen = "A"
	for _, d := range b.find().Decisions {
		if d.Name == "in-9" && (d.Late || d.Revision != "A") {
			t.Errorf("%+v", d)
		}
	}
}

func TestLateSaysWhyNot(t *testing.T) {
	b := wall()
	along(b, 300)
	b.job.Painted = "B"
	x := b.hole("h", at(400, 30, 0), 7.1, "nut-m5", "B") // 10 off and 30 beside the run: 31.6
	if s := b.find(); len(s.Late) != 1 || s.Late[0].Nearest != "h" || s.Late[0].Why != "further than clip-reach, 25 mm: 31.6 mm from run in" {
		t.Errorf("%+v", s.Late)
	}
	x.At.Y = 20
	if s := b.find(); len(s.Late) != 1 || s.Late[0].Nearest != "h" || s.Late[0].Why != "" {
		t.Errorf("%+v", s.Late)
	}
}

// A clip on a bolt that is there needs no panel, and nothing of it is open.
func TestBoltIsNotOpen(t *testing.T) {
	b := wall()
	b.job.Parts.Fasteners = append(b.job.Parts.Fasteners, &design.Fastener{Part: design.Part{Name: "bolt-m6"}, As: "bolt", Thread: "M6"})
	c := b.clip("on-bolt", 0, 0, "bolt-m6")
	c.Panel, c.Kind = "", "bolt"
	b.clip("loose", 50, 0, "nut-m5").Panel = ""
	if s := b.find(); len(s.Open) != 1 || !slices.Equal(s.Open[0].Marks, []string{"loose"}) {
		t.Errorf("%+v", s.Open)
	}
}
