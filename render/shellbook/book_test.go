package shellbook

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness"
	"loomsheet/harness/design"
	"loomsheet/harness/fix"
	"loomsheet/harness/shell"
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

// few is a small part of the fixture, so that its primitives can be read.
func few() (*design.Job, *body) {
	job, plan := invented()
	plan.Holes = plan.Holes[:3]
	plan.Runs[2].Nodes, plan.Runs[2].Clips = plan.Runs[2].Nodes[:2], plan.Runs[2].Clips[:9]
	plan.Runs = plan.Runs[1:]
	return job, plan
}

func TestGolden(t *testing.T) {
	goldens := map[string]string{}
	job, plan := invented()
	goldens["shell.txt"] = book(t, job, plan).Text()
	job, plan = few()
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

func TestEveryHoleAndClipIsPrinted(t *testing.T) {
	job, plan := invented()
	text := drawn(book(t, job, plan))
	_, left := apart(plan)
	var loose []string
	for _, l := range left {
		loose = append(loose, l.marks...)
		if want := squeeze(l.run + strings.Join(series(l.marks), ", ")); !strings.Contains(text, want) {
			t.Errorf("no %q", want)
		}
	}
	for _, h := range plan.Holes {
		if slices.Contains(loose, h.Mark) {
			if h.Panel != "" || !strings.HasPrefix(h.What, "clip ") {
				t.Errorf("%s is not a clip on no panel", h.Mark)
			}
			continue // its place stands in the list of its run
		}
		want := squeeze(h.Mark)
		if h.Known {
			want += coordinate(h.At.X, decimals(h.Status)) + coordinate(h.At.Y, decimals(h.Status)) + coordinate(h.At.Z, decimals(h.Status))
		} else {
			want += "–––"
		}
		switch {
		case h.Drill > 0:
			want += unit.Number(float64(h.Drill), 1)
		case h.Fastener != "":
			want += "nohole"
		default:
			want += "notknown"
		}
		if !strings.Contains(text, want) {
			t.Errorf("no hole %q", want)
		}
	}
	for _, r := range plan.Runs {
		for _, c := range r.Clips {
			at := "nocoordinates"
			if c.Known {
				at = squeeze(triple(c.At, 0))
			}
			if want := squeeze(c.Mark) + coordinate(c.After, 0) + at + c.Part; !strings.Contains(text, want) {
				t.Errorf("no clip %q", want)
			}
		}
	}
}

// "Nothing left to drill after paint" is said only when each hole has a place, a panel and a drill or a fixing, and each
// run with wires has a length.
func TestLastLine(t *testing.T) {
	const nothing = "Nothing left to drill after paint."
	done := func() *body {
		return &body{
			Holes: []shell.Hole{{Mark: "A", What: "break A", Panel: "p", Known: true, Drill: 28}, {Mark: "w", What: "clip w", Panel: "p", Known: true, Fastener: "weld-stud"}},
			Runs:  []fix.RunPlan{{Run: "r", Length: 100, Wires: 2}, {Run: "empty"}},
		}
	}
	for name, c := range map[string]struct {
		spoil func(*body)
		want  string
	}{
		"all settled":    {func(*body) {}, nothing},
		"no coordinates": {func(p *body) { p.Holes[0].Known = false }, "No coordinates (1): A"},
		"no panel":       {func(p *body) { p.Holes[1].Panel = "" }, "No panel (1): w"},
		"no drill":       {func(p *body) { p.Holes[0].Drill = 0 }, "No drill and no fixing (1): A"},
		"no length":      {func(p *body) { p.Runs[0].Length = 0 }, "run r: its length is not known"},
	} {
		p := done()
		c.spoil(p)
		text := book(t, &design.Job{}, p).Text()
		if !strings.Contains(text, c.want) || strings.Contains(text, nothing) != (c.want == nothing) {
			t.Errorf("%s: %s", name, text)
		}
	}
}

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

// distances are those that a stretch's strip shows, in order.
func distances(r *fix.RunPlan) []string {
	var out []string
	s := newStrip(r)
	for i := 0; i < len(s.stops)-1; {
		j := s.fill(i, 178)
		for k := i; k < j; k++ {
			out = append(out, coordinate(s.stops[k+1].at-s.stops[k].at, 0))
		}
		i = j
	}
	return out
}

func TestStripDistances(t *testing.T) {
	r := &fix.RunPlan{Nodes: []fix.Station{{After: 0, What: "a"}, {After: 300, What: "hub"}, {After: 500, What: "b"}},
		Clips: []fix.Clip{{Mark: "r-1", After: 60}, {Mark: "r-2", After: 300, Status: design.Frozen}, {Mark: "r-3", After: 440}, {Mark: "lost", After: unit.Length(-1)}}}
	if got, want := distances(r), []string{"60", "240", "140", "60"}; !reflect.DeepEqual(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	s := newStrip(r)
	if p := s.stops[2]; p.above != "hub" || p.below != "r-2" || !p.held {
		t.Errorf("the stop at 300 is %+v", p)
	}
	for _, r := range []*fix.RunPlan{{}, {Nodes: []fix.Station{{What: "a"}}}, {Nodes: []fix.Station{{What: "a"}, {What: "b"}}}} {
		if newStrip(r) != nil {
			t.Errorf("a strip of %v", r.Nodes)
		}
	}
}

// Rows of a strip cover every stop, in order, and the stops of a row stand in the order of their stations with room for
// their names.
func TestStripRows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := &fix.RunPlan{}
		at := unit.Length(0)
		for range rapid.IntRange(2, 40).Draw(t, "stops") {
			at += unit.Length(rapid.Float64Range(0, 5000).Draw(t, "step"))
			name := rapid.StringMatching(`[a-zW]{1,30}`).Draw(t, "name")
			if rapid.Bool().Draw(t, "clip") {
				r.Clips = append(r.Clips, fix.Clip{Mark: name, After: at})
			} else {
				r.Nodes = append(r.Nodes, fix.Station{What: name, After: at})
			}
		}
		s := newStrip(r)
		if s == nil {
			return
		}
		for i := 0; i < len(s.stops)-1; {
			j := s.fill(i, 178)
			if j <= i || j >= len(s.stops) {
				t.Fatalf("row %d to %d of %d", i, j, len(s.stops))
			}
			xs := spread(s.stops[i:j+1], 178)
			for k := range xs[1:] {
				if xs[k+1]-xs[k] < need(s.stops[i+k], s.stops[i+k+1])-1e-9 {
					t.Fatalf("stops at %v and %v of %v", xs[k], xs[k+1], s.stops[i:j+1])
				}
			}
			if last := xs[len(xs)-1]; last > 178 || xs[0] < 0 {
				t.Fatalf("a row from %v to %v", xs[0], last)
			}
			i = j
		}
	})
}

func TestFrameOfEachPage(t *testing.T) {
	job, plan := invented()
	d := book(t, job, plan)
	for i, p := range d.Pages {
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
		"hole A cannot be printed: character 日":    func(_ *design.Job, p *body) { p.Holes[0].Mark, p.Holes[0].Note = "A", "日" },
		"clip tunnel-2 cannot be printed":          func(_ *design.Job, p *body) { p.Runs[2].Clips[1].Part = "a\tb" },
		"run rail cannot be printed: character":    func(_ *design.Job, p *body) { p.Runs[0].Nodes[0].What = "😀" },
		"panel bulkhead cannot be printed":         func(j *design.Job, _ *body) { j.Panels[1].Note = "日" },
		"break A cannot be printed: character 日 (": func(j *design.Job, _ *body) { j.Breaks[0].Key = "日" },
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
	d, err := Make(export.Input{Result: &harness.Result{Job: job, Fixed: &fix.Plan{Runs: plan.Runs}, Shell: &shell.Shell{Holes: plan.Holes}}, Digest: "3f9a"})
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
		for range rapid.IntRange(0, 10).Draw(t, "holes") {
			plan.Holes = append(plan.Holes, shell.Hole{Mark: name("mark"), What: name("what"), Panel: rapid.SampledFrom([]string{"", "floor"}).Draw(t, "panel"), At: at(), Known: yes("known"), Drill: length("drill"), Fastener: name("fastener"), Note: name("note"), Status: status()})
		}
		for range rapid.IntRange(0, 3).Draw(t, "runs") {
			r := fix.RunPlan{Run: name("run"), Stretch: rapid.IntRange(0, 3).Draw(t, "stretch"), Section: name("section"), Zone: name("zone"), Panel: name("panel"), Length: length("length"), Note: name("note"), SpanLimit: length("span"), SpanSource: name("source"), Wires: 3, Outside: length("outside"), LengthStatus: status()}
			for range rapid.IntRange(0, 4).Draw(t, "nodes") {
				r.Nodes = append(r.Nodes, fix.Station{After: length("after"), At: at(), Known: yes("known"), What: name("what")})
			}
			for range rapid.IntRange(0, 10).Draw(t, "clips") {
				r.Clips = append(r.Clips, fix.Clip{Mark: name("mark"), After: length("after"), At: at(), Known: yes("known"), Part: name("part"), Bundle: length("bundle"), ClipSize: length("size"), Fastener: name("fastener"), Drill: length("drill"), Panel: name("panel"), Hole: name("hole"), Why: name("why"), Status: status()})
			}
			plan.Runs = append(plan.Runs, r)
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
