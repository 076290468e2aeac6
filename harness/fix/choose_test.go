package fix

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// The fixing by the rule, and every way to override it: a line for the clip, the run's own, a set line.
func TestFixingChosen(t *testing.T) {
	for _, x := range []struct {
		what               string
		change             func(*design.Job)
		fastener, kind     string
		why, clip, clipWhy string
		hole               bool
	}{
		{"a sheet", func(j *design.Job) {}, "rivet-nut-m5", "rivet-nut", "panel floor is a sheet", "p-clip", "default", true},
		{"the back is seen", func(j *design.Job) { j.Panels[0].Seen = []string{"cabin"} }, "weld-stud-m5", "stud", "the back of panel floor is seen from zone cabin", "p-clip", "default", true},
		{"the front is seen", func(j *design.Job) { j.Panels[0].Seen = []string{"bay"} }, "rivet-nut-m5", "rivet-nut", "panel floor is a sheet", "p-clip", "default", true},
		{"both sides lie in one zone that sees it", func(j *design.Job) { j.Panels[0].Zones, j.Panels[0].Seen = []string{"bay", "bay"}, []string{"bay"} }, "weld-stud-m5", "stud", "the back of panel floor is seen from zone bay", "p-clip", "default", true},
		{"a stud with the thread of the rivet nut", func(j *design.Job) {
			j.Panels[0].Seen = []string{"cabin"}
			j.Parts.Fasteners[2].Thread = "M6"
		}, "weld-stud-m6", "stud", "the back of panel floor is seen from zone cabin", "p-clip", "default", true},
		{"a set stud stands", func(j *design.Job) {
			j.Panels[0].Seen = []string{"cabin"}
			j.Settings.Lines = append(j.Settings.Lines, set("fastener-seen", "weld-stud-m6"))
		}, "weld-stud-m6", "stud", "the back of panel floor is seen from zone cabin", "p-clip", "default", true},
		{"bonded", func(j *design.Job) { j.Panels[0].Skin = "bonded" }, "adhesive-base", "adhesive", "panel floor is bonded", "tie", "default", false},
		{"bonded, for all a screw", func(j *design.Job) {
			j.Panels[0].Skin = "bonded"
			j.Settings.Lines = append(j.Settings.Lines, set("fastener", "screw-m5"))
		}, "adhesive-base", "adhesive", "panel floor is bonded", "tie", "default", false},
		{"bonded, for the panel a screw", func(j *design.Job) {
			j.Panels[0].Skin = "bonded"
			j.Settings.Lines = append(j.Settings.Lines, set("fastener", "screw-m5", "panel", "floor"))
		}, "screw-m5", "screw", "set fastener, panel floor", "p-clip", "default", true},
		{"a tube", func(j *design.Job) { j.Runs[0].Panel, j.Runs[0].Tube = "", "hoop" }, "tie-mount", "tie", "round tube hoop", "tie", "default", false},
		{"a tube, the run's own", func(j *design.Job) {
			j.Runs[0].Panel, j.Runs[0].Tube, j.Runs[0].Fastener, j.Runs[0].Clip = "", "hoop", "screw-m5", "p-clip"
		}, "screw-m5", "screw", "run r", "p-clip", "run r", true},
		{"the run before the setting", func(j *design.Job) {
			j.Settings.Lines = append(j.Settings.Lines, set("fastener", "screw-m5", "panel", "floor"))
			j.Runs[0].Fastener = "weld-stud-m6"
		}, "weld-stud-m6", "stud", "run r", "p-clip", "default", true},
		{"for all a screw", func(j *design.Job) { j.Settings.Lines = append(j.Settings.Lines, set("fastener", "screw-m5")) }, "screw-m5", "screw", "set fastener, job", "p-clip", "default", true},
		{"the clip's own fastener", func(j *design.Job) { j.Parts.Clips[0].Fastener = "screw-m5" }, "screw-m5", "screw", "clip p-clip", "p-clip", "default", true},
		{"too hot", func(j *design.Job) { j.Zones[0].Air = 120 }, "rivet-nut-m5", "rivet-nut", "panel floor is a sheet", "p-clip-hot", "p-clip stands 100 C, zone bay has 120 C", true},
		{"too hot in a case", func(j *design.Job) {
			j.Cases = []*design.Case{{Name: "climb", ZoneAir: []design.ZoneAir{{Zone: "bay", Air: 130}}}}
		}, "rivet-nut-m5", "rivet-nut", "panel floor is a sheet", "p-clip-hot", "p-clip stands 100 C, zone bay has 130 C", true},
		{"too hot for all", func(j *design.Job) { j.Zones[0].Air = 300 }, "rivet-nut-m5", "rivet-nut", "panel floor is a sheet", "p-clip", "p-clip stands 100 C, zone bay has 300 C; no clip of the parts stands it", true},
		{"too hot, but stated", func(j *design.Job) { j.Zones[0].Air, j.Runs[0].Clip = 120, "p-clip" }, "rivet-nut-m5", "rivet-nut", "panel floor is a sheet", "p-clip", "run r", true},
		{"no panel", func(j *design.Job) { j.Runs[0].Panel = "" }, "rivet-nut-m5", "rivet-nut", "no panel stated", "p-clip", "default", true},
	} {
		r := line(400)
		x.change(r.job)
		p := planOf(r.find(), "r")
		if len(p.Clips) == 0 {
			t.Errorf("%s: no clip", x.what)
			continue
		}
		c := p.Clips[0]
		if c.Fastener != x.fastener || c.Kind != x.kind || c.KindWhy != x.why || c.Part != x.clip || c.ClipWhy != x.clipWhy || c.NewHole != x.hole {
			t.Errorf("%s: %s (%s, %q) in %s (%q), hole %v", x.what, c.Fastener, c.Kind, c.KindWhy, c.Part, c.ClipWhy, c.NewHole)
		}
	}
}

func TestStatedFixing(t *testing.T) {
	r := line(400)
	r.job.Holes = []*design.Hole{{Name: "old", Spot: spotAt("old", at3(300, 5, 0)), Panel: "floor", Fastener: "bolt-m6"}}
	r.job.Fixings = []*design.Fixing{{Name: "mine", Run: "r", After: 100, Fastener: "screw-m5", Clip: "tie"}}
	p := planOf(r.find(), "r")
	if len(p.Clips) != 2 {
		t.Fatalf("%v", clipsOf(p))
	}
	if c := p.Clips[0]; c.Mark != "mine" || c.Part != "tie" || c.Fastener != "screw-m5" || c.KindWhy != "stated" || c.ClipWhy != "stated" || !c.NewHole || c.Status != design.Stated {
		t.Errorf("%+v", c)
	}
	// A bolt that is there serves; the clip goes by its name and lies beside it.
	if c := p.Clips[1]; c.Mark != "old" || c.Hole != "old" || c.Kind != "bolt" || c.KindWhy != "hole old" || c.NewHole || c.After != 300 || c.HoleAt != at3(300, 5, 0) || c.Screw != 0 || c.ScrewSum != "the bolt that is there, with 2.4 more under its head" {
		t.Errorf("%+v", c)
	}
}

// The size holds the trade's figure; tape makes up for a bundle that packs closer.
func TestClipSizeAndWrap(t *testing.T) {
	r := line(400)
	r.wires = nil
	for range 7 {
		r.wire("a", "b", 2, along("r", 0))
	}
	// 1.2 sqrt(7 x 4) = 6.35 by the trade's figure, 6 where six lie round one.
	c := planOf(r.find(), "r").Clips[0]
	if c.ClipSize != 8 || unit.Number(float64(c.Bundle), 2) != "6.35" || unit.Number(float64(c.Least.Length()), 3) != "6" || unit.Number(float64(c.Wrap()), 3) != "2" {
		t.Errorf("size %s, bundle %s, least %s, wrap %s", c.ClipSize, c.Bundle, c.Least.Length(), c.Wrap())
	}
	r.job.Settings.Lines = append(r.job.Settings.Lines, set("clip-play", "2 mm"))
	if c := planOf(r.find(), "r").Clips[0]; c.Wrap() != 0 {
		t.Errorf("wrap %s within the play", c.Wrap())
	}
	r.job.Parts.Clips[0].Holds = []unit.Length{3, 6}
	if c := planOf(r.find(), "r").Clips[0]; c.ClipSize != 0 || c.Wrap() != 0 {
		t.Errorf("size %s, wrap %s where none fits", c.ClipSize, c.Wrap())
	}
}
