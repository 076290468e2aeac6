package shell_test

import (
	"fmt"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
)

func TestPanelPlaneAndSides(t *testing.T) {
	b := wall()
	b.job.Panels[0].KeepOuts = [][]design.Point3{{at(400, 100, 100), at(400, 200, 100), at(400, 200, 200)}}
	p := b.find().Panels[0]
	if !p.Flat || p.Curved != 0 || len(p.Outline) != 4 || len(p.KeepOuts) != 1 {
		t.Fatalf("%+v", p)
	}
	if f := p.Outline[1]; !near(f.U, 300) || !near(f.V, -300) {
		t.Errorf("corner 2 at %v", f)
	}
	if f := p.KeepOuts[0][2]; !near(f.U, 200) || !near(f.V, 200) {
		t.Errorf("keep-out at %v", f)
	}
	want := [2]shell.Side{{Zone: "bay", Known: true}, {Zone: "cabin", Seen: true, Known: true}}
	if p.Sides != want {
		t.Errorf("sides %+v", p.Sides)
	}
	b.job.Runs = nil
	if p = b.find().Panels[0]; p.Sides[0].Known || p.Sides[1].Known || p.Sides[0].Zone != "cabin" || !p.Sides[0].Seen {
		t.Errorf("nothing tells: %+v", p.Sides)
	}
}

func TestSideByRunBeside(t *testing.T) {
	b := wall()
	// A run that passes 80 mm before the wall, over it; nothing starts on it.
	b.job.Runs = []*design.Run{{Name: "r", Zone: "cabin", Stretches: []design.Stretch{{Nodes: []design.Spot{spot(at(320, -100, 0)), spot(at(320, 100, 0))}}}}}
	if p := b.find().Panels[0]; p.Sides[1] != (shell.Side{Zone: "cabin", Seen: true, Known: true}) || !p.Sides[0].Known {
		t.Errorf("%+v", p.Sides)
	}
	// One as close on each side: nobody knows.
	b.job.Runs[0].Stretches = append(b.job.Runs[0].Stretches, design.Stretch{Nodes: []design.Spot{spot(at(480, -100, 0)), spot(at(480, 100, 0))}})
	if p := b.find().Panels[0]; p.Sides[0].Known || p.Sides[1].Known {
		t.Errorf("%+v", p.Sides)
	}
}

func TestUnflatAndCurved(t *testing.T) {
	b := wall()
	b.job.Panels[0].Corners[2] = at(420, 300, 300)
	s := b.find()
	// One corner of a square 20 mm out of the plane of the other three: the fitted plane leaves each about a quarter of that.
	if len(s.Unflat) != 1 || s.Unflat[0].Panel != "wall" || s.Unflat[0].Off < 4.5 || s.Unflat[0].Off > 5.5 || s.Unflat[0].Most != 3 {
		t.Fatalf("%+v", s.Unflat)
	}
	b = wall()
	b.job.Panels[0].Points, b.job.Panels[0].Corners = []design.Point3{at(400, -300, -300), at(400, 300, -300), at(400, 300, 300), at(400, -300, 300), at(440, 0, 0)}, nil
	s = b.find()
	// Four at 0 and one at 40: the plane lies at their mean, 8; the furthest is 32 off.
	if p := s.Panels[0]; p.Flat || len(s.Unflat) != 0 || !near(p.Curved, 32) || len(p.Outline) != 4 {
		t.Fatalf("%+v %+v", p, s.Unflat)
	}
}

func TestSeams(t *testing.T) {
	b := wall()
	// Above it another panel along the whole upper side, beside it one along half of its right side.
	b.job.Panels = append(b.job.Panels, &design.Panel{Name: "upper", Corners: []design.Point3{at(400, -300, 300), at(400, 300, 300), at(400, 300, 500), at(400, -300, 500)}},
		&design.Panel{Name: "right", Corners: []design.Point3{at(400, 300, -300), at(400, 500, -300), at(400, 500, 0), at(400, 300, 0)}})
	b.hole("a", at(400, 0, 295), 6, "", "")    // beside the seam
	b.hole("b", at(400, 295, -100), 6, "", "") // beside the covered half
	b.hole("c", at(400, 295, 100), 6, "", "")  // beside the free half: 5 mm where 12 are asked
	s := b.find()
	for _, p := range s.Panels {
		if want := map[string][]int{"wall": {2}, "upper": {0}, "right": {3}}[p.Name]; !slices.Equal(p.Seams, want) {
			t.Errorf("%s: seams %v, want %v", p.Name, p.Seams, want)
		}
	}
	if len(s.AtEdge) != 1 || s.AtEdge[0].Mark != "c" || !near(s.AtEdge[0].Distance, 5) || !near(s.AtEdge[0].Needed, 12) {
		t.Errorf("%+v", s.AtEdge)
	}
}

// boxBody is a body of four walls, a floor and a roof, 2000 long (x aft), 1000 wide, 500 high.
func boxBody() *body {
	b := wall()
	b.job.Runs = nil
	add := func(name string, c ...design.Point3) {
		b.job.Panels = append(b.job.Panels, &design.Panel{Name: name, Corners: c})
	}
	b.job.Panels = nil
	add("aft", at(2000, -500, 0), at(2000, 500, 0), at(2000, 500, 500), at(2000, -500, 500))
	add("floor", at(0, -500, 0), at(2000, -500, 0), at(2000, 500, 0), at(0, 500, 0))
	add("front", at(0, -500, 0), at(0, 500, 0), at(0, 500, 250), at(0, -500, 250))
	add("front-high", at(0, -500, 250), at(0, 500, 250), at(0, 500, 500), at(0, -500, 500))
	add("left", at(0, -500, 0), at(2000, -500, 0), at(2000, -500, 500), at(0, -500, 500))
	add("nowhere")
	add("right", at(0, 500, 0), at(2000, 500, 0), at(2000, 500, 500), at(0, 500, 500))
	add("roof", at(0, -500, 500), at(2000, -500, 500), at(2000, 500, 500), at(0, 500, 500))
	return b
}

func TestWalkRound(t *testing.T) {
	walk := func(b *body) (out []string) {
		for i, p := range b.find().Panels {
			if p.Walk != i+1 {
				t.Errorf("%s: walk %d", p.Name, p.Walk)
			}
			out = append(out, p.Name)
		}
		return out
	}
	// From the front (least x), clockwise from above with y to the right: front, right, aft, left; then what is level.
	want := []string{"front", "front-high", "right", "aft", "left", "floor", "roof", "nowhere"}
	b := boxBody()
	if got := walk(b); !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
	slices.Reverse(b.job.Panels)
	if got := walk(b); !slices.Equal(got, want) {
		t.Errorf("other order of lines: %v", got)
	}
	// The same body with its length along y, so that it is walked from least y: what was x is y, what was y is -x.
	for _, p := range b.job.Panels {
		for i, c := range p.Corners {
			p.Corners[i] = at(-c.Y, c.X, c.Z)
		}
	}
	if got := walk(b); !slices.Equal(got, want) {
		t.Errorf("along y: %v", got)
	}
	// And with y up: x, y, z become x, -z, y; the handedness stays.
	b = boxBody()
	b.job.Up = "y"
	for _, p := range b.job.Panels {
		for i, c := range p.Corners {
			p.Corners[i] = at(c.X, c.Z, -c.Y)
		}
	}
	if got := walk(b); !slices.Equal(got, want) {
		t.Errorf("y up: %v", got)
	}
}

func TestHolesInWalkingOrder(t *testing.T) {
	b := boxBody()
	hole := func(panel, name string, p design.Point3, drill unit.Length) {
		b.hole(name, p, drill, "", "").Panel = panel
	}
	hole("aft", "a1", at(2000, 0, 100), 5)
	hole("right", "r1", at(100, 500, 100), 8)
	hole("right", "r2", at(500, 500, 100), 5)
	hole("right", "r3", at(100, 500, 300), 5)
	hole("right", "r4", at(300, 500, 100), 5)
	hole("front", "f1", at(0, 0, 100), 30)
	hole("", "x", at(0, 0, 0), 5)
	// On the right panel the 5 mm drill first, from corner 1 at (0, 500, 0): r4 is 316 off, r3 316 too, r2 510.
	// Nearest first from there: r3 (by mark) - r4 - r2, 316 + 283 + 200 = 799; r4 - r2 - r3 is 316 + 200 + 447 = 963.
	if got := marks(b.find()); fmt.Sprint(got) != "[f1 r3 r4 r2 r1 a1 x]" {
		t.Errorf("%v", got)
	}
}

// A panel's map is seen from where its holes are drilled: the cabin lies against the wall's normal.
func TestMapSideIsThatOfTheRows(t *testing.T) {
	b := wall()
	b.clip("c", 0, 0, "nut-m5")
	if s := b.find(); holeOf(t, s, "c").From != "cabin" || !s.Panels[0].Against {
		t.Errorf("%+v", s.Panels[0])
	}
	b.held.Runs[0].Zone = "bay"
	if s := b.find(); s.Panels[0].Against {
		t.Errorf("%+v", s.Panels[0])
	}
}

// One hole that a walk along a row leaves aside is put between those it lies beside, not at the end.
func TestWalkLeavesNoneBehind(t *testing.T) {
	b := wall()
	b.job.Runs = nil
	for i, p := range [][2]unit.Length{{-285, -275}, {-290, -255}, {-230, -225}, {-207, -275}, {-130, -275}, {-85, -218}, {-55, -275}, {-25, -240}, {0, -240}, {40, -262}, {0, -165}, {0, -90}, {40, -35}, {-155, -198}} {
		b.hole(fmt.Sprintf("h-%d", i), at(400, p[0], p[1]), 5, "", "")
	}
	s := b.find()
	length, best := unit.Length(0), unit.Length(0)
	for i := range s.Holes[1:] {
		length += solid.Between(s.Holes[i].At, s.Holes[i+1].At)
	}
	// No hole can be taken out and put elsewhere for a shorter walk.
	for i := 1; i < len(s.Holes)-1; i++ {
		for j := 1; j < len(s.Holes)-1; j++ {
			if j == i || j == i-1 {
				continue
			}
			a, x, c, p, q := s.Holes[i-1].At, s.Holes[i].At, s.Holes[i+1].At, s.Holes[j].At, s.Holes[j+1].At
			best = max(best, solid.Between(a, x)+solid.Between(x, c)-solid.Between(a, c)-(solid.Between(p, x)+solid.Between(x, q)-solid.Between(p, q)))
		}
	}
	if last := s.Holes[len(s.Holes)-1].Mark; best > 0.01 || last == "h-13" {
		t.Errorf("%v in all, %v could be saved, ends at %s: %v", length, best, last, marks(s))
	}
}
