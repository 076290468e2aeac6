package resolve

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"loomsheet/harness/design"
	"loomsheet/harness/diag"
	"loomsheet/harness/unit"
	"loomsheet/lang/parts"
)

// where is a span as file:line:col.
func where(src *Sources, s diag.Span) string {
	text, _ := src.Text(s.File.String())
	at := min(int(s.Start), len(text))
	line := strings.Count(text[:at], "\n") + 1
	return fmt.Sprintf("%s:%d:%d", s.File, line, at-strings.LastIndexByte(text[:at], '\n'))
}

// show prints messages in full.
func show(src *Sources, ds diag.List) string {
	var b strings.Builder
	for _, d := range ds {
		fmt.Fprintf(&b, "%s %s: %s\n", where(src, d.Span), d.Code, d.Title)
		if d.Detail != "" {
			fmt.Fprintf(&b, "    %s\n", d.Detail)
		}
		if len(d.Suggest) > 0 {
			fmt.Fprintf(&b, "    near: %s\n", strings.Join(d.Suggest, ", "))
		}
		for _, r := range d.Related {
			fmt.Fprintf(&b, "    %s %s\n", where(src, r.Span), r.Text)
		}
	}
	return b.String()
}

func fromDir(dir string) func(string) ([]byte, error) {
	return func(p string) ([]byte, error) { return os.ReadFile(filepath.Join(dir, filepath.FromSlash(p))) }
}

func trialParts(t testing.TB) []parts.File {
	t.Helper()
	text, err := os.ReadFile("../../testdata/scenarios/parts-trial.loom")
	if err != nil {
		t.Fatal(err)
	}
	return []parts.File{{Name: "library/trial.loom", Text: string(text) + "wire tinned heat 105 C { size 1 mm2 resistance 19 mohm/m }\n"}}
}

// text resolves one text against the built-in library.
func text(t testing.TB, loom string) (*design.Job, *Sources, diag.List) {
	t.Helper()
	return Job("job.loom", func(string) ([]byte, error) { return []byte(loom), nil }, parts.Files(), nil)
}

// clean resolves a text that must give no message.
func clean(t testing.TB, loom string) *design.Job {
	t.Helper()
	j, src, ds := text(t, "harness \"Test\" revision A\n"+loom)
	if len(ds) > 0 {
		t.Fatalf("messages:\n%s", show(src, ds))
	}
	return j
}

func TestScenarios(t *testing.T) {
	for _, c := range []struct {
		file                               string
		devices, circuits, links, findings int
	}{
		{"rook.loom", 63, 89, 166, 0}, // counted by hand; that cluster.6 is both unused and wired is a finding of the rules
		{"tern.loom", 12, 17, 29, 0},
	} {
		for name, lib := range map[string][]parts.File{"built-in": parts.Files(), "trial": trialParts(t)} {
			j, src, ds := Job(c.file, fromDir("../../testdata/scenarios"), lib, nil)
			if len(ds) != c.findings || ds.HasMistakes() {
				t.Errorf("%s with %s parts:\n%s", c.file, name, show(src, ds))
			}
			links := 0
			for _, x := range j.Circuits {
				links += len(x.Links)
			}
			if len(j.Devices) != c.devices || len(j.Circuits) != c.circuits || links != c.links {
				t.Errorf("%s: %d devices, %d circuits, %d links", c.file, len(j.Devices), len(j.Circuits), links)
			}
		}
	}
}

func device1(t testing.TB, j *design.Job, name string) *design.Device {
	t.Helper()
	for _, d := range j.Devices {
		if d.Name == name {
			return d
		}
	}
	t.Fatalf("no device %s", name)
	return nil
}

func circuit1(t testing.TB, j *design.Job, name string) *design.Circuit {
	t.Helper()
	for _, d := range j.Circuits {
		if d.Name == name {
			return d
		}
	}
	t.Fatalf("no circuit %s", name)
	return nil
}

func case1(t testing.TB, j *design.Job, name string) *design.Case {
	t.Helper()
	for _, c := range j.Cases {
		if c.Name == name {
			return c
		}
	}
	t.Fatalf("no case %s", name)
	return nil
}

func links(c *design.Circuit) string {
	var out []string
	for _, l := range c.Links {
		out = append(out, l.From.String()+"-"+l.To.String())
	}
	return strings.Join(out, " ")
}

// The Rook read by hand.
func TestRook(t *testing.T) {
	j, _, _ := Job("rook.loom", fromDir("../../testdata/scenarios"), parts.Files(), nil)
	if d := device1(t, j, "inj3"); d.At != (design.Point3{X: 840, Y: 115, Z: 720}) || d.Section != "engine" || len(d.Draws) != 1 || d.Draws[0].From.Device != "inj3" || d.Node != "inj3" {
		t.Errorf("inj3: %+v", d)
	}
	if d := device1(t, j, "tail-right"); d.At.Y != 520 || d.At.X != 3350 || len(d.Draws) != 4 || d.Draws[1].Start.Nominal != 14 {
		t.Errorf("tail-right: %+v", d)
	}
	if d := device1(t, j, "kill"); d.Node != "switches" || !d.Known {
		t.Errorf("kill: %+v", d.Spot)
	}
	if d := device1(t, j, "shell"); len(d.Joins) != 2 || d.Pins[1].Name != "nose" || d.Pins[1].Node != "shell.nose" || d.Pins[1].Spot.At.X != 60 {
		t.Errorf("shell: %+v", d.Pins)
	}
	box := device1(t, j, "box")
	if len(box.Fuses) != 17 || len(box.Coils) != 4 || len(box.States) != 4 || len(box.Pins) != 1+22+5 {
		t.Errorf("box: %d fuses %d coils %d states %d pins", len(box.Fuses), len(box.Coils), len(box.States), len(box.Pins))
	}
	if d := device1(t, j, "start-relay"); d.Pattern || len(d.Coils) != 1 || d.Coils[0].Moves.State != "on" || d.Coils[0].As != design.ConstantResistance {
		t.Errorf("start-relay: %+v", d)
	}
	if d := device1(t, j, "starter"); d.Coils[0].To != (design.PinRef{Device: "block", Pin: "main", Span: d.Coils[0].To.Span}) || d.Bolted[0] != "block" {
		t.Errorf("starter: %+v", d.Coils)
	}
	for name, want := range map[string]string{
		"coil-drive2": "ecu.coil2-coil3.3",
		"coil-earth":  "coil1.2-s-coil-earth coil2.2-s-coil-earth coil3.2-s-coil-earth coil4.2-s-coil-earth s-coil-earth-block.main",
		"turn-left":   "s-turn-left-front-turn-left.1 s-turn-left-tail-left.2 turn-switch.2-s-turn-left",
		"bus-l":       "ecu.bus-l-s-bus-l s-bus-l-cluster.6 s-bus-l-logger.4",
		"ws-fl-h":     "ecu.fl-h-ws-fl.1",
		"sig-oil":     "ecu.oil-oil-press.3",
	} {
		if got := links(circuit1(t, j, name)); got != want {
			t.Errorf("%s: %s", name, got)
		}
	}
	m := circuit1(t, j, "main-plus")
	for _, l := range m.Links {
		want := unit.Metric(50)
		if l.To.Name != "starter" {
			want = unit.Metric(25)
		}
		if l.Size != want || l.Colour != "red" {
			t.Errorf("main-plus %s: %v %s", l.To, l.Size, l.Colour)
		}
	}
	if l := circuit1(t, j, "body-strap").Links[0]; !l.Loose || l.LooseLength.Nominal != 350 || l.LooseSection != "tub" || l.LooseZone != "bay" {
		t.Errorf("body-strap: %+v", l)
	}
	night := case1(t, j, "night-rain")
	if night.For != 7200 || len(night.Supplies) != 2 || len(night.States) != 18 {
		t.Errorf("night-rain: %v %d %d", night.For, len(night.Supplies), len(night.States))
	}
	none := case1(t, j, "no-charge")
	if len(none.Supplies) != 1 || none.Supplies[0].At.Nominal != 12.2 || none.Off[0] != "alternator" {
		t.Errorf("no-charge: %+v", none)
	}
	if r := j.Removals[0]; len(r.Undo) != 7 || r.Undo[4].Kind != "stud" || r.Undo[4].Pin != "main" || r.Undo[0].Name != "A" {
		t.Errorf("removal: %+v", r)
	}
	if got := j.Settings.Get("drop", design.Scope{Class: "fuel"}).Value.String(); got != "3 %" {
		t.Errorf("drop for fuel: %s", got)
	}
	for _, r := range j.Runs {
		switch r.Name {
		case "tunnel":
			if len(r.Stretches) != 1 || len(r.Stretches[0].Nodes) != 4 || r.Stretches[0].Length.Nominal != 1490 || r.Stretches[0].Slack != 20 || r.Stretches[0].Nodes[2].Node != "(1900, 60, 250 mm)" {
				t.Errorf("tunnel: %+v", r.Stretches)
			}
		case "engine-in":
			if len(r.Stretches) != 2 || r.Stretches[1].Nodes[0].Node != "B" {
				t.Errorf("engine-in: %+v", r.Stretches)
			}
		case "corner-fr-tail":
			if r.Section != "corner-fr" || r.Stretches[0].Moves != 180 || r.Stretches[0].Nodes[1].Node != "ws-fr" {
				t.Errorf("corner-fr-tail: %+v", r)
			}
		}
	}
	for _, k := range j.Breaks {
		if k.Name == "post-return" && (k.Halves[1].Section != "tub" || k.Halves[1].Housing != "stud-post-m10" || k.At.Y != 400) {
			t.Errorf("post-return: %+v", k)
		}
		if k.Name == "B" && (k.Halves[0].Housing != "round-31" || k.Halves[0].Contacts != "pins" || k.Class != "signal") {
			t.Errorf("B: %+v", k)
		}
	}
	if c := j.Cavities[0]; c.Break != "A" || c.Cavity != "1" || c.Circuit != "inj-feed" {
		t.Errorf("%+v", c)
	}
}
