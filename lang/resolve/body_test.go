package resolve

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/unit"
	"loomsheet/lang/format"
	"loomsheet/lang/parts"
	"loomsheet/lang/syntax"
)

// bodyJob says something with every word of the body.
const bodyJob = `harness "Body" revision C up z painted B
section tub, engine
zone cabin air 40 C
zone bay air 90 C with wet
point hub at (300, 100, 20 mm)
panel wall-right thickness 1.5 mm zone cabin, bay seen cabin {
  keep-out (1180, 50, 100 mm), (1180, 90, 100 mm), (1180, 90, 140 mm)
  corners (1180, 0, 100 mm), (1180, 600, 100 mm), (1180, 600, 800 mm), (1180, 0, 800 mm)
  keep-out (1180, 30, 100 mm), (1180, 40, 100 mm), (1180, 40, 140 mm)
}
panel wall-left like wall-right mirror y thickness 2 mm
panel wall-again like wall-left mirror y
panel skin thickness 3 mm zone cabin, bay skin bonded points (0, 0, 0 mm), (500, 0, 4 mm), (500, 300, 0 mm), (0, 300, 3 mm)
tube bar-right from hub to (600, 120, 30 mm) to (900, 150, 200 mm) outside 40 mm
tube bar-left like bar-right mirror y
hazard line as brake from (0, 10, 0 mm) to (100, 10, 0 mm) to (100, 60, 5 mm) outside 5 mm
hazard rod as moving clearance 40 mm outside 20 mm {
  position "straight" from (0, 0, 0 mm) to (0, 400, 0 mm)
  position "full lock left" from (10, 0, 0 mm) to (30, 400, 0 mm)
  position "full lock right" between (40, 0, 0 mm), (60, 400, 20 mm)
}
hazard rod-other like rod mirror x clearance 30 mm {
  position "straight" from (7, 0, 0 mm) to (7, 400, 0 mm)
}
hazard manifold as exhaust between (700, 0, 0 mm), (900, 100, 50 mm) sleeved 60 mm
hazard heat-left like manifold mirror y
break A at (1180, 200, 300 mm) panel wall-right housing sealed-2 flange bay turn 450 deg faces hub {
  half tub contacts sockets mount fixed
  half engine contacts pins
}
break B at A mirror y offset (0, 0, 20 mm) panel wall-left like A
device lamp at (20, 0, 40 mm) housing sealed-2 faces (20, 0, 900 mm)
run loom from hub to (600, 100, 20 mm) to lamp section tub zone cabin tube bar-right bend 60 mm
hole h-[1..3] at hub offset (10, 0, 0 mm) step (0, 50, 0 mm) panel wall-right drill 7 mm
hole h-other at h-anchor mirror y panel wall-left drill 20 mm, 30 mm frozen A
point h-anchor at (5, 60, 7 mm)
hole gone at (1, 2, 3 mm) panel floor fastener old-nut drill 6 mm frozen A
accept bend-too-tight hole tunnel-3 value 4 mm reason "looked at" by "checker 2" until D
accept bend-too-tight hazard line value 4 mm reason "looked at" by "checker 2" until D
housing own cut-out 20 mm, 12 mm flange 30 mm, 22 mm nut 0 mm grips 3 mm behind 9 mm room 44 mm shell metal {
  cavity 1 takes size-16
  hole [a,b] at (-12, 8 mm) step (24, 0 mm) drill 4.3 mm
}
clip saddle as tie holds 10 mm, 8 mm heat 85 C thick 2.5 mm
fastener own-nut as rivet-nut thread M5 drill 7 mm, 7.1 mm grips 0.5 mm, 3 mm engage 6 mm screws 20 mm, 12 mm
`

func bodyFacts(t testing.TB, loom string) *design.Job {
	t.Helper()
	j, src, ds := Job("job.loom", func(string) ([]byte, error) { return []byte(loom), nil }, parts.Files(), knownFindings)
	if len(ds) > 0 {
		t.Fatalf("messages:\n%s", show(src, ds))
	}
	return j
}

func pick[T any](t testing.TB, list []*T, name string, of func(*T) string) *T {
	t.Helper()
	i := slices.IndexFunc(list, func(x *T) bool { return of(x) == name })
	if i < 0 {
		t.Fatalf("no %s", name)
	}
	return list[i]
}

// says is values with blanks between.
func says(x ...any) string { return strings.TrimSuffix(fmt.Sprintln(x...), "\n") }

func TestBodyFacts(t *testing.T) {
	j := bodyFacts(t, bodyJob)
	panel := func(n string) *design.Panel {
		return pick(t, j.Panels, n, func(p *design.Panel) string { return p.Name })
	}
	tube := func(n string) *design.Tube {
		return pick(t, j.Tubes, n, func(p *design.Tube) string { return p.Name })
	}
	hazard := func(n string) *design.Hazard {
		return pick(t, j.Hazards, n, func(p *design.Hazard) string { return p.Name })
	}
	hole := func(n string) *design.Hole {
		return pick(t, j.Holes, n, func(p *design.Hole) string { return p.Name })
	}
	part := func(n string) *design.Housing {
		return pick(t, j.Parts.Housings, n, func(p *design.Housing) string { return p.Name })
	}
	nut := pick(t, j.Parts.Fasteners, "own-nut", func(p *design.Fastener) string { return p.Name })
	clip := pick(t, j.Parts.Clips, "saddle", func(p *design.Clip) string { return p.Name })
	a, b := j.Breaks[0], j.Breaks[1]
	shapes := func(h *design.Hazard) string {
		var out []string
		for _, s := range h.Shapes {
			out = append(out, says(s.Position, s.Box, s.Points))
		}
		return strings.Join(out, "; ")
	}
	nodes := func(u *design.Tube) string {
		var out []string
		for _, n := range u.Nodes {
			out = append(out, says(n.Node)+says(n.At))
		}
		return strings.Join(out, "; ")
	}
	for name, c := range map[string][2]any{
		"up, painted":       {j.Up + j.Painted, "zB"},
		"corners":           {says(panel("wall-left").Corners), "[{1180 mm 0 mm 100 mm} {1180 mm -600 mm 100 mm} {1180 mm -600 mm 800 mm} {1180 mm 0 mm 800 mm}]"},
		"keep-outs":         {says(panel("wall-left").KeepOuts[0][0], panel("wall-left").KeepOuts[1][0]), "{1180 mm -50 mm 100 mm} {1180 mm -30 mm 100 mm}"},
		"two hands are one": {says(panel("wall-again").Corners, panel("wall-again").Thickness), says(panel("wall-right").Corners, "2 mm")},
		"sides":             {says(panel("wall-left").Zones, panel("wall-left").Seen), "[cabin bay] [cabin]"},
		"points":            {says(panel("skin").Points[1], panel("skin").Skin, len(panel("skin").Corners)), "{500 mm 0 mm 4 mm} bonded 0"},
		"tube":              {nodes(tube("bar-right")), "hub{300 mm 100 mm 20 mm}; (600, 120, 30 mm){600 mm 120 mm 30 mm}; (900, 150, 200 mm){900 mm 150 mm 200 mm}"},
		"tube, other hand":  {nodes(tube("bar-left")), "(300, -100, 20 mm){300 mm -100 mm 20 mm}; (600, -120, 30 mm){600 mm -120 mm 30 mm}; (900, -150, 200 mm){900 mm -150 mm 200 mm}"},
		"tube outside":      {tube("bar-left").Outside, unit.Length(40)},
		"line":              {shapes(hazard("line")), " false [{0 mm 10 mm 0 mm} {100 mm 10 mm 0 mm} {100 mm 60 mm 5 mm}]"},
		"line kind":         {says(hazard("line").Kind, hazard("line").Outside, hazard("line").Clearance), "brake 5 mm 0 mm"},
		"positions":         {shapes(hazard("rod")), "full lock left false [{10 mm 0 mm 0 mm} {30 mm 400 mm 0 mm}]; full lock right true [{40 mm 0 mm 0 mm} {60 mm 400 mm 20 mm}]; straight false [{0 mm 0 mm 0 mm} {0 mm 400 mm 0 mm}]"},
		"positions, other":  {shapes(hazard("rod-other")), "full lock left false [{-10 mm 0 mm 0 mm} {-30 mm 400 mm 0 mm}]; full lock right true [{-40 mm 0 mm 0 mm} {-60 mm 400 mm 20 mm}]; straight false [{7 mm 0 mm 0 mm} {7 mm 400 mm 0 mm}]"},
		"its own clearance": {says(hazard("rod-other").Clearance, hazard("rod-other").Outside, hazard("rod-other").Kind), "30 mm 20 mm moving"},
		"box, other hand":   {shapes(hazard("heat-left")), " true [{700 mm 0 mm 0 mm} {900 mm -100 mm 50 mm}]"},
		"sleeved":           {hazard("heat-left").Sleeved, unit.Length(60)},
		"flange":            {says(a.Flange, a.Turn, a.Faces.Node, a.Faces.At), "bay 90 deg hub {300 mm 100 mm 20 mm}"},
		"like, a break":     {says(b.Flange, b.Turn, b.Faces.Known, b.At), "bay 90 deg false {1180 mm -200 mm 320 mm}"},
		"device faces":      {says(j.Devices[0].Faces.At, j.Devices[0].Faces.Known), "{20 mm 0 mm 900 mm} true"},
		"run":               {says(j.Runs[0].Tube, j.Runs[0].Panel, j.Runs[0].Bend.Given, j.Runs[0].Bend.Nominal), "bar-right  true 60 mm"},
		"hole, stepped":     {says(hole("h-3").At, hole("h-3").Drill, hole("h-3").High), "{310 mm 200 mm 20 mm} 7 mm 0 mm"},
		"hole, mirrored":    {says(hole("h-other").At, hole("h-other").Drill, hole("h-other").High), "{5 mm -60 mm 7 mm} 20 mm 30 mm"},
		"frozen and gone":   {says(hole("gone").Panel, hole("gone").Fastener, hole("gone").Frozen), "floor old-nut A"},
		"accepts":           {says(j.Accepts[0].Subject.Kind, j.Accepts[1].Subject.Name), "hazard tunnel-3"},
		"cut-out":           {says(part("own").CutOut, part("own").CutHigh, part("own").Flange, part("own").Grips, part("own").Nut), "20 mm 12 mm [30 mm 22 mm] [0 mm 3 mm] 0 mm"},
		"behind":            {says(part("own").Behind, part("own").Room, part("own").Metal), "9 mm 44 mm true"},
		"screws":            {says(part("own").Fixings), "[{a [-12 mm 8 mm] 4.3 mm} {b [12 mm 8 mm] 4.3 mm}]"},
		"round flange":      {says(part("sealed-2").CutHigh, part("sealed-2").Flange, part("sealed-2").Metal), "0 mm [39 mm 39 mm] false"},
		"fastener":          {says(nut.As, nut.Least, nut.Drill, nut.Grips, nut.Engage, nut.Screws), "rivet-nut 7 mm 7.1 mm [0.5 mm 3 mm] 6 mm [12 mm 20 mm]"},
		"clip":              {says(clip.As, clip.Heat.Nominal, clip.Thick, clip.Holds), "tie 85 C 2.5 mm [8 mm 10 mm]"},
	} {
		if c[0] != c[1] {
			t.Errorf("%s: %v, want %v", name, c[0], c[1])
		}
	}
}

// The order of statements, and of the lines in blocks that are no way, never shows.
func TestBodyShuffled(t *testing.T) {
	want := bodyFacts(t, bodyJob)
	file, msgs := syntax.Parse("job.loom", []byte(bodyJob))
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	rapid.Check(t, func(t *rapid.T) {
		j, src, ds := Job("job.loom", func(string) ([]byte, error) { return []byte(shuffled(t, bodyJob, file.Lines, false, "")), nil }, parts.Files(), knownFindings)
		if len(ds) > 0 {
			t.Fatalf("%s", show(src, ds))
		}
		if d := cmp.Diff(want, j, noSpans); d != "" {
			t.Fatal(d)
		}
	})
}

// Mirrored twice about one axis a thing lies where it lay, and the other hand has the same lengths.
func TestMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var ps []string
		for range rapid.IntRange(3, 6).Draw(t, "corners") {
			c := func(n string) float64 { return float64(rapid.IntRange(-30000, 30000).Draw(t, n)) / 10 }
			ps = append(ps, fmt.Sprintf("(%v, %v, %v mm)", c("x"), c("y"), c("z")))
		}
		axis := rapid.SampledFrom([]string{"x", "y", "z"}).Draw(t, "axis")
		loom := base + "zone bay air 90 C\npanel a thickness 1 mm zone cabin, bay corners " + strings.Join(ps, ", ") + " keep-out " + strings.Join(ps, ", ") +
			"\npanel b like a mirror " + axis + "\npanel c like b mirror " + axis + "\ntube u from " + strings.Join(ps, " to ") + " outside 9 mm\ntube v like u mirror " + axis + "\ntube w like v mirror " + axis + "\n"
		j, src, ds := Job("job.loom", func(string) ([]byte, error) { return []byte("harness \"Test\" revision A\n" + loom), nil }, parts.Files(), nil)
		if len(ds) == 1 && ds[0].Code == "corners-cross" {
			return
		}
		if len(ds) > 0 {
			t.Fatalf("%s", show(src, ds))
		}
		a, b, c := j.Panels[0], j.Panels[1], j.Panels[2]
		if d := cmp.Diff(a.Corners, c.Corners); d != "" {
			t.Fatal(d)
		}
		if d := cmp.Diff(a.KeepOuts, c.KeepOuts); d != "" {
			t.Fatal(d)
		}
		for i := range a.Corners {
			k := (i + 1) % len(a.Corners)
			if distance(a.Corners[i], a.Corners[k]) != distance(b.Corners[i], b.Corners[k]) {
				t.Fatal("the other hand is of another size")
			}
			u, v, w := j.Tubes[0].Nodes[i], j.Tubes[1].Nodes[i], j.Tubes[2].Nodes[i]
			if u.At != w.At || v.At != b.Corners[i] || u.Node != w.Node {
				t.Fatalf("%v %v %v", u, v, w)
			}
		}
	})
}

// The formatter lays the text out and changes nothing of what it says.
func TestBodyFormatted(t *testing.T) {
	file, msgs := syntax.Parse("job.loom", []byte(bodyJob))
	if len(msgs) > 0 {
		t.Fatal(msgs)
	}
	laid := format.Format(file, []byte(bodyJob))
	if string(laid) == bodyJob {
		t.Fatal("nothing was laid out")
	}
	if d := cmp.Diff(bodyFacts(t, bodyJob), bodyFacts(t, string(laid)), noSpans); d != "" {
		t.Error(d)
	}
}

// One figure is a diameter, two are a width and a height, also where they are equal; a round flange covers the corners of a rectangular cut-out.
func TestFlangeShape(t *testing.T) {
	for _, w := range []struct{ says, want string }{
		{"cut-out 20 mm flange 34 mm", "20 mm 0 mm [34 mm 0 mm]"}, {"cut-out 20 mm, 20 mm flange 34 mm, 34 mm", "20 mm 20 mm [34 mm 34 mm]"}, {"cut-out 24 mm, 18 mm flange 31 mm", "24 mm 18 mm [31 mm 0 mm]"},
	} {
		j := bodyFacts(t, strings.Replace(bodyJob, "housing own cut-out 20 mm, 12 mm flange 30 mm, 22 mm", "housing own "+w.says, 1))
		x := pick(t, j.Parts.Housings, "own", func(p *design.Housing) string { return p.Name })
		if got := says(x.CutOut, x.CutHigh, x.Flange); got != w.want {
			t.Errorf("%s: %s", w.says, got)
		}
	}
}
