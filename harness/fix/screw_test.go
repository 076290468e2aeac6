package fix

import (
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
)

// Lengths worked by hand.
func TestScrewLength(t *testing.T) {
	screws := []unit.Length{10, 12, 14, 16, 20}
	p := func(name string) design.Part { return design.Part{Name: name} }
	rivet := &design.Fastener{Part: p("rivet-nut-m5"), As: "rivet-nut", Thread: "M5", Engage: 6, Screws: screws}
	plain := &design.Fastener{Part: p("screw-m5"), As: "screw", Thread: "M5", Screws: screws}
	stud := &design.Fastener{Part: p("weld-stud-m5"), As: "stud", Thread: "M5", Engage: 4.7, Screws: screws}
	one, two := []stack{{"p-clip", 2.4}}, []stack{{"p-clip", 2.4}, {"tie", 3}}
	for _, x := range []struct {
		what   string
		joint  joint
		length unit.Length
		text   string
	}{
		{"rivet nut", joint{one, rivet, "floor", 1.5, 1, 2}, 14, "clip 2.4 + washer 1 + panel 1.5 + thread 6 + 2 past it, next longer 14"}, // 12.9
		{"screw with a nut as thick as its thread", joint{one, plain, "floor", 1.5, 1, 2}, 12, "clip 2.4 + washer 1 + panel 1.5 + nut 5 + 2 past it, next longer 12"},
		{"just long enough", joint{[]stack{{"p-clip", 2.5}}, plain, "floor", 1.5, 1, 2}, 12, "clip 2.5 + washer 1 + panel 1.5 + nut 5 + 2 past it, next longer 12"},
		{"two clips", joint{two, plain, "floor", 1.5, 1, 2}, 16, "clip 2.4 + clip 3 + washer 1 + panel 1.5 + nut 5 + 2 past it, next longer 16"}, // 14.9
		{"stud", joint{one, stud, "floor", 1.5, 1, 2}, 12, "clip 2.4 + washer 1 + nut 4.7 + 2 past it, next longer 12"},                          // 10.1
		{"too long", joint{one, plain, "slab", 15, 1, 2}, 0, "clip 2.4 + washer 1 + panel 15 + nut 5 + 2 past it: longer than any of screw-m5"},
		{"clip not known", joint{[]stack{{"p-clip", 0}}, plain, "floor", 1.5, 1, 2}, 0, "not known: thickness of clip p-clip"},
		{"panel not known", joint{one, plain, "", 0, 1, 2}, 0, "not known: panel"},
		{"thickness not known", joint{one, rivet, "floor", 0, 1, 2}, 0, "not known: thickness of panel floor"},
		{"thread not known", joint{one, &design.Fastener{Part: p("odd"), As: "screw", Thread: "no 10"}, "floor", 1.5, 1, 2}, 0, "not known: nut of odd"},
		{"no list of lengths", joint{one, &design.Fastener{Part: p("odd"), As: "screw", Thread: "M6"}, "floor", 1.5, 1, 2}, 12.9, "clip 2.4 + washer 1 + panel 1.5 + nut 6 + 2 past it"},
		{"glued", joint{one, &design.Fastener{Part: p("base"), As: "adhesive"}, "floor", 1.5, 1, 2}, 0, ""},
		{"nobody knows what it is", joint{one, &design.Fastener{Part: p("base")}, "floor", 1.5, 1, 2}, 0, ""},
		{"no such part", joint{one, nil, "floor", 1.5, 1, 2}, 0, ""},
	} {
		length, text := x.joint.sum()
		if unit.Number(float64(length), 6) != unit.Number(float64(x.length), 6) || text != x.text {
			t.Errorf("%s: %s by %q", x.what, length, text)
		}
	}
}

func TestThreadDiameter(t *testing.T) {
	for thread, want := range map[string]unit.Length{"M5": 5, "M10x1.5": 10, "M2.5": 2.5, "1/4-20": 0, "M": 0, "M-3": 0, "Mx": 0, "": 0, "MInf": 0} {
		if got := diameter(thread); got != want {
			t.Errorf("%q is %s", thread, got)
		}
	}
}

// A stated screw stands, and is held against what is needed as any other.
func TestStatedScrew(t *testing.T) {
	for screw, no := range map[unit.Length]bool{20: false, 8: true} {
		r := line(800)
		r.job.Parts.Clips[0].Thick = 1.5
		r.job.Fixings = []*design.Fixing{{Name: "f", Run: "r", After: 400, Screw: screw}}
		found := false
		for _, c := range planOf(r.find(), "r").Clips {
			found = found || c.Mark == "f"
			if c.Mark == "f" && (c.Screw != screw || c.NoScrew != no || c.ScrewSum == "") {
				t.Errorf("%v: %v, none long enough %v: %s", screw, c.Screw, c.NoScrew, c.ScrewSum)
			}
		}
		if !found {
			t.Error("the stated clip is gone")
		}
	}
}
