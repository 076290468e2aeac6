package route

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/net"
	"loomsheet/harness/unit"
)

// elbow turns by 90 degrees after a, with pieces of the given lengths.
func elbow(t testing.TB, before, after, radius float64) *rig {
	return newRig(t, bent(run("r", spot("a", 0, 0, 0), spot("b", before, 0, 0), spot("c", before, after, 0)), radius))
}

func TestBend(t *testing.T) {
	r := elbow(t, 300, 200, 50)
	r.wire(4, "a", "b", "c")
	got := r.find().Bends
	if len(got) != 1 {
		t.Fatal(text(got))
	}
	// inside 50 - 4/2; the arc takes r tan 45 = r of either piece, the shorter is 200
	b := got[0]
	if b.Run != "r" || b.Onto != "r" || b.Place != "b" || !near(b.Inside, 48) || !near(b.Fits, 198) || math.Abs(float64(b.Turn)-90) > 1e-6 {
		t.Errorf("%+v", b)
	}
	if b.Needed != 40 || b.Setting != "bend-wire" || b.Wire != 0 || !strings.Contains(b.Rule, "10 times the thickest wire, 4 mm") || !strings.Contains(b.Source, "AC 43.13-1B 11-96") || b.Flexes {
		t.Errorf("%+v", b)
	}
}

func TestBendHasNoRoom(t *testing.T) {
	r := elbow(t, 300, 20, 50)
	r.wire(4, "a", "b", "c")
	if b := r.find().Bends[0]; !near(b.Inside, 18) || !near(b.Fits, 18) {
		t.Errorf("%+v", b)
	}
	// Two corners 60 mm apart, both of 90 degrees and 50 mm: 30 mm for each.
	r = newRig(t, bent(run("r", spot("a", 0, 0, 0), spot("b", 300, 0, 0), spot("c", 300, 60, 0), spot("d", 600, 60, 0)), 50))
	r.wire(4, "a", "b", "c", "d")
	for _, b := range r.find().Bends {
		if !near(b.Inside, 28) || !near(b.Fits, 28) {
			t.Errorf("%+v", b)
		}
	}
}

// Each rule in turn is the narrowest.
func TestBendRules(t *testing.T) {
	cases := []struct {
		name    string
		change  func(r *rig)
		needed  unit.Length
		setting string
		wire    int
		rule    string
	}{
		// 5 wires of 2 mm: 1.2 sqrt 20 = 5.367 but packed 5.403; 3 times that is less than 10 x 2, so 6 x the bundle is asked
		{"bundle", func(r *rig) { r.set("bend-bundle", "6") }, 6 * 2 * 2.7013, "bend-bundle", -1, "6 times the bundle"},
		{"wire", func(r *rig) {}, 20, "bend-wire", 0, "10 times the thickest wire, 2 mm"},
		{"flexing", func(r *rig) { r.job.Runs[0].Stretches[0].Moves = 20; r.lay() }, 10 * 2 * 2.7013, "bend-flexing", -1, "10 times the bundle that moves"},
		{"cable", func(r *rig) {
			r.job.Cables = []*design.Cable{{Name: "lead", Wire: "pair"}}
			r.job.Parts.Wires = []*design.Wire{{Part: design.Part{Name: "pair"}, Outside: 6, Cores: make([]design.WireCore, 2)}}
			r.wires[3].Cable, r.wires[4].Cable = "lead", "lead"
		}, 36, "bend-cable", 3, "6 times cable lead, 6 mm"},
		{"stated for the cable", func(r *rig) {
			r.job.Cables = []*design.Cable{{Name: "lead", Wire: "pair"}}
			r.job.Parts.Wires = []*design.Wire{{Part: design.Part{Name: "pair"}, Outside: 6, Bend: 45, Cores: make([]design.WireCore, 2)}}
			r.wires[3].Cable, r.wires[4].Cable = "lead", "lead"
		}, 45, "", 3, "stated for cable lead"},
		{"a screen made on the bench", func(r *rig) {
			r.job.Cables = []*design.Cable{{Name: "lead"}}
			r.wires[2].Cable, r.wires[3].Cable, r.wires[4].Cable = "lead", "lead", "lead"
			r.wires[4].Kind = net.Screen
		}, 6 * 5.2, "bend-cable", 2, "6 times cable lead, 5.2 mm"},
		{"stated for a wire", func(r *rig) {
			r.job.Parts.Wires = []*design.Wire{{Part: design.Part{Name: "stiff", Common: design.Common{Source: "a maker"}}, Bend: 33}}
			r.wires[1].Family = "stiff"
		}, 33, "", 1, "stated for wire stiff"},
	}
	for _, c := range cases {
		r := elbow(t, 300, 300, 50)
		for range 5 {
			r.wire(2, "a", "b", "c")
		}
		c.change(r)
		got := r.find().Bends
		if len(got) != 1 {
			t.Errorf("%s: %s", c.name, text(got))
			continue
		}
		if b := got[0]; math.Abs(float64(b.Needed-c.needed)) > 0.01 || b.Setting != c.setting || b.Wire != c.wire || !strings.HasPrefix(b.Rule, c.rule) || b.Source == "" {
			t.Errorf("%s: %+v, want %v by %s", c.name, b, c.needed, c.setting)
		}
	}
}

// TestPublishedBends holds the defaults against the rows of the reference: the multiples of NASA-STD-8739.4 7.3.21 and of AC 43.13-1B 11-96.
func TestPublishedBends(t *testing.T) {
	row := func(file, item string) string {
		f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", file))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		c := csv.NewReader(f)
		c.Comment, c.FieldsPerRecord = '#', -1
		all, err := c.ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range all {
			if l[0] == item {
				return l[1]
			}
		}
		t.Fatal("no row " + item)
		return ""
	}
	for _, c := range []struct{ setting, file, item, want, value string }{
		{"bend-cable", "nasa_std_8739_4.csv", "bend radius, multi-conductor cable, not polyimide, minimum", "6 x OD", "6"},
		{"bend-flexing", "nasa_std_8739_4.csv", "bend radius, multi-conductor cable, not polyimide, recommended long term", "10 x OD", "10"},
		{"bend-wire", "ac4313_installation_rules.csv", "minimum bend radius of a bundle", "10 x outside diameter of its largest wire", "10"},
	} {
		if got := row(c.file, c.item); got != c.want {
			t.Errorf("%s is published as %q", c.item, got)
		}
		if d := design.FindSetting(c.setting); d.Default != c.value {
			t.Errorf("%s is %s, published is %s", c.setting, d.Default, c.want)
		}
	}
	if got := row("ac4313_installation_rules.csv", "grommet needed where clearance at a penetration is less than"); got != "3/8 in" {
		t.Errorf("clearance %s", got)
	}
	if q, _ := design.FindSetting("clear-edge").DefaultValue(); math.Abs(q.Quantity.Value-3.0/8*25.4) > 0.05 {
		t.Errorf("clear-edge is %v, published is 3/8 in", q)
	}
	if q, _ := design.FindSetting("clear-fuel").DefaultValue(); math.Abs(q.Quantity.Value-2*25.4) > 0.5 {
		t.Errorf("clear-fuel is %v, published is 2 in where 6 in is impractical", q)
	}
}

// A tee: the trunk goes straight on, a branch leaves at right angles, and a wire ends at the node.
func TestBreakout(t *testing.T) {
	r := newRig(t, run("t", spot("a", 0, 0, 0), spot("b", 500, 0, 0), spot("c", 1000, 0, 0)), bent(run("u", spot("b", 500, 0, 0), spot("d", 500, 80, 0)), 30))
	r.wire(2, "a", "b", "c")
	r.wire(3, "a", "b", "d")
	r.wire(9, "a", "b")
	got := r.find().Bends
	if len(got) != 1 || got[0].Run != "t" || got[0].Onto != "u" || got[0].After != 500 {
		t.Fatal(text(got))
	}
	// only the wire of 3 mm turns; the radius is the one that run u states
	if b := got[0]; !near(b.Inside, 28.5) || !near(b.Fits, 78.5) || b.Needed != 30 || b.Wire != 1 {
		t.Errorf("%+v", b)
	}
	r.wire(2, "c", "b", "d")
	if got := r.find().Bends; len(got) != 2 || got[0].Edges == got[1].Edges {
		t.Errorf("from the other side as well: %s", text(got))
	}
}

// A way that turns back on itself has no radius at all; one that goes straight on does not bend.
func TestBackAndStraight(t *testing.T) {
	r := newRig(t, run("r", spot("a", 0, 0, 0), spot("b", 300, 0, 0), spot("c", 100, 0, 0)))
	r.wire(2, "a", "b", "c")
	if got := r.find().Bends; len(got) != 1 || got[0].Inside > 0.01 || got[0].Needed != 20 {
		t.Error(text(got))
	}
	r = newRig(t, run("r", spot("a", 0, 0, 0), spot("b", 300, 0, 0), spot("c", 600, 20, 0)))
	r.wire(2, "a", "b", "c")
	if got := r.find().Bends; len(got) != 0 {
		t.Errorf("3.8 degrees: %s", text(got))
	}
}

// Nothing is claimed where coordinates or the outside of a wire are not known.
func TestBendUnknown(t *testing.T) {
	r := elbow(t, 300, 300, 50)
	r.wire(0, "a", "b", "c")
	if got := r.find().Bends; len(got) != 0 {
		t.Error(text(got))
	}
	r = newRig(t, run("r", spot("a", 0, 0, 0), spot("b", 300, 0, 0), design.Spot{Node: "c"}))
	r.wire(2, "a", "b", "c")
	if got := r.find(); len(got.Bends)+len(got.Nears)+len(got.Edges)+len(got.Moves)+len(got.Waters) != 0 {
		t.Error(text(got))
	}
}
