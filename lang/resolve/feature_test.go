package resolve

import (
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/lang/parts"
)

const base = "section tub, engine\nzone cabin air 40 C\n"

func files(m map[string]string) func(string) ([]byte, error) {
	return func(p string) ([]byte, error) {
		switch t, ok := m[p]; {
		case t == "outside":
			return nil, ErrOutside
		case ok:
			return []byte(t), nil
		}
		return nil, fs.ErrNotExist
	}
}

func codes(ds diag.List) string {
	var out []string
	for _, d := range ds {
		out = append(out, d.Code)
	}
	return strings.Join(out, " ")
}

func TestInclude(t *testing.T) {
	head := "harness \"T\"\n"
	for name, c := range map[string]struct {
		files map[string]string
		want  string
	}{
		"cycle":    {map[string]string{"a.loom": head + "include \"b.loom\"\n", "b.loom": "include \"a.loom\"\ninclude \"./b.loom\"\nsection tub\n"}, ""},
		"twice":    {map[string]string{"a.loom": head + "include \"b.loom\"\ninclude \"sub/../b.loom\"\n", "b.loom": "section tub\n"}, ""},
		"subdir":   {map[string]string{"a.loom": head + "include \"sub/b.loom\"\n", "sub/b.loom": "section tub\n"}, ""},
		"missing":  {map[string]string{"a.loom": head + "include \"b.loom\"\nsplice s section tubb\n"}, "no-such-file"},
		"up":       {map[string]string{"a.loom": head + "include \"sub/../../b.loom\"\n"}, "include-outside"},
		"absolute": {map[string]string{"a.loom": head + "include \"/etc/passwd\"\n"}, "include-outside"},
		"drive":    {map[string]string{"a.loom": head + "include \"C:\\b.loom\"\n"}, "include-outside"},
		"link":     {map[string]string{"a.loom": head + "include \"b.loom\"\n", "b.loom": "outside"}, "include-outside"},
		"main":     {map[string]string{}, "no-such-file"},
	} {
		_, src, ds := Job("a.loom", files(c.files), parts.Files(), nil)
		if codes(ds) != c.want {
			t.Errorf("%s: %s", name, show(src, ds))
		}
	}
}

// The digest tells texts apart and does not hang on the order of includes.
func TestDigest(t *testing.T) {
	digest := func(m map[string]string) string {
		_, src, _ := Job("a.loom", files(m), parts.Files(), nil)
		return src.Digest()
	}
	x := digest(map[string]string{"a.loom": "include \"b.loom\"\n", "b.loom": "section tub\n"})
	if x == digest(map[string]string{"a.loom": "include \"b.loom\"\n", "b.loom": "section tub2\n"}) {
		t.Error("a changed file has the same digest")
	}
	_, src, _ := Job("a.loom", files(map[string]string{"a.loom": "include \"c.loom\"\ninclude \"b.loom\"\n", "b.loom": "", "c.loom": ""}), nil, nil)
	if src.Files[1].Name != "b.loom" || len(src.Files) != 3 {
		t.Errorf("%+v", src.Files)
	}
}

func TestSharedPlaces(t *testing.T) {
	j := clean(t, base+`point hub at (100, 20, 30 cm)
point by at hub
point off at hub offset (1, 2, 3 mm)
point other at off mirror y
device a at by housing sealed-2
device shell at hub {
  pin rear at (5, 5, 5 mm) stud M8
  pin fore at hub stud M8
  pin left stud M8
}
device b at shell.rear housing sealed-2
splice s at a section tub
splice free section tub
break X at b housing stud-post-m10 {
  half tub
  half engine
}
point p[1..3] at hub step (10, 0, 0 mm)
`)
	got := map[string]string{}
	for _, p := range j.Points {
		got[p.Name] = fmt.Sprintf("%s %v", p.Node, p.At)
	}
	for _, d := range j.Devices {
		got[d.Name] = fmt.Sprintf("%s %v", d.Node, d.At)
		for _, p := range d.Pins {
			if p.Stud != "" {
				got[d.Name+"."+p.Name] = p.Node
			}
		}
	}
	for _, s := range j.Splices {
		got[s.Name] = fmt.Sprintf("%s %v", s.Node, s.Known)
	}
	got["X"] = j.Breaks[0].Node
	want := map[string]string{
		"hub": "hub {1000 mm 200 mm 300 mm}", "by": "hub {1000 mm 200 mm 300 mm}", "off": "off {1001 mm 202 mm 303 mm}", "other": "other {1001 mm -202 mm 303 mm}",
		"a": "hub {1000 mm 200 mm 300 mm}", "shell": "hub {1000 mm 200 mm 300 mm}", "shell.rear": "shell.rear", "shell.fore": "hub", "shell.left": "",
		"b": "shell.rear {5 mm 5 mm 5 mm}", "s": "hub true", "free": " false", "X": "shell.rear",
		"p1": "p1 {1000 mm 200 mm 300 mm}", "p2": "p2 {1010 mm 200 mm 300 mm}", "p3": "p3 {1020 mm 200 mm 300 mm}",
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestLike(t *testing.T) {
	j := clean(t, base+`device a at (0, 10, 0 mm) housing sealed-4 class lamps note "first" frozen B {
  draw 1 A from 1 to 4
  draw 2 A from 2 to 4 start 5 A for 1 s
  unused 3
}
device b at a mirror y like a {
  draw 3 A from 2 to 4
}
device c at (7, 0, 0 mm) like b housing sealed-5
device d like b
set drop to 3 % class lamps
device relay at (0, 0, 0 mm) like relay-40 { coil 40 ohm from 86 to 85 }
`)
	b := device1(t, j, "b")
	if len(b.Draws) != 2 || b.Draws[1].Amps.Nominal != 3 || b.Draws[1].Start.Given || b.At.Y != -10 || b.Note != "" || b.Frozen != "" || b.Class != "lamps" {
		t.Errorf("b: %+v", b)
	}
	if c := device1(t, j, "c"); c.At.Y != 0 || c.Housings[0].Part != "sealed-5" || len(c.Pins) != 5 || c.Draws[0].From.Device != "c" {
		t.Errorf("c: %+v", c)
	}
	if d := device1(t, j, "d"); d.Node != "b" || d.At.Y != -10 || d.Pattern {
		t.Errorf("d: %+v", d.Spot)
	}
	if r := device1(t, j, "relay"); len(r.Coils) != 1 || r.Coils[0].Ohms.Nominal != 40 || r.Coils[0].Moves.State != "on" {
		t.Errorf("relay: %+v", r.Coils)
	}
}

func TestPattern(t *testing.T) {
	j := clean(t, base+"device horn-base housing sealed-2 { draw 6 A from 1 to 2 }\ndevice horn at (0, 0, 0 mm) like horn-base\n")
	if !device1(t, j, "horn-base").Pattern || device1(t, j, "horn").Pattern {
		t.Error("which one is the pattern?")
	}
}

func TestTemplate(t *testing.T) {
	j := clean(t, base+`template corner takes name, place, to-size, n {
  device ws-[name] at [place] housing sealed-2 class signal
  device up-[name] at (0, 0, [n]) housing sealed-3
  circuit ws-[name]-[1..2] from ws-[name].[1..2] to up-[name].[2, 1] size [to-size] class signal
}
set drop to 5 % class signal
use corner name fl place (1, 2, 3 mm) to-size 0.5 mm2 n 40 mm
use corner n 50 mm name fr to-size auto place ws-fl
`)
	if d := device1(t, j, "ws-fr"); d.Node != "ws-fl" || d.At.Z != 3 {
		t.Errorf("%+v", d.Spot)
	}
	if d := device1(t, j, "up-fr"); d.At.Z != 50 {
		t.Errorf("%+v", d.Spot)
	}
	if c := circuit1(t, j, "ws-fl-2"); links(c) != "ws-fl.2-up-fl.1" || c.Links[0].Size.MM2 != 0.5 {
		t.Errorf("%s", links(c))
	}
}

func TestEnds(t *testing.T) {
	j := clean(t, base+`device stud at (0, 0, 0 mm) { pin m stud M8 }
device ecu at (0, 0, 0 mm) {
  housing sealed-6 as a
  housing sealed-6 as b
  pin live cavity a.3
  unused a.[4..6], b.[1..6]
}
splice s section tub
break post at (0, 0, 0 mm) housing stud-post-m10 {
  half tub
  half engine
}
circuit x from stud to ecu.a.3
circuit y from ecu.live to s, post
circuit z from ecu.a.1, ecu.a.2 to s to stud.m size 2 mm2 {
  from s to post size 20 AWG colour red/white parallel 2
}
`)
	for name, want := range map[string]string{"x": "stud.m-ecu.live", "y": "ecu.live-post ecu.live-s", "z": "ecu.a.1-s ecu.a.2-s s-post s-stud.m"} {
		if got := links(circuit1(t, j, name)); got != want {
			t.Errorf("%s: %s", name, got)
		}
	}
	z := circuit1(t, j, "z").Links[2]
	if !z.Size.AWG || z.Size.Gauge != 20 || z.Parallel != 2 || z.To.Kind != design.AtBreak || z.Colour != "red/white" {
		t.Errorf("%+v", z)
	}
}

func TestRunsOfSeveralWays(t *testing.T) {
	j := clean(t, base+`point a, b at (0, 0, 0 mm)
point c at (0, 9, 0 mm)
point d at (9, 9, 0 mm)
point e at (9, 9, 9 mm)
run loom from c to (1, 1, 1 mm) to d, e section tub slack 5 mm {
  from (1, 1, 1 mm) to a length 30 mm
}
run short from c, d to e section tub
`)
	var got []string
	for _, r := range j.Runs {
		for _, s := range r.Stretches {
			var ns []string
			for _, n := range s.Nodes {
				ns = append(ns, n.Node)
			}
			got = append(got, fmt.Sprintf("%s %s %v %v", r.Name, strings.Join(ns, ">"), s.Length.Nominal, s.Slack))
		}
	}
	want := []string{"loom c>(1, 1, 1 mm) 0 mm 5 mm", "loom (1, 1, 1 mm)>d 0 mm 5 mm", "loom (1, 1, 1 mm)>e 0 mm 5 mm", "loom (1, 1, 1 mm)>a 30 mm 5 mm", "short c>e 0 mm 0 mm", "short d>e 0 mm 0 mm"}
	if d := cmp.Diff(want, got); d != "" {
		t.Error(d)
	}
}

func TestSpread(t *testing.T) {
	j := clean(t, base+`device a at (0, 0, 0 mm) housing sealed-4 {
  draw 10 A from 1 to 2 low 8 A high 12 A
  draw 50 W at 12 V from 1 to 3 tolerance 10 %
  draw 4 ohm from 1 to 4
  supply 12 V from 1 to 4 high 14 V
}
`)
	d := device1(t, j, "a")
	if x := d.Draws[0]; x.Amps.Low != 8 || x.Amps.High != 12 || x.As != design.ConstantCurrent {
		t.Errorf("%+v", x)
	}
	if x := d.Draws[1]; x.Watts.Low != 45 || x.Watts.High != 55 || x.As != design.ConstantPower || x.At.Nominal != 12 {
		t.Errorf("%+v", x)
	}
	if x := d.Draws[2]; x.As != design.ConstantResistance || x.Ohms.Low != 4 {
		t.Errorf("%+v", x)
	}
	if s := d.Supplies[0]; s.Volts.Low != 12 || s.Volts.High != 14 {
		t.Errorf("%+v", s)
	}
}

func TestSettings(t *testing.T) {
	j := clean(t, base+`set drop, feed-drop to 3 % class a, b section tub, engine
set clip-span to 30 cm
set clip-span to 300 mm
set unfused-most to 7 inch
`)
	n := map[string]int{}
	for _, l := range j.Settings.Lines {
		n[l.Name]++
	}
	if n["drop"] != 4 || n["feed-drop"] != 4 || n["clip-span"] != 2 {
		t.Errorf("%v", n)
	}
	if v := j.Settings.Get("drop", design.Scope{Class: "b", Section: "engine"}); !v.Set || v.Value.String() != "3 %" || v.Scope != "class b, section engine" {
		t.Errorf("%+v", v)
	}
	if v := j.Settings.Get("unfused-most", design.Scope{}).Value.String(); v != "177.8 mm" {
		t.Error(v)
	}
}

// The job's own part hides the library's of that name, and only what a job needs of the library is taken up.
func TestOwnParts(t *testing.T) {
	j := clean(t, base+"housing sealed-2 { cavity [1..2] takes own-pin }\ncontact own-pin rating 9 A\ndevice a at (0, 0, 0 mm) housing sealed-2\ndevice b at (0, 0, 0 mm) housing sealed-3\n")
	got := map[string]bool{}
	for _, h := range j.Parts.Housings {
		got[h.Name] = h.Own
	}
	if d := cmp.Diff(map[string]bool{"sealed-2": true, "sealed-3": false}, got); d != "" {
		t.Error(d)
	}
	var cs []string
	for _, c := range j.Parts.Contacts {
		cs = append(cs, c.Name)
	}
	if strings.Join(cs, " ") != "own-pin size-16" {
		t.Error(cs)
	}
}

// A range is short for its members: the same job comes of both.
func TestRangeIsItsMembers(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 6).Draw(t, "n")
		x, y := rapid.IntRange(-900, 900).Draw(t, "x"), rapid.IntRange(-50, 50).Draw(t, "step")
		order := rapid.Permutation([]int{1, 2, 3, 4, 5, 6}[:n]).Draw(t, "order")
		var list []string
		for _, o := range order {
			list = append(list, fmt.Sprint(o))
		}
		head := "harness \"T\"\nsection tub\nzone z air 40 C\ndevice ecu at (0, 0, 0 mm) housing sealed-12\n"
		short := head + fmt.Sprintf("device inj[1..%d] at (%d, 5, 6 mm) step (%d, 1, 0 mm) housing sealed-2 { draw 1 A from 1 to 2 }\n", n, x, y) +
			fmt.Sprintf("circuit c[1..%d] from ecu.[1..%d] to inj[%s].1\n", n, n, strings.Join(list, ", "))
		long := head
		for i := range n {
			long += fmt.Sprintf("device inj%d at (%d, %d, 6 mm) housing sealed-2 { draw 1 A from 1 to 2 }\n", i+1, x+i*y, 5+i)
			long += fmt.Sprintf("circuit c%d from ecu.%d to inj%d.1\n", i+1, i+1, order[i])
		}
		load := func(s string) func(string) ([]byte, error) {
			return func(string) ([]byte, error) { return []byte(s), nil }
		}
		a, src, ds := Job("j", load(short), parts.Files(), nil)
		b, _, es := Job("j", load(long), parts.Files(), nil)
		if len(ds)+len(es) > 0 {
			t.Fatal(show(src, ds), es)
		}
		if d := cmp.Diff(a, b, noSpans); d != "" {
			t.Fatal(d)
		}
	})
}

// A name that stood in a line nobody could read is not reported missing as well.
func TestOneMistakeOneMessage(t *testing.T) {
	for name, c := range map[string]struct{ loom, want string }{
		"misspelt word":     {"devcie pump at (0, 0, 0 mm) housing sealed-2\nsplice s section tub\ncircuit c from pump.1 to s\n", "no-such-word"},
		"unclosed place":    {"device pump at (0, 0, 0 mm housing sealed-2\nsplice s section tub\ncircuit c from pump.1 to s\n", "unclosed-paren"},
		"unknown housing":   {"device pump at (0, 0, 0 mm) housing seeled-2 { draw 4 A from 1 to 2 }\nsplice s section tub\ncircuit c from pump.1 to s\n", "no-such-housing"},
		"one name 3 times":  {"splice s section tub\ncircuit c from pmp.1 to s\ncircuit d from pmp.2 to s\nrun r from pmp to (0, 0, 0 mm) section tub\n", "no-such-end"},
		"a wrong draw":      {"device pump at (0, 0, 0 mm) housing sealed-2 { draw 4 from 1 to 2 }\ncase c { works pump }\n", "unit-missing"},
		"template not made": {"template t takes n { device d-[n] at (0, 0, 0 mm) housing sealed-2 }\nuse t m 1\nsplice s section tub\ncircuit c from d-1.1 to s\n", "no-such-parameter"},
	} {
		_, src, ds := text(t, "harness \"T\"\n"+base+c.loom)
		if codes(ds) != c.want {
			t.Errorf("%s: want %s\n%s", name, c.want, show(src, ds))
		}
	}
}

// A label or a cavity of a screen, or of a spare core, names its cable; the name of a circuit goes first.
func TestDecidedOfCable(t *testing.T) {
	j := clean(t, base+`run r from a to b section tub zone cabin
device a, b at ([0, 100], 0, 0 mm) housing sealed-4
circuit h from a.1 to b.1 class signal carries 0 A
circuit l from a.2 to b.2 class signal carries 0 A
cable lead holds h, l as pair wire screened-2 screen a.3
label "S" circuit lead from a.3 to b.1 frozen A
label "H" circuit h from a.1 to b.1 frozen A
`)
	var got []string
	for _, l := range j.Labels {
		got = append(got, l.Text+" "+l.Circuit+" "+l.From+" "+l.To)
	}
	if s := strings.Join(got, "; "); s != "H h a.1 b.1; S lead a.3 b.1" {
		t.Error(s)
	}
}
