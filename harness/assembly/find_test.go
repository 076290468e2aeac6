package assembly_test

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness"
	"loomsheet/harness/assembly"
	"loomsheet/harness/bench"
	"loomsheet/harness/bundle"
	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/net"
	"loomsheet/harness/rule"
	"loomsheet/harness/size"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"

	"github.com/google/go-cmp/cmp"
)

// base is a plug A with three tails: two wires to b, one to c that leaves half way. Contacts of the plugs are 8 mm across, the bodies 30 mm.
const base = `harness "Test" revision A
section s
zone z air 40 C
housing own-4 back 24 mm cut-out 30 mm { cavity [1..4] takes tab-6-3 }
point fork at (500, 0, 0 mm)
run trunk from a to fork to b section s zone z
run tail from fork to c section s zone z
device a at (0, 0, 0 mm) housing own-4 {
  supply 12 V inside 10 mohm from 1 to 2
  supply 5 V inside 10 mohm from 3 to 4
}
device b at (1000, 0, 0 mm) housing own-4 { draw 1 A at 12 V from 1 to 2 }
device c at (500, 400, 0 mm) housing own-4 { draw 1 A at 5 V from 1 to 2 }
circuit p from a.1 to b.1 size 1 mm2
circuit q from a.2 to b.2 size 1 mm2
circuit r from a.3 to c.1 size 1 mm2
circuit t from a.4 to c.2 size 1 mm2
case on { supply a }
`

func compile(t *testing.T, text string, pairs ...string) *harness.Result {
	t.Helper()
	for i := 0; i < len(pairs); i += 2 {
		if !strings.Contains(text, pairs[i]) {
			t.Fatalf("no %q in the text", pairs[i])
		}
		text = strings.Replace(text, pairs[i], pairs[i+1], 1)
	}
	load := func(name string) ([]byte, error) {
		if name == "test.loom" {
			return []byte(text), nil
		}
		return nil, errors.New("there is no such file")
	}
	job, _, msgs := resolve.Job("test.loom", load, parts.Files(), rule.Keys())
	for _, m := range msgs {
		if m.Severity == diag.Mistake {
			t.Fatalf("%s: %s %s", m.Code, m.Title, m.Detail)
		}
	}
	return harness.Compile(job)
}

func section(t *testing.T, p *assembly.Plan, name string) *assembly.Section {
	t.Helper()
	for i := range p.Sections {
		if p.Sections[i].Name == name {
			return &p.Sections[i]
		}
	}
	t.Fatalf("no section %s", name)
	return nil
}

// place is the steps of a place, a line each.
func place(s *assembly.Section, title string) []string {
	for i := range s.Places {
		if !slices.Contains(s.Places[i].Titles, title) {
			continue
		}
		var out []string
		for _, x := range s.Places[i].Steps {
			line := x.Do
			for _, e := range x.With {
				line += " [" + e.What + ": " + e.Ends + "]"
			}
			if x.After != "" {
				line += " AFTER " + x.After
			}
			out = append(out, line)
		}
		return out
	}
	return nil
}

func thing(s *assembly.Section, kind string) (out []string) {
	for _, x := range s.Things {
		if x.Kind == kind {
			out = append(out, fmt.Sprintf("%s %s, %g long, %s, %s, before %s", x.Part, x.Size, float64(x.Length), x.Where, x.From, x.Before))
		}
	}
	return out
}

// Two ends with nothing over them; b and c are done alike.
func TestPlainEnds(t *testing.T) {
	r := compile(t, base)
	s := section(t, r.Assembly, "s")
	want := []string{"slide on the marks [marker 2.4 mm: 1 to 4]", "strip, crimp, and pull each by hand [tab-6-3, strip 5.5 mm: 1 to 4]", "shrink the marks where they are read", "put the contacts into their cavities and lock them; pull each"}
	if d := cmp.Diff(want, place(s, "a")); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff(place(s, "b"), place(s, "c")); d != "" || len(s.Places) != 3 { // a, b with c, the board
		t.Errorf("%d places\n%s", len(s.Places), d)
	}
	if len(s.Things) != 1 || s.Things[0].Count != 8 || s.Things[0].Kind != "mark" {
		t.Errorf("%+v", s.Things)
	}
}

// The four wires are 2.1 mm each by the library, so 1.2 sqrt(4 x 2.1^2) = 5.04 together, 5.07 packed; with one of them in a contact of 8 mm they are
// 1.2 sqrt(3 x 2.1^2 + 8^2) = 10.6. A boot that passes 9 mm goes on before any contact, one of 12 before the housing, one of 50 at any time.
func TestBootGoesOnFirst(t *testing.T) {
	for passes, want := range map[string]string{
		"9 mm":  "marks, boot, crimp, shrink, insert, fit",
		"12 mm": "marks, crimp, shrink, boot, insert, fit",
		"50 mm": "marks, crimp, shrink, boot, insert, fit",
	} {
		s := section(t, compile(t, base+"boot cap passes "+passes+" bundle 2 mm, 9 mm body 20 mm, 28 mm length 40 mm\n", "device a at (0, 0, 0 mm) housing own-4", "device a at (0, 0, 0 mm) housing own-4 boot cap").Assembly, "s")
		var got []string
		for _, line := range place(s, "a") {
			for prefix, short := range map[string]string{"slide on the marks": "marks", "slide cap": "boot", "strip": "crimp", "shrink": "shrink", "put": "insert", "bring boot": "fit"} {
				if strings.HasPrefix(line, prefix) {
					got = append(got, short)
				}
			}
		}
		if g := strings.Join(got, ", "); g != want {
			t.Errorf("passes %s: %s, want %s\n%s", passes, g, want, strings.Join(place(s, "a"), "\n"))
		}
		before := map[string]string{"9 mm": "the first contact is crimped at a", "12 mm": "contacts go into a", "50 mm": ""}[passes]
		if b := s.Things[len(s.Things)-1]; b.Kind != "boot" || b.Before != before || b.From != "from its connector" {
			t.Errorf("passes %s: %+v", passes, b)
		}
	}
}

// A mark lies under the sleeve that is shrunk over a lug's barrel: mark, sleeve, lug, and only then heat.
func TestMarkUnderTheSleeveOfAnEnd(t *testing.T) {
	s := section(t, compile(t, base+"cavity d.m circuit u slid-on shrink\ndevice d at (500, -300, 0 mm) { pin m stud M6 }\nrun side from fork to d section s zone z\ncircuit u from a.1 to d.m size 1 mm2\n",
		"circuit p from a.1", "circuit p from a.2", "circuit q from a.2", "circuit q from a.3", "circuit r from a.3 to c.1 size 1 mm2\n", "").Assembly, "s")
	// The wire is 2.1 mm, the barrel of its lug 2.8 mm: a sleeve of 3.18 mm recovers to 1.59.
	want := []string{"slide on the marks [marker 2.4 mm: u]", "slide on what goes over the ends, and push it back [shrink 3.2 mm: u]", "strip, crimp, and pull each by hand [M6 lug: u]",
		"shrink the marks where they are read", "push the sleeves over the ends and fit them [shrink 3.2 mm: u]", "in the vehicle: lay the lugs on in the order of the list of studs, and tighten the nuts"}
	if d := cmp.Diff(want, place(s, "stud m of d")); d != "" {
		t.Error(d)
	}
	if d := cmp.Diff([]string{"shrink 3.2 mm, 30 long, stud m of d, , before that end is crimped"}, thing(s, "sleeve over an end")); d != "" {
		t.Error(d)
	}
}

// A closed sleeve over a trunk from which a tail leaves half way is two pieces, each put on from an end; one that is slit is one piece, put on
// at any time. Four wires of 2.1 mm are 5.07 mm packed closest, which is more than the trade's figure; two are 4.2. The piece from the fork to b cannot come from
// the fork once the others are laid up beside its wires.
func TestSleeveWithABreakout(t *testing.T) {
	s := section(t, compile(t, base, "run trunk from a to fork to b section s zone z", "run trunk from a to fork to b section s zone z sleeve shrink").Assembly, "s")
	want := []string{
		"shrink 6.3 mm, 500 long, run trunk, a to fork, from a, before the first contact is crimped at a",
		"shrink 4.8 mm, 500 long, run trunk, fork to b, from b, before the first contact is crimped at b",
	}
	got := thing(s, "sleeve over a run")
	slices.Sort(got)
	slices.Sort(want)
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
	s = section(t, compile(t, base, "run trunk from a to fork to b section s zone z", "run trunk from a to fork to b section s zone z sleeve convolute").Assembly, "s")
	if d := cmp.Diff([]string{"convolute 7 mm, 1000 long, run trunk, , before "}, thing(s, "sleeve over a run")); d != "" {
		t.Error(d)
	}
}

// Plugs that come on their wires, at both ends, leave no way for a closed sleeve, and none for marks; with one of them free there is.
func TestPlugsOnTheirWires(t *testing.T) {
	sleeved := []string{"run tail from fork to c section s zone z", "run tail from fork to c section s zone z sleeve shrink"}
	fitted := func(names ...string) []string {
		out := sleeved
		for _, n := range names {
			out = append(slices.Clone(out), "device "+n+" at", "device "+n+" fitted yes at")
		}
		return out
	}
	p := compile(t, base, fitted("a", "c")...).Assembly
	var runs, marks int
	for _, x := range p.Against {
		if x.Subject.Name == "tail" {
			runs++
			if !x.Whole || len(x.Why) != 2 || !strings.Contains(x.Why[1], "from c: it opens to 6.3 mm, and must pass c, 30 mm across, and comes on its wires") {
				t.Errorf("%+v", x)
			}
		} else if strings.HasPrefix(x.Things[0], "mark") {
			marks++
		}
	}
	if runs != 1 || marks != 4 { // r and t at both ends; p and q have a free end at b
		t.Errorf("%d runs, %d marks: %+v", runs, marks, p.Against)
	}
	p = compile(t, base, fitted("a")...).Assembly
	if len(p.Against) != 0 {
		t.Errorf("%+v", p.Against)
	}
	// Both marks of a wire go on from its free end, that of the fitted one first.
	if got := place(section(t, p, "s"), "c"); len(got) == 0 || !strings.Contains(got[0], "AFTER ") {
		t.Errorf("%q", got)
	}
}

// A wire sleeve covers what a splice joins only if it is on before.
func TestSleeveOverASplice(t *testing.T) {
	text := base + "splice mid section s along trunk after 200 mm sleeve shrink-glued\n"
	s := section(t, compile(t, text, "circuit p from a.1 to b.1 size 1 mm2", "circuit p size 1 mm2 {\n  from a.1 to mid\n  from mid to b.1\n  from mid to c.3\n}",
		"run trunk from a to fork to b section s zone z", "run trunk from a to fork to b section s zone z sleeve shrink").Assembly, "s")
	got := place(s, "splice mid")
	for i, prefix := range []string{"slide on the marks", "shrink the marks", "slide shrink-glued", "strip its wires and crimp them in barrel-", "bring shrink-glued"} {
		if i >= len(got) || !strings.HasPrefix(got[i], prefix) {
			t.Fatalf("%q", got)
		}
	}
	// The runs are laid up when it is made, and their sleeve, which covers it, opens over its bulge.
	var over unit.Length
	for _, x := range s.Things {
		if x.Kind == "sleeve over a run" && strings.Contains(x.Where, "a to fork") {
			over = x.Over
		}
	}
	if over < 6 { // barrel-6 is 5.4 mm across, and three other wires lie beside it
		t.Errorf("it must open over %v", over)
	}
	if b := place(s, "all runs"); len(b) != 1 || !strings.Contains(b[0], "AFTER splice mid is made") {
		t.Errorf("%q", b)
	}
}

// What does not pass a bush is fitted in the vehicle, after the section is led through.
func TestBush(t *testing.T) {
	text := base + "panel wall thickness 1 mm zone z, z {\n  corners (700, -200, -200 mm), (700, 200, -200 mm), (700, 200, 200 mm), (700, -200, 200 mm)\n}\npoint hole at (700, 0, 0 mm) panel wall bush 12 mm\n"
	s := section(t, compile(t, text, "run trunk from a to fork to b", "run trunk from a to fork to hole to b").Assembly, "s")
	if got := place(s, "bush hole"); len(got) != 1 || !strings.HasPrefix(got[0], "in the vehicle: lead the section through it AFTER ") || !strings.Contains(got[0], "laid up") {
		t.Errorf("%q", got)
	}
	got := place(s, "b")
	if n := len(got); n == 0 || got[n-1] != "put the contacts into their cavities and lock them; pull each AFTER the section is led through bush hole" {
		t.Errorf("%q", got)
	}
	for _, line := range place(s, "a") {
		if strings.Contains(line, "bush") {
			t.Errorf("%q", line)
		}
	}
}

// Every step stands in one round, those of a place in their order, and every round holds to what its steps wait for.
func TestRoundsOfTheExamples(t *testing.T) {
	for _, f := range []string{"../../examples/bad/mended.loom", "../../examples/painted/plover.loom"} {
		dir := filepath.Dir(f)
		job, _, _ := resolve.Job(filepath.Base(f), func(name string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, name)) }, parts.Files(), rule.Keys())
		r := harness.Compile(job)
		if len(r.Assembly.Sections) == 0 {
			t.Fatalf("%s has no sections", f)
		}
		for _, s := range r.Assembly.Sections {
			next, n, steps := map[int]int{}, 0, 0
			for _, o := range s.Order {
				for _, x := range o.Turns {
					if next[x.Place] != x.Step {
						t.Errorf("%s, %s: step %d of %s comes when %d is next", f, s.Name, x.Step, s.Places[x.Place].Title, next[x.Place])
					}
					next[x.Place]++
					n++
				}
			}
			for _, p := range s.Places {
				steps += len(p.Steps)
			}
			if n != steps {
				t.Errorf("%s, %s: %d turns for %d steps", f, s.Name, n, steps)
			}
		}
		again := assembly.Find(r.Job, r.Net, r.Sizes, r.Bundles, r.Plan, r.Joints, r.Shell)
		if d := cmp.Diff(r.Assembly, again, cmp.Comparer(func(a, b diag.Span) bool { return a == b })); d != "" {
			t.Errorf("%s: not twice the same\n%s", f, d)
		}
	}
}

// Whatever is missing, a plan is made.
func TestIncomplete(t *testing.T) {
	if p := assembly.Find(&design.Job{}, &net.Net{}, nil, &bundle.Bundles{}, &bench.Plan{}, nil, nil); len(p.Sections)+len(p.Stacks)+len(p.Misfits)+len(p.Against) != 0 {
		t.Errorf("%+v", p)
	}
	r := compile(t, base, "run trunk from a to fork to b section s zone z", "run trunk from a to fork to b section s zone z sleeve shrink", "device a at (0, 0, 0 mm) housing own-4", "device a at (0, 0, 0 mm) housing own-4 boot boot-12")
	for what, spoil := range map[string]func(*design.Job){
		"no parts":    func(j *design.Job) { j.Parts = design.Parts{} },
		"no sleeves":  func(j *design.Job) { j.Parts.Sleeves = nil },
		"no boots":    func(j *design.Job) { j.Parts.Boots = nil },
		"no contacts": func(j *design.Job) { j.Parts.Contacts = nil },
		"no devices":  func(j *design.Job) { j.Devices = nil },
		"no runs":     func(j *design.Job) { j.Runs = nil },
	} {
		job := *r.Job
		spoil(&job)
		for _, sizes := range []size.Sizes{r.Sizes, nil} {
			p := assembly.Find(&job, r.Net, sizes, r.Bundles, r.Plan, nil, nil)
			if len(p.Sections) != 1 || len(p.Sections[0].Order) == 0 {
				t.Errorf("%s: %+v", what, p)
			}
		}
	}
}
