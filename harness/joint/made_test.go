package joint_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/heat"
	"loomsheet/harness/joint"
	"loomsheet/harness/unit"
)

// made is the joint s of a job compiled with a change of its text.
func made(t *testing.T, text string, pairs ...string) (joint.Made, *harness.Result) {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("no %q", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	r := harness.Compile(read(t, text))
	for _, m := range r.Joints.Made {
		if m.Splice == "s" {
			return m, r
		}
	}
	t.Fatal("no joint s")
	return joint.Made{}, nil
}

var madeJob = strings.Replace(lineJob, "circuit feed", "splice s along line after 700 mm section tub\ncircuit feed", 1)

// TestMade: a feed of 1 mm2 and one to b come from the left, two wires go on to the right. Four times 1 mm2 want barrel-6 (2.6 to 6.65 mm2), 5.4 mm
// across. Thin-wall 1 mm2 is 1.8 mm or so outside: two side by side are as thick as two of them.
func TestMade(t *testing.T) {
	m, r := made(t, madeJob)
	d := r.Sizes[m.Wires[0]].Outside
	if m.Lie != "from both sides" || m.Run != "line" || m.Towards != [2]string{"line towards p1", "line towards p2"} || m.Status.String() != "stated" {
		t.Errorf("%+v", m)
	}
	var sides []string
	for k, w := range m.Wires {
		sides = append(sides, r.Net.Wires[w].Name+" "+m.Sides[k].String())
	}
	if got, want := strings.Join(sides, ", "), "feed box.1 - s left, feed s - a.1 right, feed s - b.1 left, feed s - c.1 right"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if m.Area != 4 || m.Smallest.Area() != 1 || m.Barrel != "barrel-6" || m.Given || !m.Fits || m.Length != 10 || m.Strip != 11 || m.Outside != 5.4 || m.Tool == "" || m.Verified {
		t.Errorf("%+v", m)
	}
	if m.Sleeve != "shrink-glued-4" || !m.Glued || m.Own || m.Passes != 5.4 || math.Abs(float64(m.Grips-2*d)) > 1e-9 || m.SleeveSize != 6 || m.SleeveLength != 35 || m.SleeveWhy != "" {
		t.Errorf("%+v, wires %s", m, d)
	}
	// The plan on the bench says the same in words.
	for _, s := range r.Plan.Sections {
		for _, x := range s.Splices {
			if got := fmt.Sprintf("%s|%s|%s|%s|%s|%s|%s|%v", x.Lie, x.Left, x.Right, x.Barrel, x.Strip, x.SleeveSize, x.Wires[0].Side, x.Wrong); got !=
				"wires from both sides|line towards p1|line towards p2|barrel-6, 10 mm long, 5.4 mm across, for 2.6 mm2 to 6.65 mm2|11 mm|shrink-glued-4 6 mm, 35 mm long|left|[]" {
				t.Error(got)
			}
		}
		for _, c := range s.Cuts {
			for _, e := range c.Ends {
				if e.Text == "splice s" && (e.Contact != "barrel-6" || e.Strip != 11 || e.Tool == "") {
					t.Errorf("%+v", e)
				}
			}
		}
	}
	n := 0
	for _, p := range r.Plan.Parts {
		switch {
		case p.Kind == "splice" && p.Name == "barrel-6" && p.Count-p.Samples-p.Scrap == 1:
			n++
		case p.Kind == "sleeve" && strings.HasPrefix(p.Name, "shrink-glued-4 6 mm") && p.Count == 1 && p.Length == 35:
			n++
		}
	}
	if n != 2 {
		t.Errorf("parts: %+v", r.Plan.Parts)
	}
}

func TestBarrelAndSleeve(t *testing.T) {
	for _, c := range []struct {
		name   string
		pairs  []string
		barrel string
		fits   bool
		sleeve unit.Length
		why    string // of barrel and sleeve
		lie    string
	}{
		{"a stated barrel that takes them", []string{"splice s ", "barrel own takes 3 mm2, 5 mm2 length 9 mm outside 5 mm strip 9 mm\nsplice s barrel own "}, "own", true, 6, "", "from both sides"},
		{"a stated barrel that does not", []string{"splice s ", "barrel own takes 5 mm2, 6 mm2 length 9 mm outside 5 mm strip 9 mm\nsplice s barrel own "}, "own", false, 6, "barrel own takes 5 mm2 to 6 mm2, its conductors have 4 mm2 together", "from both sides"},
		{"the smaller of two", []string{"splice s ", "barrel own takes 3 mm2, 5 mm2 length 9 mm outside 5 mm strip 9 mm\nsplice s "}, "own", true, 6, "", "from both sides"},
		{"more than any barrel", []string{"circuit feed size 1 mm2", "circuit feed size 120 mm2"}, "", false, 0, "no barrel takes conductors of 480 mm2 together", "from both sides"},
		{"a sleeve that grows twice", []string{"splice s ", "splice s sleeve shrink "}, "barrel-6", true, 6.35, "", "from both sides"},
		{"a sleeve that does not grow", []string{"splice s ", "splice s sleeve heat-sleeve "}, "barrel-6", true, 0, "no size of heat-sleeve both passes over 5.4 mm and closes on", "from both sides"},
		{"a thin wire alone on one side", []string{"splice s ", "splice s sleeve shrink ", "after 700 mm", "after 900 mm", "from box.1 to s\n", "from box.1 to s size 6 mm2\n"}, "barrel-10", true, 0, "no size of shrink both passes", "from both sides"},
		{"dry where it is wet", []string{"splice s ", "splice s sleeve shrink ", "air 40 C", "air 40 C with splash"}, "barrel-6", true, 6.35, "zone cabin is wet, and shrink is not lined with glue", "from both sides"},
		{"all from one side", []string{"splice s along line after 700 mm", "splice s at a"}, "barrel-6", true, 6, "", "all from one side"},
	} {
		m, _ := made(t, madeJob, c.pairs...)
		why := m.BarrelWhy() + m.SleeveWhy
		if m.Barrel != c.barrel || m.Fits != c.fits || m.SleeveSize != c.sleeve || !strings.HasPrefix(why, c.why) || c.why == "" && why != "" || m.Lie != c.lie {
			t.Errorf("%s: %q fits %v, sleeve %s, %q, %s", c.name, m.Barrel, m.Fits, m.SleeveSize, why, m.Lie)
		}
	}
}

// TestMisses holds each limit on its two sides.
func TestMisses(t *testing.T) {
	const splash = "zone cabin air 40 C"
	for _, c := range []struct {
		name  string
		pairs []string
		want  string // kind and distance, or temperatures
	}{
		{"clear of all", nil, ""},
		{"a breakout", []string{"after 700 mm", "after 639 mm"}, "breakout p1 39 of 40"},
		{"off the breakout", []string{"after 700 mm", "after 640 mm"}, ""},
		{"a connector", []string{"after 700 mm", "after 961 mm"}, "end a 39 of 40"},
		{"a connector, of two wires only", []string{"after 700 mm", "after 961 mm", "from s to a.1, b.1, c.1", "from s to a.1"}, "end a 39 of 40"},
		{"a twig without wires is none", []string{"after 700 mm", "after 620 mm", ", b.1, c.1", ", c.1"}, ""},
		{"a bush, half of 10 mm and 10 mm", []string{"after 700 mm", "after 664 mm", "point p1", "panel wall thickness 1 mm zone cabin, cabin corners (650, -9, -9 mm), (650, 9, -9 mm), (650, 9, 9 mm)\npoint hole at (650, 0, 0 mm) bush 20 mm panel wall\npoint p1", "to p1 to p2", "to p1 to hole to p2"}, "bush hole 14 of 15"},
		{"a bend of 90 degrees: its arc begins at 250", []string{"after 700 mm", "after 236 mm", "run line from box to p1", "run line from box to (300, 0, 0 mm) to (300, 300, 0 mm) to p1"}, "bend (300, 0, 0 mm) 14 of 15"},
		{"before the bend", []string{"after 700 mm", "after 235 mm", "run line from box to p1", "run line from box to (300, 0, 0 mm) to (300, 300, 0 mm) to p1"}, ""},
		{"what moves", []string{"to p1 to p2 to a section tub zone cabin", "to p1 to p2 to a section tub zone cabin moves 5 mm"}, "moving line"},
		{"hot air", []string{splash, "zone cabin air 116 C"}, "heat sleeve shrink-glued-4 126 C of 125 C"},
		{"not so hot", []string{splash, "zone cabin air 115 C"}, ""},
		{"a barrel that stands less", []string{splash, "zone cabin air 60 C", "splice s ", "barrel own takes 3 mm2, 5 mm2 length 9 mm outside 5 mm strip 9 mm heat 69 C\nsplice s barrel own "}, "heat barrel own 70 C of 69 C"},
		{"close to neither", []string{"splice s ", "set splice-school to close\nsplice s "}, "far p1 100 of 60"},
		{"close to one", []string{"splice s ", "set splice-school to close\nsplice s ", "after 700 mm", "after 660 mm"}, ""},
		{"in the back of a connector", []string{"splice s ", "set splice-school to close\nsplice s ", "after 700 mm", "after 990 mm"}, "end a 10 of 15"},
	} {
		m, _ := made(t, madeJob, c.pairs...)
		var got []string
		for _, x := range m.Misses {
			switch {
			case x.Kind == joint.InHeat:
				got = append(got, fmt.Sprintf("%s %s %s of %s", x.Kind, x.What, x.Hot, x.Stands))
			case x.Kind == joint.InMotion:
				got = append(got, fmt.Sprintf("%s %s", x.Kind, x.What))
			default:
				got = append(got, fmt.Sprintf("%s %s %s of %s", x.Kind, x.What, unit.Number(float64(x.Is), 1), unit.Number(float64(x.Wants), 1)))
			}
		}
		if s := strings.Join(got, "; "); s != c.want {
			t.Errorf("%s: %q, want %q", c.name, s, c.want)
		}
	}
}

// TestCrowds: s is 10 mm long, t 8 mm: 9 + 25 mm are asked from middle to middle. Across a node they count as well, in another bundle they do not.
func TestCrowds(t *testing.T) {
	other := "splice t along line after XX section tub\ncircuit other from box.2 to t to a.2 size 1 mm2\nsplice s "
	for _, c := range []struct {
		name  string
		place string
		want  string
	}{
		{"apart", "line after 734 mm", ""}, {"one too near", "line after 733 mm", "s, t 33 of 34"}, {"at one place", "line after 700 mm", "s, t 0 of 34"},
	} {
		_, r := made(t, madeJob, "splice s ", strings.Replace(other, "line after XX", c.place, 1))
		got := ""
		for _, x := range r.Joints.Crowds {
			got += fmt.Sprintf("%s %s of %s", strings.Join(x.Splices, ", "), unit.Number(float64(x.Is), 1), unit.Number(float64(x.Wants), 1))
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	_, r := made(t, madeJob, "after 700 mm", "after 790 mm", "splice s ", "splice t along twigs to c after 10 mm section tub\ncircuit other from box.2 to t to c.2 size 1 mm2\nsplice s ")
	if len(r.Joints.Crowds) != 1 || r.Joints.Crowds[0].Is != 20 {
		t.Errorf("across a node: %+v", r.Joints.Crowds)
	}
}

// TestSidesByMostCopper: where a run parts into three, 120 degrees from one another, left and right are told along the way by which the most copper leaves: it
// leaves alone by its side, whichever of them stands first.
func TestSidesByMostCopper(t *testing.T) {
	for thick := range 3 {
		size := []string{"1", "1", "1"}
		size[thick] = "4"
		m, r := made(t, fmt.Sprintf(`harness "Line" revision A
section tub
zone cabin air 40 C
point hub at (0, 0, 0 mm)
device a at (400, 0, 0 mm) housing plain-2
device b at (-200, 346, 0 mm) housing plain-2
device c at (-200, -346, 0 mm) housing plain-2
run star section tub zone cabin {
  from hub to a
  from hub to b
  from hub to c
}
splice s at hub section tub
circuit feed {
  from s to a.1 size %s mm2
  from s to b.1 size %s mm2
  from s to c.1 size %s mm2
}
`, size[0], size[1], size[2]))
		for k, w := range m.Wires {
			want := joint.Left
			if r.Sizes[w].Size.Area() == 4 {
				want = joint.Right
			}
			if m.Sides[k] != want {
				t.Errorf("sizes %v: %s leaves to the %s", size, r.Net.Wires[w].Name, m.Sides[k])
			}
		}
	}
}

// TestHotConductors: a joint whose wires get hotter in any case than the 125 degrees that its sleeve stands is told with the hottest of them; other wires beside it do
// not count, and of hot air and hotter conductors only the hotter is told.
func TestHotConductors(t *testing.T) {
	for _, c := range []struct {
		name  string
		temps []unit.Temperature // of the first wire, by case
		other unit.Temperature   // of a wire that does not end there
		air   string
		want  string
	}{
		{"cool", []unit.Temperature{90, 125}, 0, "40 C", ""},
		{"hot in one case", []unit.Temperature{90, 131, 100}, 0, "40 C", "heat shrink-glued-4 131 true"},
		{"hotter in the first", []unit.Temperature{140, 131, 100}, 0, "40 C", "heat shrink-glued-4 140 true"},
		{"hotter in the last", []unit.Temperature{128, 131, 150}, 0, "40 C", "heat shrink-glued-4 150 true"},
		{"another wire", []unit.Temperature{90}, 150, "40 C", ""},
		{"hot air, and they are hotter", []unit.Temperature{131}, 0, "116 C", "heat shrink-glued-4 131 true"},
		{"hot air with its margin is hotter", []unit.Temperature{125.5}, 0, "116 C", "heat shrink-glued-4 126 false"},
	} {
		m, r := made(t, madeJob, "air 40 C", "air "+c.air, "circuit feed", "circuit past from box.2 to a.2 size 1 mm2\ncircuit feed")
		w := m.Wires[0]
		var other int
		for i := range r.Net.Wires {
			if r.Net.Wires[i].Circuit == "past" {
				other = i
			}
		}
		hot := &heat.Result{}
		for n, x := range c.temps {
			b := heat.BundleResult{Edge: r.Net.Wires[w].Path[len(r.Net.Wires[w].Path)-1].Edge, Wires: []int{other, w}, Temps: []unit.Temperature{c.other, x}}
			hot.Bundles = append(hot.Bundles, heat.CaseBundles{Case: fmt.Sprint(n), Bundles: []heat.BundleResult{b}})
		}
		got := ""
		for _, x := range joint.Judge(r.Job, r.Net, r.Sizes, hot, r.Joints).Made[0].Misses {
			got += fmt.Sprintf("%s %s %v %v", x.Kind, strings.TrimPrefix(x.What, "sleeve "), float64(x.Hot), x.Inside)
			if x.Stands != 125 {
				t.Errorf("%s: it stands %v", c.name, x.Stands)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
