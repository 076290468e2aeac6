package margin_test

import (
	"math"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/margin"
	"loomsheet/harness/net"
	"loomsheet/harness/size"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/unit"
)

// shared has two lamps behind one thin feed to a box with fuses, and one earth stud with a thin strap.
const sharedFeed = `harness "Trial" revision A
section body
zone cabin air 40 C
point hub at (3000, 0, 0 mm)
run main from battery to box to hub to lamp, horn, earth section body zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12.6 V inside 5 mohm most 200 A from pos to neg
}
device box at (1500, 0, 0 mm) {
  pin in stud M6
  pin l, h stud M5
  fuse blade-20 from in to l, h
}
device earth at (3000, 300, 0 mm) { pin s stud M8 }
device lamp at (4000, 0, 0 mm) housing sealed-2 { draw 4 A at 12 V from 1 to 2 }
device horn at (4000, 300, 0 mm) housing sealed-2 { draw 6 A at 12 V from 1 to 2 }
set drop to 0.36 V
circuit main from battery.pos to box.in size 1.5 mm2
circuit lamp-feed from box.l to lamp.1 size 1.5 mm2
circuit lamp-earth from lamp.2 to earth.s size 1.5 mm2
circuit horn-feed from box.h to horn.1 size 2.5 mm2
circuit horn-earth from horn.2 to earth.s size 2.5 mm2
circuit strap from earth.s to battery.neg size 4 mm2
case on { supply battery }
`

func answer(t *testing.T, all []margin.Answer, device, limit string) *margin.Answer {
	t.Helper()
	for i := range all {
		if a := &all[i]; a.Device == device && a.Subject.Limit == limit {
			return a
		}
	}
	t.Fatalf("no answer for %s of %s among %d", limit, device, len(all))
	return nil
}

func of(a *margin.Answer, kind margin.Kind, words string) *margin.Change {
	for i := range a.Changes {
		if c := &a.Changes[i]; c.Kind == kind && strings.Contains(c.What, words) {
			return c
		}
	}
	return nil
}

// TestAnswers holds each change against a job in which it was made in the text.
func TestAnswers(t *testing.T) {
	job := read(t, sharedFeed)
	o := sized(job)
	a := answer(t, margin.Answers(job, o, nil), "lamp", "drop")
	if a.Skipped || a.Left != 0 {
		t.Errorf("%d left out", a.Left)
	}
	for i := range a.Changes {
		c := &a.Changes[i]
		if i > 0 && c.Gain > a.Changes[i-1].Gain {
			t.Errorf("%s stands after less: %v", c.What, c.Gain)
		}
		if d := a.Limit.Got - c.Gain - c.Got; math.Abs(float64(d)) > 1e-3 || c.Meets != (c.Got <= a.Limit.Value) {
			t.Errorf("%s: %v from %v gains %v", c.What, c.Got, a.Limit.Got, c.Gain)
		}
	}
	for name, k := range map[string]struct {
		got   *margin.Change
		pairs []string
	}{
		"main":         {of(a, margin.Larger, "main battery.pos"), []string{"box.in size 1.5 mm2", "box.in size 2.5 mm2"}},
		"lamp-feed":    {of(a, margin.Larger, "lamp-feed"), []string{"lamp.1 size 1.5 mm2", "lamp.1 size 2.5 mm2"}},
		"second earth": {of(a, margin.SecondEarth, "strap"), []string{"neg size 4 mm2", "neg size 4 mm2 parallel 2"}},
		"all up": {a.Up, []string{"box.in size 1.5 mm2", "box.in size 2.5 mm2", "lamp.1 size 1.5 mm2", "lamp.1 size 2.5 mm2", "lamp.2 to earth.s size 1.5 mm2", "lamp.2 to earth.s size 2.5 mm2",
			"neg size 4 mm2", "neg size 6 mm2"}},
		"own feed": {of(a, margin.OwnFeed, "lamp-feed"), []string{"from box.l to lamp.1 size", "from battery.pos to lamp.1 size"}},
	} {
		if k.got == nil {
			t.Errorf("%s: not tried; %v", name, a.Changes)
			continue
		}
		got := lampDrop(t, swap(sharedFeed, k.pairs...))
		// The job in the text is heated anew, and what lies at another place is measured anew.
		if math.Abs(float64(got-k.got.Got)) > 0.02*float64(got) {
			t.Errorf("%s: %s gives %v, written so %v", name, k.got.What, k.got.Got, got)
		}
	}
	if j := of(a, margin.BetterJoint, ""); j == nil || j.Gain <= 0 {
		t.Errorf("joint: %+v", j)
	} else if want := 0.5 * 4 * 0.0038; math.Abs(float64(j.Gain)-want) > 1e-4 { // a mated contact of 3.8 mohm at 4 A
		t.Errorf("%s gains %v, want %v", j.What, j.Gain, want)
	}
	var said []string
	for _, c := range a.Changes {
		said = append(said, c.What+"|"+c.Note)
	}
	// The own feed passes by the 1680 mm of main, 1500 along the run.
	if got := strings.Join(said, "\n"); got != `lamp-feed box.l - lamp.1 fed from battery.pos in place of box.l, 1680 mm longer|it then needs a fuse of its own
main battery.pos - box.in 2.5 mm2 in place of 1.5 mm2|
a second earth beside strap earth.s - battery.neg, also of 4 mm2|
strap earth.s - battery.neg 6 mm2 in place of 4 mm2|
lamp-feed box.l - lamp.1 2.5 mm2 in place of 1.5 mm2|its contacts do not take it
lamp-earth lamp.2 - earth.s 2.5 mm2 in place of 1.5 mm2|its contacts do not take it
the contact at lamp.1 with 1.9 mohm in place of 3.8 mohm|` {
		t.Error(got)
	}
	if a.Up.Note != "the contacts of lamp-feed box.l - lamp.1, lamp-earth lamp.2 - earth.s do not take it" {
		t.Error(a.Up.Note)
	}
}

func lampDrop(t *testing.T, text string) unit.Voltage {
	t.Helper()
	job := read(t, text)
	o := sized(job)
	for i := range o.Cases[0].Loads {
		if l := &o.Cases[0].Loads[i]; l.Device == "lamp" {
			return l.FeedDrop + l.ReturnDrop
		}
	}
	t.Fatal("no lamp")
	return 0
}

// TestContactsAreTold: a size that no contact of the ends takes is tried, and told.
func TestContactsAreTold(t *testing.T) {
	job := read(t, swap(sharedFeed, "lamp.1 size 1.5 mm2", "lamp.1 size 2.5 mm2", "set drop to 0.36 V", "set drop to 0.2 V"))
	o := sized(job)
	a := answer(t, margin.Answers(job, o, nil), "lamp", "drop")
	c := of(a, margin.Larger, "lamp-feed")
	if c == nil {
		t.Fatal("not tried")
	}
	w := wireNamed(o.Net, "lamp-feed")
	next := size.Ladder(job, o.Net, &o.Net.Wires[w])
	fits := true
	for i := range next {
		if o.Sizes[w].Size.Less(next[i].Size) {
			fits = size.CouldFit(job, &o.Net.Wires[w], &next[i])
			break
		}
	}
	if fits != (c.Note == "") {
		t.Errorf("fits %v, told %q", fits, c.Note)
	}
	if fits {
		t.Error("the case is no test: the contact takes the next size")
	}
}

func wireNamed(nt *net.Net, circuit string) int {
	for i := range nt.Wires {
		if nt.Wires[i].Circuit == circuit {
			return i
		}
	}
	return -1
}

// TestBounded: past twenty limits no change is tried, and that is told.
func TestBounded(t *testing.T) {
	var b strings.Builder
	text := swap(sharedFeed, "set drop to 0.36 V", "set drop to 0.01 V\nset feed-drop to 0.01 V\nset return-drop to 0.01 V")
	b.WriteString(text[:strings.Index(text, "case on")])
	for i := range 30 {
		n := unit.Number(float64(i), 0)
		b.WriteString("device more" + n + " at lamp { pin 1, 2 stud M5\n draw 0.2 A at 12 V from 1 to 2 }\n")
		b.WriteString("circuit more-feed" + n + " from box.l to more" + n + ".1 size 1.5 mm2\ncircuit more-earth" + n + " from more" + n + ".2 to earth.s size 1.5 mm2\n")
	}
	b.WriteString("case on { supply battery }\n")
	job := read(t, b.String())
	all := margin.Answers(job, sized(job), nil)
	skipped := 0
	for i := range all {
		if all[i].Skipped {
			skipped++
		}
		if all[i].Skipped != (all[i].Changes == nil) {
			t.Errorf("%d: %d changes", i, len(all[i].Changes))
		}
	}
	if len(all) < 60 || skipped != len(all)-20 {
		t.Errorf("%d of %d skipped", skipped, len(all))
	}
}

// TestSteps: one size up loses less than now, one down more.
func TestSteps(t *testing.T) {
	job := read(t, sharedFeed)
	o := sized(job)
	for i := range o.Cases[0].Loads {
		steps := margin.Steps(job, o, o.Cases[0], i)
		if len(steps) != len(fit.Limits(job, o.Net, o.Cases[0], &o.Cases[0].Loads[i])) || len(steps) == 0 {
			t.Fatalf("%d steps", len(steps))
		}
		for _, s := range steps {
			if s.Up == nil || s.Down == nil || !(s.Up.Got < s.Limit.Got && s.Limit.Got < s.Down.Got) {
				t.Errorf("%s: %v, up %+v, down %+v", s.Device, s.Limit.Got, s.Up, s.Down)
			}
		}
	}
}

// TestStartAnswers: what starts pulls the volts of a lamp down; a larger feed to both gives some back, one to the lamp alone hardly any.
func TestStartAnswers(t *testing.T) {
	job := read(t, swap(sharedFeed, "draw 6 A at 12 V", "draw 6 A at 12 V start 40 A for 0.2 s", "set drop to 0.36 V", "set least-start-volts to 11 V"))
	o := sized(job)
	a := answer(t, margin.Answers(job, o, nil), "lamp", "least-start-volts")
	if a.Start != "horn" || !a.Limit.Floor {
		t.Fatalf("%+v", a.Subject)
	}
	main, own := of(a, margin.Larger, "main battery.pos"), of(a, margin.Larger, "lamp-feed")
	if main == nil || own == nil || !(main.Gain > 4*own.Gain && own.Gain > 0) {
		t.Fatalf("main %+v, own %+v", main, own)
	}
	if w := main.Got - main.Gain; w-a.Limit.Got > 1e-3 || a.Limit.Got-w > 1e-3 {
		t.Errorf("%v and %v", w, a.Limit.Got)
	}
}

// TestFinite: the examples, the bad one too, give figures only.
func TestFinite(t *testing.T) {
	for _, file := range []string{"bad/bad.loom", "bad/mended.loom", "boat/tern.loom"} {
		job := example(t, file)
		for i := range job.Circuits { // some wires far too thin for their loads
			job.Circuits[i].Links = append([]design.Link(nil), job.Circuits[i].Links...)
			for k := range job.Circuits[i].Links {
				if i%3 == 0 && len(job.Circuits) < 20 || i%16 == 0 {
					job.Circuits[i].Links[k].Size = unit.Metric(0.35)
				}
			}
		}
		o := sized(job)
		finite := func(what string, xs ...float64) {
			for _, x := range xs {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Errorf("%s: %s is %v", file, what, x)
				}
			}
		}
		for _, a := range margin.Answers(job, o, nil) {
			for _, c := range a.Changes {
				finite(c.What, float64(c.Got), float64(c.Gain))
			}
		}
		tight := margin.Tightest(job, o, 10)
		if len(tight) == 0 {
			t.Errorf("%s: nothing is tight", file)
		}
		for _, x := range tight {
			finite(x.Title, float64(x.Used), x.Got.Value, x.Most.Value)
			for _, r := range x.Room {
				finite(x.Title+" "+r.What, r.From.Value, r.To.Value)
				if r.What == "" {
					t.Errorf("%s: %s has an empty room", file, x.Title)
				}
			}
		}
	}
}
