package fix

import (
	"fmt"
	"slices"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// stolen is a clip by hand at the beginning of a trunk, whose hole turned round would stand beside that of clip b2-2 of a branch: the branch has no other
// place there, between two keep-outs.
func stolen() *rig {
	job := &design.Job{Parts: library(), Zones: []*design.Zone{{Name: "bay"}}}
	job.Settings.Lines = []design.Setting{set("clip-span", "62 mm"), set("clip-end", "40 mm"), set("clip-clear", "1 mm"), set("clip-short", "0 mm"), set("clip-beside", "0 mm")}
	floor := &design.Panel{Name: "floor", Thickness: 1, Zones: []string{"bay", "bay"}, Corners: []design.Point3{at3(-720, -720, 0), at3(720, -720, 0), at3(720, 720, 0), at3(-720, 720, 0)}}
	for _, k := range [][4]unit.Length{{0, 16, 10, 26}, {0, -2, 38, 9}} {
		floor.KeepOuts = append(floor.KeepOuts, []design.Point3{at3(k[0], k[1], 0), at3(k[2], k[1], 0), at3(k[2], k[3], 0), at3(k[0], k[3], 0)})
	}
	job.Panels = []*design.Panel{floor}
	r := &rig{job: job}
	run := func(name string, outside unit.Length, nodes ...design.Spot) {
		x := &design.Run{Name: name, Zone: "bay", Section: "tub", Panel: "floor", Stretches: []design.Stretch{{Nodes: nodes}}}
		x.Bend = design.Fact[unit.Length]{Spread: unit.Exactly(unit.Length(0)), Given: true}
		job.Runs = append(job.Runs, x)
		r.wire(nodes[0].Node, nodes[len(nodes)-1].Node, outside, along(name, 0))
	}
	n1, n2 := spotAt("n1", at3(167, 246, 8)), spotAt("n2", at3(70, 3, 8))
	run("trunk", 5, spotAt("n0", at3(0, 5, 8)), n1, n2, spotAt("n3", at3(-322, -319, 8)))
	run("b1", 3, n1, spotAt("end-b1", at3(-457, -26, 8)))
	run("b2", 3, n2, spotAt("end-b2", at3(-130, 0, 8)))
	r.wires[1].from, r.wires[2].from = "nowhere", "nowhere"
	job.Fixings = []*design.Fixing{{Name: "trunk-1", Run: "trunk", After: 0.3565113571821712}}
	return r
}

// frozen states the holes that the clips of a plan ask for, those of clips by hand only where they are asked for too, and paints the body.
func (r *rig) frozen(p *Plan, byHand bool) {
	for _, x := range p.Runs {
		for _, c := range x.Clips {
			if (c.Why != "fixed" || byHand) && c.Hole == "" && c.HoleKnown && (c.With == "" || c.Mark < c.With) {
				r.job.Holes = append(r.job.Holes, &design.Hole{Name: "at-" + c.Mark, Spot: spotAt("at-"+c.Mark, c.HoleAt), Panel: c.Panel, Drill: c.Drill, Fastener: c.Fastener})
			}
		}
	}
	slices.SortFunc(r.job.Holes, func(a, b *design.Hole) int { return design.Natural(a.Name, b.Name) })
	for _, h := range r.job.Holes {
		h.Frozen = "B"
	}
	for _, f := range r.job.Fixings {
		f.Frozen = "B"
	}
	r.job.Painted = "B"
}

func holesOf(p *Plan) (out []string) {
	for _, x := range p.Runs {
		for _, c := range x.Clips {
			out = append(out, fmt.Sprintf("%s after %g in %.3v", x.Run, float64(c.After), c.HoleAt))
		}
	}
	return out
}

// A frozen job built again has every clip in the hole it had: a clip by hand, whether its own hole is stated or not, takes none that another clip needs.
func TestClipByHandKeepsToItsHole(t *testing.T) {
	for _, byHand := range []bool{false, true} {
		r := stolen()
		first := r.find()
		if c := planOf(first, "b2").Clips; len(c) != 4 || len(first.Misses) != 1 {
			t.Fatalf("%v, misses %v", clipsOf(planOf(first, "b2")), missText(t, first))
		}
		r.frozen(first, byHand)
		again := r.find()
		if a, b := holesOf(first), holesOf(again); !slices.Equal(a, b) {
			t.Errorf("its own hole stated: %t\nfirst %q\nagain %q", byHand, a, b)
		}
		if len(again.Misses) > len(first.Misses) {
			t.Errorf("its own hole stated: %t, misses %v", byHand, missText(t, again))
		}
		for _, x := range again.Runs {
			for _, c := range x.Clips {
				if c.NewHole || byHand && c.Why == "fixed" && c.Hole != "at-"+c.Mark {
					t.Errorf("its own hole stated: %t: %s in hole %q, new: %t", byHand, c.Mark, c.Hole, c.NewHole)
				}
			}
		}
	}
}

// Where a clip by hand has no hole and may have none, it stays in that of the other, which misses it.
func TestClipByHandWithoutHoleOfItsOwn(t *testing.T) {
	r := stolen()
	first := r.find()
	r.frozen(first, false)
	r.job.Fixings[0].Frozen = ""
	again := r.find()
	if c := planOf(again, "trunk").Clips[0]; c.Hole != "at-b2-2" || c.NewHole {
		t.Errorf("%+v", c)
	}
	if len(again.Misses) != len(first.Misses)+1 {
		t.Errorf("misses %v", missText(t, again))
	}
}

// So it is where the holes are stated, its own by name, and nothing is frozen yet.
func TestClipByHandLeavesHoleToAnother(t *testing.T) {
	r := stolen()
	first := r.find()
	r.frozen(first, true)
	r.job.Painted, r.job.Fixings[0].Frozen, r.job.Fixings[0].Hole = "", "", "at-trunk-1"
	for _, h := range r.job.Holes {
		h.Frozen = ""
	}
	again := r.find()
	if a, b := holesOf(first), holesOf(again); !slices.Equal(a, b) || len(again.Misses) > len(first.Misses) {
		t.Errorf("first %q\nagain %q, misses %v", a, b, missText(t, again))
	}
}

// Jobs of which, once their holes were there, a way took a hole that was made for another or for a place further on of itself, just as near to its clip with the
// ear turned round: it missed as much as before in all, or less, but what was held before was missed, and holes were asked for in a painted body.
func TestHolesAreThoseOfTheirClips(t *testing.T) {
	for _, x := range []struct {
		what string
		drawn
	}{
		{"that of a bend, beside a clip by hand", drawn{span: 60, end: 55, clear: 2, nodes: [][2]int{{-298, 0}, {-8, 0}, {-287, -18}, {-558, 321}}, length: 101, outside: 1,
			keepOuts: [][4]int{{0, 0, 10, 10}}, branches: []drawnBranch{{from: 1, moves: true}, {from: 2, end: [2]int{0, 269}, moves: true}}, fixings: []float64{0.25, 3}}},
		{"that of a branch, by another branch that misses its breakout", drawn{span: 75, end: 40, ofB1: 60, bend: 27, nodes: [][2]int{{-5, 272}, {18, -4}, {-4, -30}, {319, -3}}, outside: 9,
			keepOuts: [][4]int{{0, 1, 256, 33}, {21, 471, 260, 288}}, branches: []drawnBranch{{from: 1, end: [2]int{582, 1}}, {from: 2, end: [2]int{595, -2}}}}},
		{"that of a branch, by the trunk that misses its end", drawn{span: 60, end: 41, ofB1: 60, nodes: [][2]int{{-1, 0}, {78, -1}, {-358, 0}, {700, -120}, {310, 654}, {0, -243}}, outside: 1,
			keepOuts: [][4]int{{0, 5, 176, 73}}, branches: []drawnBranch{{from: 3, end: [2]int{-67, -4}}, {from: 4, end: [2]int{0, 445}}}}},
		{"its own further on", drawn{span: 60, end: 72, nodes: [][2]int{{3, -1}, {0, -317}, {-32, -78}}, outside: 4,
			keepOuts: [][4]int{{0, -316, 60, 293}, {0, 0, 10, 10}}, branches: []drawnBranch{{from: 1, end: [2]int{0, 2}}}, fixings: []float64{1e-9, 1e-100}}},
	} {
		r := x.rig()
		r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-beside", "0 mm"))
		first := r.find()
		r.frozen(first, false)
		again := r.find()
		if a, b := holesOf(first), holesOf(again); !slices.Equal(a, b) {
			t.Errorf("%s:\nfirst %q\nagain %q", x.what, a, b)
		}
		if newHolesOf(again) > 0 || len(first.Misses) == 0 || len(again.Misses) > len(first.Misses) {
			t.Errorf("%s: %d new holes\nfirst %q\nagain %q", x.what, newHolesOf(again), missText(t, first), missText(t, again))
		}
	}
}

// Two ways that are not quite parallel share holes: once they are there, both clips are in them at the places they had.
func TestSharedHolesStayShared(t *testing.T) {
	r := drawn{span: 61, end: 46, clear: 27, short: 103, ofB1: 478, bend: 25, nodes: [][2]int{{70, -2}, {-48, 210}, {0, 5}, {-465, 46}, {-15, -583}}, length: 662, outside: 11,
		keepOuts: [][4]int{{-2, 4, 12, 193}}, branches: []drawnBranch{{from: 2, end: [2]int{-206, 10}}, {from: 3, end: [2]int{-7, 30}}}}.rig()
	first := r.find()
	pairs := 0
	for _, x := range first.Runs {
		for _, c := range x.Clips {
			if c.With != "" {
				pairs++
			}
		}
	}
	r.frozen(first, false)
	again := r.find()
	if a, b := holesOf(first), holesOf(again); !slices.Equal(a, b) || newHolesOf(again) > 0 || len(again.Misses) > 0 || pairs != 8 {
		t.Errorf("%d in holes of two\nfirst %q\nagain %q, misses %v", pairs, a, b, missText(t, again))
	}
}
