package shell_test

import (
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// The ear of a clip puts its hole beside the bundle: that place is drilled, taped and frozen.
func TestHoleUnderEar(t *testing.T) {
	b := wall()
	c := b.clip("c", 50, 60, "nut-m5")
	c.HoleAt, c.HoleKnown, c.Ear, c.EarSide = at(400, 50, 74), true, 14, "above the bundle"
	s := b.find()
	h := holeOf(t, s, "c")
	if h.At != at(400, 50, 74) || h.Middle || h.Off != 0 || !near(h.Flat.V, 74) || h.Note != "the middle of the bundle lies 14 mm below it" {
		t.Errorf("%+v", *h)
	}
	if d := s.Decisions[0]; d.At != at(400, 50, 74) {
		t.Errorf("%+v", d)
	}
	for side, want := range map[string]string{"below the bundle": "14 mm above it", "beside the bundle, at larger y": "14 mm beside it, at smaller y", "beside the bundle, at smaller x": "14 mm beside it, at larger x",
		"between the two bundles": "between the two bundles, 14 mm"} {
		b.held.Runs[0].Clips[0].EarSide = side
		if h = holeOf(t, b.find(), "c"); !strings.Contains(h.Note, want) {
			t.Errorf("%s: %q", side, h.Note)
		}
	}
	// Frozen there, it says so still; in a hole elsewhere the clip is turned as it comes.
	b.held.Runs[0].Clips[0].EarSide = "above the bundle"
	x := b.hole("c", at(400, 50, 74), 7.1, "nut-m5", "B")
	if h = holeOf(t, b.find(), "c"); h.Kind != "clip" || h.New || !strings.Contains(h.Note, "14 mm") {
		t.Errorf("%+v", *h)
	}
	x.At = at(400, 60, 70)
	b.held.Runs[0].Clips[0].Hole, b.held.Runs[0].Clips[0].HoleAt = "c", x.At
	if h = holeOf(t, b.find(), "c"); h.Kind != "clip" || h.Note != "" {
		t.Errorf("%+v", *h)
	}
}

// On a sheet that is not flat the hole lies on the sheet as it was measured: a ridge of 30 along the middle of 600.
func TestHoleOnMeasuredSheet(t *testing.T) {
	b := wall()
	b.job.Panels[0].Points = []design.Point3{at(400, -300, -300), at(430, 0, -300), at(400, 300, -300), at(400, -300, 300), at(430, 0, 300), at(400, 300, 300)}
	b.job.Panels[0].Corners = nil
	for _, w := range []struct{ y, z, x unit.Length }{{0, -300, 430}, {0, 0, 430}, {-150, 0, 415}, {200, 100, 410}, {300, 200, 400}, {-300, -300, 400}} {
		b.held.Runs = nil
		b.clip("c", w.y, w.z, "nut-m5")
		if h := holeOf(t, b.find(), "c"); !near(h.At.X, w.x) || !near(h.At.Y, w.y) || !near(h.At.Z, w.z) {
			t.Errorf("%v: %v", w, h.At)
		}
	}
	// 388 is 27 off the sheet at 415, whatever the mean plane is.
	b.held.Runs = nil
	b.clip("c", -150, 0, "nut-m5")
	h := holeOf(t, b.find(), "c")
	if !near(h.Off, 27) || len(h.Refs) != 2 {
		t.Fatalf("%+v", *h)
	}
	// Beyond what was measured the sheet goes on as at its rim.
	b.held.Runs = nil
	b.clip("c", 320, 0, "nut-m5")
	if h := holeOf(t, b.find(), "c"); !near(h.At.X, 400) {
		t.Errorf("%v", h.At)
	}
}

// A stated hole must be within reach of the clip that is said to use it, and of its size.
func TestStatedHoleOfClip(t *testing.T) {
	b := wall()
	c := b.clip("c", 0, 0, "nut-m5")
	c.Hole, c.Bundle, c.Ear = "h", 6, 9
	h := b.hole("h", at(400, 38, 0), 7.1, "nut-m5", "") // 12 off and 38 beside: 39.8 of 25 + 6 + 9
	what := func() (out []string) {
		for _, x := range b.find().Misfits {
			out = append(out, x.Kind+" "+x.Name+" "+x.What+": "+x.Text[:min(len(x.Text), 56)])
		}
		return out
	}
	if got := what(); len(got) != 0 {
		t.Errorf("%q", got)
	}
	h.At.Y = 39
	if got := what(); !slices.Equal(got, []string{"run in far: hole h is 41 mm from clip c that is said to use it; its "}) {
		t.Errorf("%q", got)
	}
	h.At.Y, h.Drill = 0, 5
	if got := what(); !slices.Equal(got, []string{"run in drill: hole h is stated with 5 mm; clip c asks for 7.1 mm"}) {
		t.Errorf("%q", got)
	}
	// Off every panel it is too far all the same.
	h.At, h.Panel, h.Drill = at(900, 0, 0), "", 7.1
	if got := what(); len(got) != 1 || !strings.HasPrefix(got[0], "run in far: hole h is 512 mm") {
		t.Errorf("%q", got)
	}
}
