package shell_test

import (
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

func TestDrill(t *testing.T) {
	b := wall()
	b.brk("A", "round", at(400, 0, 0))
	b.brk("B", "square", at(400, 150, 0)).Flange = "cabin"
	b.clip("nut", -100, -100, "nut-m5")
	b.clip("screw", -100, 100, "screw-m5")
	b.clip("stud", 100, 200, "stud-m5")
	b.clip("glued", 100, -200, "base")
	b.hole("plain", at(400, -200, 200), 10, "", "")
	b.job.Points = []*design.Point{{Name: "bush", Spot: spot(at(400, 200, -200)), Panel: "wall", Bush: 12}}
	s := b.find()
	for _, w := range []struct {
		mark, kind, what string
		drill, high      unit.Length
		sum, fastener    string
		from             string
	}{
		{"A", "connector", "break A", 32.2, 0, "32 and 0.2 for paint", "", "cabin"},
		{"B", "connector", "break B", 40.2, 30.2, "40 x 30 and 0.2 for paint each way", "", "cabin"},
		{"B-screw-1", "connector screw", "screw 1 of break B", 4.5, 0, "4.3 and 0.2 for paint", "", "cabin"},
		{"nut", "clip", "clip nut", 7.1, 0, "7.1, at least 7: set on bare metal, nothing for paint", "rivet-nut", "cabin"},
		{"screw", "clip", "clip screw", 5.7, 0, "5.5 and 0.2 for paint", "screw", "cabin"},
		{"stud", "clip", "clip stud", 0, 0, "", "stud", "cabin"},
		{"plain", "stated", "hole", 10.2, 0, "10 and 0.2 for paint", "", ""},
		{"bush", "bush", "bush bush", 0, 0, "", "", ""},
	} {
		h := holeOf(t, s, w.mark)
		if h.Kind != w.kind || h.What != w.what || !near(h.Drill, w.drill) || !near(h.High, w.high) || h.DrillSum != w.sum || h.FastenerKind != w.fastener || h.From != w.from || h.Panel != "wall" || !h.New {
			t.Errorf("%s: %+v", w.mark, *h)
		}
	}
	if len(s.Holes) != 8 {
		t.Errorf("%d holes: %v; a glued base needs none", len(s.Holes), marks(s))
	}
	// By drill, studs after what is drilled, the unknown last.
	if got := marks(s); !slices.Equal(got, []string{"B-screw-1", "screw", "nut", "plain", "A", "B", "stud", "bush"}) {
		t.Errorf("%v", got)
	}
	if len(s.Open) != 1 || s.Open[0].Why != "no drill and no fixing" || !slices.Equal(s.Open[0].Marks, []string{"bush"}) {
		t.Errorf("open %+v", s.Open)
	}
}

func TestPaintCoatOff(t *testing.T) {
	b := wall()
	b.brk("A", "round", at(400, 0, 0))
	b.job.Settings.Lines = []design.Setting{{Name: "paint-coat", Value: design.SettingValue{Quantity: unit.Quantity{Value: 0, Dim: unit.DimLength}}, Scope: map[string]string{"panel": "wall"}}}
	if h := holeOf(t, b.find(), "A"); h.Drill != 32 || h.DrillSum != "32, nothing for paint" {
		t.Errorf("%+v", *h)
	}
}

// TestScrewPlace turns the one screw of the square connector, 20 across and 10 up from its middle as seen from the flange.
func TestScrewPlace(t *testing.T) {
	for _, w := range []struct {
		name   string
		turn   unit.Angle
		fixed  int
		flange string
		u, v   unit.Length
	}{
		// The flange in the cabin is seen looking to greater x, y runs to the left there: across is -U.
		{"cabin", 0, 0, "", -20, 10},
		// In the bay one looks to smaller x: across is U.
		{"bay", 0, 1, "", 20, 10},
		{"bay said", 0, 0, "bay", 20, 10},
		// A quarter turn clockwise brings up to across and across to down: 10 across, -20 up.
		{"bay turned", 90, 1, "", 10, -20},
		{"cabin turned", 90, 0, "", -10, -20},
		// An eighth: (20 cos 45 + 10 sin 45, 10 cos 45 - 20 sin 45).
		{"bay an eighth", 45, 1, "", 21.2132, -7.0711},
	} {
		b := wall()
		x := b.brk("A", "square", at(400, 50, -50))
		x.Turn, x.Flange = w.turn, w.flange
		x.Halves[0].Mount, x.Halves[1].Mount = "free", "free"
		x.Halves[w.fixed].Mount = "fixed"
		s := b.find()
		h := holeOf(t, s, "A-screw-1")
		if !near(h.Flat.U, 50+w.u) || !near(h.Flat.V, -50+w.v) || !near(h.At.Y, h.Flat.U) || !near(h.At.Z, h.Flat.V) || h.At.X != 400 || h.Of != "A" || h.Note != "" {
			t.Errorf("%s: %+v", w.name, *h)
		}
		if m := mount(t, s, "A"); len(m.Screws) != 1 || m.Screws[0].Mark != "A-screw-1" || m.Screws[0].Flat != h.Flat || !near(m.Screws[0].Drill, 4.5) {
			t.Errorf("%s: %+v", w.name, *m)
		}
	}
	b := wall()
	b.brk("A", "square", at(400, 0, 0)).Halves[0].Mount = "free"
	if h := holeOf(t, b.find(), "A-screw-1"); h.Note != "the side of its flange is not known: placed as seen from where one looks towards smaller x" {
		t.Errorf("a pattern that is not alike from both sides and no side: %q", h.Note)
	}
}

func TestSnap(t *testing.T) {
	b := wall()
	b.clip("c", 50, 60, "nut-m5")
	x := b.brk("A", "round", at(402, -100, 0))
	s := b.find()
	if h := holeOf(t, s, "c"); h.At != at(400, 50, 60) || h.Off != 12 || !h.Middle {
		t.Errorf("%+v", *h)
	}
	if h := holeOf(t, s, "A"); h.At != at(400, -100, 0) || h.Off != 2 || h.Middle {
		t.Errorf("%+v", *h)
	}
	if len(s.Misfits) != 0 {
		t.Errorf("2 mm off is within panel-flat: %+v", s.Misfits)
	}
	x.At.X = 430
	if s = b.find(); len(s.Misfits) != 1 || s.Misfits[0].What != "off" || s.Misfits[0].Name != "A" {
		t.Errorf("%+v", s.Misfits)
	}
}

func TestStatedHoles(t *testing.T) {
	b := wall()
	b.brk("A", "round", at(400, 0, 0))
	b.clip("c-1", 100, 100, "nut-m5")
	b.clip("c-2", 100, -100, "nut-m5").Hole = "named"
	b.clip("c-3", 103, -100, "nut-m5").Hole = "named"
	b.hole("a-hole", at(400, 0.6, 0.6), 32, "", "A")       // 0.85 off: the cut-out
	b.hole("c-hole", at(400, 100, 100.4), 0, "nut-m5", "") // beneath c-1, although 12 mm from its middle
	b.hole("named", at(400, 101, -100), 7.1, "nut-m5", "A")
	b.hole("far", at(400, 100, 102), 7.1, "nut-m5", "A") // 2 off: another hole
	s := b.find()
	for _, w := range []struct {
		mark, what string
		isNew      bool
		revision   string
		drill      unit.Length
	}{{"a-hole", "break A", false, "A", 32.2}, {"c-hole", "clip c-1", true, "", 7.1}, {"named", "clips c-2, c-3", false, "A", 7.1}, {"far", "hole", false, "A", 7.1}} {
		h := holeOf(t, s, w.mark)
		if h.What != w.what || h.New != w.isNew || h.Revision != w.revision || !near(h.Drill, w.drill) || h.Middle {
			t.Errorf("%s: %+v", w.mark, *h)
		}
	}
	if len(s.Holes) != 4 {
		t.Errorf("%v", marks(s))
	}
	if h := holeOf(t, s, "a-hole"); h.At != at(400, 0.6, 0.6) {
		t.Errorf("a stated place rules: %v", h.At)
	}
	if m := mount(t, s, "A"); m.Hole != "a-hole" || m.At != at(400, 0.6, 0.6) {
		t.Errorf("%+v", *m)
	}
	if len(s.Plugs) != 1 || s.Plugs[0].Mark != "far" || !near(s.Plugs[0].Drill, 7.1) {
		t.Errorf("plugs %+v", s.Plugs)
	}
}

func TestFrozenHoleOfAnotherSize(t *testing.T) {
	b := wall()
	b.brk("A", "round", at(400, 0, 0))
	b.clip("c-1", 100, 100, "nut-m5")
	b.hole("a-hole", at(400, 0, 0), 28, "", "A")
	b.hole("c-hole", at(400, 100, 100), 7, "nut-m5", "A") // between 7 and 7.1
	s := b.find()
	if h := holeOf(t, s, "a-hole"); !near(h.Drill, 28.2) || h.Note != "the part asks for 32 mm" {
		t.Errorf("%+v", *h)
	}
	if len(s.Misfits) != 1 || s.Misfits[0].What != "drill" || s.Misfits[0].Text != "hole a-hole is there with 28 mm; break A asks for 32 mm" {
		t.Errorf("%+v", s.Misfits)
	}
}

func TestSharedHole(t *testing.T) {
	b := wall()
	c := b.clip("in-1", 100, 100, "nut-m5")
	c.With, c.HoleAt, c.HoleKnown = "out-1", at(390, 110, 100), true
	b.held.Runs = append(b.held.Runs, fix.RunPlan{Run: "out", Zone: "cabin", Panel: "wall", Length: 500, Clips: []fix.Clip{
		{Mark: "out-1", At: at(392, 120, 100), HoleAt: at(390, 110, 100), HoleKnown: true, Known: true, Panel: "wall", Fastener: "nut-m5", With: "in-1"}}})
	s := b.find()
	if len(s.Holes) != 1 || s.Holes[0].What != "clips in-1, out-1" || s.Holes[0].At != at(400, 110, 100) || s.Holes[0].Mark != "in-1" {
		t.Errorf("%+v", s.Holes)
	}
}

func TestNoHoleNeeded(t *testing.T) {
	b := wall()
	b.clip("on-tube", 0, 0, "nut-m5").Tube = "frame"
	b.clip("tied", 50, 0, "nut-m5").Kind = "tie"
	b.clip("loose", 100, 0, "nut-m5").Panel = ""
	s := b.find()
	if len(s.Holes) != 1 || s.Holes[0].Mark != "loose" || len(s.Masks) != 0 {
		t.Errorf("%+v %+v", s.Holes, s.Masks)
	}
	if len(s.Open) != 1 || s.Open[0].Why != "no panel" {
		t.Errorf("%+v", s.Open)
	}
}

func TestMarksAreUnique(t *testing.T) {
	b := wall()
	b.brk("A", "round", at(400, 0, 0))
	b.hole("A", at(400, 100, 100), 5, "", "B")
	b.clip("A", -100, -100, "nut-m5")
	b.clip("A", -100, 100, "nut-m5")
	got := marks(b.find())
	slices.Sort(got)
	if !slices.Equal(got, []string{"A", "A-2", "A-3", "A-4"}) {
		t.Errorf("%v", got)
	}
	if h := holeOf(t, b.find(), "A"); h.Kind != "stated" {
		t.Errorf("a stated name rules: %+v", *h)
	}
}

// earths adds a battery whose minus leads to two studs of the body, and a bar on its plus.
func earths(b *body) {
	pin := func(name, stud string, p *design.Point3) design.Pin {
		x := design.Pin{Name: name, Housing: -1, Stud: stud}
		if p != nil {
			x.Spot = spot(*p)
		}
		return x
	}
	front, rear, hot := at(400, 200, 0), at(900, 0, 0), at(400, -200, 0)
	b.job.Devices = []*design.Device{
		{Name: "bar", Pins: []design.Pin{pin("p", "M8", &hot)}},
		{Name: "battery", Pins: []design.Pin{pin("neg", "M8", nil), pin("pos", "M8", nil)},
			Supplies: []design.Supply{{From: design.PinRef{Device: "battery", Pin: "pos"}, To: design.PinRef{Device: "battery", Pin: "neg"}}}},
		{Name: "metal", Pins: []design.Pin{pin("front", "M8", &front), pin("rear", "1/4", &rear)}, Joins: []design.Joins{{Pins: []string{"front", "rear"}}}},
	}
	b.job.Devices[2].Pins[0].Panel, b.job.Devices[2].Pins[0].Torque = "wall", 12
	stud := func(device, pin string) net.Termination {
		return net.Termination{Kind: net.OnStud, Device: device, Pin: pin}
	}
	b.nt.Wires = append(b.nt.Wires, net.Wire{Ends: [2]net.Termination{stud("battery", "neg"), stud("metal", "front")}}, net.Wire{Ends: [2]net.Termination{stud("battery", "pos"), stud("bar", "p")}})
}

func TestEarthStuds(t *testing.T) {
	b := wall()
	earths(b)
	s := b.find()
	if got := marks(s); !slices.Equal(got, []string{"metal-front", "metal-rear"}) {
		t.Fatalf("studs %v: the bar on the plus is none", got)
	}
	if len(s.Masks) != 2 {
		t.Fatalf("%+v", s.Masks)
	}
	// 3 x 8 mm; 3 x 6.35 mm.
	if x := s.Masks[0]; x.What != "bare earth pad 24 mm round, and the thread of the stud M8" || x.Size != 24 || x.Torque != 12 || x.Panel != "wall" {
		t.Errorf("%+v", x)
	}
	if x := s.Masks[1]; !near(x.Size, 19.05) || x.Panel != "" {
		t.Errorf("%+v", x)
	}
	b.hole("es", at(400, 200, 0), 0, "stud-m5", "B")
	if h := holeOf(t, b.find(), "es"); h.Kind != "earth stud" || h.Fastener != "stud-m5" || h.New {
		t.Errorf("%+v", *h)
	}
	b.job.Devices[2].Section, b.job.Devices[2].Pins[0].Panel = "engine", ""
	if got := b.find(); len(got.Holes) != 1 || got.Holes[0].What != "hole" {
		t.Errorf("what comes away is not the body: %+v", got.Holes)
	}
}

// TestNamedHoleOffThePanel: a clip of a run along the wall uses a hole that is not in it.
func TestNamedHoleOffThePanel(t *testing.T) {
	b := wall()
	b.clip("c-1", 100, 100, "nut-m5").Hole = "frame"
	b.hole("frame", at(340, 100, 100), 7.1, "nut-m5", "A").Panel = ""
	s := b.find()
	if h := holeOf(t, s, "frame"); h.Panel != "" || h.At != at(340, 100, 100) || h.What != "clip c-1" {
		t.Errorf("%+v", *h)
	}
	if len(s.Open) != 0 || len(s.Decisions) != 1 || !s.Decisions[0].Old {
		t.Errorf("what is there is not open: %+v %+v", s.Open, s.Decisions)
	}
	b.job.Holes[0].Panel = "wall"
	if s = b.find(); len(s.Misfits) != 1 || s.Misfits[0].What != "off" {
		t.Errorf("said to be in the wall, 60 mm off it: %+v", s.Misfits)
	}
}
