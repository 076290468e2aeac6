package shell_test

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/shell"
	"loomsheet/harness/unit"
)

func TestReferences(t *testing.T) {
	b := wall()
	b.hole("a", at(400, -200, -100), 6, "", "")
	h := holeOf(t, b.find(), "a")
	// Corner 1 is (100, 200) off: 223.61; corner 4 (100, 400): 412.31; corner 2 (500, 200): 538.52. The directions to 1 and 4 are 139.4
	// degrees apart.
	if len(h.Refs) != 2 || h.Refs[0].To != "corner 1" || !near(h.Refs[0].Distance, 223.607) || h.Refs[1].To != "corner 4" || !near(h.Refs[1].Distance, 412.311) || h.Which != "" {
		t.Fatalf("%+v", *h)
	}
	// A named point 60 off to the right and another 80 off above cross at a right angle; a bush is not there yet.
	b.job.Points = []*design.Point{{Name: "dot", Spot: spot(at(400, -140, -100)), Panel: "wall"}, {Name: "mark", Spot: spot(at(400, -200, -20)), Panel: "wall"}, {Name: "not-yet", Spot: spot(at(400, -190, -110)), Panel: "wall", Bush: 5},
		{Name: "elsewhere", Spot: spot(at(410, -190, -100))}}
	h = holeOf(t, b.find(), "a")
	if h.Refs[0].To != "point dot" || !near(h.Refs[0].Distance, 60) || h.Refs[1].To != "point mark" || !near(h.Refs[1].Distance, 80) {
		t.Fatalf("%+v", h.Refs)
	}
	// The circles cross again beyond the line from dot to mark, at (-123.2, -42.4): less far left, higher. The place is that with the smaller y.
	if h.Which != "the one with the smaller y" {
		t.Errorf("%q", h.Which)
	}
	// A frozen hole 30 below is nearer than the mark.
	b.hole("old", at(400, -200, -130), 6, "", "A")
	h = holeOf(t, b.find(), "a")
	if h.Refs[0].To != "hole old" || !near(h.Refs[0].Distance, 30) || h.Refs[1].To != "point dot" {
		t.Errorf("%+v", h.Refs)
	}
}

// A tape is held to what is on the body before the list is drilled, never to a hole of the list: where corners see a hole at a flat angle
// only, one of them is all there is.
func TestReferenceToHolesBefore(t *testing.T) {
	b := wall()
	b.job.Panels[0].Corners = []design.Point3{at(400, -500, 0), at(400, 500, 0), at(400, 500, 10), at(400, -500, 10)}
	b.job.Runs = nil
	b.hole("a", at(400, 0, 3), 3, "", "")
	x := b.hole("b", at(400, 0, 9), 3, "", "")
	for i, w := range []struct{ frozen, revision, painted, to string }{
		{"", "B", "", "corner 1"},  // drilled with it
		{"B", "B", "", "corner 1"}, // frozen, but drilled by this list
		{"A", "B", "", "hole b"},
		{"B", "B", "B", "hole b"}, // painted: it is there
		{"C", "C", "B", "corner 1"},
	} {
		x.Frozen, b.job.Revision, b.job.Painted = w.frozen, w.revision, w.painted
		if h := holeOf(t, b.find(), "a"); len(h.Refs) == 0 || h.Refs[0].To != w.to {
			t.Errorf("%d: %+v", i, h.Refs)
		}
	}
}

func TestClose(t *testing.T) {
	for _, w := range []struct {
		name    string
		put     func(b *body)
		a, b    string
		d, need unit.Length
		metal   bool
	}{
		{"two holes 20 apart, 3 x 7.1 asked", func(b *body) {
			b.hole("a", at(400, 0, 0), 7.1, "nut-m5", "")
			b.hole("b", at(400, 12, 16), 5, "", "")
		}, "b", "a", 20, 21.3, false},
		{"22 apart will do", func(b *body) {
			b.hole("a", at(400, 0, 0), 7.1, "nut-m5", "")
			b.hole("b", at(400, 0, 22), 5, "", "")
		}, "", "", 0, 0, false},
		{"a hole beside a cut-out: 24 - 16 - 3 of metal", func(b *body) {
			b.brk("A", "round", at(400, 0, 0))
			b.hole("b", at(400, 24, 0), 6, "", "")
		}, "b", "A", 5, 6, true},
		{"a hole beside a square one: 27 - 20 - 3", func(b *body) {
			b.brk("A", "square", at(400, 0, 0))
			b.hole("b", at(400, 0, 24-2), 6, "", "") // 22 - 15 - 3
		}, "b", "A", 4, 6, true},
		{"the same turned by a quarter: 22 - 20 - 3 is none", func(b *body) {
			b.brk("A", "square", at(400, 0, 0)).Turn = 90
			b.hole("b", at(400, 0, 22), 6, "", "")
		}, "b", "A", 0, 6, true},
		{"two cut-outs 37 apart", func(b *body) {
			b.brk("A", "round", at(400, 0, 0))
			b.brk("B", "round", at(400, 37, 0))
		}, "A", "B", 5, 6, true},
		{"a bush of which the bore is known", func(b *body) {
			b.hole("b", at(400, 12, 0), 4, "", "")
			b.job.Points = []*design.Point{{Name: "p", Spot: spot(at(400, 0, 0)), Panel: "wall", Bush: 10}}
		}, "b", "p", 5, 6, true},
		{"studs take no hole", func(b *body) {
			b.hole("a", at(400, 0, 0), 0, "stud-m5", "")
			b.hole("b", at(400, 5, 0), 0, "stud-m5", "")
		}, "", "", 0, 0, false},
	} {
		t.Run(w.name, func(t *testing.T) {
			b := wall()
			w.put(b)
			s := b.find()
			if w.a == "" {
				if len(s.Close) > 0 {
					t.Errorf("%+v", s.Close)
				}
				return
			}
			if len(s.Close) != 1 {
				t.Fatalf("%+v", s.Close)
			}
			c := s.Close[0]
			if c.A != w.a || c.B != w.b || !near(c.Distance, w.d) || !near(c.Needed, w.need) || c.Metal != w.metal || c.Panel != "wall" || c.Source == "" {
				t.Errorf("%+v", c)
			}
		})
	}
}

func TestAtEdge(t *testing.T) {
	b := wall()
	b.job.Panels[0].KeepOuts = [][]design.Point3{{at(400, 100, 100), at(400, 200, 100), at(400, 200, 200), at(400, 100, 200)}}
	b.hole("in", at(400, 150, 130), 6, "", "")       // 30 within, and 3 more to be clear of it
	b.hole("rim", at(400, 98, 150), 6, "", "")       // 2 beside it, 3 of radius
	b.hole("clear", at(400, 96.9, 120), 6, "", "")   // 3.1 beside it
	b.hole("out", at(400, 0, 320), 6, "", "")        // 20 above the sheet
	b.hole("low", at(400, 0, -290), 6, "", "")       // 10 from the edge, 12 asked
	b.hole("enough", at(400, -150, -288), 6, "", "") // 12
	b.brk("A", "round", at(400, -279, 0))            // 21 - 16 of metal
	b.brk("B", "square", at(400, 0, 281)).Turn = 45  // half a diagonal of 40 x 30 at 45 deg: 24.7 high, beyond the edge
	b.brk("C", "round", at(400, -200, 200))          // far from all
	type edge struct {
		mark, what string
		d, need    unit.Length
		metal      bool
	}
	want := []edge{{"A", "edge", 5, 6, true}, {"B", "edge", 0, 6, true}, {"in", "keep-out", -33, 0, false}, {"low", "edge", 10, 12, false}, {"out", "outside", -20, 12, false}, {"rim", "keep-out", -1, 0, false}}
	s := b.find()
	slices.SortFunc(s.AtEdge, func(a, b shell.AtEdge) int { return strings.Compare(a.Mark, b.Mark) })
	if len(s.AtEdge) != len(want) {
		t.Fatalf("%+v", s.AtEdge)
	}
	for i, w := range want {
		if e := s.AtEdge[i]; e.Mark != w.mark || e.What != w.what || !near(e.Distance, w.d) || !near(e.Needed, w.need) || e.Metal != w.metal || e.Source == "" {
			t.Errorf("%+v, want %+v", e, w)
		}
	}
}

func TestCurvedSheetHasNoEdge(t *testing.T) {
	b := wall()
	b.job.Panels[0].Points, b.job.Panels[0].Corners = append(b.job.Panels[0].Corners, at(440, 0, 0)), nil
	b.hole("a", at(400, 299, 0), 6, "", "")
	s := b.find()
	if len(s.AtEdge) != 0 {
		t.Errorf("%+v", s.AtEdge)
	}
	// It stays where it was measured; the tape is held to the places measured on the sheet.
	if h := holeOf(t, s, "a"); h.At != at(400, 299, 0) || !strings.Contains(h.Note, "not flat") || len(h.Refs) != 2 || !strings.HasPrefix(h.Refs[0].To, "measured place") {
		t.Errorf("%+v", *h)
	}
}

// leave lets a run of each section leave a break, so that its sides are known.
func (b *body) leave(x *design.Break) {
	for _, h := range x.Halves {
		to := at(300, x.At.Y, x.At.Z)
		if h.Section == "engine" {
			to.X = 500
		}
		b.job.Runs = append(b.job.Runs, &design.Run{Name: x.Name + h.Section, Section: h.Section, Zone: map[string]string{"tub": "cabin", "engine": "bay"}[h.Section],
			Stretches: []design.Stretch{{Nodes: []design.Spot{{Node: x.Name, At: x.At, Known: true}, spot(to)}}}})
	}
}

func TestMountSides(t *testing.T) {
	b := wall()
	a := b.brk("A", "round", at(400, 0, 0))
	m := mount(t, b.find(), "A")
	// The fixed half is the tub's: flange and cabin side, against the normal; mated from the bay.
	if m.Side != "cabin" || m.Face != -1 || m.Mating != "bay" || m.Mate != 1 || m.SideWhy != "the half of section tub is fixed" || m.Flange != [2]unit.Length{42} || m.CutOut[1] != 0 || m.Nut != 38 {
		t.Errorf("%+v", *m)
	}
	a.Flange = "bay"
	if m = mount(t, b.find(), "A"); m.Side != "bay" || m.Face != 1 || m.SideWhy != "stated" || m.Mating != "bay" {
		t.Errorf("%+v", *m)
	}
	a.Flange, a.Halves[1].Mount = "", "fixed"
	if m = mount(t, b.find(), "A"); m.Side != "" || m.Face != 0 || m.Mating != "" || m.Mate != 0 {
		t.Errorf("both fixed: %+v", *m)
	}
	// Two zones of one name: the runs tell all the same.
	b = wall()
	b.job.Panels[0].Zones = []string{"cabin", "cabin"}
	b.job.Runs[1].Zone = "cabin"
	b.brk("A", "round", at(400, 0, 0))
	if m = mount(t, b.find(), "A"); m.Face != -1 || m.Mate != 1 {
		t.Errorf("%+v", *m)
	}
}

func TestCrowded(t *testing.T) {
	for _, w := range []struct {
		name   string
		dy     unit.Length
		put    func(b *body, a, z *design.Break)
		why    string
		gap    unit.Length
		needed unit.Length
	}{
		{"flanges of 42 at 41", 41, nil, "the flanges meet", 0, 0},
		{"flanges of 42 at 45: 3 of 10", 45, nil, "a tool at the flange of A", 3, 10},
		{"at 53 all have room", 53, nil, "", 0, 0},
		// The nut of 38 is in the bay, on the far side from the flange, and there A is mated; B's flange of 42 there is 49 - 19 - 21 off.
		{"flanges on two sides", 49, func(b *body, a, z *design.Break) { z.Flange = "bay" }, "a hand on A", 9, 10},
		// A hand's room of 80 about A: B's flange begins 60 - 21 = 39 off its middle on the flange's side.
		{"room stated", 60, func(b *body, a, z *design.Break) { b.job.Parts.Housings[0].Room = 80 }, "a tool at the flange of A", 39, 40},
		{"sides not known: 45 - 32 of cut-outs is enough", 45, func(b *body, a, z *design.Break) { a.Halves[1].Mount, z.Halves[1].Mount = "fixed", "fixed" }, "", 0, 0},
		{"sides not known: 40 - 32 is not", 40, func(b *body, a, z *design.Break) { a.Halves[1].Mount, z.Halves[1].Mount = "fixed", "fixed" }, "a hand on A", 8, 10},
	} {
		t.Run(w.name, func(t *testing.T) {
			b := wall()
			b.job.Runs = nil
			a, z := b.brk("A", "round", at(400, 0, 0)), b.brk("B", "round", at(400, w.dy, 0))
			if w.put != nil {
				w.put(b, a, z)
			}
			b.leave(a)
			b.leave(z)
			s := b.find()
			if w.why == "" {
				if len(s.Crowded) > 0 {
					t.Errorf("%+v", s.Crowded)
				}
				return
			}
			if len(s.Crowded) == 0 {
				t.Fatal("not crowded")
			}
			c := s.Crowded[0]
			if c.A != "A" || c.B != "B" || c.Why != w.why || !near(c.Gap, w.gap) || !near(c.Needed, w.needed) || c.Source == "" {
				t.Errorf("%+v", s.Crowded)
			}
		})
	}
}

func TestCrowdedByWall(t *testing.T) {
	b := wall()
	b.job.Runs = nil
	// A shelf that stands out 100 mm into the bay, 28 above the middle of A: 28 - 21 is less than 10 at the nut's side too (28 - 19 = 9).
	b.job.Panels = append(b.job.Panels, &design.Panel{Name: "shelf", Corners: []design.Point3{at(400, -300, 28), at(400, 300, 28), at(500, 300, 28), at(500, -300, 28)}})
	a := b.brk("A", "round", at(400, 0, 0))
	b.leave(a)
	s := b.find()
	if len(s.Crowded) != 1 || s.Crowded[0].B != "panel shelf" || s.Crowded[0].Why != "a hand on A" || !near(s.Crowded[0].Gap, 9) {
		t.Errorf("%+v", s.Crowded)
	}
	// On the cabin's side it is the flange that has 7.
	for i := range b.job.Panels[1].Corners {
		if c := &b.job.Panels[1].Corners[i]; c.X > 400 {
			c.X = 300
		}
	}
	if s = b.find(); len(s.Crowded) != 1 || s.Crowded[0].Why != "a tool at the flange of A" || !near(s.Crowded[0].Gap, 7) {
		t.Errorf("%+v", s.Crowded)
	}
}

func TestMisfits(t *testing.T) {
	what := func(b *body) (out []string) {
		for _, x := range b.find().Misfits {
			out = append(out, x.Kind+" "+x.Name+": "+x.What+": "+x.Text)
		}
		return out
	}
	b := wall()
	a := b.brk("A", "round", at(400, 0, 0))
	b.clip("c-1", 100, 100, "nut-m5")
	b.clip("c-2", 100, -100, "nut-m5")
	if got := what(b); len(got) != 0 {
		t.Errorf("%v", got)
	}
	b.job.Panels[0].Thickness, a.Flange = 4, "boot"
	want := []string{"break A: thickness: round grips 1 to 3 mm, the panel is 4 mm",
		"break A: flange: the flange is said to sit in zone boot; the panel lies between bay and cabin",
		"fastener nut-m5: thickness: it grips 0.5 to 3 mm, the panel is 4 mm (c-2, c-1)"}
	if got := what(b); !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	b.job.Panels[0].Thickness, a.Flange = 0, ""
	if got := what(b); len(got) != 0 {
		t.Errorf("thickness not stated: %v", got)
	}
	a.Halves[0].Mount = "free"
	if got := what(b); len(got) != 1 || !strings.HasPrefix(got[0], "break A: mount: neither of its halves is fixed") {
		t.Errorf("%q", got)
	}
	a.Halves[0].Mount = "fixed"
}

func TestMasks(t *testing.T) {
	b := wall()
	b.brk("A", "round", at(400, 0, 0)).Flange = "bay" // wet
	b.brk("B", "round", at(400, 150, 0)).Flange = "cabin"
	b.brk("C", "square", at(400, -150, 0)).Flange = "cabin"
	post := b.brk("P", "post", at(400, 0, 200))
	post.Halves[0].Contacts, post.Halves[1].Contacts = "", ""
	b.clip("c-1", 100, 150, "nut-m5")
	b.clip("c-2", 100, -150, "screw-m5")
	screen := func(name string) net.Wire {
		return net.Wire{Kind: net.Screen, Ends: [2]net.Termination{{Kind: net.InHalf, Break: name}, {Kind: net.CutBack}}}
	}
	b.nt.Wires = []net.Wire{screen("B"), screen("C")}
	s := b.find()
	var got []string
	for _, x := range s.Masks {
		got = append(got, x.Mark+": "+x.What+" "+x.Size.String()+" "+x.Side+" "+x.Note)
	}
	slices.Sort(got)
	want := []string{"A: seat under the flange of A 42 mm bay it seals against wet on an even face", "B: bare seat under the flange of B 42 mm cabin it earths a screen", "c-1: thread M5 of rivet nut 0 mm cabin "}
	if !slices.Equal(got, want) {
		t.Errorf("%q", got)
	}
	if !mount(t, s, "B").Bond || mount(t, s, "C").Bond || mount(t, s, "A").Bond {
		t.Error("a bond where the housing is metal and a screen passes, and nowhere else")
	}
}

func TestUnderFlange(t *testing.T) {
	// A square flange of 60 x 50 over a cut-out of 40 x 30: a hole 28 beside its middle is 5 of 6 mm from the cut-out, and one 32 beside it, 3 in
	// radius, reaches 1 mm under the flange.
	for _, w := range []struct {
		at     unit.Length
		turn   unit.Angle
		flange string
		crowd  bool
	}{{32, 0, "bay", true}, {34, 0, "bay", false}, {29, 90, "bay", false}, {27, 90, "bay", true}, {32, 0, "", true}, {32, 30, "", false}} {
		b := wall()
		b.job.Runs = nil
		x := b.brk("A", "square", at(400, 0, 0))
		x.Turn, x.Flange = w.turn, w.flange
		b.job.Runs = wall().job.Runs
		if w.flange == "" {
			x.Halves[0].Mount = "free"
		}
		b.hole("h", at(400, w.at, 0), 6, "", "")
		s := b.find()
		var why []string
		for _, c := range s.Crowded {
			why = append(why, c.A+" "+c.B+" "+c.Why)
		}
		if w.crowd && !slices.Equal(why, []string{"A hole h hole h lies under the flange of A"}) || !w.crowd && len(why) > 0 {
			t.Errorf("%+v: %q", w, why)
		}
	}
}

func TestFlangeOverEdge(t *testing.T) {
	what := func(b *body) (out []string) {
		for _, x := range b.find().Misfits {
			out = append(out, x.Text)
		}
		return out
	}
	b := wall()
	b.brk("A", "round", at(400, 280, 0)) // 20 from the edge, the flange 21 in radius
	if got := what(b); !slices.Equal(got, []string{"its flange, 42 mm, stands over the edge of the sheet"}) {
		t.Errorf("%q", got)
	}
	b.job.Breaks[0].At.Y = 279
	if got := what(b); len(got) != 0 {
		t.Errorf("%q", got)
	}
	// Beside a panel that goes on in the same plane there is no edge.
	b.job.Breaks[0].At.Y = 280
	b.job.Panels = append(b.job.Panels, &design.Panel{Name: "next", Corners: []design.Point3{at(400, 300, -300), at(400, 500, -300), at(400, 500, 300), at(400, 300, 300)}})
	if got := what(b); len(got) != 0 {
		t.Errorf("%q", got)
	}
}

// Two square flanges of 34, 29 apart both ways, cover one another's corners; round ones of 34 would be 7 apart. A square cut-out is one too.
func TestSquareIsNotRound(t *testing.T) {
	for _, w := range []struct {
		high  unit.Length
		meets bool
	}{{34, true}, {0, false}} {
		b := wall()
		b.job.Runs = nil
		b.job.Parts.Housings = append(b.job.Parts.Housings, &design.Housing{Part: design.Part{Name: "own"}, CutOut: 20, CutHigh: w.high / 34 * 20, Flange: [2]unit.Length{34, w.high}})
		b.leave(b.brk("A", "own", at(400, 0, 0)))
		b.leave(b.brk("B", "own", at(400, 29, 29)))
		s := b.find()
		if got := len(s.Crowded) > 0 && s.Crowded[0].Why == "the flanges meet"; got != w.meets {
			t.Errorf("height %v: %+v", w.high, s.Crowded)
		}
		if m := mount(t, s, "A"); m.Flange != [2]unit.Length{34, w.high} || (m.CutOut[1] > 0) != w.meets {
			t.Errorf("%+v", *m)
		}
	}
}

// A connector that was moved on a painted body leaves its old cut-out and screws: metal is asked about the cut-out, and nothing among themselves.
func TestOldPattern(t *testing.T) {
	b := wall()
	b.job.Painted = "B"
	old := func(name, note string, y, z, drill, high unit.Length) {
		h := b.hole(name, at(400, y, z), drill, "", "B")
		h.High, h.Note = high, note
	}
	old("A", "for break A", 0, 0, 40, 30)
	old("A-screw-1", "for screw 1 of break A", 20, 19, 4.3, 0) // 4 beside its cut-out, 1.85 of metal
	old("A-screw-2", "for screw 2 of break A", 26, 19, 4.3, 0) // 6 beside the other screw
	// Moved by 60: 60 - 20 - 20 of metal, where 3 diameters of 40 would be 120.
	b.brk("A", "square", at(400, 60, 0)).Flange = "cabin"
	if s := b.find(); len(s.Close) != 0 {
		t.Errorf("%+v", s.Close)
	}
	// Moved by 44 there are 4 of 6.
	b.job.Breaks[0].At.Y = 44
	s := b.find()
	found := false
	for _, c := range s.Close {
		if !c.Metal {
			t.Errorf("%+v", c)
		}
		found = found || near(c.Distance, 4) && near(c.Needed, 6)
	}
	if !found {
		t.Errorf("%+v", s.Close)
	}
	// A large old hole of no known origin is held by metal too, a small one by diameters.
	b = wall()
	b.hole("large", at(400, 0, 0), 30, "", "A")
	b.hole("new", at(400, 0, 25), 5, "", "")
	b.hole("small", at(400, 100, 0), 5, "", "A")
	b.hole("next", at(400, 100, 14), 5, "", "")
	if s = b.find(); len(s.Close) != 1 || s.Close[0].Metal || !near(s.Close[0].Needed, 15) {
		t.Errorf("%+v", s.Close)
	}
}
