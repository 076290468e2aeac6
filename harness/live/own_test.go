package live_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/live"
)

// TestOwnSupply: what a control unit feeds out of its own 5 V is live where the unit's draw is fed and finds its way back, with what that takes.
func TestOwnSupply(t *testing.T) {
	const lamp = "  draw 2 A at 12 V as resistance from 1 to 2"
	const five = "  supply 5 V inside 1 ohm most 0.2 A from out to back\n"
	for _, c := range []struct {
		name, box string
		kind      live.Kind
		volts     float64
		state     string
	}{
		{"always fed", five + "  draw 1 A from in to back", live.Fed, 5, "everything off; box's own supply"},
		{"fed over a switch", five + "  inner mid\n  state key.on joins in, mid\n  draw 1 A from mid to back", live.Fed, 5, "box.key on; box's own supply"},
		{"back over a switch", five + "  inner mid\n  state earth.on joins mid, back\n  draw 1 A from in to mid", live.Fed, 5, "box.earth on; box's own supply"},
		{"over two switches", five + "  inner mid, low\n  state key.on joins in, mid\n  state earth.on joins low, back\n  draw 1 A from mid to low", live.Fed, 5, "box.earth on, box.key on; box's own supply"},
		{"two throws of one set are never in at once", five + "  inner mid, low\n  state key.on joins in, mid\n  state key.far joins low, back\n  draw 1 A from mid to low", live.Dead, 0, ""},
	} {
		job, l := compiled(t, fmt.Sprintf(base, lamp, c.box))
		u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
		got := cavity(t, &u.Halves[0], "out")
		if got.Kind != c.kind || math.Abs(float64(got.Volts)-c.volts) > 0.02 {
			t.Errorf("%s: %v with %v", c.name, got.Kind, got.Volts)
			continue
		}
		if c.kind != live.Fed {
			continue
		}
		x := got.Feeds[0]
		if !x.Source.Own || x.Source.Device != "box" || x.State.Words != c.state || x.Behind != "no fuse: box's own supply, limit 0.2 A" || math.Abs(float64(x.Amps)-0.2) > 0.01 {
			t.Errorf("%s: %+v", c.name, x)
		}
	}
}

// TestHighestVolts: a battery counts at the highest volts at which a case puts it, never below its own.
func TestHighestVolts(t *testing.T) {
	const lamp = "  draw 2 A at 12 V as resistance from 1 to 2"
	for text, want := range map[string]float64{
		"":                                      12,
		"case c { supply battery at 14.4 V }\n": 14.4,
		"case c { supply battery at 10.5 V }\n": 12,
		"case c { supply battery at 13 V }\ncase d { supply battery at 14 V }\n": 14,
		"case c { supply battery at 14 V }\ncase d { supply battery at 13 V }\n": 14,
	} {
		job, l := compiled(t, fmt.Sprintf(base, lamp, "  joins in, out")+text)
		u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
		if got := cavity(t, &u.Halves[0], "out"); math.Abs(float64(got.Volts)-want) > 0.05*want/12 || !got.Counts {
			t.Errorf("%s: %v", strings.TrimSpace(text), got.Volts)
		}
	}
}

// TestRowsOfAHalf: a row each, of several feeds the worst with its own figures and the number of the others.
func TestRowsOfAHalf(t *testing.T) {
	const lamp = "  draw 2 A at 12 V as resistance from 1 to 2"
	job, l := compiled(t, fmt.Sprintf(base, lamp, "  inner mid\n  fuse blade-10 from in to out\n  fuse blade-5 from mid to out\n  state key.on joins in, mid"))
	u := live.Of(job, l.Net, l.Sizes, design.Undo{Kind: "break", Name: "P"})
	rows := u.Halves[0].Rows()
	if len(rows) != 1 {
		t.Fatalf("%+v", rows)
	}
	c := cavity(t, &u.Halves[0], "out")
	if len(c.Feeds) != 2 || c.Worst() == nil {
		t.Fatalf("%+v", c.Feeds)
	}
	r := rows[0]
	if r.Wire != c.Wire || r.Volts != "12 V" || !r.Counts || r.Behind != c.Worst().Behind+"; and 1 more" || r.Short != c.Worst().Amps.String() && !strings.HasSuffix(r.Short, " A") || c.Worst().Amps < c.Feeds[0].Amps || c.Worst().Amps < c.Feeds[1].Amps {
		t.Errorf("%+v", r)
	}
}
