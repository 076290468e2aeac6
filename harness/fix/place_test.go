package fix

import (
	"fmt"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

func places(r *RunPlan) (out []float64) {
	for _, c := range r.Clips {
		out = append(out, float64(c.After))
	}
	return out
}

// Where clips go on a straight run of 4 mm between two studs. The settings are the defaults: span 300, end 100, clear 25, short 120.
func TestPlaces(t *testing.T) {
	fixed := func(at ...unit.Length) func(*design.Job) {
		return func(j *design.Job) {
			for i, a := range at {
				j.Fixings = append(j.Fixings, &design.Fixing{Name: fmt.Sprint("f", i), Run: "r", After: a})
			}
		}
	}
	for _, x := range []struct {
		what   string
		length unit.Length
		change func(*design.Job)
		want   []float64
		misses []string
	}{
		{"short: none of its own", 120, func(*design.Job) {}, nil, nil},
		{"one in the middle serves both ends", 180, func(*design.Job) {}, []float64{90}, nil},
		{"two stand evenly", 240, func(*design.Job) {}, []float64{80, 160}, nil},
		{"three and more", 900, func(*design.Job) {}, []float64{100, 333, 566, 800}, nil},
		{"no more than needed", 800, func(*design.Job) {}, []float64{100, 400, 700}, nil},
		{"stated ones serve", 800, fixed(50, 420), []float64{50, 235, 420, 700}, nil},
		{"thin bundles sag", 800, func(j *design.Job) { j.Settings.Lines = nil }, []float64{100, 300, 500, 700}, nil},
		{"the run's own span", 800, func(j *design.Job) {
			j.Settings.Lines = append(j.Settings.Lines, set("clip-span", "150 mm", "run", "r"), set("clip-span", "500 mm", "zone", "bay"))
		}, []float64{100, 250, 400, 550, 700}, nil},
		{"a stated one too near a stud", 800, fixed(20), []float64{20, 246, 473, 700}, []string{`shut  20-20 gap 0 limit 0 why "room at a" clip "f0"`}},
		{"a keep-out is leapt", 800, func(j *design.Job) {
			j.Panels[0].KeepOuts = [][]design.Point3{{at3(380, -50, 0), at3(420, -50, 0), at3(420, 50, 0), at3(380, 50, 0)}}
		}, []float64{100, 300, 500, 700}, nil}, // for three there is no place in the middle
		{"a wide keep-out", 800, func(j *design.Job) {
			j.Panels[0].KeepOuts = [][]design.Point3{{at3(150, -50, 0), at3(600, -50, 0), at3(600, 50, 0), at3(150, 50, 0)}}
		}, []float64{73, 146, 604, 702}, []string{`span  146-604 gap 458 limit 300 why "keep-out of panel floor" clip ""`}},
		{"a stated one in a keep-out", 800, func(j *design.Job) {
			fixed(400)(j)
			j.Panels[0].KeepOuts = [][]design.Point3{{at3(380, -50, 0), at3(420, -50, 0), at3(420, 50, 0), at3(380, 50, 0)}}
		}, []float64{100, 400, 700}, []string{`shut  400-400 gap 0 limit 0 why "keep-out of panel floor" clip "f0"`}},
		{"nothing near enough to a stud", 800, func(j *design.Job) {
			j.Panels[0].KeepOuts = [][]design.Point3{{at3(-50, -50, 0), at3(110, -50, 0), at3(110, 50, 0), at3(-50, 50, 0)}}
		}, []float64{114, 407, 700}, []string{`end a 0-100 gap 114 limit 100 why "room at a, keep-out of panel floor" clip ""`}},
		{"beyond the panel", 800, func(j *design.Job) {
			for i := range j.Panels[0].Corners[1:3] {
				j.Panels[0].Corners[1+i].X = 500
			}
		}, []float64{100, 292, 485}, []string{`end b 700-800 gap 315 limit 100 why "beyond panel floor, room at b" clip ""`}}, // 2 x 7.1 off the edge
		{"another hole is in the way", 800, func(j *design.Job) {
			j.Holes = []*design.Hole{{Name: "drain", Spot: spotAt("drain", at3(400, 0, 0)), Panel: "floor", Drill: 20}}
		}, []float64{100, 300, 500, 700}, nil}, // 3 x 20 to both sides
		{"a break's cut-out is in the way", 800, func(j *design.Job) {
			j.Parts.Housings = []*design.Housing{{Part: design.Part{Name: "round"}, CutOut: 30, Flange: [2]unit.Length{44}}}
			j.Breaks = []*design.Break{{Name: "A", Panel: "floor", Spot: spotAt("A", at3(400, 0, 0)), Halves: [2]design.Half{{Housing: "round"}, {}}}}
		}, []float64{100, 300, 500, 700}, nil},
		{"a hole that is there serves", 760, func(j *design.Job) {
			j.Holes = []*design.Hole{{Name: "old", Spot: spotAt("old", at3(390, 20, 0)), Panel: "floor", Drill: 7.1}}
		}, []float64{100, 390, 660}, nil},
		{"one of another size does not", 760, func(j *design.Job) {
			j.Holes = []*design.Hole{{Name: "old", Spot: spotAt("old", at3(390, 20, 0)), Panel: "floor", Drill: 6.5}} // in the way of a new one
		}, []float64{100, 370, 660}, nil},
		{"one of another panel does not", 760, func(j *design.Job) {
			j.Holes = []*design.Hole{{Name: "old", Spot: spotAt("old", at3(390, 20, 0)), Panel: "roof", Drill: 7.1}}
		}, []float64{100, 380, 660}, nil},
		{"one too far off does not", 760, func(j *design.Job) {
			j.Holes = []*design.Hole{{Name: "old", Spot: spotAt("old", at3(390, 60, 0)), Panel: "floor", Drill: 7.1}}
		}, []float64{100, 380, 660}, nil},
		{"once it is painted only what is frozen", 800, func(j *design.Job) {
			j.Painted = "B"
			j.Holes = []*design.Hole{{Name: "new", Spot: spotAt("new", at3(390, 20, 0)), Panel: "floor", Fastener: "rivet-nut-m5"}}
		}, []float64{100, 300, 500, 700}, nil}, // and it is in the way
		{"too long to be settled", 40_000, func(*design.Job) {}, nil, []string{`span  0-40000 gap 40000 limit 300 why "a piece this long without a node is not settled" clip ""`}},
	} {
		r := line(x.length)
		x.change(r.job)
		p := r.find()
		if d := cmp.Diff(x.want, places(planOf(p, "r"))); d != "" {
			t.Errorf("%s: %s", x.what, d)
		}
		if d := cmp.Diff(x.misses, missText(t, p)); d != "" {
			t.Errorf("%s: %s", x.what, d)
		}
	}
}

// A panel that goes on in the same plane has no edge where they meet, and its clips are its own.
func TestSeam(t *testing.T) {
	r := line(800)
	r.job.Panels[0].Corners = []design.Point3{at3(-100, -100, 0), at3(400, -100, 0), at3(400, 100, 0), at3(-100, 100, 0)}
	r.job.Panels = append(r.job.Panels, &design.Panel{Name: "rear", Thickness: 2, Zones: []string{"bay"},
		Corners: []design.Point3{at3(400, -100, 0), at3(900, -100, 0), at3(900, 100, 0), at3(400, 100, 0)}})
	p := r.find()
	if d := cmp.Diff([]float64{100, 400, 700}, places(planOf(p, "r"))); d != "" || len(p.Misses) > 0 {
		t.Errorf("%s %v", d, missText(t, p))
	}
	var on []string
	for _, c := range planOf(p, "r").Clips {
		on = append(on, c.Panel)
	}
	if !slices.Equal(on, []string{"floor", "floor", "rear"}) {
		t.Errorf("on %q", on)
	}
	// Where they lie in different planes each has its edge.
	for i := range r.job.Panels[1].Corners {
		r.job.Panels[1].Corners[i].Z = 40
	}
	if p := r.find(); len(p.Misses) == 0 {
		t.Errorf("clips %v on a panel that ends at 400", places(planOf(p, "r")))
	}
}

// A bend wants a clip beside its arc and none on it. With a radius of 100 the arc of a right angle is 157 long.
func TestBend(t *testing.T) {
	r := line(500)
	r.job.Runs[0].Bend = design.Fact[unit.Length]{Spread: unit.Exactly(unit.Length(100)), Given: true}
	r.job.Runs[0].Panel = ""
	r.job.Runs[0].Stretches[0].Nodes = []design.Spot{spotAt("a", at3(0, 0, 10)), {At: at3(500, 0, 10), Known: true}, spotAt("b", at3(500, 500, 10))}
	r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-span", "2000 mm"))
	p := planOf(r.find(), "r")
	// The arc begins at 400 and ends at 557.1.
	var bends []string
	for _, b := range p.Bends {
		bends = append(bends, fmt.Sprintf("%.1f %s %s", float64(b.After), b.Turn, b.Radius))
	}
	if d := cmp.Diff([]string{"478.5 90 deg 100 mm"}, bends); d != "" {
		t.Error(d)
	}
	if len(p.Clips) != 3 || p.Clips[1].Why != "bend" || p.Clips[1].After < 350 || p.Clips[1].After > 607.1 || p.Clips[1].After > 400 && p.Clips[1].After < 557.1 {
		t.Errorf("%v", clipsOf(p))
	}
	r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-bend", "91 deg"))
	if p := planOf(r.find(), "r"); len(p.Clips) != 2 {
		t.Errorf("a bend that wants no clip: %v", clipsOf(p))
	}
}

// A moving stretch is held close to its ends and nowhere else, whatever the span.
func TestMovingStretch(t *testing.T) {
	r := line(900)
	r.job.Runs[0].Stretches[0].Moves = 20
	p := r.find()
	if d := cmp.Diff([]float64{25, 875}, places(planOf(p, "r"))); d != "" || len(p.Misses) > 0 {
		t.Errorf("%s %v", d, missText(t, p))
	}
	// A hole that is there goes before the nearest place; a stated clip in between is no clip of the two.
	r.job.Holes = []*design.Hole{{Name: "old", Spot: spotAt("old", at3(60, 0, 0)), Panel: "floor", Fastener: "bolt-m6"}}
	r.job.Fixings = []*design.Fixing{{Name: "mid", Run: "r", After: 400}}
	if d := cmp.Diff([]string{"old 60 end", "mid 400 fixed", "r-1 875 end"}, clipsOf(planOf(r.find(), "r"))); d != "" {
		t.Error(d)
	}
}

// A splice is never clipped.
func TestSplice(t *testing.T) {
	r := line(800)
	r.job.Splices = []*design.Splice{{Name: "s1", Along: "r", After: 410, Section: "tub"}}
	nt, b := r.laid()
	nt.Joints = []net.Joint{{Splice: "s1", Node: nt.Space.Find("s1"), Run: "r", After: 410}}
	p := Find(r.job, nt, b)
	if d := cmp.Diff([]float64{100, 300, 500, 700}, places(planOf(p, "r"))); d != "" {
		t.Error(d)
	}
}

// The branches of a fan are each held at their connector; one not much longer than clip-end has no second clip at its root.
func TestTails(t *testing.T) {
	r := line(400)
	r.job.Runs[0].Panel = ""
	fan := &design.Run{Name: "fan", Zone: "bay", Section: "tub"}
	for i, l := range []unit.Length{110, 200, 220, 260} {
		// No two of them so close that their holes meet.
		far := at3(400+l, 0, 10)
		if i > 0 {
			far = at3(400, []unit.Length{0, l, -l, 0}[i], []unit.Length{0, 10, 10, 10 + l}[i])
		}
		fan.Stretches = append(fan.Stretches, design.Stretch{Nodes: []design.Spot{spotAt("b", at3(400, 0, 10)), spotAt(fmt.Sprint("t", i), far)}})
	}
	r.job.Runs = append(r.job.Runs, fan)
	r.wires = nil
	for i := range 4 {
		r.wire("a", fmt.Sprint("t", i), 4, along("r", 0), along("fan", i))
	}
	var got []string
	p := r.find()
	for i := range p.Runs {
		if x := &p.Runs[i]; x.Run == "fan" {
			got = append(got, fmt.Sprint(float64(x.Length), clipsOf(x)))
		}
	}
	want := []string{"110 []", "200 [fan-1 100 end]", "220 [fan-2 120 end]", "260 [fan-3 86 breakout fan-4 173 end]"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	// The trunk's hub is a breakout; what it is held by lies off it.
	hub := planOf(p, "r").Nodes[1]
	if !hub.Breakout || hub.Ends || !planOf(p, "r").Nodes[0].Ends {
		t.Errorf("%+v", planOf(p, "r").Nodes)
	}
	// Where the span asks for a second clip all the same, the two stand evenly.
	r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-span", "200 mm"))
	p = r.find()
	if d := cmp.Diff([]string{"fan-2 73 breakout", "fan-3 146 end"}, clipsOf(&p.Runs[3])); d != "" {
		t.Error(d)
	}
}

// Where nothing leaves, a run goes on in the next: the gap over the join is held to the span, and the clips stand evenly over both.
func TestOnwards(t *testing.T) {
	r := line(500)
	r.job.Panels[0].Corners = []design.Point3{at3(-100, -100, 0), at3(1100, -100, 0), at3(1100, 100, 0), at3(-100, 100, 0)}
	r.job.Runs = append(r.job.Runs, &design.Run{Name: "s", Zone: "bay", Section: "tub", Panel: "floor",
		Stretches: []design.Stretch{{Nodes: []design.Spot{spotAt("c", at3(1000, 0, 10)), spotAt("b", at3(500, 0, 10))}}}})
	r.wires = nil
	r.wire("a", "c", 4, along("r", 0), along("s", 0))
	p := r.find()
	if d := cmp.Diff([]string{"r-1 100 end", "r-2 366 span"}, clipsOf(planOf(p, "r"))); d != "" {
		t.Error(d)
	}
	// The other run is written from its far end.
	if d := cmp.Diff([]string{"s-1 100 end", "s-2 367 span"}, clipsOf(planOf(p, "s"))); d != "" {
		t.Error(d)
	}
	// In another section it ends there.
	r.job.Runs[1].Section = "engine"
	if p := planOf(r.find(), "r"); len(p.Clips) != 2 || p.Clips[1].After < 350 {
		t.Errorf("%v", clipsOf(p))
	}
}

// A clip stands on each side of a breakout.
func TestBreakout(t *testing.T) {
	r := line(1000)
	r.job.Runs[0].Stretches[0].Nodes = slices.Insert(r.job.Runs[0].Stretches[0].Nodes, 1, spotAt("h", at3(500, 0, 10)))
	r.job.Runs = append(r.job.Runs, &design.Run{Name: "twig", Zone: "bay", Section: "tub",
		Stretches: []design.Stretch{{Nodes: []design.Spot{spotAt("h", at3(500, 0, 10)), spotAt("t", at3(500, 80, 10))}}}})
	r.wires = append(r.wires, rigWire{"h", "t", 2, [][2]any{along("twig", 0)}})
	r.wires[1].from = "nowhere"
	p := r.find()
	got := places(planOf(p, "r"))
	before := slices.ContainsFunc(got, func(x float64) bool { return x >= 400 && x <= 475 })
	after := slices.ContainsFunc(got, func(x float64) bool { return x >= 525 && x <= 600 })
	if !before || !after || len(got) != 4 || len(planOf(p, "twig").Clips) != 0 {
		t.Errorf("%v", got)
	}
}

func TestFixedClipBeyondItsRun(t *testing.T) {
	r := line(400)
	r.job.Fixings = []*design.Fixing{{Name: "r-7", Run: "r", After: 9000, Fastener: "screw-m5"}}
	p := planOf(r.find(), "r")
	c := p.Clips[len(p.Clips)-1]
	if c.Mark != "r-7" || c.Known || c.Bundle != 0 || c.After != 9000 || c.Fastener != "screw-m5" || len(p.Clips) != 3 {
		t.Errorf("%+v", p.Clips)
	}
}

func TestEmptyRunGetsNoClips(t *testing.T) {
	r := line(400)
	r.wires = nil
	if p := planOf(r.find(), "r"); len(p.Clips) != 0 || p.Wires != 0 || p.Note == "" || p.SpanLimit != 300 {
		t.Errorf("%+v", p)
	}
}

// A slip in a unit must not hang the program; what cannot be met is told.
func TestTinySpanEnds(t *testing.T) {
	r := line(1490)
	r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-span", "0.0001 mm"))
	if p := r.find(); len(p.Misses) == 0 {
		t.Error("no gap is too long")
	}
}
