package live_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/live"
	"loomsheet/harness/net"
	"loomsheet/harness/size/fit"
	"loomsheet/harness/space"
	"loomsheet/lang/parts"
	"loomsheet/lang/resolve"
)

// base is a body and a nose with break P between them, the body's half with sockets; what is tried is added to it.
const base = `harness "Live" revision A
section body, nose
zone cabin air 40 C
break P at (400, 0, 0 mm) housing sealed-6 {
  half body contacts sockets mount fixed
  half nose contacts pins mount free
}
break post at (400, 50, 0 mm) housing stud-post-m10 {
  half body
  half nose
}
run rear from battery to box to P section body zone cabin
run rear-post from box to post section body zone cabin
run front from P to far section nose zone cabin
run front-post from post to far section nose zone cabin
device battery at (0, 0, 0 mm) {
  pin pos, neg stud M8
  supply 12 V inside 10 mohm stores 40 Ah from pos to neg
}
device far at (900, 0, 0 mm) housing sealed-6 {
%s
}
device box at (200, 0, 0 mm) {
  pin in, out, back stud M6
%s
}
circuit feed from battery.pos to box.in size 4 mm2
circuit earth from battery.neg to box.back size 4 mm2
circuit out from box.out to far.1 size 1 mm2 carries 1 A
circuit ground from box.back to far.2 size 1 mm2 carries 1 A
case on { supply battery }
`

func compiled(t *testing.T, text string) (*design.Job, *fit.Outcome) {
	t.Helper()
	load := func(name string) ([]byte, error) {
		if name != "j.loom" {
			return nil, os.ErrNotExist
		}
		return []byte(text), nil
	}
	job, _, msgs := resolve.Job("j.loom", load, parts.Files(), nil)
	if msgs.HasMistakes() {
		for _, m := range msgs {
			t.Errorf("%s: %s", m.Code, m.Title)
		}
		t.FailNow()
	}
	geo := space.Lay(job)
	return job, fit.Loop(job, func(h net.Hints) *net.Net { return net.Build(job, geo, h) })
}

func cavity(t *testing.T, h *live.Half, circuit string) live.Cavity {
	t.Helper()
	for _, c := range slices.Concat(h.Live, h.Earths, h.Dead) {
		if c.Circuit == circuit {
			return c
		}
	}
	t.Fatalf("%s: no wire of %s", h.Title, circuit)
	return live.Cavity{}
}

func TestLive(t *testing.T) {
	const lamp = "  draw 2 A at 12 V as resistance from 1 to 2"
	const slave = "\ndevice slave at far {\n  pin plus, minus stud M6\n  supply 13 V inside 20 mohm most 30 A from plus to minus\n}\n" +
		"circuit slave-plus from slave.plus to far.3 size 1 mm2 carries 1 A\ncircuit slave-minus from slave.minus to far.4 size 1 mm2 carries 1 A\n"
	for _, c := range []struct {
		name, far, box, more string
		half                 int
		circuit              string
		kind                 live.Kind
		volts                string
		state, attained      string
		behind               string
	}{
		{"joined", lamp, "  joins in, out", "", 0, "out", live.Fed, "12", "everything off", "", "no fuse: battery"},
		{"its far half hangs on nothing", lamp, "  joins in, out", "", 1, "out", live.Dead, "0", "", "", ""},
		{"an earth", lamp, "  joins in, out", "", 0, "ground", live.Earth, "0", "", "", ""},
		{"behind a fuse", lamp, "  fuse blade-10 from in to out", "", 0, "out", live.Fed, "12", "everything off", "", "fuse box in - out, 10 A"},
		{"a switch", lamp, "  state on joins in, out", "", 0, "out", live.Fed, "12", "box on", "", "no fuse: battery"},
		{"two switches in a row", lamp, "  inner mid\n  state kill.on joins in, mid\n  state ign.on joins mid, out", "", 0, "out", live.Fed, "12", "box.ign on, box.kill on", "", ""},
		{"the fewest switches", lamp, "  inner mid\n  state kill.on joins in, mid\n  state ign.on joins mid, out\n  state by.on joins in, out", "", 0, "out", live.Fed, "12", "box.by on", "", ""},
		{"two throws of one set are never in at once", lamp, "  inner mid\n  state a joins in, mid\n  state b joins mid, out", "", 0, "out", live.Dead, "0", "", "", ""},
		{"of two sets they are", lamp, "  inner mid\n  state one.a joins in, mid\n  state two.b joins mid, out", "", 0, "out", live.Fed, "12", "box.one a, box.two b", "", ""},
		{"a change-over at rest", lamp, "  state off joins in, out", "", 0, "out", live.Fed, "12", "everything off", "", ""},
		{"a diode forward", lamp, "  diode 0.7 V from in to out", "", 0, "out", live.Fed, "11", "everything off", "", ""},
		{"a diode backward", lamp, "  diode 0.7 V from out to in", "", 0, "out", live.Dead, "0", "", "", ""},
		{"a relay whose coil a switch feeds", lamp, "  inner coil\n  state key.on joins in, coil\n  state main.on joins in, out\n  coil 85 ohm from coil to back moves main.on", "", 0, "out", live.Fed, "12",
			"every switch off; relay box.main pulled in", "box.key on", ""},
		{"a relay that nothing feeds", lamp, "  inner coil\n  state main.on joins in, out\n  coil 85 ohm from coil to back moves main.on", "", 0, "out", live.Fed, "12",
			"every switch off; relay box.main pulled in", "", ""},
		{"through a lamp", lamp, "  inner mid\n  joins in, mid\n  draw 1 A at 12 V as resistance from mid to out", "", 0, "out", live.Through, "12", "everything off", "", "no fuse: battery"},
		{"through a lamp that a throw at rest earths", lamp, "  inner mid\n  joins in, mid\n  draw 1 A at 12 V as resistance from mid to out\n  state off joins out, back\n  state on joins in, in2\n  inner in2", "",
			0, "out", live.Through, "12", "box on", "", ""},
		{"through a lamp that is always earthed", lamp, "  inner mid\n  joins in, mid\n  draw 1 A at 12 V as resistance from mid to out\n  joins out, back", "", 0, "out", live.Earth, "0", "", "", ""},
		{"halved by two lamps", lamp, "  draw 1 A at 12 V as resistance from in to out\n  draw 1 A at 12 V as resistance from out to back", "", 0, "out", live.Through, "6", "everything off", "", ""},
		{"a supply that no case lists", "  joins 1, 3\n  joins 2, 4", "  state on joins in, out", slave, 1, "out", live.Fed, "13", "everything off; slave attached", "", "no fuse: slave, limit 30 A"},
		{"its minus", "  joins 1, 3\n  joins 2, 4", "  state on joins in, out", slave, 1, "ground", live.Earth, "0", "", "", ""},
		{"back through a load of the far half", "  joins 1, 3\n  draw 2 A at 12 V as resistance from 1 to 2", "  state on joins in, out", slave, 1, "ground", live.Through, "13", "everything off; slave attached", "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			job, l := compiled(t, fmt.Sprintf(base, c.far, c.box)+c.more)
			u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
			got := cavity(t, &u.Halves[c.half], c.circuit)
			if got.Kind != c.kind || fmt.Sprintf("%.0f", float64(got.Volts)) != c.volts {
				t.Fatalf("%v with %v, want %v with %s V", got.Kind, got.Volts, c.kind, c.volts)
			}
			if c.state == "" {
				if len(got.Feeds) != 0 {
					t.Errorf("fed by %+v", got.Feeds)
				}
				return
			}
			x := got.Feeds[0]
			if x.State.Words != c.state || c.behind != "" && x.Behind != c.behind {
				t.Errorf("%q behind %q, want %q behind %q", x.State.Words, x.Behind, c.state, c.behind)
			}
			switch {
			case c.attained == "" && x.Attained != nil:
				t.Errorf("by switches alone: %q", x.Attained.Words)
			case c.attained != "" && (x.Attained == nil || x.Attained.Words != c.attained):
				t.Errorf("by switches alone: %+v, want %q", x.Attained, c.attained)
			}
			if got.Kind == live.Through && (got.Amps > 3 || got.Amps <= 0) {
				t.Errorf("a short through the load draws %v", got.Amps)
			}
			if got.Kind == live.Fed && got.Amps < 20 {
				t.Errorf("a short draws %v", got.Amps)
			}
		})
	}
}

// What a pull-up of a sensor's line holds up is told, but does not count.
func TestBehindMuch(t *testing.T) {
	job, l := compiled(t, fmt.Sprintf(base, "", "  draw 4.7 kohm from in to out"))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	if c := cavity(t, &u.Halves[0], "out"); c.Kind != live.Through || c.Counts || c.Faint || u.Halves[0].Counted != 0 {
		t.Errorf("%+v", c)
	}
	job, l = compiled(t, "set live-through to 10 kohm break P\n"+fmt.Sprintf(base, "", "  draw 4.7 kohm from in to out"))
	u = live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	if c := cavity(t, &u.Halves[0], "out"); !c.Counts {
		t.Errorf("with a higher limit: %+v", c)
	}
}

// TestWorstState: a pull-up with nothing switched does not hide a lamp that a switch lets feed the same place, and of two states that both count the
// one that gives more is told as well, each with its own figures.
func TestWorstState(t *testing.T) {
	job, l := compiled(t, fmt.Sprintf(base, "", "  inner mid\n  draw 4.7 kohm from in to out\n  draw 10 A at 12 V as resistance from mid to out\n  state on joins in, mid"))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	if c := cavity(t, &u.Halves[0], "out"); c.Kind != live.Through || !c.Counts || c.Amps < 9 || c.Amps > 10 || c.Feeds[0].State.Words != "box on" {
		t.Errorf("%+v", c)
	}
	// 6 ohm from the plus and 3 ohm to a throw that at rest leads to the minus: 12 V x 3/9 = 4 V, 2 A; with the throw over to the plus 12 V, 12/6 + 12/3 = 6 A.
	job, l = compiled(t, fmt.Sprintf(base, "", "  inner mid\n  draw 2 A at 12 V as resistance from in to out\n  draw 4 A at 12 V as resistance from mid to out\n  state off joins mid, back\n  state on joins mid, in"))
	u = live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	c := cavity(t, &u.Halves[0], "out")
	if len(c.Feeds) != 2 {
		t.Fatalf("%+v", c)
	}
	for i, want := range []struct {
		state string
		v, a  float64
	}{{"everything off", 4, 2}, {"box on", 12, 6}} {
		x := c.Feeds[i]
		if v, a := float64(x.Volts), float64(x.Amps); x.State.Words != want.state || v < want.v*0.97 || v > want.v*1.03 || a < want.a*0.97 || a > want.a*1.03 {
			t.Errorf("%q: %v, %v, want %q: %v V, %v A", x.State.Words, x.Volts, x.Amps, want.state, want.v, want.a)
		}
	}
	if c.Volts != c.Feeds[1].Volts || c.Amps != c.Feeds[1].Amps {
		t.Errorf("%v, %v", c.Volts, c.Amps)
	}
}

// TestSourceWithLoads: a trailer's battery with a lamp beside it, or a charger that draws from its own plus, is attached as any other source that no
// case lists; the 5 V of a control unit live on what it draws.
func TestSourceWithLoads(t *testing.T) {
	const through = "  joins 1, 3\n  joins 2, 4"
	const wires = "\ncircuit x-plus from x.plus to far.3 size 1 mm2 carries 1 A\ncircuit x-minus from x.minus to far.4 size 1 mm2 carries 1 A\n"
	for _, c := range []struct {
		name, device string
		volts        string
		kind         live.Kind
	}{
		{"battery and lamp", "supply 13 V inside 20 mohm stores 60 Ah from plus to minus\n  draw 1 A at 12 V as resistance from plus to minus", "13", live.Fed},
		{"battery of half the volts, and lamp", "pin tail stud M6\n  supply 6 V inside 20 mohm stores 60 Ah from plus to minus\n  draw 1 A at 12 V as resistance from tail to minus", "6", live.Fed},
		{"charger with a draw", "supply 14.4 V inside 20 mohm most 30 A from plus to minus\n  draw 0.1 A at 12 V from plus to minus", "14", live.Fed},
		{"charger on a feed of its own", "pin mains stud M6\n  supply 14.4 V inside 20 mohm most 30 A from plus to minus\n  draw 0.1 A at 12 V from mains to minus", "14", live.Fed},
		{"a low supply that only its own plus feeds", "supply 5 V inside 20 mohm from plus to minus\n  draw 0.1 A at 5 V from plus to minus", "5", live.Fed},
		{"a control unit's own", "pin in stud M6\n  supply 5 V inside 20 mohm from plus to minus\n  draw 0.1 A at 12 V from in to minus", "0", live.Dead},
	} {
		text := fmt.Sprintf(base, through, "  state on joins in, out") + "device x at far {\n  pin plus, minus stud M6\n  " + c.device + "\n}" + wires
		job, l := compiled(t, text)
		u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
		if got := cavity(t, &u.Halves[1], "out"); got.Kind != c.kind || fmt.Sprintf("%.0f", float64(got.Volts)) != c.volts {
			t.Errorf("%s: %v with %v", c.name, got.Kind, got.Volts)
		}
	}
}

// Both halves of a stud post, and who covers what.
func TestPost(t *testing.T) {
	text := strings.Replace(fmt.Sprintf(base, "  draw 2 A at 12 V as resistance from 1 to 2", "  joins in, out"), "circuit out from box.out to far.1", "circuit out from box.out to far.1 via post", 1)
	job, l := compiled(t, text)
	u := live.Find(job, l.Net, l.Sizes).Break("post")
	if !u.Post || len(u.Halves[0].Live) != 1 || u.Halves[0].Live[0].Contact != "stud" || len(u.Halves[1].Live) != 0 {
		t.Fatalf("%+v", u)
	}
	if all := strings.Join(u.Cautions, "\n"); !strings.Contains(all, "post, half body (stud): no fuse before") || !strings.Contains(all, "Cover them") {
		t.Errorf("%s", all)
	}
}

// A device with all its wires off, and a single stud: what hangs on the loom, and what the device itself shows.
func TestDeviceAndStud(t *testing.T) {
	job, l := compiled(t, fmt.Sprintf(base, "  draw 2 A at 12 V as resistance from 1 to 2", "  joins in, out"))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "device", Name: "battery"})
	if len(u.Halves[0].Live) != 0 || len(u.Halves[1].Live) != 1 || u.Halves[1].Live[0].Name != "pos" || len(u.Halves[1].Earths) != 1 {
		t.Errorf("battery: %+v", u)
	}
	u = live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "device", Name: "box"})
	if got := cavity(t, &u.Halves[0], "feed"); got.Kind != live.Fed || !got.Exposed {
		t.Errorf("box: %+v", got)
	}
	if got := cavity(t, &u.Halves[0], "out"); got.Kind != live.Dead {
		t.Errorf("box: %+v", got)
	}
	// With the minus off at the battery the body hangs on the plus through the lamp.
	u = live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "stud", Name: "battery", Pin: "neg"})
	if got := cavity(t, &u.Halves[0], "earth"); got.Kind != live.Through || fmt.Sprint(got.Feeds[0].Loads) != "[far]" || got.Volts < 11.9 {
		t.Errorf("minus off: %+v", got)
	}
	if u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "nope"}); u.Anything() {
		t.Errorf("%+v", u)
	}
	if u := live.Of(nil, nil, nil, design.Undo{}); u.Anything() || live.Find(nil, nil, nil).Break("P") != nil {
		t.Error("of nothing something")
	}
}

// TestManyWays: where the ways are too many to keep them all it says so, or finds it all the same; never less.
func TestManyWays(t *testing.T) {
	var b strings.Builder
	stages := 7
	for i := range stages {
		from, to := fmt.Sprintf("m%d", i), fmt.Sprintf("m%d", i+1)
		if i == 0 {
			from = "in"
		}
		if i == stages-1 {
			to = "out"
		} else {
			fmt.Fprintf(&b, "  inner %s\n", to)
		}
		for k := range 3 {
			fmt.Fprintf(&b, "  state g%d-%d.on joins %s, %s\n", i, k, from, to)
		}
	}
	job, l := compiled(t, fmt.Sprintf(base, "", b.String()))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	c := cavity(t, &u.Halves[0], "out")
	if c.Kind != live.Fed || !c.Counts || c.Feeds[0].State.Moved != stages {
		t.Errorf("%+v", c)
	}
}

// A selector of thirty throws, of which only the last leads on: it is not among the ways kept, so the cavity counts as live unproved.
func TestBounded(t *testing.T) {
	var b strings.Builder
	b.WriteString("  inner mid\n")
	for i := range 30 {
		fmt.Fprintf(&b, "  state p%d joins in, mid\n", i)
	}
	job, l := compiled(t, fmt.Sprintf(base, "", b.String()+"  state p29 joins mid, out"))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	c := cavity(t, &u.Halves[0], "out")
	if c.Kind != live.Fed || !c.Counts || !c.Bounded || !u.Bounded || !strings.Contains(c.Is(), "not decided") {
		t.Errorf("%+v", c)
	}
}

// Eight throws at rest each earth what a lamp holds up: that it is live with all eight moved is beyond what is tried, so it counts as live.
func TestUndecided(t *testing.T) {
	var b strings.Builder
	b.WriteString("  draw 1 A at 12 V as resistance from in to out\n")
	for i := range 8 {
		fmt.Fprintf(&b, "  inner x%d\n  state g%d.off joins out, back\n  state g%d.on joins in, x%d\n", i, i, i, i)
	}
	job, l := compiled(t, fmt.Sprintf(base, "", b.String()))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	if c := cavity(t, &u.Halves[0], "out"); c.Kind != live.Through || !c.Bounded || !c.Counts {
		t.Errorf("%+v", c)
	}
	rows := u.Halves[0].Rows()
	if len(rows) != 1 || rows[0].State != "not decided: take it as live" || u.Halves[0].Rest() != "earth: 2" && u.Halves[0].Rest() != "earth: 1" {
		t.Errorf("%+v, %s", rows, u.Halves[0].Rest())
	}
}

// TestReturnOfWhatStandsStill: an alternator that comes away earths nothing while it stands still: with the return that it shares with a motor
// undone, the motor brings the battery's volts to the bare lug.
func TestReturnOfWhatStandsStill(t *testing.T) {
	const motor = `
device motor at far {
  pin plus, minus stud M6
  draw 1 ohm from plus to minus
}
circuit motor-plus from box.out to motor.plus size 4 mm2
circuit return size 4 mm2 {
  from box.back to post
  from post to motor.minus
}
`
	const source = `
device source at far {
  pin plus, minus stud M6
  %s
}
circuit source-plus from source.plus to motor.plus size 4 mm2
circuit source-minus from source.minus to motor.minus size 4 mm2
`
	for _, c := range []struct {
		name, more string
		kind       live.Kind
	}{
		{"no second source", motor, live.Through},
		{"an alternator beside the motor", motor + fmt.Sprintf(source, "supply 14 V inside 20 mohm most 30 A from plus to minus"), live.Through},
		{"a battery beside the motor", motor + fmt.Sprintf(source, "supply 12 V inside 20 mohm stores 20 Ah from plus to minus"), live.Earth},
		{"an alternator whose minus stays joined", motor + fmt.Sprintf(source, "supply 14 V inside 20 mohm most 30 A from plus to minus") + "circuit strap from source.minus to box.back size 4 mm2\n", live.Earth},
	} {
		job, o := compiled(t, fmt.Sprintf(base, "  unused [3..6]\n  draw 2 A at 12 V as resistance from 1 to 2", "  joins in, out")+c.more)
		u := live.Find(job, o.Net, o.Sizes).Break("post")
		got := cavity(t, &u.Halves[1], "return")
		if got.Kind != c.kind {
			t.Errorf("%s: %v", c.name, got.Kind)
		}
		if c.kind == live.Through && (got.Volts < 11.9 || got.Volts > 12 || got.Amps < 10 || got.Amps > 12.1 || !got.Counts) {
			t.Errorf("%s: %v, %v, counts %v", c.name, got.Volts, got.Amps, got.Counts)
		}
		if stay := cavity(t, &u.Halves[0], "return"); stay.Kind != live.Earth {
			t.Errorf("%s, the half that stays: %v", c.name, stay.Kind)
		}
	}
}
