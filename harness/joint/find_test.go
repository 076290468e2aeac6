package joint_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/joint"
	"loomsheet/harness/net"
	"loomsheet/harness/space"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// read is the job of a text, which must have no mistakes.
func read(t testing.TB, text string) *design.Job {
	t.Helper()
	job, _, msgs := resolve.Job("job.loom", func(string) ([]byte, error) { return []byte(text), nil }, parts.Files(), nil)
	if msgs.HasMistakes() {
		t.Fatalf("%v\n%s", msgs, text)
	}
	return job
}

// lineJob is a box at 0 and three loads: one at 1000 on the line, one 200 off it at 600, one 300 off it at 800; two more nodes in the line are
// breakouts. All wires are 1 mm2.
const lineJob = `harness "Line" revision A
section tub
zone cabin air 40 C
point p1 at (600, 0, 0 mm)
point p2 at (800, 0, 0 mm)
run line from box to p1 to p2 to a section tub zone cabin
run twigs section tub zone cabin {
  from p1 to b
  from p2 to c
}
device box at (0, 0, 0 mm) housing plain-2
device a at (1000, 0, 0 mm) housing plain-2
device b at (600, 200, 0 mm) housing plain-2
device c at (800, 300, 0 mm) housing plain-2
circuit feed size 1 mm2 {
  from box.1 to s
  from s to a.1, b.1, c.1
}
`

func place(t testing.TB, text string) (*design.Job, *joint.Places, *design.Job) {
	t.Helper()
	job := read(t, text)
	out, places := joint.Place(job, space.Lay(job))
	return out, places, job
}

// put is where a splice was put, in words.
func put(job *design.Job, name string) string {
	for _, s := range job.Splices {
		if s.Name == name {
			to := ""
			if s.To != "" {
				to = " to " + s.To
			}
			return fmt.Sprintf("%s%s %s", s.Along, to, s.After)
		}
	}
	return "none"
}

// TestHandComputed: with four wires of one size on a line at 0, 600, 800 and 1000 the copper is the same all the way from 600 to 800 (two pull to
// either side), where 40 mm are kept from both breakouts: 640 is the first of them. Copper there: 640 + 360 + (40+200) + (160+300) = 1700 mm.
func TestHandComputed(t *testing.T) {
	for _, c := range []struct {
		name  string
		pairs []string
		want  string
		mm    float64 // sum of length times area, mm mm2
	}{
		{"two pull to either side", nil, "line 640 mm", 1700},
		{"a thick feed draws it to the box", []string{"from box.1 to s\n", "from box.1 to s size 6 mm2\n"}, "line 40 mm", 6*40 + 960 + (560 + 200) + (760 + 300)},
		{"a thick wire to b draws it up its twig", []string{"from s to a.1, b.1, c.1", "from s to a.1, c.1\n  from s to b.1 size 6 mm2"}, "twigs to b 160 mm", 6*40 + 160 + 600 + 160 + 400 + 160 + 500},
		{"a thick wire to a draws it there", []string{"from s to a.1, b.1, c.1", "from s to b.1, c.1\n  from s to a.1 size 6 mm2"}, "line 960 mm", 6*40 + 960 + 360 + 200 + 160 + 300},
		{"a clip in the way", []string{"circuit feed", "fixing f run line after 650 mm\ncircuit feed"}, "line 690 mm", 1700},
		{"a bush in the way: half of 25, and 10", []string{"point p1", "panel wall thickness 1 mm zone cabin, cabin corners (650, -9, -9 mm), (650, 9, -9 mm), (650, 9, 9 mm)\npoint hole at (650, 0, 0 mm) bush 20 mm panel wall\npoint p1",
			"to p1 to p2", "to p1 to hole to p2"}, "line 673 mm", 1700},
		{"a bend in the way: an arc of 78.5 mm, and half of 25, and 10", []string{"point p2 at (800, 0, 0 mm)", "point p2 at (660, 140, 0 mm)", "to p1 to p2 to a", "to p1 to (660, 0, 0 mm) to p2 to a", "device a at (1000, 0, 0 mm)", "device a at (660, 340, 0 mm)",
			"device c at (800, 300, 0 mm)", "device c at (960, 140, 0 mm)"}, "line 712 mm", 1700 - 2*(100-25*math.Pi)},
		{"another splice in the way", []string{"circuit feed", "splice t along line after 670 mm section tub\ncircuit other from box.2 to t to a.2\ncircuit feed"}, "line 750 mm", 1700},
		{"a longer barrel: 97.5 off 640, and a clip wants to be between 25 and 100 off the breakout", []string{"splice s ", "splice s barrel own ", "circuit feed", "barrel own takes 50 mm2 length 120 mm strip 9 mm\nsplice t along line after 640 mm section tub\ncircuit other from box.2 to t to a.2\ncircuit feed"}, "line 740 mm", 1700},
		{"nearer to connectors than 40", []string{"splice s ", "set splice-clear to 100 mm\nsplice s "}, "line 700 mm", 1700},
	} {
		text := strings.Replace(lineJob, "circuit feed", "splice s section tub\ncircuit feed", 1)
		for i := 0; i < len(c.pairs); i += 2 {
			if !strings.Contains(text, c.pairs[i]) {
				t.Fatalf("%s: no %q", c.name, c.pairs[i])
			}
			text = strings.Replace(text, c.pairs[i], c.pairs[i+1], 1)
		}
		out, places, job := place(t, text)
		got := places.Chosen[0]
		if put(out, "s") != c.want || got.Over != 0 || got.Unmet || got.Nowhere {
			t.Errorf("%s: %s, want %s; %+v", c.name, put(out, "s"), c.want, got)
			continue
		}
		if want := c.mm * 8.96e-6; math.Abs(float64(got.Copper)-want) > 1e-8 {
			t.Errorf("%s: %g kg of copper, want %g", c.name, float64(got.Copper), want)
		}
		for _, s := range job.Splices {
			if s.Chosen || s.Name == "s" && s.Along != "" {
				t.Errorf("%s: the job as declared was changed: %+v", c.name, s)
			}
		}
		lay := space.Lay(out)
		n := net.Build(out, lay, nil)
		for _, j := range n.Joints {
			if j.Splice == "s" && (j.Status != design.Computed || j.Node < 0 || j.Run == "" || j.After != got.After) {
				t.Errorf("%s: %+v", c.name, j)
			}
		}
		// The wires as they are built weigh what was said.
		sum := 0.0
		for _, w := range n.Wires {
			if w.Circuit == "feed" {
				sum += float64(w.Length) * float64(w.Stated.Area())
			}
		}
		if math.Abs(sum-c.mm) > 1e-6 {
			t.Errorf("%s: the wires as built make %g, want %g", c.name, sum, c.mm)
		}
	}
}

// Splices that contend for one place are staggered: the dearest to move stays nearest to the best place.
func TestStagger(t *testing.T) {
	text := strings.Replace(lineJob, "circuit feed", `splice s, u section tub
circuit light {
  from box.2 to u size 3 mm2
  from u to a.2, b.2 size 0.5 mm2
}
circuit feed`, 1)
	text = strings.Replace(text, "from box.1 to s\n", "from box.1 to s size 6 mm2\n", 1)
	out, places, _ := place(t, text)
	// s: 6 against 3 a millimetre towards the box, u: 3 against 1; so s 40, and u 80 further on, that a clip is 40 from both.
	if put(out, "s") != "line 40 mm" || put(out, "u") != "line 120 mm" || places.Chosen[0].Over != 0 || places.Chosen[1].Over != 0 {
		t.Errorf("s %s, u %s; %+v", put(out, "s"), put(out, "u"), places.Chosen)
	}
}

// Where no room is left for a clip between them, splices still keep 25 mm between their barrels; where there is none for that either, it is said.
func TestPressed(t *testing.T) {
	const job = `harness "Line" revision A
section tub
zone cabin air 40 C
run line from box to a section tub zone cabin
device box at (0, 0, 0 mm) housing plain-2
device a at (XX, 0, 0 mm) housing plain-2
splice s, u section tub
circuit feed from box.1 to s size 4 mm2
circuit feed-2 from box.2 to u size 4 mm2
`
	for _, c := range []struct {
		long  string
		at    [2]string
		unmet bool
	}{{"160", [2]string{"line 40 mm", "line 120 mm"}, false}, {"150", [2]string{"line 40 mm", "line 90 mm"}, false}, {"120", [2]string{"line 40 mm", "line 80 mm"}, true}} {
		text := strings.ReplaceAll(job, "XX", c.long)
		text = strings.Replace(text, "to s size 4 mm2", "to s to a.1 size 4 mm2", 1)
		text = strings.Replace(text, "to u size 4 mm2", "to u to a.2 size 4 mm2", 1)
		out, places, _ := place(t, text)
		if put(out, "s") != c.at[0] || put(out, "u") != c.at[1] || places.Chosen[0].Unmet != c.unmet {
			t.Errorf("%s: s %s, u %s; %+v", c.long, put(out, "s"), put(out, "u"), places.Chosen)
		}
	}
}

// In the wet a splice does not lie where water comes to from both sides: of a sagging run it goes to where it slopes.
func TestNotLow(t *testing.T) {
	text := strings.NewReplacer("zone cabin air 40 C", "zone cabin air 40 C with wet", "point p2 at (800, 0, 0 mm)", "point p2 at (800, 0, 90 mm)", "device a at (1000, 0, 0 mm)", "device a at (1000, 0, 200 mm)",
		"to p1 to p2", "to p1 to (700, 0, 0 mm) to p2", "device box at (0, 0, 0 mm)", "device box at (0, 0, 300 mm)", "circuit feed", "splice s section tub\ncircuit feed").Replace(lineJob)
	text = strings.Replace(text, "device b at (600, 200, 0 mm)", "device b at (600, 200, 40 mm)", 1)
	out, _, _ := place(t, text)
	lay := space.Lay(out)
	at := lay.Nodes[lay.Find("s")].At
	// Level from 600 to 700: from there every way rises, beyond the bend the bundle slopes.
	if !(at.Z > 5) {
		t.Errorf("%s: %+v", put(out, "s"), at)
	}
}

func TestNothingToDo(t *testing.T) {
	text := strings.Replace(lineJob, "circuit feed", "splice s at p1 section tub\ncircuit feed", 1)
	job := read(t, text)
	if out, places := joint.Place(job, space.Lay(job)); out != job || len(places.Chosen) != 0 {
		t.Error("a job in which every splice has a place is another one")
	}
}

var _ = unit.Length(0)
