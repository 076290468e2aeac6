package shellbook

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/route"
	"loomsheet/harness/shell"
	"loomsheet/harness/solid"
	"loomsheet/harness/unit"
	"loomsheet/render/common"
	"loomsheet/render/export"
	"loomsheet/render/page"
	"loomsheet/render/pdf"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func book(t *testing.T, job *design.Job, plan *body) *page.Doc {
	t.Helper()
	d, err := compose(head(), job, plan)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// wholeBook is the book of the fixture, made once: nothing may change it.
var wholeBook = sync.OnceValue(func() *page.Doc {
	job, plan := invented()
	d, err := compose(head(), job, plan)
	if err != nil {
		panic(err)
	}
	return d
})

// few is a small part of the fixture, so that its primitives can be read.
func few() (*design.Job, *body) {
	job, plan := invented()
	plan.Shell = shell.Shell{Panels: plan.Shell.Panels[:1], Holes: plan.Shell.Holes[:4], Mounts: plan.Shell.Mounts[:1], Masks: plan.Shell.Masks[:2], Templates: plan.Shell.Templates}
	plan.Runs[2].Nodes, plan.Runs[2].Clips = plan.Runs[2].Nodes[:2], plan.Runs[2].Clips[:9]
	plan.Runs = plan.Runs[1:]
	return job, plan
}

func TestGolden(t *testing.T) {
	goldens := map[string]string{}
	goldens["shell.txt"] = wholeBook().Text()
	job, plan := few()
	goldens["few.dump"] = book(t, job, plan).Dump()
	for file, got := range goldens {
		file = "testdata/" + file
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(string(want), got); d != "" {
			t.Errorf("%s (-want +got):\n%s", file, d)
		}
	}
}

// drawn is the text of a book in the order it was drawn, cell by cell, without blanks: a wrapped name is found in it.
func drawn(d *page.Doc) string {
	var b strings.Builder
	for _, p := range d.Pages {
		for _, i := range p.Items {
			if x, ok := i.(page.Text); ok {
				b.WriteString(x.S)
			}
		}
	}
	return squeeze(b.String())
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), "") }

func TestSeries(t *testing.T) {
	for in, want := range map[string]string{
		"a-1 a-2 a-3 a-4":                    "a-1 to 4",
		"a-1 a-2":                            "a-1 a-2",
		"a-1 a-3 a-4 a-5":                    "a-1 a-3 to 5",
		"a-9 b-10 b-11 b-12":                 "a-9 b-10 to 12",
		"a A-1 a-01 a-2":                     "a A-1 a-01 a-2",
		"x x x x":                            "x x x x",
		"a-99999999999999999999 a-1 a-2 a-3": "a-99999999999999999999 a-1 to 3",
	} {
		if got := strings.Join(series(strings.Fields(in)), " "); got != want {
			t.Errorf("%s: %s, want %s", in, got, want)
		}
	}
}

func TestFrameOfEachPage(t *testing.T) {
	d := wholeBook()
	for i, p := range d.Pages {
		if o := p.Overlaps(); len(o) > 0 {
			t.Errorf("page %d: %q over %q", i+1, o[0][0].S, o[0][1].S)
		}
		text := strings.Join(p.Lines(), "\n")
		for _, want := range []string{"Heron hill tractor", "Shell book", "Revision C", "Source 3f9ac201d4e7", "NOT FOR BUILD", "2 findings are open", fmt.Sprintf("page %d of %d", i+1, len(d.Pages))} {
			if !strings.Contains(text, want) {
				t.Errorf("page %d does not say %q", i+1, want)
			}
		}
	}
	if !strings.Contains(d.Text(), "front axle centre at ground; x aft, y right, z up") {
		t.Error("the datum is not stated")
	}
}

func TestSameInputSameBytes(t *testing.T) {
	var out [2][]byte
	for i := range out {
		job, plan := invented()
		var err error
		if out[i], err = pdf.Write(book(t, job, plan)); err != nil {
			t.Fatal(err)
		}
		if _, fresh := invented(); !reflect.DeepEqual(fresh, plan) {
			t.Error("the plan was changed")
		}
	}
	if string(out[0]) != string(out[1]) {
		t.Error("two books of one plan differ")
	}
}

func TestCharacterThatCannotBePrinted(t *testing.T) {
	for want, spoil := range map[string]func(*design.Job, *body){
		"hole A cannot be printed: character 日":    func(_ *design.Job, p *body) { p.Shell.Holes[0].Mark, p.Shell.Holes[0].Note = "A", "日" },
		"clip tunnel-2 cannot be printed":          func(_ *design.Job, p *body) { p.Runs[2].Clips[1].Part = "a\tb" },
		"run rail cannot be printed: character":    func(_ *design.Job, p *body) { p.Runs[0].Nodes[0].What = "😀" },
		"panel floor cannot be printed":            func(j *design.Job, _ *body) { j.Panels[1].Note = "日" },
		"break A cannot be printed: character 日 (": func(j *design.Job, _ *body) { j.Breaks[0].Key = "日" },
		"connector A cannot be printed":            func(_ *design.Job, p *body) { p.Shell.Mounts[0].SideWhy = "日" },
		"mask earth-left cannot be printed":        func(_ *design.Job, p *body) { p.Shell.Masks[1].What = "日" },
		"plug old-7 cannot be printed":             func(_ *design.Job, p *body) { p.Shell.Plugs[0].Panel = "日" },
		"hole B cannot be printed":                 func(_ *design.Job, p *body) { p.Shell.Late[1].Nearest = "日" },
		"run tunnel cannot be printed":             func(_ *design.Job, p *body) { p.tape(2, export.Tape{Length: 1, Date: "日"}) },
		"what is open cannot be printed":           func(_ *design.Job, p *body) { p.Shell.Open[0].Why = "日" },
		"template A cannot be printed":             func(_ *design.Job, p *body) { p.Shell.Templates[0].Look = "日" },
		"hazard steering cannot be printed":        func(j *design.Job, _ *body) { j.Hazards[1].Shapes[0].Position = "日" },
	} {
		job, plan := invented()
		spoil(job, plan)
		if _, err := compose(head(), job, plan); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v, want %q", err, want)
		}
	}
}

func TestMakeOfAJob(t *testing.T) {
	job, plan := invented()
	d, err := Make(export.Input{Result: &harness.Result{Job: job, Fixed: &fix.Plan{Runs: plan.Runs}, Route: &plan.Route, Shell: &plan.Shell}, Digest: "3f9a"})
	if err != nil || d.Title != "Shell book" {
		t.Fatal(err)
	}
	if !strings.Contains(d.Text(), "not stated in the job: find out before marking anything") {
		t.Error("a job without a datum says nothing about it")
	}
	if _, err := Make(export.Input{}); err == nil {
		t.Error("no plan has a book")
	}
	if _, err := compose(common.Head{}, &design.Job{}, &body{}); err != nil {
		t.Error(err)
	}
}

// Whatever the names and places: nothing prints over anything, and nothing leaves its place or the page (compose checks
// the latter).
func TestNamesOfAnyLength(t *testing.T) {
	names := rapid.OneOf(rapid.StringMatching(`[a-z]{1,6}(-[a-z0-9]{1,5}){0,3}`), rapid.StringMatching(`[A-ZÄÖÜ]{0,90}`), rapid.StringMatching(`[a-zÅ./_ -]{0,160}`), rapid.StringMatching(`(W\.){0,200}`))
	rapid.Check(t, func(t *rapid.T) {
		name := func(what string) string { return names.Draw(t, what) }
		length := func(what string) unit.Length { return unit.Length(rapid.Float64Range(-10, 1e6).Draw(t, what)) }
		yes := func(what string) bool { return rapid.Bool().Draw(t, what) }
		at := func() design.Point3 { return design.Point3{X: -length("x"), Y: length("y"), Z: length("z")} }
		status := func() design.Status { return design.Status(rapid.IntRange(0, 4).Draw(t, "status")) }
		plan, job := &body{}, &design.Job{}
		s := &plan.Shell
		flat := func() solid.Flat { return solid.Flat{U: length("u"), V: length("v")} }
		angle := func() unit.Angle { return unit.Angle(rapid.Float64Range(-400, 400).Draw(t, "angle")) }
		panel := func() string { return rapid.SampledFrom([]string{"", "floor"}).Draw(t, "panel") }
		if yes("floor") {
			p := floor()
			p.Sides[0].Zone, p.Outline[2] = name("zone"), flat()
			s.Panels = []shell.Panel{p}
		}
		for range rapid.IntRange(0, 10).Draw(t, "holes") {
			h := shell.Hole{Mark: name("mark"), What: name("what"), Panel: panel(), At: at(), Known: yes("known"), Flat: flat(), Off: length("off"), Drill: length("drill"), DrillSum: name("sum"), Fastener: name("fastener"), FastenerKind: name("kind"), From: name("from"), Note: name("note"), Status: status()}
			for range rapid.IntRange(0, 2).Draw(t, "refs") {
				h.Refs = append(h.Refs, shell.Ref{To: name("to"), At: at(), Distance: length("tape")})
			}
			s.Holes = append(s.Holes, h)
		}
		for range rapid.IntRange(0, 3).Draw(t, "mounts") {
			s.Mounts = append(s.Mounts, shell.Mount{Name: name("mount"), Kind: name("kind"), Panel: panel(), Housing: name("housing"), At: at(), Known: yes("known"), CutOut: [2]unit.Length{length("w"), length("h")}, Flange: [2]unit.Length{length("w"), length("h")},
				Nut: length("nut"), Room: length("room"), Turn: angle(), Key: name("key"), Side: name("side"), Mating: name("mating"), SideWhy: name("why"), Bond: yes("bond"), Screws: []shell.Screw{{Mark: name("screw"), At: at(), Drill: length("drill")}}})
		}
		for range rapid.IntRange(0, 4).Draw(t, "masks") {
			s.Masks = append(s.Masks, shell.Mask{Mark: name("mark"), What: name("what"), Panel: panel(), At: at(), Known: yes("known"), Size: length("size"), Torque: unit.Torque(length("torque")), Side: name("side"), Note: name("note")})
			s.Plugs = append(s.Plugs, shell.Plug{Mark: name("mark"), Panel: name("panel"), At: at(), Known: yes("known"), Drill: length("drill")})
			s.Late = append(s.Late, shell.Late{Mark: name("mark"), What: name("what"), Panel: name("panel"), At: at(), Nearest: name("nearest"), Away: length("away"), Span: length("span"), Limit: length("limit")})
			s.Open = append(s.Open, shell.Open{Why: name("why"), Marks: []string{name("mark"), name("mark")}})
		}
		for range rapid.IntRange(0, 3).Draw(t, "runs") {
			r := fix.RunPlan{Run: name("run"), Stretch: rapid.IntRange(0, 3).Draw(t, "stretch"), Section: name("section"), Zone: name("zone"), Panel: name("panel"), Length: length("length"), Note: name("note"), SpanLimit: length("span"), SpanSource: name("source"), Wires: 3, Outside: length("outside"), LengthStatus: status()}
			for range rapid.IntRange(0, 4).Draw(t, "nodes") {
				r.Nodes = append(r.Nodes, fix.Station{After: length("after"), At: at(), Known: yes("known"), What: name("what")})
			}
			for range rapid.IntRange(0, 3).Draw(t, "bends") {
				r.Bends = append(r.Bends, fix.BendAt{After: length("after"), Turn: angle(), Radius: length("radius")})
				r.Diameters = append(r.Diameters, fix.Diameter{From: length("from"), To: length("to"), Least: bundle.LeastOf(length("least")), Most: length("most"), Wires: 2})
			}
			for range rapid.IntRange(0, 10).Draw(t, "clips") {
				r.Clips = append(r.Clips, fix.Clip{ClipWhy: name("why"), Least: bundle.LeastOf(length("least")), Play: length("play"), Kind: name("kind"), KindWhy: name("why"), Screw: length("screw"), ScrewSum: name("sum"), Tube: name("tube"), With: name("with"),
					Mark: name("mark"), After: length("after"), At: at(), Known: yes("known"), Part: name("part"), Bundle: length("bundle"), ClipSize: length("size"), Fastener: name("fastener"), Drill: length("drill"), Panel: name("panel"), Hole: name("hole"), Why: name("why"), Status: status()})
			}
			plan.Runs = append(plan.Runs, r)
			plan.Route.Nears = append(plan.Route.Nears, route.Near{Run: name("run"), After: length("after"), Hazard: name("hazard"), Kind: name("kind"), Position: name("position"), Gap: length("gap"), Needed: length("needed"), By: name("by"), Sleeve: name("sleeve")})
			plan.Route.Moves = append(plan.Route.Moves, route.Move{Run: name("run"), From: name("from"), To: name("to"), Free: length("free"), Tied: []string{name("tied")}})
			job.Devices = append(job.Devices, &design.Device{Name: name("device"), Spot: design.Spot{At: at(), Known: true}})
			job.Hazards = append(job.Hazards, &design.Hazard{Name: name("hazard"), Shapes: []design.Shape{{Box: yes("box"), Points: []design.Point3{at(), at()}}}})
		}
		for range rapid.IntRange(0, 3).Draw(t, "breaks") {
			job.Breaks = append(job.Breaks, &design.Break{Name: name("break"), Panel: name("panel"), Key: name("key"), Halves: [2]design.Half{{Section: name("section"), Housing: name("housing"), Mount: name("mount")}, {Contacts: name("contacts")}}})
		}
		h := common.Head{Job: name("job"), Datum: name("datum"), NotForBuild: name("why"), Size: rapid.SampledFrom([]page.Size{page.A4, page.A3, page.Letter}).Draw(t, "sheet")}
		d, err := compose(h, job, plan)
		if err != nil {
			t.Fatal(err)
		}
		for i, p := range d.Pages {
			if o := p.Overlaps(); len(o) > 0 {
				t.Fatalf("page %d: %q over %q", i+1, o[0][0].S, o[0][1].S)
			}
		}
	})
}
